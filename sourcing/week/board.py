"""What is already spoken for: vessels, rings, line and hands by the minute.

Only placed runs, blocks and chores write here; the placer asks and then commits a whole run.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right, insort
from dataclasses import dataclass, field

from sourcing.week.moments import NEVER

LONGEST = 24 * 60  # nobody is at one thing for longer than a day


@dataclass(slots=True)
class Holds:
    """Stretches during which one vessel or ring is taken, in order, never overlapping."""

    starts: list[int] = field(default_factory=list)
    ends: list[int] = field(default_factory=list)
    who: list[str] = field(default_factory=list)

    def add(self, start: int, end: int, who: str) -> None:
        """Take what of a stretch nobody has yet: two blocks may fall on the same hours."""
        index = bisect_right(self.ends, start)
        while index < len(self.starts) and self.starts[index] < end:
            if start < self.starts[index]:
                self._insert(index, start, self.starts[index], who)
                index += 1
            start = self.ends[index]
            index += 1
        if start < end:
            self._insert(index, start, end, who)

    def _insert(self, index: int, start: int, end: int, who: str) -> None:
        self.starts.insert(index, start)
        self.ends.insert(index, end)
        self.who.insert(index, who)

    def give_up(self, who: str) -> None:
        """Take nothing any more for somebody."""
        kept = [row for row in zip(self.starts, self.ends, self.who, strict=True) if row[2] != who]
        self.starts[:] = [row[0] for row in kept]
        self.ends[:] = [row[1] for row in kept]
        self.who[:] = [row[2] for row in kept]

    def taken_after(self, minute: int) -> int:
        """When somebody next takes it after a minute."""
        index = bisect_right(self.starts, minute)
        return self.starts[index] if index < len(self.starts) else NEVER

    def free_from(self, start: int, end: int, pause: int) -> tuple[int, str]:
        """`start` if `[start, end)` is free with a pause at both sides, else when to try next.

        The second value names who is in the way.
        """
        if not self.starts:
            return start, ""
        index = bisect_right(self.ends, start - pause)
        if index < len(self.starts) and self.starts[index] < end + pause:
            return self.ends[index] + pause, self.who[index]
        return start, ""


@dataclass(slots=True)
class Rail:
    """One drying line: what hangs from when to when."""

    holds_mg: int
    hung: list[tuple[int, int, int]] = field(default_factory=list)  # since, until, mg

    def load_at(self, minute: int) -> int:
        return sum(mg for since, until, mg in self.hung if since <= minute < until)

    def highest(self, since: int, until: int) -> int:
        """The most that hangs at any moment of a stretch."""
        moments = [since, *(s for s, _, _ in self.hung if since < s < until)]
        return max(self.load_at(minute) for minute in moments)

    def room_from(self, since: int, minutes: int, mg: int) -> int:
        """The first moment, not before `since`, from which `mg` fits for `minutes`."""
        if mg > self.holds_mg:
            return NEVER
        if not self.hung:
            return since
        tries = sorted({since, *(u for _, u, _ in self.hung if u > since)})
        for minute in tries:
            if self.highest(minute, minute + minutes) + mg <= self.holds_mg:
                return minute
        return NEVER


def meets(rows: list[tuple[int, int]], start: int, end: int) -> int:
    """When the last of the stretches that meet `[start, end)` is over; 0: none does."""
    return max((until for since, until in rows if since < end and start < until), default=0)


def met(rows: list[tuple[int, int]], start: int, end: int) -> tuple[int, int] | None:
    """From when to when stretches last that meet `[start, end)`, in order; None: none does."""
    index, since, until = bisect_left(rows, (end, 0)), NEVER, 0
    while index and rows[index - 1][0] > start - LONGEST:
        index -= 1
        if start < rows[index][1]:
            since, until = rows[index][0], max(until, rows[index][1])
    return (since, until) if until else None


@dataclass(slots=True)
class Board:
    """Everything of one studio that two runs could want at once."""

    vessels: dict[str, Holds]
    rings: dict[str, Holds]
    rails: dict[str, Rail]
    hands: dict[str, list[int]]  # by site: minutes left on each open day
    # By site: when somebody of it is on the way to another and back; one list where hands are one.
    away: dict[str, list[tuple[int, int]]] = field(default_factory=dict)
    # Likewise: when somebody has to be there; only where somebody may have to go.
    watched: dict[str, list[tuple[int, int]]] = field(default_factory=dict)

    def watch(self, site: str, start: int, end: int) -> None:
        """Note that somebody has to be there from a minute to another."""
        if start < end and site in self.watched:
            insort(self.watched[site], (start, end))

    def kept(self) -> Board:
        """A copy to go back to; what is booked on the board afterwards is not in it."""
        pools: dict[int, list[int]] = {}
        return Board(
            {code: Holds([*h.starts], [*h.ends], [*h.who]) for code, h in self.vessels.items()},
            {code: Holds([*h.starts], [*h.ends], [*h.who]) for code, h in self.rings.items()},
            {code: Rail(rail.holds_mg, [*rail.hung]) for code, rail in self.rails.items()},
            # Sites that share their hands go on sharing them.
            {site: pools.setdefault(id(left), [*left]) for site, left in self.hands.items()},
            {site: [*rows] for site, rows in self.away.items()},
            {site: [*rows] for site, rows in self.watched.items()},
        )

    def back_to(self, kept: Board) -> None:
        """Undo everything booked since; lists are filled in place as others hold on to them."""
        for mine, theirs in ((self.vessels, kept.vessels), (self.rings, kept.rings)):
            for code, holds in theirs.items():
                mine[code].starts[:] = holds.starts
                mine[code].ends[:] = holds.ends
                mine[code].who[:] = holds.who
        for code, rail in kept.rails.items():
            self.rails[code].hung[:] = rail.hung
        for site, left in kept.hands.items():
            self.hands[site][:] = left
        for site, rows in kept.away.items():
            self.away[site][:] = rows
        for site, rows in kept.watched.items():
            self.watched[site][:] = rows
