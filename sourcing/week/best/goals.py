"""What makes one week better than another: four goals, the first that differs decides."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from inventory.science.catalogue import figure
from sourcing.week.best.pairs import Pairs, pairs_in
from sourcing.week.days import pools_of
from sourcing.week.desk import Desk
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.moments import minute_of
from sourcing.week.plan import Answer, Week


@dataclass(frozen=True, slots=True)
class Goals:
    """How good a week is, goal by goal in the order in which they count."""

    on_time: int  # mg of fibre dry when it is wanted, each mg times its run's importance
    saved_mg: int  # of lots that would be past in the period, used or put by while good
    changed: int  # runs that are elsewhere than in the last plan; 0 where there is none
    dry_min: int  # minutes from now until dry, summed over the runs
    worst_day_min: int  # hands of the fullest day of the period

    @property
    def rank(self) -> tuple[int, int, int, int, int]:
        """The least rank is the best week."""
        return (-self.on_time, -self.saved_mg, self.changed, self.dry_min, self.worst_day_min)

    def better_than(self, other: Goals) -> bool:
        return self.rank < other.rank


NAMES = ("on_time", "saved_mg", "changed", "dry_min", "worst_day_min")  # in order


@dataclass
class Measure:
    """Measures weeks of one desk's facts and period."""

    desk: Desk
    near: Week | None = None  # the last plan, from which as little as can be is to differ

    def __post_init__(self) -> None:
        facts = self.desk.facts
        self.importance = {run.code: importance(run, facts) for run in facts.runs}
        last_day = self.desk.calendar.day_of(self.desk.until - 1)
        self.spoiling = {
            row.lot.code: row.lot.left_mg
            for row in self.desk.larder.ranked
            if row.good.day < last_day and not row.left_out
        }
        self.promised = _promised(facts)
        self._pairs: Pairs | None = None
        self.fixed = self._hands_by_day()  # of all that is there before runs that are not begun
        self.before = {} if self.near is None else _where(self.near.answers)

    @property
    def pairs(self) -> Pairs:
        """Runs that might share pots; first asked for while nothing is placed."""
        if self._pairs is None:
            self._pairs = pairs_in(self)
        return self._pairs

    def goals(self, answers: Mapping[str, Answer]) -> Goals:
        """The goals of a week as it stands on the desk."""
        runs = self.desk.facts.runs
        placed = [answer for answer in answers.values() if answer.answer != "no"]
        return Goals(
            sum(
                run.weight_mg * self.importance[run.code]
                for run in runs
                if self.on_time(run, answers[run.code])
            ),
            sum(take.amount for answer in placed for take in answer.takes
                if take.source in self.spoiling),
            self._changed(placed),
            sum(self.minutes_to_dry(answers[run.code]) for run in runs if not run.group_block),
            max(self._hands_by_day().values(), default=0),
        )  # fmt: skip

    def on_time(self, run: RunFacts, answer: Answer) -> bool:
        """Dry by its due moment; within the period where it has none; a group is a yes."""
        if answer.answer == "no":
            return False
        if run.group_block:
            return answer.answer == "yes"
        return answer.dry_at is not None and minute_of(answer.dry_at) <= self.wanted_by(run)

    def wanted_by(self, run: RunFacts) -> int:
        """The minute by which a run is to be dry."""
        return self.desk.until if run.due is None else minute_of(run.due)

    def minutes_to_dry(self, answer: Answer) -> int:
        """Minutes from now; a run that is not placed counts as if it were dry at the very last."""
        if answer.dry_at is None:
            return self.latest - self.desk.now
        return minute_of(answer.dry_at) - self.desk.now

    @property
    def latest(self) -> int:
        """No placed run is dry later: a last step begins in the horizon and hangs at once."""
        day = 24 * 60
        return self.desk.calendar.end + day + self.desk.house.drying + self.desk.house.hangs_on

    def _changed(self, placed: Iterable[Answer]) -> int:
        if self.near is None:
            return 0
        now = _where(placed)
        return sum(now.get(code) != where for code, where in self.before.items())

    def _hands_by_day(self) -> dict[int, int]:
        """Hands of each day of the period that has any, all sites together, by day number."""
        used: dict[int, int] = {}
        for placer, left in pools_of(self.desk):
            for day, there in zip(placer.calendar.open_days, left, strict=True):
                number = placer.calendar.day_number_of(day.day)
                if number < self.desk.days:
                    used[number] = used.get(number, 0) + day.hands_min - there
        return used


def _promised(facts: WeekFacts) -> dict[str, int]:
    """What was promised to runs that are not begun, by code."""
    begun = {run.code for run in facts.runs if run.kept is not None and not run.group_block}
    found: dict[str, int] = {}
    for row in facts.promised:
        if row.run not in begun:
            found[row.code] = found.get(row.code, 0) + row.amount
    return found


def importance(run: RunFacts, facts: WeekFacts) -> int:
    """How much a milligram of a run counts beside one of another.

    A run for a client or a group counts most, then one made for somebody else (the shop, a
    stall), then the studio's own. The figures are the studio's to change.
    """
    whose = "client" if run.client or run.group_block else "shop" if run.for_whom else "own"
    today = facts.at.astimezone(facts.zone).date()
    return round(figure(facts.figures, "studio", f"importance_{whose}", on=today).value)


def _where(answers: Iterable[Answer]) -> dict[str, tuple[object, ...]]:
    """Where and when each placed run's steps are."""
    return {
        answer.run: tuple((row.step, row.vessel, row.ring, row.start) for row in answer.steps)
        for answer in answers
        if answer.answer != "no"
    }
