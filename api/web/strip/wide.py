"""The week side by side, for a desk: a row for each pot and ring, then hands and line."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

from api.web.strip.axis import Axis
from api.web.strip.bars import Bar, DayLoad, Strip, changes
from api.web.strip.shapes import Box, Drawing, Stroke, Words, box, fits, unit, words
from inventory.science.saying import joined, say
from sourcing.week.words import day_in_words, kilos

DAYS_A_ROW = 7
LABELS = 58.0  # room for the names of the rows
DAY, NIGHT = 144.0, 28.0
HEAD = 36.0
VESSEL_ROW, RING_ROW, HANDS_ROW, LINE_ROW = 40.0, 25.0, 38.0, 74.0
GAP = 3.0
SMALL = 12.0


def wide(strip: Strip) -> tuple[Drawing, ...]:
    """One drawing for each seven days."""
    weeks = range(0, len(strip.days), DAYS_A_ROW)
    return tuple(_Wide(strip, strip.days[first : first + DAYS_A_ROW], first).drawing()
                 for first in weeks)  # fmt: skip


@dataclass(frozen=True)
class _Wide:
    strip: Strip
    days: tuple[DayLoad, ...]
    number: int

    # -- where things lie ----------------------------------------------------------------------

    @cached_property
    def axis(self) -> Axis:
        first = self.days[0]
        return Axis(first.day, len(self.days), first.opens, first.closes, DAY, NIGHT)

    @cached_property
    def lanes(self) -> tuple[str, ...]:
        """Rings, and what else is taken on these days."""
        axis = self.axis
        used = {
            bar.lane for bar in self.strip.bars if axis.of(bar.since) < axis.of(bar.until)
        } | set(self.strip.rings)
        return tuple(lane for lane in self.strip.lanes if lane in used)

    @cached_property
    def tops(self) -> dict[str, float]:
        """Upper edge of each lane."""
        found, top = {}, HEAD
        for lane in self.lanes:
            found[lane] = top
            top += self._height(lane)
        return found

    def _height(self, lane: str) -> float:
        return RING_ROW if lane in self.strip.rings else VESSEL_ROW

    @cached_property
    def hands_top(self) -> float:
        return HEAD + sum(self._height(lane) for lane in self.lanes)

    @property
    def line_top(self) -> float:
        return self.hands_top + HANDS_ROW

    @property
    def bottom(self) -> float:
        return self.line_top + LINE_ROW

    def x(self, offset: float) -> float:
        return LABELS + offset

    # -- the drawing ---------------------------------------------------------------------------

    def drawing(self) -> Drawing:
        first, last = self.days[0].day, self.days[-1].day
        return Drawing(
            key=f"wide-{self.number}",
            name=say(
                "{first} to {last}, days and nights side by side",
                first=day_in_words(first),
                last=day_in_words(last),
            ),
            says=say("Pots, rings, hands and line by the hour. All of it stands in words below."),
            # As wide for three days as for seven, so that letters keep their size.
            width=unit(LABELS + DAYS_A_ROW * self.axis.each),
            height=unit(self.bottom + 4),
            ground=tuple(self._ground()),
            strokes=tuple(self._strokes()),
            bars=tuple(self._bars()),
            words=tuple(self._words()),
        )

    def _ground(self) -> Iterator[Box]:
        """Nights, and days on which nobody is in."""
        axis, height = self.axis, self.bottom - HEAD
        for number, day in enumerate(self.days):
            start = self.x(number * axis.each)
            yield box(start, HEAD, axis.morning, height, "night", pattern="night")
            evening = axis.each - axis.evening
            yield box(start + axis.evening, HEAD, evening, height, "night", pattern="night")
            if day.closed:
                open_hours = axis.evening - axis.morning
                yield box(start + axis.morning, HEAD, open_hours, height, "closed")

    def _strokes(self) -> Iterator[Stroke]:
        """Rows, midnights, the moment asked for, the room on the line and what hangs there."""
        right = self.x(self.axis.length)
        edges = [*self.tops.values(), self.hands_top, self.line_top, self.bottom]
        yield Stroke(
            joined(" ", (f"M0 {unit(y)}H{unit(right)}" for y in edges)),
            "line-faint",
        )
        middles = [self.x(number * self.axis.each) for number in range(1, len(self.days))]
        if middles:
            lines = joined(
                " ",
                (f"M{unit(x)} 6V{unit(self.bottom)}" for x in middles),
            )
            yield Stroke(lines, "line-faint")
        if self.strip.at.date() == self.days[0].day:
            now = unit(self.x(self.axis.of(self.strip.at)))
            yield Stroke(
                f"M{now} {unit(HEAD - 6)}V{unit(self.bottom)}",
                "line-rose now",
            )
        yield from self._line()

    def _bars(self) -> Iterator[Box]:
        for bar in self._shown:
            top, height = self.tops[bar.lane] + GAP, self._height(bar.lane) - 2 * GAP
            left, right = self.axis.of(bar.since), self.axis.of(bar.until)
            pattern = {"held": "held", "taken": "taken"}.get(bar.kind, "")
            classes = f"bar bar-{bar.kind} run-{bar.dye or 'none'}"
            width = max(right - left, 2.0)
            yield box(self.x(left), top, width, height, classes, pattern=pattern, words=bar.words)
        yield from self._hands()

    @cached_property
    def _shown(self) -> list[Bar]:
        """Bars of these days whose lane is drawn, in their order."""
        axis = self.axis
        return [
            bar
            for bar in self.strip.bars
            if bar.lane in self.tops and axis.of(bar.since) < axis.of(bar.until)
        ]

    def _hands(self) -> Iterator[Box]:
        """A bar a day, filled as far as hands are taken."""
        axis = self.axis
        room = axis.evening - axis.morning - 2
        for number, day in enumerate(self.days):
            if not day.closed:
                left = self.x(number * axis.each + axis.morning + 1)
                taken = min(day.hands_min / day.there_min, 1) * room
                yield box(left, self.hands_top + 25, room, 8, "hands-there")
                yield box(left, self.hands_top + 25, taken, 8, "hands-taken")

    # -- the line ------------------------------------------------------------------------------

    @cached_property
    def _most_mg(self) -> int:
        peaks = [load.mg for day in self.days for load in day.line]
        return max([*peaks, self.strip.line_mg, 1])

    def _line_y(self, mg: int) -> float:
        return self.bottom - 3 - mg / self._most_mg * (LINE_ROW - 24)

    def _line(self) -> Iterator[Stroke]:
        loads = changes(self.days)
        if not loads:
            return
        path = [f"M{unit(self.x(0))} {unit(self._line_y(loads[0].mg))}"]
        for load in loads[1:]:
            path.append(f"H{unit(self.x(self.axis.of(load.since)))}V{unit(self._line_y(load.mg))}")
        right = unit(self.x(self.axis.length))
        foot = unit(self.bottom - 3)
        yield Stroke(
            "".join(
                [
                    *path,
                    f"H{right}V{foot}H{unit(self.x(0))}Z",
                ]
            ),
            "hangs",
        )
        if self.strip.line_mg:
            room = unit(self._line_y(self.strip.line_mg))
            yield Stroke(
                f"M{unit(self.x(0))} {room}H{right}",
                "line-rose room",
            )

    # -- words ---------------------------------------------------------------------------------

    def _words(self) -> Iterator[Words]:
        yield from self._days()
        yield from self._rows()
        for bar in self._shown:
            yield from self._bar_words(bar)
        yield from self._line_words()

    def _days(self) -> Iterator[Words]:
        axis = self.axis
        for number, day in enumerate(self.days):
            start = self.x(number * axis.each)
            middle = start + (axis.morning + axis.evening) / 2
            yield words(middle, 15, day_in_words(day.day), "day", anchor="middle")
            opens = f"{day.opens:%H:%M}"
            yield words(start + axis.morning, 30, opens, "soft hour")
            closes = f"{day.closes:%H:%M}"
            yield words(start + axis.evening, 30, closes, "soft hour", anchor="end")
            if number:
                yield words(start, self.hands_top + 24, "night", "soft hour", anchor="middle")
            said = (
                say("nobody in")
                if day.closed
                else say(
                    "{hands_min} of {there_min} min",
                    hands_min=day.hands_min,
                    there_min=day.there_min,
                )
            )
            yield words(middle, self.hands_top + 18, said, "bar-words", anchor="middle")

    def _rows(self) -> Iterator[Words]:
        for lane, top in self.tops.items():
            yield words(0, top + self._height(lane) / 2 + 4, lane, "lane")
        yield words(0, self.hands_top + 20, say("hands"), "lane")
        yield words(0, self.line_top + 20, self.strip.line_name, "lane")

    def _bar_words(self, bar: Bar) -> Iterator[Words]:
        """Code over step, as far as there is room before the next bar of the lane."""
        if bar.kind == "held":
            return
        x, top = self.x(self.axis.of(bar.since)) + 3, self.tops[bar.lane]
        room = self._room(bar)
        if bar.lane in self.strip.rings:
            texts = [say("{run} {step}", run=bar.run, step=bar.step).strip(), bar.run]
            found = next((text for text in texts if fits(text, room - 6, size=SMALL)), "")
            yield words(x, top + 17, found, "bar-words")
            return
        name = bar.run if bar.dye or fits(bar.run, room, size=SMALL) else "taken"
        yield words(x, top + 16, name, "bar-run")
        if fits(bar.step, room - 1, size=SMALL):
            yield words(x, top + 30, bar.step, "bar-words")

    def _room(self, bar: Bar) -> float:
        """From where a bar begins to where the next one that is named begins."""
        left, begins = self.axis.of(bar.since), self._begins[bar.lane]
        following = bisect_right(begins, left)
        return (begins[following] if following < len(begins) else self.axis.length) - left

    @cached_property
    def _begins(self) -> dict[str, list[float]]:
        """Where the named bars of each lane begin, in their order."""
        found: dict[str, list[float]] = {}
        for bar in self._shown:
            if bar.kind != "held":
                found.setdefault(bar.lane, []).append(self.axis.of(bar.since))
        return {lane: sorted(begins) for lane, begins in found.items()}

    def _line_words(self) -> Iterator[Words]:
        """Kilos where they stay long enough to be written, and how much the line holds."""
        loads = changes(self.days)
        ends = [*(self.axis.of(load.since) for load in loads[1:]), self.axis.length]
        for load, end in zip(loads, ends, strict=True):
            left, text = self.axis.of(load.since), kilos(load.mg)
            if fits(text, end - left, size=SMALL):
                yield words(self.x(left) + 3, self._line_y(load.mg) - 3, text, "bar-words")
        if self.strip.line_mg:
            y = self._line_y(self.strip.line_mg) - 3
            text = say("room for {line_mg}", line_mg=kilos(self.strip.line_mg))
            yield words(self.x(self.axis.length) - 2, y, text, "soft hour", anchor="end")
