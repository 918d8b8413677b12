"""How full is each cold place now, and what would lie in the freezer tonight?"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from inventory.science.counting import Counted
from inventory.science.facts import ColdPlaceFacts

Freezes = Callable[[str], bool]  # whether a dyestuff is frozen to keep it


@dataclass(frozen=True, slots=True)
class Room:
    """One cold place with what lies in it, in mg."""

    place: ColdPlaceFacts
    now_mg: int
    lots: int


@dataclass(frozen=True, slots=True)
class Tonight:
    """All freezers together at the end of the day, in mg."""

    holds_mg: int
    now_mg: int
    comes_mg: int  # comes today and keeps by freezing
    put_by_mg: int  # its last good day is today and it keeps by freezing
    comes: tuple[str, ...]  # codes
    put_by: tuple[str, ...]

    @property
    def inside_mg(self) -> int:
        return self.now_mg + self.comes_mg + self.put_by_mg

    @property
    def over_mg(self) -> int:
        return max(0, self.inside_mg - self.holds_mg)

    @property
    def free_mg(self) -> int:
        return max(0, self.holds_mg - self.inside_mg)


def rooms(places: Iterable[ColdPlaceFacts], lots: Iterable[Counted]) -> tuple[Room, ...]:
    """Each cold place with what lies in it now; what is set aside takes room all the same.

    A lot whose place has no name of its own lies in the only place of its kind.
    """
    places, here = tuple(places), [row.lot for row in lots if row.comes is None]
    kinds = [place.kind for place in places]
    found = []
    for place in places:
        only = kinds.count(place.kind) == 1
        inside = [
            lot.left_mg
            for lot in here
            if lot.stay.place == place.code or (only and lot.stay.place_kind == place.kind)
        ]
        found.append(Room(place, sum(inside), len(inside)))
    return tuple(found)


def tonight(
    places: Iterable[ColdPlaceFacts], lots: Iterable[Counted], *, freezes: Freezes
) -> Tonight | None:
    """The freezers at the end of the day; None where none has a limit.

    Parameters
    ----------
    lots : every lot, counted at the moment asked for
    freezes : whether a dyestuff is frozen to keep it; what is dried instead is not

    What ends today is counted as put by, so that nobody is told there is room that will be needed.
    """
    limits = [place.holds_mg for place in places if place.kind == "freezer"]
    holds = [mg for mg in limits if mg is not None]
    if not holds or len(holds) < len(limits):
        return None
    rows = tuple(lots)
    frozen = [row for row in rows if row.comes is None and row.lot.stay.place_kind == "freezer"]
    comes = [row for row in rows if row.comes is not None and row.usable]
    comes = [row for row in comes if freezes(row.lot.dyestuff)]
    ends = [row for row in rows if _ends_today(row) and freezes(row.lot.dyestuff)]
    return Tonight(
        holds_mg=sum(holds),
        now_mg=_mg(frozen),
        comes_mg=_mg(comes),
        put_by_mg=_mg(ends),
        comes=tuple(row.lot.code for row in comes),
        put_by=tuple(row.lot.code for row in ends),
    )


def _ends_today(row: Counted) -> bool:
    fresh = row.lot.stay.state == "fresh" and row.lot.stay.place_kind != "freezer"
    return row.usable and row.comes is None and fresh and row.days_left == 0


def _mg(rows: Iterable[Counted]) -> int:
    return sum(row.lot.left_mg for row in rows)
