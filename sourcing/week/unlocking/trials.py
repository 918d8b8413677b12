"""One run placed in studios that differ: the same studio only once, and never too many of them."""

from __future__ import annotations

from dataclasses import dataclass, field

from sourcing.week.answer import answer_run
from sourcing.week.desk import Desk
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.unlocking.easing import Easing, eased
from sourcing.week.unlocking.moving import Earlier
from sourcing.week.unlocking.turn import Turn, desk_at

TRIALS_AT_MOST = 300  # placings of one run

Pulled = tuple[tuple[Easing, int], ...]


@dataclass(frozen=True)
class Trial:
    """How a run came out, and the runs that were moved out of its way after it."""

    answer: Answer
    desk: Desk
    moved: tuple[Answer, ...] = ()

    @property
    def works(self) -> bool:
        """Whether the run is a yes and each that made way for it has found its hours again."""
        return self.answer.answer == "yes" and all(
            row.first_step_at is not None for row in self.moved
        )


@dataclass
class Trials:
    """One run placed in studios that differ; each one only once."""

    run: RunFacts
    facts: WeekFacts
    days: int
    turn: Turn
    like: Desk | None = None  # the desk of the studio as it is
    earlier: Earlier | None = None  # None: no other run is moved
    made: int = 0
    cut: bool = False  # whether something was not tried as enough had been
    _known: dict[Pulled, Trial] = field(default_factory=dict)

    def place(self, pulled: Pulled) -> tuple[Answer, Desk]:
        """The run's answer with so many grains of each easing, and the desk it lies on."""
        trial = self.trial(pulled)
        return trial.answer, trial.desk

    def trial(self, pulled: Pulled) -> Trial:
        """The run placed so, with what became of those that made way."""
        pulled = tuple(row for row in pulled if row[1])
        known = self._known.get(pulled)
        if known is None:
            known = self._known[pulled] = self._placed(pulled)
        return known

    def _placed(self, pulled: Pulled) -> Trial:
        facts = self.facts
        # A day is opened before somebody can stay longer on it.
        for easing, grains in sorted(pulled, key=lambda row: row[0].kind != "open day"):
            facts = eased(facts, easing, grains)
        moved = [easing.what for easing, _ in pulled if easing.kind == "moved"]
        desk = desk_at(self._turn(moved), facts, days=self.days, like=self.like)
        answer = self._answer(self.run.code, desk)
        if answer.answer != "yes":
            return Trial(answer, desk)
        return Trial(answer, desk, tuple(self._answer(code, desk) for code in moved))

    def _turn(self, moved: list[str]) -> Turn:
        if not moved:
            return self.turn
        assert self.earlier is not None
        return self.earlier.without(self.run.code, moved)

    def _answer(self, code: str, desk: Desk) -> Answer:
        """A run placed beside what is on the desk; one that finds no place claims nothing."""
        self.made += 1
        run = next(row for row in desk.facts.runs if row.code == code)
        desk.larder.open_for(code)
        answer = answer_run(run, desk)
        if answer.first_step_at is None and code != self.run.code:
            desk.larder.keep_for(code)
        return answer

    def works(self, pulled: Pulled) -> bool:
        """Whether the answer is yes; nothing new is tried once enough has been."""
        kept = tuple(row for row in pulled if row[1])
        if self.made >= TRIALS_AT_MOST and kept not in self._known:
            self.cut = True
            return False
        return self.trial(kept).works
