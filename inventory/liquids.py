"""What changed a jar's liquid, worked out from its movements: a corrected draw counts as it is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from fractions import Fraction
from typing import Any
from uuid import UUID

from inventory.histories import Histories, Row
from inventory.models import JarEvent, Kind, Movement, Studio
from inventory.prepared import Prepared, among
from inventory.science.facts import JarEvent as Event

# What takes liquor as it is, metal and acid with it.
TAKING = (Kind.DRAW, Kind.DYE, Kind.TIP_OUT, Kind.SCOUR, Kind.MORDANT, Kind.MAKE_BATH)
MEASURING = (Kind.RECOUNT, Kind.WEIGH)


@dataclass(frozen=True, slots=True)
class Moved:
    """One movement of a jar with what happened."""

    lot: int
    posting: UUID
    kind: str
    at: datetime
    amount: int


@dataclass(frozen=True, slots=True)
class Net:
    """What one thing that happened moved in all, its corrections counted."""

    kind: str
    at: datetime
    at_first: int  # as first noted
    amount: int


def movements_of(studio: Studio, lots: Sequence[int], *, at: datetime) -> dict[int, list[Moved]]:
    """Movements of jars up to a moment, in the order of the ledger."""
    found: dict[int, list[Moved]] = {}
    for values in _MOVED.rows(studio=studio, lots=tuple(lots), at=at):
        row = Moved(*values)
        found.setdefault(row.lot, []).append(row)
    return found


def _moved(*, studio: Studio, lots: Sequence[int], at: datetime) -> Any:
    return (
        Movement.objects.of(studio)
        .filter(lot_id__in=among(lots), posting__occurred_at__lte=at)
        .order_by("lot_id", "number")
        .values_list("lot_id", "posting_id", "posting__kind", "posting__occurred_at", "amount")
    )


_MOVED = Prepared(_moved)


def nets(rows: Iterable[Moved], past: Histories) -> dict[UUID, Net]:
    """What each thing that happened moved in all, by its first posting."""
    found: dict[UUID, Net] = {}
    for row in rows:
        root = past.root(row.posting)
        before = found.get(root)
        if before is None:
            found[root] = Net(row.kind, row.at, row.amount, row.amount)
        else:
            found[root] = Net(before.kind, before.at, before.at_first, before.amount + row.amount)
    return found


def jar_events(lot: int, net: Mapping[UUID, Net], past: Histories) -> tuple[Event, ...]:
    """What changed a jar's liquid since it was begun, oldest first."""
    noted = {row.posting: row for row in past.of(JarEvent, lot)}
    events = [_noted(row, net.get(row.posting)) for row in noted.values()]
    for posting, moved in net.items():
        if moved.amount < 0 and _takes_liquor(moved, noted.get(posting)):
            events.append(Event(at=moved.at, kind="drawn", volume_ul=-moved.amount))
    return tuple(sorted(events, key=lambda event: event.at))


def _takes_liquor(moved: Net, noted: Row | None) -> bool:
    """Whether liquor went as it was: drawn, spilt, or left in the sieve."""
    if noted is not None:
        return noted.text == "strained"
    return moved.kind in TAKING or moved.kind in MEASURING


def _noted(row: Row, moved: Net | None) -> Event:
    kind = row.text or ""
    volume = abs(moved.amount) if moved is not None and kind != "strained" else 0
    return Event(
        at=row.at,
        kind=kind,
        volume_ul=volume,
        vinegar_parts=Fraction(row.text_2 or 0),
        acid_percent=Decimal(row.text_3 or 0),
        temperature_c=row.real,
    )


def begun_volume(begun_ul: int, posting: UUID, net: Mapping[UUID, Net]) -> int:
    """What a jar was begun with by a posting, as corrected since."""
    first = net.get(posting)
    return first.amount if first is not None and begun_ul == first.at_first else begun_ul
