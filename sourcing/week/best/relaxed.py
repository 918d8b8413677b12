"""The week as a solver sees it: days and nights first, then minutes, and nothing that is not true.

Every plan that keeps the rules is a plan of this model with the same fibre on time; what the model
leaves out (which of the pots, which of the rings, whole lots before others) only makes it roomier.
So what it cannot do, nobody can. What it finds gives the placer an order and days to begin from.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from sourcing.week.best.forms import (
    Form,
    Part,
    earliest,
    first_in,
    first_on,
    released,
    soonest_on,
    starts_from,
)
from sourcing.week.best.goals import Measure
from sourcing.week.best.shared import add_shared
from sourcing.week.facts import RunFacts
from sourcing.week.moments import Calendar, rounded_up
from sourcing.week.solving import (
    Days,
    Model,
    Sum,
    Timed,
    at_its_day,
    days_of,
    not_after_day,
    not_before_day,
    same_day,
    step,
)

DAY_MIN = 24 * 60
Hours = dict[int, list[tuple[int, int]]]  # by day: first and last minute, from the first midnight


@dataclass(frozen=True, slots=True)
class Cast:
    """A part of a form in the model."""

    form: Form
    part: Part
    days: Days
    timed: Timed | None  # None: days only


@dataclass
class Relaxed:
    """A model in which each run is dry by its moment, or is left out."""

    measure: Measure
    forms: Mapping[str, Sequence[Form]]  # by run; those that cannot be placed in time are left out
    by: Mapping[str, int]  # by run: the minute by which it is dry, if it is there
    minutes: bool  # also in minutes; else days and nights only
    or_later: bool = (
        False  # a run may also be dry later than that, and takes its amounts all the same
    )
    model: Model = field(init=False)
    there: dict[str, Sum] = field(default_factory=dict)  # by run: whether it is not left out
    cast: list[list[Cast]] = field(default_factory=list)  # by form
    later: list[tuple[Form, Sum]] = field(default_factory=list)  # whether a form is dry later
    in_turn: list[Sum] = field(default_factory=list)  # minutes after the first hour of their days

    def __post_init__(self) -> None:
        desk = self.measure.desk
        self.calendar = desk.calendar
        self.base = desk.calendar.midnights[0]
        self.count = 1 + max(
            (desk.calendar.day_number(self._by(run)) for run in self._runs()), default=0
        )
        self.count = min(self.count, len(desk.calendar.midnights) - 1)
        self.model = Model(desk.calendar.midnights[self.count] - self.base + self.drying)
        for run in self._runs():
            self._add(run)
        add_shared(self)

    @property
    def drying(self) -> int:
        return self.measure.desk.house.drying

    @property
    def fibre(self) -> Sum:
        """Fibre that is not left out, each mg as often as its run is important."""
        return sum(self.worth(code) * there for code, there in self.there.items())

    def worth(self, code: str) -> int:
        run = next(row for row in self.measure.desk.facts.runs if row.code == code)
        return run.weight_mg * self.measure.importance[code]

    def _runs(self) -> Iterator[RunFacts]:
        for run in sorted(self.measure.desk.facts.runs, key=lambda run: run.code):
            if self.forms.get(run.code):
                yield run

    def _by(self, run: RunFacts) -> int:
        return min(self.by[run.code], self.calendar.end)

    def minutes_to_dry(self, cut: int) -> Sum:
        """The least sum over the runs of minutes from now until dry.

        Parameters
        ----------
        cut : minutes that count for a run that is dry later than its moment
        """
        never = self.measure.latest - self.measure.desk.now
        total: Sum = never * len(self.there)
        for rows in self.cast:
            total += self._dry(rows[-1]) - never * rows[-1].days.present
        for _, late in self.later:
            total += (cut - never) * late
        # In minutes each run is dry when its own steps are over; what is said of all is in that.
        return total if self.minutes else total + sum(self.in_turn)

    def _dry(self, row: Cast) -> Sum:
        """Minutes from now until a last part has dried, 0 where it is left out, at the least."""
        calendar = self.measure.desk.placers[row.form.site].calendar
        by_day = self._dry_on_days(row, calendar)
        if row.timed is None:
            return by_day
        dry = self.model.number(f"{row.timed.name} dry", most=self.measure.latest)
        more = self.base - self.measure.desk.now + row.part.minutes + self.drying
        self.model.cp.add(dry >= by_day)
        self.model.cp.add(dry >= row.timed.start + more).only_enforce_if(row.timed.present)
        return dry

    def _dry_on_days(self, row: Cast, calendar: Calendar) -> Sum:
        """Minutes from now until a last part that begins on its day has dried, at the least."""
        total: Sum = 0
        parts, house = row.form.parts, self.measure.desk.house
        soonest = earliest(parts, self.measure.desk.now, calendar)
        assert soonest is not None
        more = self.drying - self.measure.desk.now
        for day in range(self.count):
            if row.days.may_be_on(day):
                first = soonest_on(parts, len(parts) - 1, day, soonest, calendar)
                hung = rounded_up(first + row.part.minutes, house.hangs_on)
                total += (hung + more) * row.days.on(day)
        return total

    def fullest_day(self) -> Sum:
        """Hands of the fullest day of the period, at the least."""
        fixed, days = self.measure.fixed, self.measure.desk.days
        most = self.model.number("fullest day", least=max(fixed.values(), default=0),
                                 most=days * DAY_MIN * max(1, len(self.cast)))  # fmt: skip
        for day in range(min(days, self.count)):
            wanted = [row.part.hands * row.days.on(day) for row, _ in self.pairs
                      if row.part.hands and row.days.may_be_on(day)]  # fmt: skip
            if wanted:
                self.model.cp.add(most >= sum(wanted) + fixed.get(day, 0))
        return most

    def dry_by(self, moments: Mapping[str, int]) -> Sum:
        """Fibre, each mg as often as its run is important, that can be dry by each run's moment."""
        total: Sum = 0
        for rows in self.cast:
            row = rows[-1]
            calendar = self.measure.desk.placers[row.form.site].calendar
            more = row.part.minutes + self.drying
            days = [
                day
                for day in range(self.count)
                if row.days.may_be_on(day)
                and first_on(row.part, day, calendar) + more <= moments[row.form.run]
            ]
            if days:
                total += self.worth(row.form.run) * row.days.by(days[-1])
        for form, late in self.later:
            if moments[form.run] > self.by[form.run]:
                total += self.worth(form.run) * late
        return total

    # -- a run ---------------------------------------------------------------------------------

    def _add(self, run: RunFacts) -> None:
        """A run in one of its forms, dry in time, or not at all."""
        chosen, late = [], []
        by = self.by[run.code]
        for number, form in enumerate(self.forms[run.code]):
            present = self.model.yes_or_no(f"{run.code} form {number}")
            if self._add_form(form, f"{run.code}.{number}", present, by):
                chosen.append(present)
            else:
                self.model.cp.add(present == 0)
            if self.or_later:
                late.append(self.model.yes_or_no(f"{run.code} form {number} later"))
                self.later.append((form, late[-1]))
        self.there[run.code] = sum(chosen) if chosen else 0
        if len(chosen) + len(late) > 1:
            self.model.cp.add(sum(chosen) + sum(late) <= 1)

    def _add_form(self, form: Form, name: str, present: Sum, by: int) -> bool:
        calendar = self.measure.desk.placers[form.site].calendar
        soonest = earliest(form.parts, self.measure.desk.now, calendar)
        if soonest is None:
            return False
        rows, hours = [], []
        for number, part in enumerate(form.parts):
            last = by - self.drying - part.minutes if part.hangs_mg else by
            hours.append(self._hours(part, soonest[number], last, calendar))
            if not any(hours[-1].values()):
                return False
        for number, part in enumerate(form.parts):
            word = f"{name} {number} {part.step}"
            days = days_of(self.model, word, hours[number], count=self.count, present=present)
            timed = None
            if self.minutes:
                windows = [row for day in hours[number].values() for row in day]
                timed = step(self.model, word, minutes=part.minutes, windows=windows,
                             present=present)  # fmt: skip
                at_its_day(self.model, timed, days, hours[number])
            rows.append(Cast(form, part, days, timed))
        self._chain(rows, calendar)
        self.cast.append(rows)
        return True

    def _hours(self, part: Part, soonest: int, last: int, calendar: Calendar) -> Hours:
        """By day, the minutes at which a part may begin."""
        found: Hours = {}
        for opening in calendar.openings:
            day = calendar.day_number_of(opening.day)
            if day >= self.count or day in part.barred_days:
                continue
            first = max(soonest, first_in(part, opening.opens, day, calendar))
            final = min(last, opening.closes - max(part.attended, 1), part.until - 1)
            if first <= final:
                found.setdefault(day, []).append((first - self.base, final - self.base))
        return found

    def _chain(self, rows: list[Cast], calendar: Calendar) -> None:
        for number, row in enumerate(rows):
            for later in range(number + 1, len(rows)):
                soonest = _soonest_days([r.part for r in rows[number : later + 1]], calendar)
                not_before_day(self.model, row.days, rows[later].days, soonest)
            if number + 1 == len(rows):
                continue
            after = rows[number + 1]
            if row.part.next_by:
                not_after_day(self.model, row.days, after.days, dict(row.part.next_by))
            if row.part.same_day:
                same_day(self.model, row.days, after.days)
            self._follow(row, after, calendar)

    def _follow(self, row: Cast, after: Cast, calendar: Calendar) -> None:
        """In minutes: a step when the one before lets it, after a night when it is over."""
        if row.timed is None or after.timed is None:
            return
        there = [row.timed.present]
        gap = row.part.minutes + row.part.gap
        if not row.part.waits:
            self.model.cp.add(after.timed.start >= row.timed.start + gap).only_enforce_if(there)
            return
        for day in range(self.count):
            if row.days.may_be_on(day):
                over = calendar.night_over(calendar.midnights[day]) - self.base
                later = self.model.cp.add(after.timed.start >= min(over, self.model.horizon))
                before = row.days.by(day - 1)
                # Not begun by the day before, so this day or later.
                later.only_enforce_if([*there, *([] if isinstance(before, int) else [~before])])

    @property
    def pairs(self) -> Iterator[tuple[Cast, Cast | None]]:
        """Every part with the one that follows it."""
        for rows in self.cast:
            for number, row in enumerate(rows):
                yield row, rows[number + 1] if number + 1 < len(rows) else None


def _soonest_days(parts: list[Part], calendar: Calendar) -> dict[int, int]:
    """By day of the first part, the first day on which the last may begin."""
    found: dict[int, int] = {}
    for opening in calendar.openings:
        day = calendar.day_number_of(opening.day)
        if day in found:
            continue
        start = starts_from(parts[0], opening.opens, calendar)
        if start is None or calendar.day_number(start) != day:
            continue
        minute: int | None = start
        for before, part in itertools.pairwise(parts):
            assert minute is not None
            minute = starts_from(part, released(before, minute, calendar), calendar)
            if minute is None:
                break
        found[day] = len(calendar.midnights) if minute is None else calendar.day_number(minute)
    return found
