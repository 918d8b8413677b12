"""One studio's week placed again and again under other guidances, each time by the placer itself.

What is the same at the beginning of two guidances is not placed twice: the desk goes back to where
they part.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from sourcing.week.begun import answer_begun
from sourcing.week.board import Board
from sourcing.week.desk import Desk
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.group import GroupClaim
from sourcing.week.guidance import Guidance
from sourcing.week.plan import Answer
from sourcing.week.project import begun_runs, place_next, prepared
from sourcing.week.unlocking.turn import fresh_desk

Key = tuple[str, tuple[tuple[str, int], ...], str | None]


@dataclass(frozen=True, slots=True)
class Mark:
    """How a desk stood at one run's turn."""

    board: Board
    left: dict[str, int]
    rooms: tuple[tuple[str, int, int], ...]


@dataclass(frozen=True, slots=True)
class Turn:
    """A run's turn: how the desk stood before it, and what came of it."""

    key: Key
    before: Mark
    answer: Answer | None
    group: GroupClaim | None


@dataclass
class Replay:
    """A desk that can be placed under one guidance after another."""

    facts: WeekFacts
    days: int
    placings: int = 0  # runs placed so far, a measure of the work done
    trail: list[Turn] = field(default_factory=list)

    def __post_init__(self) -> None:
        self.desk: Desk = fresh_desk(self.facts, days=self.days)
        self.begun = answer_begun(begun_runs(self.facts), self.desk)
        self._start = _mark(self.desk)
        self._nothing: dict[str, Answer] = {}

    def begin(self) -> None:
        """Bring the desk back to where nothing but begun runs is on it."""
        self.trail.clear()
        self._end = None
        _restore(self.desk, self._start)

    def place(self, guidance: Guidance) -> dict[str, Answer]:
        """Every run's answer under a guidance; the desk stands as that week leaves it."""
        self.desk.guidance = guidance
        nothing: dict[str, Answer] = {}
        while True:
            answers, failed = self._placed(guidance, nothing)
            if not failed:
                return answers
            nothing = nothing | failed

    def _placed(
        self, guidance: Guidance, nothing: dict[str, Answer]
    ) -> tuple[dict[str, Answer], dict[str, Answer]]:
        if nothing.keys() != self._nothing.keys():
            self._nothing = nothing
            self.trail.clear()
        by_code = nothing | self.begun
        rows = [run for run in guidance.in_turn(self.facts.runs) if run.code not in by_code]
        shared = self._back_to(rows, guidance)
        groups = [turn.group for turn in self.trail if turn.group is not None]
        by_code |= {turn.key[0]: turn.answer for turn in self.trail if turn.answer is not None}
        for run in rows[shared:]:
            self._next(run, guidance, by_code, groups)
        self._end = _mark(self.desk) if groups else None
        return by_code, prepared(groups, self.desk, by_code)

    def _back_to(self, rows: list[RunFacts], guidance: Guidance) -> int:
        """Bring the desk back to where this order leaves the last one; how many turns are kept."""
        shared = 0
        for run, turn in zip(rows, self.trail, strict=False):
            if turn.key != _key(run.code, guidance):
                break
            shared += 1
        if shared < len(self.trail):
            _restore(self.desk, self.trail[shared].before)
        elif self._end is not None:
            _restore(self.desk, self._end)
        del self.trail[shared:]
        if not shared:
            _restore(self.desk, self._start)
        return shared

    _end: Mark | None = None  # before the jobs of groups, which are placed last

    def _next(
        self,
        run: RunFacts,
        guidance: Guidance,
        by_code: dict[str, Answer],
        groups: list[GroupClaim],
    ) -> None:
        before, claimed = _mark(self.desk), len(groups)
        place_next(run, self.desk, by_code, groups)
        self.placings += 1
        group = groups[-1] if len(groups) > claimed else None
        key = _key(run.code, guidance)
        self.trail.append(Turn(key, before, by_code.get(run.code), group))
        self.desk.pushes.clear()


def _key(run: str, guidance: Guidance) -> Key:
    return run, tuple(sorted(guidance.floors_of(run).items())), guidance.site_of(run)


def _mark(desk: Desk) -> Mark:
    return Mark(desk.board.kept(), dict(desk.larder.left), tuple(desk.rooms))


def _restore(desk: Desk, mark: Mark) -> None:
    desk.board.back_to(mark.board)
    desk.larder.left.clear()
    desk.larder.left.update(mark.left)
    desk.rooms = list(mark.rooms)
