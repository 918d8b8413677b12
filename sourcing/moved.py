"""What moved lately: the last postings with what they touched, to be told in plain words."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db.models import F, QuerySet
from django.db.models.expressions import RawSQL

from inventory.models import (
    BathState,
    ClothMeasured,
    Dip,
    Dyeing,
    FibreState,
    JarEvent,
    Movement,
    Posting,
    Standing,
    Stay,
    Studio,
    Swatch,
    Verdict,
    VesselUse,
)
from inventory.prepared import Prepared
from sourcing.gather import Cells

MOVED_AT_MOST = 50
# What each posting did beside amounts, by the name that `moved_queries` gives its rows.
TOUCHING: dict[str, type[Any]] = {
    "moved_dips": Dip,
    "moved_events": JarEvent,
    "moved_standings": Standing,
    "moved_stays": Stay,
    "moved_states": FibreState,
    "moved_baths": BathState,
    "moved_verdicts": Verdict,
    "moved_dyeings": Dyeing,
    "moved_measured": ClothMeasured,
    "moved_swatches": Swatch,
}


@dataclass(frozen=True, slots=True)
class Part:
    """So much more or less of one lot; `left` is what was left of it as written down."""

    code: str
    what: str
    amount: int
    left: int
    unit: str
    kind: str  # of the lot: dyestuff, supply, jar, bath, fibre


@dataclass(frozen=True, slots=True)
class Moved:
    """One thing that happened."""

    at: datetime
    kind: str
    parts: tuple[Part, ...] = ()  # amounts, in the order written
    about: tuple[str, ...] = ()  # codes of lots and vessels without an amount
    grade: int | None = None  # of a strip
    reading_mg_per_l: float | None = None
    sound: bool | None = None  # as judged by eye
    set_aside: str = ""
    place: str = ""  # where it was put
    state: str = ""  # frozen, dried ...
    use: str = ""  # what a vessel went through
    mordant: str = ""
    quality: str = ""  # what dyed fibre is kept as, where that is less than it was meant to be
    came_out: str = ""
    where_to: str = ""
    note: str = ""
    by_whom: str = ""
    taken_back: bool = False  # a later entry corrects it


def last_of(*, studio: Studio, at: datetime, skip: int = 0) -> QuerySet[Any]:
    """The keys of the last postings up to a moment: one more than are shown at once.

    Parameters
    ----------
    skip : newest ones to pass over, for a second page
    """
    rows = Posting.objects.of(studio).filter(occurred_at__lte=at)
    rows = rows.order_by("-occurred_at", "-recorded_at", "pk")
    return rows.values_list("pk")[skip : skip + MOVED_AT_MOST + 1]


def keys_of_last(studio: Studio, *, at: datetime, skip: int = 0) -> tuple[UUID, ...]:
    """The same, asked first: what is asked with them then need not find them a dozen times."""
    return tuple(pk for (pk,) in _LAST.rows(studio=studio, at=at, fixed=(("skip", skip),)))


_LAST = Prepared(last_of)


def moved_queries(
    studio: Studio, *, at: datetime, last: QuerySet[Any] | RawSQL
) -> dict[str, QuerySet[Any]]:
    """The queries of some postings, to be asked with others, such as `vessels`.

    Each row of what they touched comes with the code of its lot, and of an amount with what the
    lot is.

    Parameters
    ----------
    last : their keys, as `last_of` finds them or `among` them
    """
    touching = {
        name: table.objects.of(studio).filter(posting__in=last).annotate(code=F("lot__code"))
        for name, table in TOUCHING.items()
    }
    amounts = Movement.objects.of(studio).filter(posting__in=last)
    return {
        "moved": Posting.objects.of(studio).filter(pk__in=last),
        "moved_again": Posting.objects.of(studio).filter(corrects__in=last, occurred_at__lte=at),
        "moved_amounts": amounts.annotate(
            code=F("lot__code"), what=F("lot__what"), unit=F("lot__unit"), lot_kind=F("lot__kind")
        ),
        "moved_uses": VesselUse.objects.of(studio).filter(posting__in=last),
        **touching,
    }


def moved_of(rows: Mapping[str, Sequence[Cells]]) -> tuple[Moved, ...]:
    """The postings that `moved_queries` found, newest first."""
    found = _Found(rows)
    order = sorted(
        rows["moved"],
        key=lambda row: (row["occurred_at"], row["recorded_at"], str(row["id"])),
        reverse=True,
    )
    return tuple(found.moved(row) for row in order)


class _Found:
    """The rows of some postings, by posting."""

    def __init__(self, rows: Mapping[str, Sequence[Cells]]) -> None:
        self.vessels = {row["id"]: row["code"] for row in rows["vessels"]}
        self.back = {row["corrects_id"] for row in rows["moved_again"]}
        self.by = {
            name: _by_posting(rows[name]) for name in ("moved_amounts", "moved_uses", *TOUCHING)
        }

    def moved(self, row: Cells) -> Moved:
        pk = row["id"]
        parts = tuple(_part(each) for each in self._of("moved_amounts", pk))
        dip, state = self._last("moved_dips", pk), self._last("moved_states", pk)
        standing, stay = self._last("moved_standings", pk), self._last("moved_stays", pk)
        use, dyeing = self._last("moved_uses", pk), self._last("moved_dyeings", pk)
        return Moved(
            at=row["occurred_at"],
            kind=row["kind"],
            parts=parts,
            about=self._about(pk, {part.code for part in parts}),
            grade=dip.get("grade"),
            reading_mg_per_l=dip.get("metal_mg_per_l"),
            sound=self._last("moved_verdicts", pk).get("sound"),
            set_aside=standing.get("set_aside", ""),
            place=stay.get("place", "") or stay.get("place_kind", ""),
            state=stay.get("state", ""),
            use=use.get("what", ""),
            mordant=state.get("mordant", ""),
            quality=dyeing.get("quality", ""),
            came_out=dyeing.get("came_out", ""),
            where_to=row["where_to"],
            note=row["note"],
            by_whom=row["by_whom"],
            taken_back=pk in self.back,
        )

    def _about(self, pk: object, told: set[str]) -> tuple[str, ...]:
        """Lots that are touched without an amount, then vessels."""
        codes = [row["code"] for name in TOUCHING for row in self._of(name, pk)]
        codes += [self.vessels[row["vessel_id"]] for row in self._of("moved_uses", pk)]
        return tuple(dict.fromkeys(code for code in codes if code not in told))

    def _of(self, name: str, pk: object) -> Sequence[Cells]:
        return self.by[name].get(pk, ())

    def _last(self, name: str, pk: object) -> Cells:
        rows = self._of(name, pk)
        return rows[-1] if rows else {}


def _part(row: Cells) -> Part:
    return Part(
        row["code"], row["what"], row["amount"], row["left_after"], row["unit"], row["lot_kind"]
    )


def _by_posting(rows: Iterable[Cells]) -> dict[object, list[Cells]]:
    found: dict[object, list[Cells]] = {}
    for row in sorted(rows, key=lambda row: row["id"]):
        found.setdefault(row["posting_id"], []).append(row)
    return found
