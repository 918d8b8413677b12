"""What is on the shelves at a moment: every lot, jar, bath, fibre and vessel, as frozen facts.

The number of questions to the database is the same whatever the amount of data.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import OuterRef, Q, Subquery, Sum

from inventory.errors import NoSuchLot, NoZone
from inventory.fittings import fittings_at
from inventory.histories import Histories, Row, among, corrections, histories
from inventory.liquids import Moved, begun_volume, jar_events, movements_of, nets
from inventory.models import (
    BathState,
    ClothMeasured,
    Dip,
    Dyeing,
    FibreState,
    Lot,
    Movement,
    PieceWeighing,
    Standing,
    Stay,
    Studio,
    StudioRule,
    Verdict,
)
from inventory.science.cloth import ClothSize
from inventory.science.facts import BathFacts, FibreFacts, JarFacts, LotFacts, Shelf, SupplyFacts
from inventory.science.facts import Dip as DipFacts
from inventory.science.facts import Stay as StayFacts
from inventory.science.facts import Verdict as VerdictFacts
from inventory.science.figures import Figure


@dataclass(frozen=True, slots=True)
class LeftAt:
    """What was left of a lot at a moment, read in the order in which things happened.

    `dips`: moments up to then at which a late entry makes it fall below nothing, to be looked at.
    """

    amount: int
    unit: str
    dips: tuple[datetime, ...] = ()


def left_at(studio: Studio, code: str, *, at: datetime) -> LeftAt:
    """What was left of a lot at a moment."""
    _zoned(at)
    lot = Lot.objects.of(studio).filter(code=code).first()
    if lot is None:
        raise NoSuchLot(code)
    left = 0
    dips: list[datetime] = []
    rows = (
        Movement.objects.of(studio)
        .filter(lot=lot, posting__occurred_at__lte=at)
        .values_list("posting__occurred_at")
        .annotate(Sum("amount"))
        .order_by("posting__occurred_at")
    )
    for moment, amount in rows:
        left += amount
        if left < 0:
            dips.append(moment)
    return LeftAt(left, lot.unit, tuple(dips))


@dataclass(frozen=True, slots=True)
class Looked:
    """A shelf with what only somebody who looks at it asks: since when a lot is set aside."""

    shelf: Shelf
    aside_since: Mapping[str, datetime]  # by code
    void: frozenset[UUID]  # postings taken back


def shelf_at(studio: Studio, *, at: datetime) -> Shelf:
    """Everything a studio has at a moment: what happened up to then, whenever it was noted."""
    return look_at(studio, at=at).shelf


def look_at(studio: Studio, *, at: datetime) -> Looked:
    """The shelf of a moment, in the same six questions, with more of its past."""
    _zoned(at)
    zone = ZoneInfo(studio.zone)
    lots = _lots_with_something_left(studio, at)
    past = histories(studio, {lot.pk: lot.posting_id for lot in lots}, at=at)
    kinds: dict[str, list[Any]] = {}
    for lot in lots:
        kinds.setdefault(lot.kind, []).append(lot)
    moved = movements_of(studio, [lot.pk for lot in kinds.get("jar", ())], at=at)
    fittings = fittings_at(studio, at=at, void=past.void)
    shelf = Shelf(
        lots=tuple(_dyestuff(lot, past) for lot in kinds.get("dyestuff", ())),
        supplies=tuple(_supply(lot) for lot in kinds.get("supply", ())),
        jars=tuple(_jar(lot, past, moved.get(lot.pk, ())) for lot in kinds.get("jar", ())),
        baths=tuple(_bath(lot, past) for lot in kinds.get("bath", ())),
        fibre=tuple(_fibre(lot, past, zone) for lot in kinds.get("fibre", ())),
        vessels=fittings.vessels,
        rings=fittings.rings,
        lines=fittings.lines,
        cold_places=fittings.cold_places,
    )
    return Looked(shelf, _aside_since(lots, past), past.void)


def _aside_since(lots: Iterable[Any], past: Histories) -> dict[str, datetime]:
    """The moment from which each lot that is set aside has been so without a break."""
    found: dict[str, datetime] = {}
    for lot in lots:
        for row in past.of(Standing, lot.pk):
            if not row.text:
                found.pop(lot.code, None)
            elif lot.code not in found:
                found[lot.code] = row.at
    return found


def figures_of(studio: Studio) -> tuple[Figure, ...]:
    """The studio's own figures, dated."""
    return tuple(
        Figure(
            item=rule.item,
            name=rule.name,
            value=rule.value,
            low=rule.low,
            high=rule.high,
            basis=rule.basis,
            source=rule.source,
            own=True,
            since=rule.since,
        )
        for rule in StudioRule.objects.of(studio).order_by("item", "name", "since", "pk")
    )


def pieces_weighed(studio: Studio, *, at: datetime) -> dict[str, tuple[tuple[int, int], ...]]:
    """Counts that were weighed by a moment, by dyestuff: (pieces, mg), oldest first."""
    _zoned(at)
    _, void = corrections(studio)
    found: dict[str, list[tuple[int, int]]] = {}
    for row in PieceWeighing.objects.of(studio).filter(at__lte=at).order_by("at", "pk"):
        if row.posting_id in void:
            continue
        found.setdefault(row.what, []).append((row.pieces, row.weight_mg))
    return {what: tuple(rows) for what, rows in found.items()}


def _zoned(at: datetime) -> None:
    if at.tzinfo is None:
        raise NoZone(at)


def _lots_with_something_left(studio: Studio, at: datetime) -> list[Any]:
    """Lots begun by a moment of which something was left then, each with its `left`."""
    since = dict(
        Movement.objects.of(studio)
        .filter(posting__studio=studio, posting__occurred_at__gt=at)
        .order_by()
        .values_list("lot_id")
        .annotate(Sum("amount"))
    )
    last = Movement.objects.of(studio).filter(lot=OuterRef("pk")).order_by("-number")
    lots = (
        Lot.objects.of(studio)
        .annotate(last_left=Subquery(last.values("left_after")[:1]))
        .filter(Q(last_left__gt=0) | Q(pk__in=among(since)), posting__occurred_at__lte=at)
        .select_related("jar", "bath", "fibre", "site")
        .order_by("code")
    )
    found = []
    for lot in lots:
        lot.left = (lot.last_left or 0) - since.get(lot.pk, 0)  # type: ignore[attr-defined]
        if lot.left > 0:  # type: ignore[attr-defined]
            found.append(lot)
    return found


def _site(row: Any) -> str:
    return row.site.code if row.site is not None else ""


def _dyestuff(lot: Any, past: Histories) -> LotFacts:
    standing = past.last(Standing, lot.pk)
    assert standing is not None, "a lot begins with a standing"
    return LotFacts(
        code=lot.code,
        dyestuff=lot.what,
        stays=_stays(lot, past),
        left_mg=lot.left,
        labelled=bool(standing.yes),
        set_aside=standing.text or "",
        verdicts=tuple(VerdictFacts(row.at, bool(row.yes)) for row in past.of(Verdict, lot.pk)),
        source=lot.source,
        gathered_on=lot.gathered_on,
        permission=lot.permission,
        foraged=lot.foraged,
        nest_checked=standing.yes_2,
        site=_site(lot),
        arrives_at=standing.moment,
    )


def _stays(lot: Any, past: Histories) -> tuple[StayFacts, ...]:
    return tuple(
        StayFacts(
            since=row.at,
            state=row.text or "",
            place=row.text_2 or "",
            place_kind=row.text_3 or "",
            temperature_c=row.real,
        )
        for row in past.of(Stay, lot.pk)
    )


def _supply(lot: Any) -> SupplyFacts:
    return SupplyFacts(code=lot.code, what=lot.what, left_mg=lot.left, site=_site(lot))


def _jar(lot: Any, past: Histories, moved: Sequence[Moved]) -> JarFacts:
    standing = past.last(Standing, lot.pk)
    assert standing is not None, "a lot begins with a standing"
    jar = lot.jar
    net = nets(moved, past)
    return JarFacts(
        code=lot.code,
        name=jar.name,
        metal=jar.metal,
        vinegar_parts=jar.vinegar_parts,
        water_parts=jar.water_parts,
        acid_percent=jar.acid_percent,
        begun_at=jar.begun_at,
        begun_volume_ul=begun_volume(jar, net),
        left_ul=lot.left,
        temperature_c=jar.temperature_c,
        metal_put_in_mg=jar.metal_put_in_mg,
        dips=tuple(DipFacts(row.at, row.number, row.real) for row in past.of(Dip, lot.pk)),
        events=jar_events(lot.pk, net, past),
        labelled=bool(standing.yes),
        set_aside=standing.text or "",
        site=_site(lot),
        looks=jar.looks,
    )


def _bath(lot: Any, past: Histories) -> BathFacts:
    standing, state = past.last(Standing, lot.pk), past.last(BathState, lot.pk)
    stay = past.last(Stay, lot.pk)
    bath = lot.bath
    warmth = bath.temperature_c if stay is None or stay.real is None else stay.real
    return BathFacts(
        code=lot.code,
        what=lot.what,
        made_at=bath.made_at,
        left_ul=lot.left,
        temperature_c=warmth,
        times_used=state.number or 0 if state else 0,
        shade=bath.shade,
        depth=bath.depth,
        metal=bath.metal,
        alum_left_mg=state.number_2 or 0 if state else 0,
        set_aside=standing.text or "" if standing else "",
        site=_site(lot),
    )


def _fibre(lot: Any, past: Histories, zone: ZoneInfo) -> FibreFacts:
    standing, state = past.last(Standing, lot.pk), past.last(FibreState, lot.pk)
    assert standing is not None, "a lot begins with a standing"
    assert state is not None, "fibre begins with a state"
    dyed = past.last(Dyeing, lot.pk)
    return FibreFacts(
        code=lot.code,
        fibre=lot.what,
        form=lot.fibre.form,
        left_mg=lot.left,
        scoured=bool(state.yes),
        mordant=state.text or "",
        mordant_percent=Decimal(state.text_2 or 0),
        damp=bool(state.yes_2),
        since=state.day or state.at.astimezone(zone).date(),
        set_aside=standing.text or "",
        arrives_at=standing.moment,
        clients_own=lot.fibre.clients_own,
        weighed=bool(standing.yes_3),
        labelled=bool(standing.yes),
        iron_percent=Decimal(state.text_3 or 0),
        site=_site(lot),
        shade=state.text_4 or "",
        depth=dyed.number or 0 if dyed else 0,
        quality=dyed.text or "" if dyed else "",
        came_out=dyed.text_2 or "" if dyed else "",
        cloth=_cloth(past.last(ClothMeasured, lot.pk)),
    )


def _cloth(row: Row | None) -> ClothSize | None:
    return None if row is None else ClothSize(Decimal(row.text or 0), row.number or 0)
