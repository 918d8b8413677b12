"""One week's search: what was tried, the best so far, and when to leave off."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field

from sourcing.week.best.found import Effort, Progress
from sourcing.week.best.goals import Goals, Measure
from sourcing.week.best.replaying import Replay
from sourcing.week.guidance import PLAIN, Guidance
from sourcing.week.plan import Answer
from sourcing.week.staying import broken

Told = Callable[[Progress], None]
Clock = Callable[[], float]


@dataclass(slots=True)
class Tried:
    """A guidance with what it makes."""

    guidance: Guidance
    goals: Goals
    answers: dict[str, Answer]
    broken: int = 0  # steps that are to stay at their hour and do not

    def better_than(self, other: Tried) -> bool:
        """Whether more stays where it is to stay; among equals, whether its goals are better."""
        return (self.broken, self.goals.rank) < (other.broken, other.goals.rank)


@dataclass
class Seeking:
    """Tries one guidance after another and keeps the best."""

    replay: Replay
    measure: Measure
    effort: Effort
    told: Told | None = None
    stop: Callable[[], bool] | None = None
    clock: Clock | None = None
    known: Goals | None = None  # that no week is better than; None: nobody looks
    stopped: bool = False
    seen: set[Guidance] = field(default_factory=set)

    def __post_init__(self) -> None:
        self.began = self.clock() if self.clock else 0.0
        self.best = self._made(PLAIN)  # the best until another is better
        self.tell()

    @property
    def elapsed(self) -> float:
        return self.clock() - self.began if self.clock else 0.0

    @property
    def spent(self) -> float:
        """Part of the effort that is spent."""
        return max(
            self.replay.placings / self.effort.placings,
            self.elapsed / self.effort.seconds,
        )

    @property
    def bound(self) -> Goals:
        assert self.known is not None
        return self.known

    def bound_to(self, bound: Goals) -> None:
        """What is known now of how good a week can be at the most."""
        self.known = bound
        self.tell()

    @property
    def proved(self) -> bool:
        met = self.known is not None and self.best.goals.rank <= self.known.rank
        return met and not self.best.broken

    def over(self) -> bool:
        """Whether to leave off: proved, stopped by hand, or the effort is spent."""
        if self.stop is not None and not self.stopped:
            self.stopped = self.stop()
        return self.stopped or self.proved or self.spent >= 1

    def first_better(self, moves: Iterable[Guidance], than: Tried) -> Tried | None:
        """The first of some moves that makes a better week than one."""
        for guidance in moves:
            if guidance in self.seen:
                continue
            if self.over():
                return None
            found = self.tried(guidance)
            if found.better_than(than):
                return found
        return None

    def tried(self, guidance: Guidance) -> Tried:
        """What a guidance makes, kept where it is the best so far."""
        found = self._made(guidance)
        if found.better_than(self.best):
            self.best = found
            self.tell()
        return found

    def _made(self, guidance: Guidance) -> Tried:
        self.seen.add(guidance)
        answers = self.replay.place(guidance)
        late = broken(self.replay.facts.stays, answers)
        return Tried(guidance, self.measure.goals(answers), answers, late)

    def tell(self) -> None:
        """Say how far it has come to whoever wants to know."""
        if self.told is not None:
            part = min(1.0, self.spent)
            self.told(Progress(self.best.goals, self.known, self.replay.placings, part))
