"""Pots, rings, line and cold places of a studio, as facts at a moment."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from operator import attrgetter
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import models
from django.db.models import OuterRef, Subquery, Value

from inventory.histories import padded
from inventory.models import ColdPlace, Line, Ring, Studio, Vessel, VesselUse
from inventory.prepared import Prepared, among
from inventory.science.facts import ColdPlaceFacts, LineFacts, RingFacts, VesselFacts

SPARE: dict[str, models.Field[Any, Any]] = {
    "c_number": models.BigIntegerField(),
    "c_number_2": models.BigIntegerField(),
    "c_text": models.TextField(),
    "c_text_2": models.TextField(),
    "c_text_3": models.TextField(),
    "c_yes": models.BooleanField(),
    "c_yes_2": models.BooleanField(),
    "c_real": models.FloatField(),
    "c_moment": models.DateTimeField(),
    "c_moment_2": models.DateTimeField(),
}
COLUMNS: dict[type[Vessel | Ring | Line | ColdPlace], dict[str, str]] = {
    Vessel: {
        "c_number": "brim_ml",
        "c_number_2": "working_ml",
        "c_text": "kind",
        "c_text_2": "material",
        "c_text_3": "enamel",
        "c_yes": "iron_pot",
        "c_yes_2": "food",
        "c_moment": "iron_at",
        "c_moment_2": "passed_at",
    },
    Ring: {"c_number": "watts", "c_text": "not_for"},
    Line: {"c_number": "holds_mg", "c_yes": "outdoors"},
    ColdPlace: {"c_number": "holds_mg", "c_text": "kind", "c_real": "temperature_c"},
}


@dataclass(frozen=True, slots=True)
class Fittings:
    """Pots, rings, line and cold places, each by code."""

    vessels: tuple[VesselFacts, ...]
    rings: tuple[RingFacts, ...]
    lines: tuple[LineFacts, ...]
    cold_places: tuple[ColdPlaceFacts, ...]


NO_FITTINGS = Fittings((), (), (), ())


@dataclass(frozen=True, slots=True)
class _Row:
    """One row of any of the tables, in columns that all of them share."""

    table: str
    code: str
    site: str | None
    number: Any  # mL, W or mg; None: without limit
    number_2: Any
    text: str | None
    text_2: str | None
    text_3: str | None
    yes: bool | None
    yes_2: bool | None
    real: float | None
    moment: datetime | None
    moment_2: datetime | None


def fittings_at(studio: Studio, *, at: datetime, void: Collection[UUID] = ()) -> Fittings:
    """Pots with what they went through by a moment, rings, line and cold places, in one question.

    Uses noted by a posting in `void` do not count.
    """
    zone = ZoneInfo(studio.zone)
    found: dict[str, list[_Row]] = {}
    for values in _FITTINGS.rows(studio=studio, at=at, void=tuple(void)):
        row = _Row(*values)
        found.setdefault(row.table, []).append(row)
    for rows in found.values():
        rows.sort(key=attrgetter("code"))
    return Fittings(
        vessels=tuple(_vessel(row, zone) for row in found.get("vessel", ())),
        rings=tuple(_ring(row) for row in found.get("ring", ())),
        lines=tuple(
            LineFacts(row.code, row.number, bool(row.yes), row.site or "")
            for row in found.get("line", ())
        ),
        cold_places=tuple(
            ColdPlaceFacts(row.code, row.text or "", row.number, row.real, row.site or "")
            for row in found.get("coldplace", ())
        ),
    )


def _fittings(*, studio: Studio, at: datetime, void: Sequence[UUID]) -> Any:
    tables: dict[type[Vessel | Ring | Line | ColdPlace], Any] = {
        Vessel: _used(studio, at, void),
        Ring: Ring.objects.of(studio),
        Line: Line.objects.of(studio),
        ColdPlace: ColdPlace.objects.of(studio),
    }
    first, *others = [_padded(table, rows) for table, rows in tables.items()]
    return first.union(*others, all=True)


_FITTINGS = Prepared(_fittings)


def _used(studio: Studio, at: datetime, void: Sequence[UUID]) -> Any:
    """Vessels with the last use of each kind by a moment."""
    uses = (
        VesselUse.objects.of(studio)
        .filter(vessel=OuterRef("pk"), at__lte=at)
        .exclude(posting_id__in=among(void, kind="uuid"))
        .order_by("-at", "-pk")
    )
    return Vessel.objects.of(studio).annotate(
        iron_at=Subquery(uses.filter(what="iron").values("at")[:1]),
        passed_at=Subquery(uses.filter(what="blank passed").values("at")[:1]),
        enamel=Subquery(uses.filter(what__in=["chipped", "mended"]).values("what")[:1]),
    )


def _padded(table: type[Vessel | Ring | Line | ColdPlace], rows: Any) -> Any:
    named = padded(rows, SPARE, COLUMNS[table]).annotate(
        c_table=Value(table._meta.model_name, output_field=models.TextField())
    )
    return named.values_list("c_table", "code", "site__code", *SPARE)


def _vessel(row: _Row, zone: ZoneInfo) -> VesselFacts:
    return VesselFacts(
        code=row.code,
        kind=row.text or "",
        material=row.text_2 or "",
        brim_ml=row.number,
        working_ml=row.number_2,
        iron_pot=bool(row.yes),
        chipped=row.text_3 == "chipped",
        food=bool(row.yes_2),
        iron_on=_day(row.moment, zone),
        blank_passed_on=_day(row.moment_2, zone),
        site=row.site or "",
    )


def _ring(row: _Row) -> RingFacts:
    codes = tuple(part.strip() for part in (row.text or "").split(",") if part.strip())
    return RingFacts(row.code, row.number, codes, row.site or "")


def _day(at: datetime | None, zone: ZoneInfo) -> date | None:
    return None if at is None else at.astimezone(zone).date()
