"""Verbs for jars of home-made liquor and for kept baths; amounts go through the ledger."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from uuid import UUID

from inventory.draft import Draft, Tip, number_of
from inventory.entries import Amount, NewLot, Place, Take, Takes, Weighed
from inventory.errors import BeforeItBegan, NotAStrip
from inventory.models import Bath, BathState, Dip, Jar, JarEvent, Kind, Studio
from inventory.posting import Posted, post
from inventory.said import BOUNDS
from inventory.turning import rest

METAL = " liquor"  # "iron liquor": what the lot of a jar is


def begin(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    code: str,
    name: str,
    metal: str,
    volume: Amount,
    vinegar_parts: Fraction | int = Fraction(0),
    water_parts: Fraction | int = Fraction(0),
    acid_percent: Decimal = Decimal(0),
    begun_at: datetime | None = None,
    begun_volume_ul: int | None = None,
    temperature_c: float | None = None,
    metal_put_in_mg: int | None = None,
    looks: str = "",
    site: str = "",
    labelled: bool = True,
    set_aside: str = "",
    note: str = "",
) -> Posted:
    """A jar begun, or found on the shelf with so much in it (`begun_at` None: nobody knows)."""
    lot = NewLot(
        code=code,
        what=metal + METAL,
        kind="jar",
        site=site,
        labelled=labelled,
        set_aside=set_aside,
    )

    def work(draft: Draft) -> None:
        first = number_of(volume, least=1)
        _check_begun(draft, lot, begun_at)
        tip = draft.begin(lot)
        draft.move(tip, first, said=_said(volume), counted=first)
        draft.detail(
            Jar(
                lot_id=tip.pk,
                name=name,
                metal=metal,
                vinegar_parts=vinegar_parts,
                water_parts=water_parts,
                acid_percent=acid_percent,
                begun_at=begun_at,
                begun_volume_ul=first if begun_volume_ul is None else begun_volume_ul,
                temperature_c=temperature_c,
                metal_put_in_mg=metal_put_in_mg,
                looks=looks,
            )
        )

    body = {
        "lot": lot,
        "name": name,
        "volume": volume,
        "vinegar_parts": vinegar_parts,
        "water_parts": water_parts,
        "acid_percent": acid_percent,
        "begun_at": begun_at,
        "begun_volume_ul": begun_volume_ul,
        "temperature_c": temperature_c,
        "metal_put_in_mg": metal_put_in_mg,
        "looks": looks,
    }
    return post(studio, entry=entry, kind=Kind.BEGIN, at=at, body=body, work=work, note=note)


def dip(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    jar: str,
    grade: int | None = None,
    metal_mg_per_l: float | None = None,
    note: str = "",
) -> Posted:
    """A strip dipped: its grade 1 to 5, or what a test strip read in mg/L of metal."""
    if grade is None and metal_mg_per_l is None:
        raise NotAStrip(grade)
    if grade is not None and not (type(grade) is int and grade in range(1, 6)):
        raise NotAStrip(grade)
    if metal_mg_per_l is not None and not _is_reading(metal_mg_per_l):
        raise NotAStrip(metal_mg_per_l)

    def work(draft: Draft) -> None:
        tip = draft.lot(jar, kind="jar")
        draft.check_here(tip)
        draft.detail(Dip(lot_id=tip.pk, at=at, grade=grade, metal_mg_per_l=metal_mg_per_l))

    body = {"jar": jar, "grade": grade, "metal_mg_per_l": metal_mg_per_l}
    return post(studio, entry=entry, kind=Kind.DIP, at=at, body=body, work=work, note=note)


def top_up(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    jar: str,
    volume: Amount,
    vinegar_parts: Fraction = Fraction(0),
    acid_percent: Decimal = Decimal(0),
    note: str = "",
) -> Posted:
    """Liquid added to a jar; `vinegar_parts` of its volume was vinegar of `acid_percent`."""

    def work(draft: Draft) -> None:
        tip = _jar(draft, jar)
        draft.move(tip, number_of(volume, least=1), said=_said(volume))
        _event(draft, tip, "topped up", vinegar_parts=vinegar_parts, acid_percent=acid_percent)

    body = {
        "jar": jar,
        "volume": volume,
        "vinegar_parts": vinegar_parts,
        "acid_percent": acid_percent,
    }
    return post(studio, entry=entry, kind=Kind.TOP_UP, at=at, body=body, work=work, note=note)


def strain(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    jar: str,
    left: Amount | None = None,
    note: str = "",
) -> Posted:
    """A jar strained off its metal; `left` where the liquor was measured afterwards."""

    def work(draft: Draft) -> None:
        tip = _jar(draft, jar)
        if left is not None:
            there = number_of(left)
            draft.move(tip, there - tip.left, said=_said(left), counted=there)
        _event(draft, tip, "strained")

    body = {"jar": jar, "left": left}
    return post(studio, entry=entry, kind=Kind.STRAIN, at=at, body=body, work=work, note=note)


def evaporate(
    studio: Studio, *, entry: UUID, at: datetime, jar: str, left: Amount, note: str = ""
) -> Posted:
    """A jar whose water went into the air: what is left now, with all its metal."""

    def work(draft: Draft) -> None:
        tip = _jar(draft, jar)
        there = number_of(left)
        draft.move(tip, there - tip.left, said=_said(left), counted=there)
        _event(draft, tip, "evaporated")

    body = {"jar": jar, "left": left}
    return post(studio, entry=entry, kind=Kind.EVAPORATE, at=at, body=body, work=work, note=note)


def draw(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    jar: str,
    volume: Amount,
    metal_mg_per_l: int | None = None,
    note: str = "",
) -> Posted:
    """Liquor drawn from a jar, with the strength that was shown when it was dosed."""

    def work(draft: Draft) -> None:
        tip = draft.lot(jar, kind="jar")
        draft.take(tip, Take(jar, volume, metal_mg_per_l))

    body = {"jar": jar, "volume": volume, "metal_mg_per_l": metal_mg_per_l}
    return post(studio, entry=entry, kind=Kind.DRAW, at=at, body=body, work=work, note=note)


def keep_at(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    jar: str,
    temperature_c: float,
    note: str = "",
) -> Posted:
    """A jar moved to another warmth."""

    def work(draft: Draft) -> None:
        tip = _jar(draft, jar)
        _event(draft, tip, "kept at", temperature_c=temperature_c)

    body = {"jar": jar, "temperature_c": temperature_c}
    return post(studio, entry=entry, kind=Kind.KEEP_AT, at=at, body=body, work=work, note=note)


def make_bath(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    code: str,
    what: str,
    volume: Amount,
    temperature_c: float,
    takes: Takes = (),
    made_at: datetime | None = None,
    shade: str = "",
    depth: int = 0,
    metal: str = "",
    times_used: int = 0,
    alum_left_mg: int = 0,
    site: str = "",
    set_aside: str = "",
    labelled: bool = True,
    note: str = "",
) -> Posted:
    """A bath made and kept: nettle bath, alum bath, dyebath; with what it took from lots."""
    takes = tuple(takes)
    lot = NewLot(
        code=code, what=what, kind="bath", site=site, set_aside=set_aside, labelled=labelled
    )

    def work(draft: Draft) -> None:
        for tip, take in draft.takes(takes):
            draft.take(tip, take)
        first = number_of(volume, least=1)
        _check_begun(draft, lot, made_at)
        tip = draft.begin(lot)
        draft.move(tip, first, said=_said(volume), counted=first)
        draft.detail(
            Bath(
                lot_id=tip.pk,
                made_at=made_at or at,
                temperature_c=temperature_c,
                shade=shade,
                depth=depth,
                metal=metal,
            )
        )
        state = BathState(lot_id=tip.pk, at=at, times_used=times_used, alum_left_mg=alum_left_mg)
        draft.detail(state)

    body = {
        "lot": lot,
        "volume": volume,
        "temperature_c": temperature_c,
        "takes": takes,
        "made_at": made_at,
        "shade": shade,
        "depth": depth,
        "metal": metal,
        "times_used": times_used,
        "alum_left_mg": alum_left_mg,
    }
    return post(studio, entry=entry, kind=Kind.MAKE_BATH, at=at, body=body, work=work, note=note)


def metals_of(studio: Studio, codes: Iterable[str]) -> set[str]:
    """The metals in some baths, by their codes; none where there is none in them."""
    rows = Bath.objects.of(studio).filter(lot__code__in=list(codes)).exclude(metal="")
    return set(rows.values_list("metal", flat=True))


def use_bath(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    bath: str,
    alum_left_mg: int | None = None,
    left: Amount | None = None,
    note: str = "",
) -> Posted:
    """A bath used once more, with the alum and the volume that it holds afterwards."""

    def work(draft: Draft) -> None:
        tip = draft.lot(bath, kind="bath")
        draft.check_here(tip)
        if left is not None:
            there = number_of(left)
            draft.move(tip, there - tip.left, said=_said(left), counted=there)
        old = (
            BathState.objects.of(studio).filter(lot=tip.pk, at__lte=at).order_by("at", "id").last()
        )
        assert old is not None, "a bath begins with a state"
        alum = old.alum_left_mg if alum_left_mg is None else number_of(alum_left_mg)
        draft.detail(
            BathState(lot_id=tip.pk, at=at, times_used=old.times_used + 1, alum_left_mg=alum)
        )

    body = {"bath": bath, "alum_left_mg": alum_left_mg, "left": left}
    return post(studio, entry=entry, kind=Kind.USE_BATH, at=at, body=body, work=work, note=note)


def move_bath(
    studio: Studio, *, entry: UUID, at: datetime, bath: str, place: Place, note: str = ""
) -> Posted:
    """A bath put in another place, with the warmth there."""

    def work(draft: Draft) -> None:
        tip = draft.lot(bath, kind="bath")
        draft.check_here(tip)
        rest(draft, tip, state="bath", place=place, since=at)

    body = {"bath": bath, "place": place}
    return post(studio, entry=entry, kind=Kind.KEEP_AT, at=at, body=body, work=work, note=note)


def _is_reading(metal_mg_per_l: object) -> bool:
    if isinstance(metal_mg_per_l, bool) or not isinstance(metal_mg_per_l, int | float):
        return False
    low, high = BOUNDS["metal_mg_per_l"]
    return low <= metal_mg_per_l <= high  # what is no number is neither


def _check_begun(draft: Draft, lot: NewLot, began_at: datetime | None) -> None:
    """Refuse what is said to begin after the moment at which it is said to be there."""
    if began_at is not None and began_at > draft.at:
        began, at = draft.here(began_at), draft.here(draft.at)
        raise BeforeItBegan(lot=lot.code, what=lot.what, began_at=began, at=at)


def _jar(draft: Draft, code: str) -> Tip:
    tip = draft.lot(code, kind="jar")
    draft.check_here(tip)
    return tip


def _event(
    draft: Draft,
    tip: Tip,
    kind: str,
    *,
    vinegar_parts: Fraction = Fraction(0),
    acid_percent: Decimal = Decimal(0),
    temperature_c: float | None = None,
) -> None:
    draft.detail(
        JarEvent(
            lot_id=tip.pk,
            at=draft.at,
            kind=kind,
            vinegar_parts=vinegar_parts,
            acid_percent=acid_percent,
            temperature_c=temperature_c,
        )
    )


def _said(amount: Amount) -> Weighed | None:
    return amount if isinstance(amount, Weighed) else None
