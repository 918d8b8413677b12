"""What would unlock a group day that is no yes as its fibre lies damp: the fibre hung up to dry.

A group claims before its jobs are placed, so its week is worked out anew as a whole.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from inventory.science.facts import FibreFacts
from sourcing.week.desk import Desk
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Answer, Unlock
from sourcing.week.unlocking.hanging_up import hung, hung_up
from sourcing.week.unlocking.wording import hang_said

GROUPS_AT_MOST = 3  # that are worked out once more
WorkOut = Callable[[WeekFacts], tuple[Answer, ...]]


def groups_unlocked(
    desk: Desk, answers: tuple[Answer, ...], work_out: WorkOut
) -> tuple[Answer, ...]:
    """The answers, groups that are no yes with the damp fibre that would be hung up for them.

    Parameters
    ----------
    desk : on which the answers were worked out
    work_out : the answers of other facts, in the same order
    """
    runs = {run.code: run for run in desk.facts.runs if run.group_block and run.kept is None}
    wanted = [row.run for row in answers if row.run in runs and row.answer == "no"]
    found = {code: _hung(runs[code], desk, answers, work_out) for code in wanted[:GROUPS_AT_MOST]}
    return tuple(
        replace(row, unlocks=unlocks, sought=True) if (unlocks := found.get(row.run)) else row
        for row in answers
    )


def _hung(
    run: RunFacts, desk: Desk, answers: tuple[Answer, ...], work_out: WorkOut
) -> tuple[Unlock, ...]:
    for fibre in desk.facts.shelf.fibre:
        when = hung_up(fibre, desk) if _may_dry(fibre, run, desk) else None
        if when is None:
            continue
        then = work_out(hung(desk.facts, fibre.code, when))
        answer = next(row for row in then if row.run == run.code)
        if answer.answer == "yes":
            change = hang_said(fibre.code, when, desk.facts)
            lost = _lost(answers, then)
            return (Unlock((change,), change.text, answer.first_step_at, answer.dry_at, lost),)
    return ()


def _may_dry(fibre: FibreFacts, run: RunFacts, desk: Desk) -> bool:
    """Whether a lot is the group's fibre, here, damp, and not past what has to be looked over."""
    here = fibre.arrives_at is None or fibre.arrives_at <= desk.facts.at
    wanted = fibre.fibre == run.fibre and fibre.code == (run.fibre_lot or fibre.code)
    return fibre.damp and here and wanted and not desk.larder.fibre_left_out(fibre)


def _lost(before: tuple[Answer, ...], after: tuple[Answer, ...]) -> tuple[str, ...]:
    """Runs that were a yes and are none beside it."""
    return tuple(
        was.run
        for was, now in zip(before, after, strict=True)
        if was.answer == "yes" and now.answer != "yes"
    )
