"""Which figure holds on a day: the studio's own if it has one, else the shipped one.

Every answer can name the figure that decided it, with range, basis and source.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass, field
from datetime import date
from decimal import Decimal
from typing import Any, TypeVar, cast

from inventory.science.saying import say

DERIVED_AT_MOST = 4000  # sums kept; many days may be asked about
T = TypeVar("T")


class NoFigure(LookupError):
    """Neither the studio nor the shipped tables have this figure."""

    def __init__(self, item: str, name: str) -> None:
        self.item, self.name = item, name
        super().__init__(
            say(
                "No figure for {name} of {item}. Write one in the studio's rules: {item}, {name}.",
                name=name,
                item=item,
            )
        )


@dataclass(frozen=True, slots=True)
class Figure:
    """A value with its range and where it comes from."""

    item: str  # "wool", "avocado stone", "studio"
    name: str  # "scour_loss_fraction": the unit ends the name
    value: Decimal
    low: Decimal | None = None
    high: Decimal | None = None
    basis: str = "common practice"  # published, common practice, measured here, assumed
    source: str = ""
    own: bool = False  # the studio's own record
    since: date | None = None  # from which day the studio's own figure holds


@dataclass(frozen=True)
class Figures:
    """Shipped figures and the studio's own, asked by item, name and day."""

    rows: tuple[Figure, ...] = ()
    _by_key: dict[tuple[str, str], tuple[Figure, ...]] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )
    _derived: dict[Hashable, Any] = field(
        init=False, repr=False, compare=False, default_factory=dict
    )

    def __post_init__(self) -> None:
        by_key: dict[tuple[str, str], list[Figure]] = {}
        for row in self.rows:
            by_key.setdefault((row.item, row.name), []).append(row)
        for key, found in by_key.items():
            # Own before shipped, the latest own first.
            found.sort(key=lambda row: (not row.own, -(row.since or date.min).toordinal()))
            self._by_key[key] = tuple(found)

    def find(self, item: str, name: str, *, on: date) -> Figure | None:
        """The figure that holds on a day, or None."""
        for row in self._by_key.get((item, name), ()):
            if row.since is None or row.since <= on:
                return row
        return None

    def get(self, item: str, name: str, *, on: date) -> Figure:
        """The figure that holds on a day.

        Raises
        ------
        NoFigure
            If neither the studio nor the shipped tables have one.
        """
        found = self.find(item, name, on=on)
        if found is None:
            raise NoFigure(item, name)
        return found

    def first_of(self, items: Iterable[str], name: str, *, on: date) -> Figure:
        """The figure of the first item that has one: the particular before the general."""
        items = tuple(items)
        for item in items:
            found = self.find(item, name, on=on)
            if found is not None:
                return found
        raise NoFigure(items[0], name)

    def once(self, key: Hashable, work: Callable[[], T]) -> T:
        """What is worked out from these figures and a key alone: once for all who ask it of them.

        Parameters
        ----------
        key : names the sum and all that goes into it beside the figures
        work : the sum; what it gives is never changed by anybody
        """
        known = self._derived.get(key, self)
        if known is not self:
            return cast("T", known)
        if len(self._derived) >= DERIVED_AT_MOST:
            self._derived.clear()
        found = self._derived[key] = work()
        return found

    def own(self) -> tuple[Figure, ...]:
        """The studio's own figures only."""
        return tuple(row for row in self.rows if row.own)
