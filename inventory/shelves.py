"""What is on the shelves at a moment: every lot, jar, bath, fibre and vessel, as frozen facts.

The number of questions to the database is the same whatever the amount of data.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from decimal import Decimal
from typing import Any, NamedTuple
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import F, OuterRef, Q, Subquery, Sum
from django.db.models.functions import Coalesce

from inventory.errors import NoSuchLot, NoZone
from inventory.fittings import NO_FITTINGS, fittings_at
from inventory.histories import Histories, Row, corrections, histories
from inventory.liquids import Moved, begun_volume, jar_events, movements_of, nets
from inventory.models import (
    BathState,
    ClothMeasured,
    Dip,
    Dyeing,
    FibreState,
    JarEvent,
    Lot,
    Movement,
    PieceWeighing,
    Standing,
    Stay,
    Studio,
    StudioRule,
    Verdict,
)
from inventory.models.lots import OfLot
from inventory.prepared import Prepared
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


# What is written of the lots of each kind; their amounts come with them.
PAST_OF: dict[str, tuple[type[OfLot], ...]] = {
    "dyestuff": (Stay, Standing, Verdict),
    "supply": (Standing,),
    "jar": (Standing, Dip, JarEvent),
    "bath": (Stay, Standing, BathState),
    "fibre": (Standing, FibreState, Dyeing, ClothMeasured),
}


def look_at(
    studio: Studio,
    *,
    at: datetime,
    kinds: Collection[str] | None = None,
    with_fittings: bool = True,
) -> Looked:
    """The shelf of a moment, in five questions at the most, with more of its past.

    Parameters
    ----------
    kinds : of lots that are looked at, such as jar and dyestuff; None: all
    with_fittings : whether pots, rings, line and cold places are looked at too
    """
    _zoned(at)
    zone = ZoneInfo(studio.zone)
    wanted = tuple(kind for kind in PAST_OF if kinds is None or kind in kinds)
    lots = _lots_with_something_left(studio, at, wanted) if wanted else []
    tables = dict.fromkeys(table for kind in wanted for table in PAST_OF[kind])
    past = histories(studio, {lot.pk: lot.posting_id for lot in lots}, at=at, tables=tables)
    of: dict[str, list[_Lot]] = {}
    for lot in lots:
        of.setdefault(lot.kind, []).append(lot)
    jars = [lot.pk for lot in of.get("jar", ())]
    moved = movements_of(studio, jars, at=at) if "jar" in wanted else {}
    fittings = fittings_at(studio, at=at, void=past.void) if with_fittings else NO_FITTINGS
    shelf = Shelf(
        lots=tuple(_dyestuff(lot, past) for lot in of.get("dyestuff", ())),
        supplies=tuple(_supply(lot) for lot in of.get("supply", ())),
        jars=tuple(_jar(lot, past, moved.get(lot.pk, ())) for lot in of.get("jar", ())),
        baths=tuple(_bath(lot, past) for lot in of.get("bath", ())),
        fibre=tuple(_fibre(lot, past, zone) for lot in of.get("fibre", ())),
        vessels=fittings.vessels,
        rings=fittings.rings,
        lines=fittings.lines,
        cold_places=fittings.cold_places,
    )
    return Looked(shelf, _aside_since(lots, past), past.void)


def _aside_since(lots: Iterable[_Lot], past: Histories) -> dict[str, datetime]:
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


class _Lot(NamedTuple):
    """A lot with what it was begun as, in the columns of `_begun`, and what is left of it."""

    pk: int
    posting_id: UUID
    kind: str
    code: str
    what: str
    site: str | None
    source: str
    gathered_on: date | None
    permission: str
    foraged: bool
    jar_name: Any
    jar_metal: Any
    jar_vinegar_parts: Any
    jar_water_parts: Any
    jar_acid_percent: Any
    jar_begun_at: Any
    jar_begun_volume_ul: Any
    jar_temperature_c: Any
    jar_metal_put_in_mg: Any
    jar_looks: Any
    bath_made_at: Any
    bath_temperature_c: Any
    bath_shade: Any
    bath_depth: Any
    bath_metal: Any
    fibre_form: Any
    fibre_clients_own: Any
    left: int


# The columns of `_Lot` but the last one.
_LOT = ("pk", "posting_id", "kind", "code", "what", "site__code", "source", "gathered_on",
        "permission", "foraged")  # fmt: skip
_JAR = ("name", "metal", "vinegar_parts", "water_parts", "acid_percent", "begun_at",
        "begun_volume_ul", "temperature_c", "metal_put_in_mg", "looks")  # fmt: skip
_BATH, _FIBRE = ("made_at", "temperature_c", "shade", "depth", "metal"), ("form", "clients_own")
_COLUMNS = (*_LOT, *(f"jar__{name}" for name in _JAR), *(f"bath__{name}" for name in _BATH),
            *(f"fibre__{name}" for name in _FIBRE))  # fmt: skip


def _lots_with_something_left(studio: Studio, at: datetime, kinds: tuple[str, ...]) -> list[_Lot]:
    """Lots of some kinds begun by a moment of which something was left then, by code."""
    rows = _BEGUN.rows(studio=studio, at=at, fixed=(("kinds", kinds),))
    return [lot for row in rows if (lot := _Lot._make(row)).left > 0]


def _begun(*, studio: Studio, at: datetime, kinds: tuple[str, ...]) -> Any:
    """Lots begun by a moment of which something is left now or was moved since, with what was left
    then: what is left now less what was moved since."""
    moved = Movement.objects.of(studio).order_by()
    last = moved.filter(lot=OuterRef("pk")).order_by("-number")
    since = moved.filter(posting__studio=studio, posting__occurred_at__gt=at)
    of_lot = since.filter(lot=OuterRef("pk")).values("lot").annotate(sum=Sum("amount"))
    lots = Lot.objects.of(studio)
    return (
        (lots if len(kinds) == len(PAST_OF) else lots.filter(kind__in=kinds))
        .annotate(last_left=Coalesce(Subquery(last.values("left_after")[:1]), 0))
        .filter(Q(last_left__gt=0) | Q(pk__in=since.values("lot")), posting__occurred_at__lte=at)
        .annotate(left_then=F("last_left") - Coalesce(Subquery(of_lot.values("sum")), 0))
        .order_by("code")
        .values_list(*_COLUMNS, "left_then")
    )


_BEGUN = Prepared(_begun)


def _dyestuff(lot: _Lot, past: Histories) -> LotFacts:
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
        site=lot.site or "",
        arrives_at=standing.moment,
    )


def _stays(lot: _Lot, past: Histories) -> tuple[StayFacts, ...]:
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
    return SupplyFacts(code=lot.code, what=lot.what, left_mg=lot.left, site=lot.site or "")


def _jar(lot: _Lot, past: Histories, moved: Sequence[Moved]) -> JarFacts:
    standing = past.last(Standing, lot.pk)
    assert standing is not None, "a lot begins with a standing"
    net = nets(moved, past)
    return JarFacts(
        code=lot.code,
        name=lot.jar_name,
        metal=lot.jar_metal,
        vinegar_parts=lot.jar_vinegar_parts,
        water_parts=lot.jar_water_parts,
        acid_percent=lot.jar_acid_percent,
        begun_at=lot.jar_begun_at,
        begun_volume_ul=begun_volume(lot.jar_begun_volume_ul, lot.posting_id, net),
        left_ul=lot.left,
        temperature_c=lot.jar_temperature_c,
        metal_put_in_mg=lot.jar_metal_put_in_mg,
        dips=tuple(DipFacts(row.at, row.number, row.real) for row in past.of(Dip, lot.pk)),
        events=jar_events(lot.pk, net, past),
        labelled=bool(standing.yes),
        set_aside=standing.text or "",
        site=lot.site or "",
        looks=lot.jar_looks,
    )


def _bath(lot: _Lot, past: Histories) -> BathFacts:
    standing, state = past.last(Standing, lot.pk), past.last(BathState, lot.pk)
    stay = past.last(Stay, lot.pk)
    warmth = lot.bath_temperature_c if stay is None or stay.real is None else stay.real
    return BathFacts(
        code=lot.code,
        what=lot.what,
        made_at=lot.bath_made_at,
        left_ul=lot.left,
        temperature_c=warmth,
        times_used=state.number or 0 if state else 0,
        shade=lot.bath_shade,
        depth=lot.bath_depth,
        metal=lot.bath_metal,
        alum_left_mg=state.number_2 or 0 if state else 0,
        set_aside=standing.text or "" if standing else "",
        site=lot.site or "",
    )


def _fibre(lot: _Lot, past: Histories, zone: ZoneInfo) -> FibreFacts:
    standing, state = past.last(Standing, lot.pk), past.last(FibreState, lot.pk)
    assert standing is not None, "a lot begins with a standing"
    assert state is not None, "fibre begins with a state"
    dyed = past.last(Dyeing, lot.pk)
    return FibreFacts(
        code=lot.code,
        fibre=lot.what,
        form=lot.fibre_form,
        left_mg=lot.left,
        scoured=bool(state.yes),
        mordant=state.text or "",
        mordant_percent=Decimal(state.text_2 or 0),
        damp=bool(state.yes_2),
        since=state.day or state.at.astimezone(zone).date(),
        set_aside=standing.text or "",
        arrives_at=standing.moment,
        clients_own=lot.fibre_clients_own,
        weighed=bool(standing.yes_3),
        labelled=bool(standing.yes),
        iron_percent=Decimal(state.text_3 or 0),
        site=lot.site or "",
        shade=state.text_4 or "",
        depth=dyed.number or 0 if dyed else 0,
        quality=dyed.text or "" if dyed else "",
        came_out=dyed.text_2 or "" if dyed else "",
        cloth=_cloth(past.last(ClothMeasured, lot.pk)),
    )


def _cloth(row: Row | None) -> ClothSize | None:
    return None if row is None else ClothSize(Decimal(row.text or 0), row.number or 0)
