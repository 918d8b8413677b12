"""Runs that were placed before another, taken out of its way and placed again after it.

Everything else that was placed before stays where it is, so one run moves and no other.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from typing import TypeVar

from sourcing.week.answer import answer_run
from sourcing.week.board import Holds
from sourcing.week.desk import Desk
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.fits import Push
from sourcing.week.plan import Answer
from sourcing.week.unlocking.turn import Turn, Turns, desk_at

MOVED_AT_MOST = 4  # runs that are tried to move out of the way of one other

Row = TypeVar("Row")
Key = TypeVar("Key")
Stretches = dict[str, list[tuple[int, int, str]]]
Hung = dict[str, list[tuple[int, int, int]]]


@dataclass(frozen=True)
class Booked:
    """What one run has booked and claimed when it was placed, its jobs included."""

    vessels: Stretches
    rings: Stretches
    rails: Hung
    spent: dict[str, dict[date, int]]  # minutes of hands by site and day
    taken: dict[str, int]
    rooms: list[tuple[str, int, int]]


@dataclass
class Earlier:
    """The answers of a week as they were placed, one after another."""

    facts: WeekFacts
    days: int
    turns: Mapping[str, Turn]
    answers: tuple[Answer, ...]  # in order
    like: Desk
    _booked: dict[str, Booked] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self._runs = {run.code: run for run in self.facts.runs}

    def movable_before(self, run: str) -> list[Answer]:
        """Runs before another that may be moved, the last placed first.

        Those that share pots are not: they are never placed again by themselves; nor is one whose
        bath another follows in, or that follows itself.
        """
        rows = self.placed_before(run)
        return [
            row
            for row in rows
            if not any(step.shared_with for step in row.steps)
            and row.shade not in self.like.followed
            and not self._follows(row.run)
        ]

    def _follows(self, run: str) -> bool:
        recipe = self.like.recipes.get(self._runs[run].recipe)
        return recipe is not None and bool(recipe.second_of)

    def placed_before(self, run: str) -> list[Answer]:
        """Runs that were placed before another, the last placed first; never a begun one."""
        before: list[Answer] = []
        for answer in self.answers:
            if answer.run == run:
                return before[::-1]
            if answer.first_step_at is not None and answer.run in self.turns:
                before.append(answer)
        return []

    def waiting(self, run: str) -> set[str]:
        """Runs that were not placed before another: what is promised to them lies there still."""
        placed = {answer.run for answer in self.placed_before(run)}
        return {code for code in self.turns if code not in placed and code != run}

    def answer_of(self, run: str) -> Answer:
        """A run's answer as it stands."""
        return next(answer for answer in self.answers if answer.run == run)

    def run_of(self, code: str) -> RunFacts:
        """A wanted run by its code."""
        return self._runs[code]

    def without(self, run: str, moved: Iterable[str]) -> Turn:
        """A run's turn as if some that were placed before it had not been."""
        turn = self.turns[run]
        for code in moved:
            turn = _less(turn, self._booked_by(code))
        return turn

    def _booked_by(self, code: str) -> Booked:
        """What a run books, found by placing it at its own turn once more."""
        known = self._booked.get(code)
        if known is None:
            desk = desk_at(self.turns[code], self.facts, days=self.days, like=self.like)
            notes = Turns(desk)
            notes.note("before")
            desk.larder.open_for(code)
            answer_run(self.run_of(code), desk)
            notes.note("after")
            known = self._booked[code] = _difference(notes.of["before"], notes.of["after"])
        return known


# -- which of them stand in the way ------------------------------------------------------------


def in_the_way(push: Push, before: Iterable[Answer], desk: Desk) -> Iterator[str]:
    """Runs that hold what a step would have needed at a moment."""
    at, until = (desk.calendar.moment(min(m, desk.calendar.end)) for m in (push.at, push.until))
    for answer in before:
        if push.kind in ("vessel", "ring"):
            held = push.what.partition(":")[2] == answer.run
        elif push.kind == "line":
            held = any(row.line == push.what and row.since < until and row.until > at
                       for row in answer.hangs)  # fmt: skip
        else:
            held = push.kind == "hands" and _works_on(answer, at, desk)
        if held:
            yield answer.run


def _works_on(answer: Answer, at: datetime, desk: Desk) -> bool:
    day = at.astimezone(desk.facts.zone).date()
    return any(step.hands_min and step.start.astimezone(desk.facts.zone).date() == day
               for step in answer.steps)  # fmt: skip


# -- bookings ----------------------------------------------------------------------------------


def _difference(before: Turn, after: Turn) -> Booked:
    """What stands in one turn and not yet in the other."""
    return Booked(
        _more_stretches(before.board.vessels, after.board.vessels),
        _more_stretches(before.board.rings, after.board.rings),
        {
            code: _left_over(rail.hung, before.board.rails[code].hung)
            for code, rail in after.board.rails.items()
        },
        {site: _minus(days, before.spent.get(site, {})) for site, days in after.spent.items()},
        _minus(after.taken, before.taken),
        _left_over(after.rooms, before.rooms),
    )


def _less(turn: Turn, booked: Booked) -> Turn:
    """The turn with so much of it not booked."""
    board = turn.board.kept()
    for holds, stretches in ((board.vessels, booked.vessels), (board.rings, booked.rings)):
        for code, rows in stretches.items():
            kept = _left_over(_rows(holds[code]), rows)
            holds[code] = Holds([row[0] for row in kept], [row[1] for row in kept],
                                [row[2] for row in kept])  # fmt: skip
    for code, hung in booked.rails.items():
        board.rails[code].hung[:] = _left_over(board.rails[code].hung, hung)
    spent = {site: _minus(days, booked.spent.get(site, {})) for site, days in turn.spent.items()}
    taken = _minus(turn.taken, booked.taken)
    return Turn(board, spent, taken, tuple(_left_over(turn.rooms, booked.rooms)), turn.poured)


def _more_stretches(before: Mapping[str, Holds], after: Mapping[str, Holds]) -> Stretches:
    return {code: _left_over(_rows(holds), _rows(before[code])) for code, holds in after.items()}


def _rows(holds: Holds) -> list[tuple[int, int, str]]:
    return list(zip(holds.starts, holds.ends, holds.who, strict=True))


def _left_over(rows: Iterable[Row], without: Iterable[Row]) -> list[Row]:
    """The rows in their order, each of the others taken out once."""
    out = Counter(without)
    kept = []
    for row in rows:
        if out[row] > 0:
            out[row] -= 1
        else:
            kept.append(row)
    return kept


def _minus(rows: Mapping[Key, int], others: Mapping[Key, int]) -> dict[Key, int]:
    """Each amount less the other's; what comes to nothing is left out."""
    keys = dict.fromkeys((*rows, *others))
    found = {key: rows.get(key, 0) - others.get(key, 0) for key in keys}
    return {key: amount for key, amount in found.items() if amount}
