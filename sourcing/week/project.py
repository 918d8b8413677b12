"""What can be dyed in a period: one pure answer from frozen facts.

Runs under way come first, each at its kept hours. The others are placed and claim in order of
due date, ties by code, undated last; a run not placed claims nothing. Group days are fixed; the
jobs that prepare them are placed last, until the preparing has begun.
"""

from __future__ import annotations

from collections.abc import Callable

from sourcing.week.answer import answer_run
from sourcing.week.bath_words import with_baths_kept
from sourcing.week.begun import answer_begun
from sourcing.week.days import days_of
from sourcing.week.desk import Desk
from sourcing.week.enough import with_chances
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.flags import flags_of
from sourcing.week.group import GroupClaim, claim_group, prepare_group
from sourcing.week.guidance import PLAIN, Guidance, in_order
from sourcing.week.party import answer_party, followers_left
from sourcing.week.plan import Answer, Week
from sourcing.week.room_remedies import rooms_of_week
from sourcing.week.second_bath import in_turn
from sourcing.week.sums import sums_of
from sourcing.week.to_order import to_order, with_suppliers
from sourcing.week.unlocking import unlocked
from sourcing.week.unlocking.for_groups import groups_unlocked
from sourcing.week.unlocking.turn import Turn, Turns, fresh_desk

DAYS_AT_MOST = 28
RUNS_AT_MOST = 2_000
# As many loads as a heavier run would have are soon more than anybody waits for the answer.
HEAVIEST_RUN_MG = 100_000_000


def project(facts: WeekFacts, *, days: int, unlocks: bool = False) -> Week:
    """The answer for every wanted run.

    Parameters
    ----------
    facts : everything at one moment; its `at` is the moment asked for
    days : length of the period in local days, today the first, 1 to 28
    unlocks : also look for the least change that turns what is not yes into a yes

    Raises
    ------
    ValueError
        If `days` lies outside its range or there are more than 2,000 runs.
    """
    refuse_too_much(facts, days)
    desk, answers, turns = worked_out(facts, days, turns=unlocks)
    if unlocks:
        answers = unlocked(facts, answers, turns, desk)
        answers = groups_unlocked(
            desk, answers, lambda other: worked_out(other, days, turns=False)[1]
        )
    return as_week(desk, answers)


def refuse_too_much(facts: WeekFacts, days: int) -> None:
    """Say so where more is asked than anybody waits for."""
    if not 1 <= days <= DAYS_AT_MOST:
        raise ValueError(f"{days} days asked for; a period has 1 to {DAYS_AT_MOST} days.")
    if len(facts.runs) > RUNS_AT_MOST:
        raise ValueError(f"{len(facts.runs)} runs wanted; at most {RUNS_AT_MOST} are worked out.")


def as_week(desk: Desk, answers: tuple[Answer, ...]) -> Week:
    """The answers of a desk with what the morning wants to know beside them."""
    facts, until = desk.facts, desk.calendar.moment(desk.until)
    answers = with_chances(facts, answers, until=until)
    orders = to_order(facts)
    answers = with_suppliers(facts, answers, orders)
    answers = with_baths_kept(answers, desk)
    rooms = rooms_of_week(facts, answers, until=until)
    return Week(
        facts.studio,
        facts.at,
        until,
        answers,
        flags=flags_of(facts, answers, until=until, rooms=rooms, orders=orders),
        days=days_of(desk),
        sums=sums_of(facts, answers, until=until, rooms=rooms),
        order=_order_told(desk),
    )


def _order_told(desk: Desk) -> tuple[str, ...]:
    """In which order runs claimed, where it was another than that of due dates."""
    guidance, runs = desk.guidance, desk.facts.runs
    if not guidance.together and not guidance.stays and not desk.followed:
        return guidance.order
    turns = in_turn(guidance, runs, desk.facts.recipes)
    if not guidance.together and not guidance.stays and turns == guidance.in_turn(runs):
        return guidance.order
    return tuple(run.code for run in turns)


def worked_out(
    facts: WeekFacts, days: int, *, turns: bool, guidance: Guidance | None = None
) -> tuple[Desk, tuple[Answer, ...], dict[str, Turn]]:
    """A desk with all answers; begun anew where a group day came to nothing at its last job.

    Such a group had claimed before others were placed. A run not placed claims nothing, so the
    others are placed once more without it.

    Parameters
    ----------
    turns : also note how everything stood when each run's turn came
    guidance : another order and other waits than those of the facts; None: those of the facts
    """
    nothing: dict[str, Answer] = {}
    desk: Desk | None = None
    while True:
        desk = fresh_desk(facts, days=days, like=desk)
        desk.guidance = (facts.guidance or PLAIN) if guidance is None else guidance
        desk.guidance = desk.guidance.held_to(facts.stays)
        noted = Turns(desk) if turns else None
        by_code, failed = _answers(desk, nothing, noted)
        if not failed:
            runs = sorted(facts.runs, key=in_order)
            return desk, tuple(by_code[run.code] for run in runs), noted.of if noted else {}
        nothing |= failed


def _answers(
    desk: Desk, nothing: dict[str, Answer], turns: Turns | None
) -> tuple[dict[str, Answer], dict[str, Answer]]:
    """All answers by run, placed by due date, and those of groups that failed at their jobs."""
    by_code = nothing | answer_begun(begun_runs(desk.facts), desk)
    groups: list[GroupClaim] = []
    for run in in_turn(desk.guidance, desk.facts.runs, desk.facts.recipes):
        if run.code in by_code:
            continue
        if turns is not None and not run.group_block:
            turns.note(run.code)
        place_next(run, desk, by_code, groups, turns.note if turns is not None else None)
    return by_code, prepared(groups, desk, by_code)


def begun_runs(facts: WeekFacts) -> list[RunFacts]:
    """Runs and group days that stay at their kept hours."""
    return [run for run in facts.runs if run.kept is not None]


def place_next(
    run: RunFacts,
    desk: Desk,
    by_code: dict[str, Answer],
    groups: list[GroupClaim],
    note: Callable[[str], None] | None = None,
) -> None:
    """Answer a run, or let a group claim, on what those before it leave.

    Runs that share its pots are answered with it, where they can; `note` is told their turns.
    """
    followers = followers_left(run, desk, by_code)
    if followers:
        together = answer_party(run, followers, desk, note)
        if together is not None:
            by_code |= together
            return
    desk.larder.open_for(run.code)
    if run.group_block:
        groups.append(claim_group(run, desk))
        placed = groups[-1].holds
    else:
        by_code[run.code] = answer_run(run, desk)
        placed = by_code[run.code].first_step_at is not None
    if not placed:
        desk.larder.keep_for(run.code)


def prepared(groups: list[GroupClaim], desk: Desk, by_code: dict[str, Answer]) -> dict[str, Answer]:
    """Place the jobs of group days; returns the answers of those that come to nothing."""
    failed = {}
    for group in groups:
        answer = by_code[group.run.code] = prepare_group(group, desk)
        if group.takes and answer.answer == "no":
            failed[group.run.code] = answer
    return failed
