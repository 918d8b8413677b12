"""The histories of many lots in one question: stays, standings, verdicts, dips and the rest.

Each table is read in the same columns and the rows come back as one union, so that a shelf costs
the same number of questions however much is on it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import Any, NamedTuple
from uuid import UUID

from django.db import models
from django.db.models import F, Value
from django.db.models.functions import Cast

from inventory.models import (
    BathState,
    ClothMeasured,
    Dip,
    Dyeing,
    FibreState,
    JarEvent,
    Kind,
    Posting,
    Standing,
    Stay,
    Studio,
    Verdict,
)
from inventory.models.lots import OfLot
from inventory.prepared import Prepared, among


class Row(NamedTuple):
    """One row of a history, in columns that all tables share."""

    table: str
    lot: int
    posting: UUID
    at: datetime
    pk: int
    text: str | None
    text_2: str | None
    text_3: str | None
    text_4: str | None
    number: int | None
    number_2: int | None
    real: float | None
    yes: bool | None
    yes_2: bool | None
    yes_3: bool | None
    moment: datetime | None
    day: date | None


SPARE: dict[str, models.Field[Any, Any]] = {
    "c_text": models.TextField(),
    "c_text_2": models.TextField(),
    "c_text_3": models.TextField(),
    "c_text_4": models.TextField(),
    "c_number": models.BigIntegerField(),
    "c_number_2": models.BigIntegerField(),
    "c_real": models.FloatField(),
    "c_yes": models.BooleanField(),
    "c_yes_2": models.BooleanField(),
    "c_yes_3": models.BooleanField(),
    "c_moment": models.DateTimeField(),
    "c_day": models.DateField(),
}
COLUMNS: dict[type[OfLot], dict[str, str]] = {
    Stay: {
        "c_text": "state",
        "c_text_2": "place",
        "c_text_3": "place_kind",
        "c_real": "temperature_c",
    },
    Standing: {
        "c_text": "set_aside",
        "c_yes": "labelled",
        "c_yes_2": "nest_checked",
        "c_yes_3": "weighed",
        "c_moment": "arrives_at",
    },
    Verdict: {"c_yes": "sound"},
    FibreState: {
        "c_text": "mordant",
        "c_text_2": "mordant_percent",
        "c_text_3": "iron_percent",
        "c_text_4": "shade",
        "c_yes": "scoured",
        "c_yes_2": "damp",
        "c_day": "since",
    },
    Dyeing: {"c_text": "quality", "c_text_2": "came_out", "c_number": "depth"},
    ClothMeasured: {"c_text": "g_per_m2", "c_number": "width_mm"},
    BathState: {"c_number": "times_used", "c_number_2": "alum_left_mg"},
    Dip: {"c_number": "grade", "c_real": "metal_mg_per_l"},
    JarEvent: {
        "c_text": "kind",
        "c_text_2": "vinegar_parts",
        "c_text_3": "acid_percent",
        "c_real": "temperature_c",
    },
}


@dataclass(frozen=True)
class Histories:
    """What happened to lots by a moment, oldest first; what was taken back is left out."""

    rows: dict[tuple[str, int], list[Row]] = field(default_factory=dict)
    corrects: dict[UUID, UUID] = field(default_factory=dict)  # correction → what it corrects
    void: frozenset[UUID] = frozenset()  # postings taken back

    def of(self, table: type[OfLot], lot: int) -> Sequence[Row]:
        """A lot's rows of one table."""
        return self.rows.get((_name(table), lot), ())

    def last(self, table: type[OfLot], lot: int) -> Row | None:
        """A lot's latest row of one table."""
        rows = self.of(table, lot)
        return rows[-1] if rows else None

    def root(self, posting: UUID) -> UUID:
        """The first posting of a chain of corrections."""
        while posting in self.corrects:
            posting = self.corrects[posting]
        return posting


def histories(
    studio: Studio,
    lots: Mapping[int, UUID],
    *,
    at: datetime,
    tables: Iterable[type[OfLot]] = tuple(COLUMNS),
) -> Histories:
    """The histories of lots (key → the posting that began it) up to a moment, in two questions.

    Parameters
    ----------
    tables : what is asked of; one question where there are none
    """
    corrects, void = corrections(studio)
    found: dict[tuple[str, int], list[Row]] = {}
    names = tuple(_name(table) for table in tables)
    if not names:
        return Histories(found, corrects, void)
    for values in _PAST.rows(studio=studio, lots=tuple(lots), fixed=(("tables", names),)):
        row = Row._make(values)
        # A lot that is there although its first entry was taken back stands as it began.
        if row.posting not in void or row.posting == lots[row.lot]:
            found.setdefault((row.table, row.lot), []).append(row)
    for key, rows in found.items():
        rows.sort(key=lambda row: (row.at, row.pk))
        by_then = [row for row in rows if row.at <= at]
        # A lot that is still on its way has its first stay ahead of it.
        found[key] = rows[:1] if key[0] == _name(Stay) and not by_then else by_then
    return Histories(found, corrects, void)


def corrections(studio: Studio) -> tuple[dict[UUID, UUID], frozenset[UUID]]:
    """Each correction with what it corrects, and the postings that are taken back by one."""
    rows = list(_CORRECTIONS.rows(studio=studio))
    corrects = {pk: wrong for pk, wrong, _ in rows}
    by = {wrong: pk for pk, wrong, _ in rows}
    undoing = {pk for pk, _, undoes in rows if undoes}
    roots = set(by) - set(corrects)
    void = {root for root in roots if not _stands(_tip(root, by), corrects, undoing)}
    return corrects, frozenset(void)


def _tip(posting: UUID, by: dict[UUID, UUID]) -> UUID:
    """The last correction of a posting, or the posting itself."""
    while posting in by:
        posting = by[posting]
    return posting


def _stands(tip: UUID, corrects: dict[UUID, UUID], undoing: set[UUID]) -> bool:
    """Whether the first posting of a chain stands once its last correction is made.

    A correction of amounts lets it stand; one that undoes brings back what was before the
    correction that it undoes, and nothing where it undoes the first posting.
    """
    while tip in undoing:
        undone = corrects[tip]
        if undone not in corrects:
            return False
        tip = corrects[undone]
    return True


def padded(rows: Any, spare: dict[str, models.Field[Any, Any]], columns: dict[str, str]) -> Any:
    """Rows with their columns under shared names; the names a table does not fill are empty."""
    filled = {name: F(column) for name, column in columns.items()}
    empty = {
        name: Cast(Value(None), output_field=kind)
        for name, kind in spare.items()
        if name not in columns
    }
    return rows.order_by().annotate(**filled, **empty)


def _past(*, studio: Studio, lots: Sequence[int], tables: Sequence[str]) -> Any:
    first, *others = [_padded(studio, table, lots) for table in COLUMNS if _name(table) in tables]
    return first.union(*others, all=True)


def _padded(studio: Studio, table: type[OfLot], lots: Sequence[int]) -> Any:
    rows = table.objects.of(studio).filter(lot_id__in=among(lots))
    named = padded(rows, SPARE, COLUMNS[table]).annotate(
        c_table=Value(_name(table), output_field=models.TextField())
    )
    return named.values_list("c_table", "lot_id", "posting_id", "at", "pk", *SPARE)


def _corrected(*, studio: Studio) -> Any:
    rows = Posting.objects.of(studio).filter(kind=Kind.CORRECT).order_by()
    return rows.values_list("pk", "corrects_id", "undoes")


def _name(table: type[OfLot]) -> str:
    return str(table._meta.model_name)


_PAST, _CORRECTIONS = Prepared(_past), Prepared(_corrected)
