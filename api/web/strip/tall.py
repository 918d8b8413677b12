"""The week as one block a day, hours downwards: for a phone in one hand, and for paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, time, timedelta
from functools import cached_property

from api.web.strip.axis import Axis
from api.web.strip.bars import Bar, DayLoad, Strip, hands_in_words, line_in_words
from api.web.strip.shapes import Box, Drawing, Stroke, Words, box, fits, spoken, unit, words
from inventory.science.saying import joined, say
from sourcing.week.words import day_in_words, kilos

WIDTH = 320.0
HOURS = 36.0  # room for the hours at the left
HEAD = 24.0
HOUR, QUIET_HOUR = 25.0, 11.0  # length of an hour, and of one on a day with nothing begun
NIGHT = 44.0
VESSEL, RING, LINE = 1.0, 0.66, 0.95  # shares of the width
GAP = 2.0
SIZE = 12.5
TICKS = 3  # hours between two that are written down


@dataclass(frozen=True, slots=True)
class DayBlock:
    """A day's drawing with what is written over it."""

    day: str
    hands: str
    line: str
    closed: bool
    drawing: Drawing | None  # None: nothing stands anywhere


def tall(strip: Strip) -> tuple[DayBlock, ...]:
    """A block for each day."""
    return tuple(_block(strip, day) for day in strip.days)


def _block(strip: Strip, day: DayLoad) -> DayBlock:
    tall_day = _TallDay(strip, day)
    empty = not tall_day.bars and all(load.mg == 0 for load in day.line)
    return DayBlock(
        day=day_in_words(day.day),
        hands=hands_in_words(day),
        line=line_in_words(day),
        closed=day.closed,
        drawing=None if empty else tall_day.drawing(),
    )


@dataclass(frozen=True)
class _TallDay:
    strip: Strip
    day: DayLoad

    # -- where things lie ----------------------------------------------------------------------

    @cached_property
    def bars(self) -> list[Bar]:
        """Bars of this day, those that began before it or end after it too."""
        zone = self.strip.at.tzinfo
        since = datetime.combine(self.day.day, time(), tzinfo=zone)
        until = datetime.combine(self.day.day + timedelta(1), time(), tzinfo=zone)
        return [bar for bar in self.strip.bars if bar.since < until and bar.until > since]

    @cached_property
    def axis(self) -> Axis:
        opens, closes = self.day.opens, self.day.closes
        hours = (closes.hour * 60 + closes.minute - opens.hour * 60 - opens.minute) / 60
        begun = any(bar.since.date() == self.day.day for bar in self.bars)
        each = HOUR if begun else QUIET_HOUR
        return Axis(self.day.day, 1, opens, closes, hours * each, NIGHT)

    @cached_property
    def lanes(self) -> tuple[str, ...]:
        used = {bar.lane for bar in self.bars}
        return tuple(lane for lane in self.strip.lanes if lane in used)

    @cached_property
    def columns(self) -> dict[str, tuple[float, float]]:
        """Left edge and width of each lane, the line last."""
        shares = {lane: RING if lane in self.strip.rings else VESSEL for lane in self.lanes}
        shares["line"] = LINE
        each = (WIDTH - HOURS) / sum(shares.values())
        found, left = {}, HOURS
        for lane, share in shares.items():
            found[lane] = (left, share * each)
            left += share * each
        return found

    @property
    def bottom(self) -> float:
        return HEAD + self.axis.length

    def y(self, moment: datetime) -> float:
        return HEAD + self.axis.of(moment)

    # -- the drawing ---------------------------------------------------------------------------

    def drawing(self) -> Drawing:
        name = day_in_words(self.day.day)
        return Drawing(
            key=f"day-{self.day.day:%Y%m%d}",
            name=say("{name}, hours downwards", name=name),
            says=say("Pots, rings and line by the hour. All of it stands in words below."),
            width=unit(WIDTH),
            height=unit(self.bottom + 2),
            ground=tuple(self._ground()),
            strokes=tuple(self._strokes()),
            bars=tuple(self._boxes()),
            words=tuple(self._words()),
        )

    def _ground(self) -> Iterator[Box]:
        axis = self.axis
        width = WIDTH - HOURS
        yield box(HOURS, HEAD, width, axis.morning, "night", pattern="night")
        evening = axis.each - axis.evening
        yield box(HOURS, HEAD + axis.evening, width, evening, "night", pattern="night")
        if self.day.closed:
            hours = axis.evening - axis.morning
            yield box(HOURS, HEAD + axis.morning, width, hours, "closed")

    def _strokes(self) -> Iterator[Stroke]:
        lines = joined(
            " ",
            (f"M{unit(HOURS)} {unit(HEAD + offset)}H{unit(WIDTH)}" for _, offset in self._ticks()),
        )
        yield Stroke(lines, "line-faint")
        yield from self._line()
        if self.strip.at.date() == self.day.day:
            y = unit(self.y(self.strip.at))
            yield Stroke(
                f"M{unit(HOURS - 6)} {y}H{unit(WIDTH)}",
                "line-rose now",
            )

    def _ticks(self) -> Iterator[tuple[str, float]]:
        """Hours that are written at the side: opening, closing, and those between when open."""
        opens, closes = self.day.opens.hour, self.day.closes.hour
        between = [] if self.day.closed else range(opens + TICKS, closes, TICKS)
        hours = [opens, *between, closes]
        for hour in hours:
            moment = datetime.combine(self.day.day, time(hour), tzinfo=self.strip.at.tzinfo)
            yield f"{hour:02}:00", self.axis.of(moment)

    def _boxes(self) -> Iterator[Box]:
        for bar in self.bars:
            left, width = self.columns[bar.lane]
            top, bottom = self.y(bar.since), self.y(bar.until)
            if bar.since.date() < self.day.day:
                top = HEAD
            if bar.until.date() > self.day.day:
                bottom = self.bottom
            pattern = {"held": "held", "taken": "taken"}.get(bar.kind, "")
            classes = f"bar bar-{bar.kind} run-{bar.dye or 'none'}"
            height = max(bottom - top, 2.0)
            yield box(left + GAP, top, width - 2 * GAP, height, classes, pattern=pattern)

    # -- the line ------------------------------------------------------------------------------

    def _line_x(self, mg: int) -> float:
        left, width = self.columns["line"]
        most = max([load.mg for day in self.strip.days for load in day.line] + [self.strip.line_mg])
        return left + GAP + mg / max(most, 1) * (width - 2 * GAP)

    def _line(self) -> Iterator[Stroke]:
        """What hangs, as steps down the day, and how much there is room for."""
        loads = self.day.line
        if not loads:
            return
        left = unit(self._line_x(0))
        path = [f"M{left} {unit(HEAD)}H{unit(self._line_x(loads[0].mg))}"]
        for load in loads[1:]:
            path.append(f"V{unit(self.y(load.since))}H{unit(self._line_x(load.mg))}")
        yield Stroke("".join([*path, f"V{unit(self.bottom)}H{left}Z"]), "hangs")
        if self.strip.line_mg:
            room = unit(self._line_x(self.strip.line_mg))
            yield Stroke(
                f"M{room} {unit(HEAD)}V{unit(self.bottom)}",
                "line-rose room",
            )

    # -- words ---------------------------------------------------------------------------------

    def _words(self) -> Iterator[Words]:
        for lane, (left, width) in self.columns.items():
            name = self.strip.line_name if lane == "line" else lane
            yield words(left + width / 2, 15, name, "tall-lane", anchor="middle")
        for hour, offset in self._ticks():
            yield words(0, HEAD + offset + 4, hour, "soft tall-hour")
        yield words(0, HEAD + 11, "night", "soft tall-hour")
        yield words(0, self.bottom - 3, "night", "soft tall-hour")
        if self.day.closed:
            middle = HEAD + (self.axis.morning + self.axis.evening) / 2
            yield words(0, middle - 3, say("nobody"), "soft tall-hour")
            yield words(0, middle + 10, say("in"), "soft tall-hour")
        for bar in self.bars:
            yield from self._bar_words(bar)
        left, width = self.columns["line"]
        for load in self.day.line:
            top = max(self.y(load.since), HEAD + 2)
            text = kilos(load.mg)
            yield words(left + width - GAP, top + 13, text, "tall-words", anchor="end")

    def _bar_words(self, bar: Bar) -> Iterator[Words]:
        """Code over step where the bar begins today; a held one says so."""
        left, width = self.columns[bar.lane]
        top = self.y(bar.since) if bar.since.date() == self.day.day else HEAD
        foot = self.y(bar.until) if bar.until.date() == self.day.day else self.bottom
        x, room = left + GAP + 2, width - 2 * GAP - 2
        if bar.kind == "held":
            if bar.since.date() < self.day.day and foot - top > 2 * SIZE:
                yield words(x, top + 13, bar.run, "tall-run")
                yield words(x, top + 26, "held", "tall-words")
            return
        yield words(x, top + 13, bar.run if bar.dye else "", "tall-run")
        second = [bar.step, *spoken(bar.step).split()[-1:]] if bar.dye else [bar.run, "taken"]
        found = next((text for text in second if fits(text, room, size=SIZE)), "")
        if found and self._free_below(bar, top, foot) > 2 * SIZE:
            yield words(x, top + 26, found, "tall-words")

    def _free_below(self, bar: Bar, top: float, foot: float) -> float:
        """Room for words from where a bar begins: its own, and what is empty after it."""
        later = [
            self.y(other.since)
            for other in self.bars
            if other.lane == bar.lane and other.kind != "held" and other.since > bar.since
        ]
        return min([*later, self.bottom]) - top if foot else 0.0
