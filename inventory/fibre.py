"""Verbs for fibre: received, scoured, mordanted, dried; amounts go through the ledger."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from decimal import Decimal
from uuid import UUID

from inventory.cloth import carry_size, size_row
from inventory.draft import Draft, Tip, number_of
from inventory.dyeings import carry_dyeing, dyeing_of
from inventory.entries import Amount, Dyed, Fibre, NewLot, Takes, Weighed
from inventory.errors import UnknownFibre
from inventory.models import FibreLot, FibreState, Kind, Studio, StudioRule
from inventory.posting import Posted, post
from inventory.science.catalogue import shipped
from inventory.science.cloth import ClothSize
from inventory.science.saying import say
from inventory.turning import fibre_state, restand, turn

KNOWN_BY = "scour_loss_fraction"  # the figure that every fibre has


def receive(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: NewLot,
    amount: Amount,
    form: str,
    fibre: Fibre,
    clients_own: bool = False,
    dyed: Dyed | None = None,
    cloth: ClothSize | None = None,
    note: str = "",
) -> Posted:
    """A new lot of fibre with its dry weight and what has been done to it already."""
    lot = replace(lot, kind="fibre")

    def work(draft: Draft) -> None:
        check_known(studio, lot.what)
        first = number_of(amount, least=1)
        tip = draft.begin(lot)
        said = amount if isinstance(amount, Weighed) else None
        draft.move(tip, first, said=said, counted=first)
        draft.detail(FibreLot(lot_id=tip.pk, form=form, clients_own=clients_own))
        draft.detail(fibre_state(tip, fibre, at=at))
        if dyed is not None:
            draft.detail(dyeing_of(tip, dyed, at=at))
        if cloth is not None:
            draft.detail(size_row(tip, cloth, at=at))

    body: dict[str, object] = {
        "lot": lot,
        "amount": amount,
        "form": form,
        "fibre": fibre,
        "clients_own": clients_own,
    }
    if dyed is not None:
        body["dyed"] = dyed
    if cloth is not None:
        body["cloth"] = cloth
    return post(studio, entry=entry, kind=Kind.RECEIVE, at=at, body=body, work=work, note=note)


def scour(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: str,
    amount: Amount | None = None,
    weighs: Amount,
    code: str = "",
    supplies: Takes = (),
    damp: bool = True,
    note: str = "",
) -> Posted:
    """Fibre scoured: so much of a lot went in (None: all), so much came out, dry.

    A part needs a `code` of its own. What is missing was grease, wax and size.
    """
    supplies = tuple(supplies)

    def work(draft: Draft) -> None:
        tip, old = _fibre(draft, lot)
        draft.check_here(tip)
        before = tip.left if amount is None else number_of(amount)
        turned = turn(
            draft, tip, amount=amount, becomes=weighs, code=code, reason=say("grease, wax and size")
        )
        _supply(draft, supplies)
        _restate(draft, tip, turned, replace(old, scoured=True, damp=damp, since=None))
        carry_size(draft, tip, turned, before_mg=before, after_mg=number_of(weighs))

    body = {
        "lot": lot,
        "amount": amount,
        "weighs": weighs,
        "code": code,
        "supplies": supplies,
        "damp": damp,
    }
    return post(studio, entry=entry, kind=Kind.SCOUR, at=at, body=body, work=work, note=note)


def mordant(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    lot: str,
    with_what: str,
    percent: Decimal,
    amount: Amount | None = None,
    code: str = "",
    supplies: Takes = (),
    iron_percent: Decimal | None = None,
    damp: bool = True,
    note: str = "",
) -> Posted:
    """Fibre mordanted, whole lot or a part under a `code` of its own, with what it took."""
    supplies = tuple(supplies)

    def work(draft: Draft) -> None:
        tip, old = _fibre(draft, lot)
        draft.check_here(tip)
        turned = turn(draft, tip, amount=amount, becomes=amount, code=code, reason="")
        _supply(draft, supplies)
        new = replace(
            old,
            mordant=with_what,
            mordant_percent=percent,
            iron_percent=old.iron_percent if iron_percent is None else iron_percent,
            damp=damp,
            since=None,
        )
        _restate(draft, tip, turned, new)
        carry_size(draft, tip, turned)

    body = {
        "lot": lot,
        "with_what": with_what,
        "percent": percent,
        "amount": amount,
        "code": code,
        "supplies": supplies,
        "iron_percent": iron_percent,
        "damp": damp,
    }
    return post(studio, entry=entry, kind=Kind.MORDANT, at=at, body=body, work=work, note=note)


def carried(draft: Draft, lot: str, turned: Tip) -> None:
    """Give fibre that went to another site what had been done to it, how it was kept, its size."""
    tip, old = _fibre(draft, lot)
    _restate(draft, tip, turned, old)
    carry_size(draft, tip, turned)


def dry(studio: Studio, *, entry: UUID, at: datetime, lot: str, note: str = "") -> Posted:
    """Fibre found dry: it keeps from now on."""

    def work(draft: Draft) -> None:
        tip, old = _fibre(draft, lot)
        draft.check_here(tip)
        draft.detail(fibre_state(tip, replace(old, damp=False, since=None), at=at))

    body = {"lot": lot, "dry": True}
    return post(studio, entry=entry, kind=Kind.PUT_BY, at=at, body=body, work=work, note=note)


def _fibre(draft: Draft, code: str) -> tuple[Tip, Fibre]:
    tip = draft.lot(code, kind="fibre")
    row = (
        FibreState.objects.of(draft.studio)
        .filter(lot=tip.pk, at__lte=draft.at)
        .order_by("at", "id")
        .last()
    )
    if row is None:
        return tip, Fibre()
    return tip, Fibre(
        scoured=row.scoured,
        mordant=row.mordant,
        mordant_percent=row.mordant_percent,
        damp=row.damp,
        iron_percent=row.iron_percent,
        shade=row.shade,
        since=row.since,
    )


def check_known(studio: Studio, fibre: str) -> None:
    """Refuse a fibre that neither the shipped figures nor the studio's own know."""
    known = sorted({row.item for row in shipped().rows if row.name == KNOWN_BY})
    if fibre in known:
        return
    if not StudioRule.objects.of(studio).filter(item=fibre, name=KNOWN_BY).exists():
        raise UnknownFibre(fibre, known=known)


def _supply(draft: Draft, supplies: Takes) -> None:
    for tip, take in draft.takes(supplies):
        draft.take(tip, take)


def _restate(draft: Draft, tip: Tip, turned: Tip, new: Fibre) -> None:
    if turned is not tip:
        old = FibreLot.objects.of(draft.studio).get(lot=tip.pk)
        draft.detail(FibreLot(lot_id=turned.pk, form=old.form, clients_own=old.clients_own))
        carry_dyeing(draft, tip, turned)
    draft.detail(fibre_state(turned, new, at=draft.at))
    if turned is tip and tip.set_aside:
        # Scoured or mordanted anew, it is what it is now; a part does not inherit the doubt.
        restand(draft, turned, set_aside="")
