"""Pots, rings, line and cold places of a studio, as facts at a moment."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, datetime
from operator import attrgetter
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db import models
from django.db.models import OuterRef, Subquery, Value

from inventory.histories import padded
from inventory.models import ColdPlace, Line, Ring, Studio, Vessel, VesselUse
from inventory.science.facts import ColdPlaceFacts, LineFacts, RingFacts, VesselFacts

SPARE: dict[str, models.Field[Any, Any]] = {
    "c_number": models.BigIntegerField(),
    "c_text": models.TextField(),
    "c_yes": models.BooleanField(),
    "c_real": models.FloatField(),
}
COLUMNS: dict[type[Ring | Line | ColdPlace], dict[str, str]] = {
    Ring: {"c_number": "watts", "c_text": "not_for"},
    Line: {"c_number": "holds_mg", "c_yes": "outdoors"},
    ColdPlace: {"c_number": "holds_mg", "c_text": "kind", "c_real": "temperature_c"},
}


def vessels_at(
    studio: Studio, *, at: datetime, void: Collection[UUID] = ()
) -> tuple[VesselFacts, ...]:
    """Every vessel with what it went through by a moment; postings in `void` do not count."""
    zone = ZoneInfo(studio.zone)
    uses = (
        VesselUse.objects.of(studio)
        .filter(vessel=OuterRef("pk"), at__lte=at)
        .exclude(posting_id__in=list(void))
        .order_by("-at", "-pk")
    )
    rows = (
        Vessel.objects.of(studio)
        .select_related("site")
        .annotate(
            iron_at=Subquery(uses.filter(what="iron").values("at")[:1]),
            passed_at=Subquery(uses.filter(what="blank passed").values("at")[:1]),
            enamel=Subquery(uses.filter(what__in=["chipped", "mended"]).values("what")[:1]),
        )
        .order_by("code")
    )
    return tuple(
        VesselFacts(
            code=row.code,
            kind=row.kind,
            material=row.material,
            brim_ml=row.brim_ml,
            working_ml=row.working_ml,
            iron_pot=row.iron_pot,
            chipped=row.enamel == "chipped",
            food=row.food,
            iron_on=_day(row.iron_at, zone),
            blank_passed_on=_day(row.passed_at, zone),
            site=row.site.code if row.site is not None else "",
        )
        for row in rows
    )


def fittings_of(
    studio: Studio,
) -> tuple[tuple[RingFacts, ...], tuple[LineFacts, ...], tuple[ColdPlaceFacts, ...]]:
    """Rings, lines and cold places, in one question."""
    parts = [_padded(studio, table) for table in COLUMNS]
    rings: list[RingFacts] = []
    lines: list[LineFacts] = []
    cold: list[ColdPlaceFacts] = []
    for table, code, site, number, text, yes, real in parts[0].union(*parts[1:], all=True):
        if table == "ring":
            codes = tuple(part.strip() for part in (text or "").split(",") if part.strip())
            rings.append(RingFacts(code, number, codes, site or ""))
        elif table == "line":
            lines.append(LineFacts(code, number, bool(yes), site or ""))
        else:
            cold.append(ColdPlaceFacts(code, text or "", number, real, site or ""))
    by_code = attrgetter("code")
    return (
        tuple(sorted(rings, key=by_code)),
        tuple(sorted(lines, key=by_code)),
        tuple(sorted(cold, key=by_code)),
    )


def _padded(studio: Studio, table: type[Ring | Line | ColdPlace]) -> Any:
    rows = table.objects.of(studio)
    named = padded(rows, SPARE, COLUMNS[table]).annotate(
        c_table=Value(table._meta.model_name, output_field=models.TextField())
    )
    return named.values_list("c_table", "code", "site__code", *SPARE)


def _day(at: datetime | None, zone: ZoneInfo) -> date | None:
    return None if at is None else at.astimezone(zone).date()
