"""Runs that share pots, placed together: the leader with all that its pots take, then the others.

Where one of them cannot keep to the leader's hours, the leader's step waits and all is tried again.
Where that comes to nothing, nothing is booked, and each goes its own way.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping

from sourcing.week.answer import answer_run
from sourcing.week.desk import Desk
from sourcing.week.facts import RunFacts
from sourcing.week.guidance import Together
from sourcing.week.plan import Answer
from sourcing.week.pots import Leading, Led

TRIES_AT_MOST = 12  # how often a leader's step is put off for one that shares it


def followers_left(
    run: RunFacts, desk: Desk, by_code: Mapping[str, Answer]
) -> tuple[tuple[RunFacts, Together], ...]:
    """Runs that are to share pots of a run and are not answered yet."""
    rows = desk.guidance.followers_of(run.code)
    if not rows or run.group_block or run.kept is not None:
        return ()
    runs = {row.code: row for row in desk.facts.runs}
    return tuple(
        (runs[row.follower], row)
        for row in rows
        if row.follower in runs
        and row.follower not in by_code
        and row.follower != run.code
        and runs[row.follower].kept is None
    )


def answer_party(
    run: RunFacts,
    followers: tuple[tuple[RunFacts, Together], ...],
    desk: Desk,
    note: Callable[[str], None] | None = None,
) -> dict[str, Answer] | None:
    """The answers of runs that share pots, all placed and kept; None: they cannot, none is booked.

    Parameters
    ----------
    followers : runs with what they share, at least one
    note : is told each follower's turn
    """
    board, larder, rooms = desk.board.kept(), desk.larder.kept(), list(desk.rooms)
    leading = Leading(desk, followers)
    for _ in range(TRIES_AT_MOST):
        answers, wait = _tried(run, leading, desk, note)
        if answers is not None:
            return answers
        desk.board.back_to(board)
        desk.larder.back_to(larder)
        desk.rooms = list(rooms)
        if wait is None or wait[1] <= leading.later.get(wait[0], 0):
            return None
        leading.later[wait[0]] = wait[1]
    return None


def _tried(
    run: RunFacts, leading: Leading, desk: Desk, note: Callable[[str], None] | None
) -> tuple[dict[str, Answer] | None, tuple[str, int] | None]:
    """All answers, else a step of the leader that has to wait, and till when."""
    desk.larder.open_for(run.code)
    found = {run.code: answer_run(run, desk, leading)}
    if found[run.code].first_step_at is None:
        return None, None
    for follower, row in leading.followers:
        if note is not None:
            note(follower.code)
        led = Led(leading, row)
        desk.larder.open_for(follower.code)
        found[follower.code] = answer_run(follower, desk, led)
        if found[follower.code].first_step_at is None:
            return None, led.wait
    return found, None
