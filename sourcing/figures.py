"""The figures that a studio’s week rests on at a moment: its own, and the shipped behind them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from inventory.errors import NoZone
from inventory.models import PieceWeighing, Studio, StudioRule
from inventory.science.catalogue import shipped
from inventory.science.figures import Figure
from sourcing.gather import gather
from sourcing.outlook import figures_in


@dataclass(frozen=True, slots=True)
class Standing:
    """One figure as it stands: the studio's own where it has one, and the shipped one."""

    item: str
    name: str
    own: Figure | None
    shipped: Figure | None
    note: str = ""  # what the studio wrote beside its own

    @property
    def used(self) -> Figure:
        """The one that the sums take."""
        found = self.own or self.shipped
        assert found is not None
        return found


def figures_at(studio: Studio, *, at: datetime) -> tuple[Standing, ...]:
    """Every figure that holds on the day of a moment, by item and name, in one question.

    Parameters
    ----------
    at : aware; figures of the studio that begin later do not hold yet
    """
    if at.tzinfo is None:
        raise NoZone(at)
    zone = ZoneInfo(studio.zone)
    on = at.astimezone(zone).date()
    rows = gather(
        {
            "rules": StudioRule.objects.of(studio),
            "weighings": PieceWeighing.objects.of(studio).filter(at__lte=at),
        }
    )
    notes = {(row["item"], row["name"], row["since"]): row["note"] for row in rows["rules"]}
    figures = figures_in(rows, zone)
    keys = dict.fromkeys((row.item, row.name) for row in (*shipped().rows, *figures.own()))
    standing = []
    for item, name in keys:
        found, behind = figures.find(item, name, on=on), shipped().find(item, name, on=on)
        own = found if found is not None and found.own else None
        if own is None and behind is None:  # begins on a later day
            continue
        note = notes.get((item, name, own.since), "") if own is not None else ""
        standing.append(Standing(item, name, own, behind, note))
    return tuple(standing)
