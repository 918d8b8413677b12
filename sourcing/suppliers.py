"""Suppliers of fibre and their price lists: added, changed, ended.

A new price is a new offer from its day on; orders keep the prices that they were written at.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from typing import Any

from django.db import transaction

from inventory.errors import NotKept
from inventory.fibre import check_known
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import check_row, check_said
from inventory.science.saying import joined, say
from inventory.science.unclear import OutOfRange
from sourcing.errors import (
    NoSuchOffer,
    NoSuchSupplier,
    OfferTaken,
    SupplierTaken,
    TermsUnclear,
)
from sourcing.models import Offer, Supplier
from sourcing.ordering import facts
from sourcing.ordering.working_days import UnknownCountry, public_holidays

FORMS = ("yarn", "cloth", "fleece")
WORKING_WEEK = (0, 1, 2, 3, 4)  # Monday to Friday
SHUTDOWNS_AT_MOST = 40
SUPPLIERS_AT_MOST = 200
OFFERS_AT_MOST = 4_000  # of all suppliers, past price lists too
TIERS_AT_MOST = 20
LOSS_STEPS = 10_000  # of a fraction: hundredths of a percent, as a notebook writes them
ANY_YEAR = 2026  # a country has a calendar in each year or in none


@said_in_words()
def add_supplier(
    studio: Studio,
    *,
    name: str,
    lead_days: int,
    country: str = "",
    region: str = "",
    weekdays: Sequence[int] = WORKING_WEEK,
    shutdowns: Sequence[tuple[date, date]] = (),
    carriage_minor: int = 0,
    carriage_free_from_minor: int | None = None,
    least_minor: int = 0,
    contact: str = "",
    note: str = "",
) -> Supplier:
    """A new supplier with its terms.

    Parameters
    ----------
    lead_days : working days, that of ordering not counted, that of arrival counted; 0 to 400
    country, region : whose public holidays are kept; empty: none are counted
    shutdowns : first and last day of each
    least_minor : least value of the fibre in one order

    Raises
    ------
    SupplierTaken
        If there is one of that name.
    TermsUnclear
        If no sum could be made with its terms; the message says which and what is allowed.
    """
    terms = {
        "name": name,
        "lead_days": lead_days,
        "country": country,
        "region": region,
        "weekdays": tuple(weekdays),
        "shutdowns": tuple(shutdowns),
        "carriage_minor": carriage_minor,
        "carriage_free_from_minor": carriage_free_from_minor,
        "least_minor": least_minor,
    }
    check_said({**terms, "contact": contact, "note": note})
    check_terms(facts_of(terms))
    with transaction.atomic():
        Studio.objects.select_for_update().get(pk=studio.pk)
        others = Supplier.objects.of(studio)
        if others.filter(name=name).exists():
            raise SupplierTaken(name)
        if others.count() >= SUPPLIERS_AT_MOST:
            raise NotKept(
                "supplier",
                name,
                say("is one more than {suppliers_at_most}", suppliers_at_most=SUPPLIERS_AT_MOST),
                "Reuse one.",
            )
        row = Supplier(studio=studio, contact=contact, note=note, **columns_of(terms))
        check_row(row)
        row.save(force_insert=True)
        return row


@said_in_words()
def change_supplier(studio: Studio, *, name: str, **terms: Any) -> Supplier:
    """Other terms of a supplier, from now on; what is written and sent keeps its own.

    Parameters
    ----------
    terms : those of `add_supplier` that change
    """
    check_said({"name": name, **terms})
    with transaction.atomic():
        row = Supplier.objects.of(studio).select_for_update().filter(name=name).first()
        if row is None:
            raise NoSuchSupplier(name)
        for column, value in columns_of(terms).items():
            setattr(row, column, value)
        check_row(row)
        check_terms(facts_of({**row.__dict__, "shutdowns": _days(row.shutdowns)}))
        row.save()
        return row


@said_in_words()
def add_offer(
    studio: Studio,
    *,
    supplier: str,
    fibre: str,
    form: str,
    pack_mg: int,
    tiers: Sequence[tuple[int, int]],
    least_mg: int = 0,
    scoured: bool = False,
    scour_loss: Fraction | None = None,
    most_packs: int | None = None,
    code: str = "",
    since: date | None = None,
    last_on: date | None = None,
    note: str = "",
) -> Offer:
    """A fibre in a pack at a price; of two that begin on different days the later one holds.

    Parameters
    ----------
    tiers : weight of the line from which on a pack has a price, and that price in minor units;
        the first from 0
    scour_loss : of the mass as bought; None: the studio's figure for the fibre, or none if scoured
    since, last_on : first and last day of the price

    Raises
    ------
    NoSuchSupplier, OfferTaken, UnknownFibre
    TermsUnclear
        If no sum could be made with its prices.
    """
    words = {"supplier": supplier, "fibre": fibre, "form": form, "code": code, "note": note}
    check_said(words)
    if form not in FORMS:
        raise NotKept(
            "form",
            form,
            say("is not known here"),
            say("Say one of: {forms}.", forms=joined(", ", FORMS)),
        )
    loss = Fraction(0) if scour_loss is None else scour_loss
    check_prices(
        supplier, fibre, form, pack_mg, tiers, least_mg=least_mg, loss=loss, most=most_packs
    )
    with transaction.atomic():
        seller = Supplier.objects.of(studio).select_for_update().filter(name=supplier).first()
        if seller is None:
            raise NoSuchSupplier(supplier)
        check_known(studio, fibre)
        row = Offer(
            studio=studio,
            supplier=seller,
            fibre=fibre,
            form=form,
            pack_mg=pack_mg,
            tiers=[list(tier) for tier in tiers],
            least_mg=least_mg,
            scoured=scoured,
            scour_loss=scour_loss,
            most_packs=most_packs,
            code=code,
            since=since,
            last_on=last_on,
            note=note,
        )
        check_row(row)
        _check_offer(studio, row)
        row.save(force_insert=True)
        return row


@said_in_words()
def end_offer(studio: Studio, *, offer: int, last_on: date) -> Offer:
    """An offer that holds till a day, and no longer."""
    with transaction.atomic():
        row = Offer.objects.of(studio).select_for_update().filter(pk=offer).first()
        if row is None:
            raise NoSuchOffer(offer=offer, supplier="Nobody", day=last_on)
        row.last_on = last_on
        _check_days(row)
        row.save(update_fields=["last_on"])
        return row


# -- what a sum can be made with -------------------------------------------------------------


def facts_of(terms: Mapping[str, Any]) -> facts.Supplier:
    """A supplier's terms as the sums take them.

    Raises
    ------
    TermsUnclear
    """
    names = (
        "name", "lead_days", "country", "region", "weekdays", "shutdowns", "carriage_minor",
        "carriage_free_from_minor", "least_minor",
    )  # fmt: skip
    try:
        return facts.Supplier(**{name: terms[name] for name in names})
    except OutOfRange as wrong:
        raise TermsUnclear(str(terms["name"]), str(wrong)) from wrong


def check_terms(supplier: facts.Supplier) -> None:
    """Refuse terms that no day can be counted with."""
    if len(supplier.shutdowns) > SHUTDOWNS_AT_MOST:
        many = say(
            "{count} shutdowns; keep {shutdowns_at_most} at most.",
            count=len(supplier.shutdowns),
            shutdowns_at_most=SHUTDOWNS_AT_MOST,
        )
        raise TermsUnclear(supplier.name, many)
    try:
        public_holidays(supplier.country, supplier.region, ANY_YEAR)
    except UnknownCountry as wrong:
        raise TermsUnclear(supplier.name, str(wrong)) from wrong


def check_prices(
    supplier: str,
    fibre: str,
    form: str,
    pack_mg: int,
    tiers: Iterable[tuple[int, int]],
    *,
    least_mg: int,
    loss: Fraction,
    most: int | None,
) -> None:
    """Refuse prices that no order can be counted with."""
    what = say("{fibre} {form} from {supplier}", fibre=fibre, form=form, supplier=supplier)
    steps = tuple(tiers)
    if len(steps) > TIERS_AT_MOST:
        raise TermsUnclear(
            what,
            say(
                "{count} price tiers; keep {tiers_at_most} at most.",
                count=len(steps),
                tiers_at_most=TIERS_AT_MOST,
            ),
        )
    try:
        facts.Offer(
            supplier,
            facts.Stuff(fibre, form),
            pack_mg,
            tuple(facts.Tier(from_mg, minor) for from_mg, minor in steps),
            least_mg,
            loss,
            most,
        )
    except OutOfRange as wrong:
        raise TermsUnclear(what, str(wrong)) from wrong


def _check_offer(studio: Studio, row: Offer) -> None:
    """Refuse an offer that stands already, or one too many."""
    _check_days(row)
    loss = row.scour_loss
    if loss is not None and LOSS_STEPS % Fraction(loss).denominator:
        wanted = say("Give it in whole ten-thousandths, as in 4.25 %.")
        raise NotKept("scour loss", loss, say("cannot be written in percent"), wanted)
    if row.scoured and row.scour_loss is not None:
        what = say("is given for fibre that is sold scoured")
        raise NotKept("scour loss", row.scour_loss, what, say("Leave it out."))
    same = Offer.objects.of(studio).filter(
        supplier=row.supplier, fibre=row.fibre, form=row.form, pack_mg=row.pack_mg, code=row.code
    )
    if same.filter(since=row.since).exists():
        raise OfferTaken(
            supplier=row.supplier.name, what=say("{fibre} {form}", fibre=row.fibre, form=row.form)
        )
    if Offer.objects.of(studio).count() >= OFFERS_AT_MOST:
        many = say("is one more than {offers_at_most}", offers_at_most=OFFERS_AT_MOST)
        raise NotKept(
            "offer",
            say("{fibre} {form}", fibre=row.fibre, form=row.form),
            many,
            say("Keep fewer price lists."),
        )


def _check_days(row: Offer) -> None:
    if row.since is not None and row.last_on is not None and row.last_on < row.since:
        raise NotKept(
            "last day", row.last_on, say("is before the first"), say("Look at the days again.")
        )


def columns_of(terms: Mapping[str, Any]) -> dict[str, Any]:
    """Terms of a supplier as their columns keep them."""
    found = dict(terms)
    if "weekdays" in found:
        found["weekdays"] = list(found["weekdays"])
    if "shutdowns" in found:
        found["shutdowns"] = [[first.isoformat(), last.isoformat()]
                              for first, last in found["shutdowns"]]  # fmt: skip
    return found


def _days(shutdowns: Iterable[Sequence[str]]) -> tuple[tuple[date, date], ...]:
    return tuple((date.fromisoformat(first), date.fromisoformat(last)) for first, last in shutdowns)
