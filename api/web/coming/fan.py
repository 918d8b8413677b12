"""A fan over days: what will have come at worst, likely and at most, and what runs are short of.

Amounts only rise, and only on days of a pick-up, so every edge is a stair.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from api.web.strip.shapes import Stroke, Words, unit, words
from inventory.science.saying import say
from sourcing.week.coming import ByDay, Wanting
from sourcing.week.words import MONTHS, grams, listed

WIDTH, HEIGHT = 360.0, 230.0
LEFT, RIGHT, TOP, BOTTOM = 54.0, 6.0, 16.0, 26.0
LINES_AT_MOST = 4  # of runs that are short; the table has them all
APART = 13.0  # from one text to the next
# A need beyond so many times the most that may come is told in words at the upper edge.
FAR = 2.0
TICKS = 6  # at most, beside zero
MG = 1_000
BANDS = (("fan-wide", 0, 4), ("fan-half", 1, 3))  # class, and which levels it lies between


@dataclass(frozen=True, slots=True)
class Fan:
    """One picture with its name and what it shows in a sentence."""

    key: str
    name: str
    says: str
    width: str
    height: str
    grid: tuple[Stroke, ...]
    bands: tuple[Stroke, ...]
    lines: tuple[Stroke, ...]
    words: tuple[Words, ...]


def fan(
    key: str, name: str, says: str, days: Sequence[ByDay], short: Sequence[Wanting], *,
    first: date, last: date,
) -> Fan:  # fmt: skip
    """The fan of one dyestuff.

    Parameters
    ----------
    days : in order, at least one that brings something
    short : in any order; those that reach far beyond the fan are named at its upper edge
    first, last : days that the drawing spans, both in it
    """
    paper = _Paper(days, tuple(short)[:LINES_AT_MOST], first, last)
    return Fan(
        key=key,
        name=name,
        says=says,
        width=unit(WIDTH),
        height=unit(HEIGHT),
        grid=tuple(paper.grid()),
        bands=tuple(Stroke(paper.band(low, high), classes) for classes, low, high in BANDS),
        lines=(*(Stroke(paper.stair(level), "fan-edge") for level in (0, 4)),
               Stroke(paper.stair(2), "fan-likely"), *paper.needs()),
        words=tuple(paper.words()),
    )  # fmt: skip


class _Paper:
    """Where a day and an amount lie."""

    def __init__(
        self, days: Sequence[ByDay], short: Sequence[Wanting], first: date, last: date
    ) -> None:
        self.days, self.first = days, first
        self.spans = (last - first).days + 1
        most = max(days[-1].most, 1)
        self.near = sorted(
            (row for row in short if row.short_mg <= FAR * most), key=lambda row: row.short_mg
        )
        self.far = [row for row in short if row.short_mg > FAR * most]
        reach = max(most, *(row.short_mg for row in self.near), 1)
        self.tick = nice_step(reach / TICKS)
        self.top = self.tick * -(-reach // self.tick)

    def x(self, day: date) -> float:
        """The evening of a day."""
        gone = (day - self.first).days + 1
        return LEFT + (WIDTH - LEFT - RIGHT) * gone / self.spans

    def y(self, mg: float) -> float:
        return HEIGHT - BOTTOM - (HEIGHT - TOP - BOTTOM) * mg / self.top

    def stair(self, level: int) -> str:
        return f"M{unit(LEFT)} {unit(self.y(0))}{self._up(level)}"

    def band(self, low: int, high: int) -> str:
        """Up along one stair, back along the other."""
        back = "".join(
            f"V{unit(self.y(row.mg[low]))}H{unit(self.x(row.day))}" for row in reversed(self.days)
        )
        return f"M{unit(LEFT)} {unit(self.y(0))}{self._up(high)}{back}V{unit(self.y(0))}Z"

    def _up(self, level: int) -> str:
        steps = (f"H{unit(self.x(row.day))}V{unit(self.y(row.mg[level]))}" for row in self.days)
        return f"{''.join(steps)}H{unit(WIDTH - RIGHT)}"

    def grid(self) -> Iterator[Stroke]:
        for mg in self._ticks():
            yield Stroke(
                f"M{unit(LEFT)} {unit(self.y(mg))}H{unit(WIDTH - RIGHT)}",
                "line-faint",
            )
        for day in self._mondays():
            x = unit(self.x(day - timedelta(days=1)))
            yield Stroke(f"M{x} {unit(HEIGHT - BOTTOM)}v5", "line-thread")

    def needs(self) -> Iterator[Stroke]:
        for row in self.near:
            across = f"M{unit(LEFT)} {unit(self.y(row.short_mg))}H{unit(WIDTH - RIGHT)}"
            yield Stroke(across, "fan-need")

    def words(self) -> Iterator[Words]:
        for mg in self._ticks():
            yield words(LEFT - 5, self.y(mg) + 4, grams(mg), "soft", anchor="end")
        for day in self._mondays():
            x = self.x(day - timedelta(days=1))
            yield words(
                x,
                HEIGHT - 8,
                say("{day} {months}", day=day.day, months=MONTHS[day.month - 1]),
                "soft",
                anchor="start",
            )
        yield from self._need_words()

    def _need_words(self) -> Iterator[Words]:
        """Each above its line, from the lowest up, never one on another."""
        below = HEIGHT
        for mg, runs in _alike(self.near):
            below = max(min(self.y(mg) - 4, below - APART), 10.0)
            # Under the fan its right side is free, over it the left.
            if mg < self.days[-1].worst:
                yield words(
                    WIDTH - RIGHT - 4, below, _short_of(mg, runs), "fan-short", anchor="end"
                )
            else:
                yield words(LEFT + 4, below, _short_of(mg, runs), "fan-short")
        for number, (mg, runs) in enumerate(_alike(self.far)):
            text = say("{short_of}, beyond this", short_of=_short_of(mg, runs))
            yield words(WIDTH - RIGHT, 10 + number * APART, text, "fan-short", anchor="end")

    def _ticks(self) -> list[int]:
        return [int(n * self.tick) for n in range(int(self.top // self.tick) + 1)]

    def _mondays(self) -> list[date]:
        """Mondays that leave room for their date behind them."""
        days = (self.first + timedelta(days=n) for n in range(self.spans - 2))
        return [day for day in days if day.weekday() == 0]


def nice_step(least: float) -> int:
    """The first of 1, 2, 5, 10, … g in mg that is not below; reads well on an axis.

    >>> nice_step(2_300_000), nice_step(700), nice_step(1_000)
    (5000000, 1000, 1000)
    """
    step = MG
    while True:
        for times in (1, 2, 5):
            if times * step >= least:
                return times * step
        step *= 10


def _alike(rows: Iterable[Wanting]) -> list[tuple[int, list[str]]]:
    """Each amount once, from the least, with the runs that are short of it."""
    found: dict[int, list[str]] = {}
    for row in sorted(rows, key=lambda row: (row.short_mg, row.run)):
        found.setdefault(row.short_mg, []).append(row.run)
    return list(found.items())


def _short_of(mg: int, runs: Sequence[str]) -> str:
    return say(
        "{runs} {which} short of {mg}",
        runs=listed(runs),
        which=say("is") if len(runs) == 1 else say("are"),
        mg=grams(mg),
    )
