"""A run's stages in time, as the placer finds them, and why they are not sooner."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from sourcing.week.stages import Option, Stage, stands_on


@dataclass(frozen=True, slots=True)
class Push:
    """Why a stage could not begin at a moment, and when to look again."""

    kind: str  # closed, hands, vessel, ring, line, attended, night, aired, block, standing
    what: str
    step: str
    at: int
    until: int
    amount: int = 0  # what was asked
    there: int = 0  # what there is


@dataclass(frozen=True, slots=True)
class PlacedLoad:
    """One load with its vessel, ring and minutes."""

    vessel: str
    ring: str
    weight_mg: int
    litres_ml: Fraction
    heat_until: int  # end of the hold; the start when unheated
    heat_min: int


@dataclass(frozen=True, slots=True)
class Round:
    """Loads that go in together."""

    start: int
    end: int  # active part over: end of the longest hold, of the standing, of the rinse
    attended_until: int
    free_at: int  # vessels free again at the earliest
    loads: tuple[PlacedLoad, ...]
    day: int  # index of the day's hands
    hands_min: int


@dataclass(slots=True)
class Fit:
    """A stage with its rounds in time."""

    stage: Stage
    option: Option | None
    rounds: list[Round]
    held_until: int
    hung: tuple[str, int, int] | None = None  # line, since, until
    led: bool = False  # in another run's pots, which books them
    lifted: int = 0  # of a run under way: when its night was over; 0: it is still to come

    @property
    def start(self) -> int:
        return self.rounds[0].start

    @property
    def last(self) -> Round:
        return self.rounds[-1]


@dataclass(frozen=True, slots=True)
class Bump:
    """A stage that has to begin later so that a later one fits."""

    index: int
    not_before: int
    hold_until: int = 0  # look for vessels that are free till then; the moment itself may stand


@dataclass(slots=True)
class Placement:
    """A run's stages in time, or how far it came, and what pushed it."""

    fits: list[Fit]
    pushes: list[Push]
    done: bool

    @property
    def first_step(self) -> int:
        return self.fits[0].start

    @property
    def dry(self) -> int:
        return max((fit.hung[2] for fit in self.fits if fit.hung), default=self.fits[-1].last.end)


def stands(stage: Stage) -> bool:
    """Whether a step stands in its liquor, unattended, until the next one takes over."""
    return stands_on(stage.step)


def stands_from(stage: Stage, done: Round) -> int:
    """When the standing begins: once the flame is out, or at once when unheated."""
    return done.end if stage.heats else done.start


def stays_in(stage: Stage) -> bool:
    """Whether the cloth stays in the bath before until this stage begins."""
    return stage.same or not stage.step.vessels


def hangs(stages: tuple[Stage, ...], index: int) -> bool:
    """Whether the cloth is hung after this stage: it is the last, or the last of its round."""
    if index + 1 == len(stages):
        return True
    return stages[index + 1].round_of[0] > stages[index].round_of[0]


def spent(fits: list[Fit]) -> dict[int, int]:
    spent: dict[int, int] = {}
    for fit in fits:
        for done in fit.rounds:
            spent[done.day] = spent.get(done.day, 0) + done.hands_min
    return spent
