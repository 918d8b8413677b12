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
from sourcing.week.larder import Kept
from sourcing.week.plan import Answer
from sourcing.week.project import begun_runs, place_next, prepared
from sourcing.week.second_bath import in_turn
from sourcing.week.unlocking.turn import fresh_desk

Key = tuple[tuple[str, tuple[tuple[str, int], ...], str | None, str], ...]


@dataclass(frozen=True, slots=True)
class Mark:
    """How a desk stood at one run's turn."""

    board: Board
    larder: Kept
    rooms: tuple[tuple[str, int, int], ...]


@dataclass(frozen=True, slots=True)
class Turn:
    """A run's turn: how the desk stood before it, and what came of it."""

    key: Key
    before: Mark
    answers: dict[str, Answer]  # its own and those of runs that share its pots; none of a group
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
        guidance = guidance.held_to(self.facts.stays)
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
        rows = [run for run in in_turn(guidance, self.facts.runs, self.facts.recipes)
                if run.code not in by_code]  # fmt: skip
        left = self._back_to(rows, guidance)
        groups = [turn.group for turn in self.trail if turn.group is not None]
        for turn in self.trail:
            by_code |= turn.answers
        for run in left:
            if run.code not in by_code:
                self._next(run, guidance, by_code, groups)
        self._end = _mark(self.desk) if groups else None
        return by_code, prepared(groups, self.desk, by_code)

    def _back_to(self, rows: list[RunFacts], guidance: Guidance) -> list[RunFacts]:
        """Bring the desk back to where this order leaves the last one; the runs from there on."""
        shared, left, answered = 0, list(rows), set[str]()
        for number, run in enumerate(rows):
            if run.code in answered:
                left = rows[number + 1 :]
                continue
            turn = self.trail[shared] if shared < len(self.trail) else None
            if turn is None or turn.key != _key(run.code, guidance):
                break
            answered |= turn.answers.keys()
            left = rows[number + 1 :]
            shared += 1
        if shared < len(self.trail):
            _restore(self.desk, self.trail[shared].before)
        elif self._end is not None:
            _restore(self.desk, self._end)
        del self.trail[shared:]
        if not shared:
            _restore(self.desk, self._start)
        return left

    _end: Mark | None = None  # before the jobs of groups, which are placed last

    def _next(
        self,
        run: RunFacts,
        guidance: Guidance,
        by_code: dict[str, Answer],
        groups: list[GroupClaim],
    ) -> None:
        before, claimed, known = _mark(self.desk), len(groups), set(by_code)
        place_next(run, self.desk, by_code, groups)
        group = groups[-1] if len(groups) > claimed else None
        answers = {code: answer for code, answer in by_code.items() if code not in known}
        self.placings += max(1, len(answers))
        self.trail.append(Turn(_key(run.code, guidance), before, answers, group))
        self.desk.pushes.clear()


def _key(run: str, guidance: Guidance) -> Key:
    """What of a guidance a run's turn hangs on: its own, and of those that share its pots."""
    rows = guidance.followers_of(run)
    said = [(run, ""), *((row.follower, row.upto) for row in rows)]
    return tuple(
        (code, tuple(sorted(guidance.floors_of(code).items())), guidance.site_of(code), upto)
        for code, upto in said
    )


def _mark(desk: Desk) -> Mark:
    return Mark(desk.board.kept(), desk.larder.kept(), tuple(desk.rooms))


def _restore(desk: Desk, mark: Mark) -> None:
    desk.board.back_to(mark.board)
    desk.larder.back_to(mark.larder)
    desk.rooms = list(mark.rooms)
