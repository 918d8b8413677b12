"""Steps that are to stay at their hour: which do, and which fact is in the way of the others.

Runs with such a step are placed before those without, and the step is not begun before its hour;
so where it begins later, something that no other run can give way in has broken it.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from inventory.science.saying import say
from sourcing.week.desk import Desk
from sourcing.week.explain import reason_of
from sourcing.week.fits import Fit, Placement, Push
from sourcing.week.guidance import Floor
from sourcing.week.moments import minute_of, rounded_up
from sourcing.week.place import Placer
from sourcing.week.plan import Answer, Reason
from sourcing.week.stages import Stage
from sourcing.week.words import moment_in_words

KIND = "stays"


def broken(stays: Iterable[Floor], answers: Mapping[str, Answer]) -> int:
    """How many of some steps do not begin at their hour; those of begun runs do not count."""
    count = 0
    for row in stays:
        answer = answers.get(row.run)
        if answer is None or answer.begun_at is not None:
            continue
        starts = [minute_of(step.start) for step in answer.steps if step.step == row.step]
        count += answer.answer == "no" or not starts or min(starts) != row.not_before
    return count


def stays_kept(run: str, fits: Sequence[Fit], desk: Desk) -> Iterator[Reason]:
    """The steps of a run that begin at the hour at which they are to stay."""
    for row in desk.guidance.stays:
        if row.run == run and _begins(row.step, fits) == row.not_before:
            moment = desk.calendar.moment(row.not_before)
            text = say("{step} stays at {moment}", step=row.step,
                       moment=moment_in_words(moment, desk.facts.zone))  # fmt: skip
            yield Reason(KIND, row.step, text, moment)


def stays_broken(
    run: str,
    stages: Sequence[Stage],
    placement: Placement,
    ready: Sequence[int],
    placer: Placer,
    desk: Desk,
) -> Iterator[str]:
    """The steps of a run that cannot stay at their hour, each with the fact that is in the way.

    Parameters
    ----------
    ready : by stage, the minute from which what it takes is there
    """
    for row in desk.guidance.stays:
        begins = _begins(row.step, placement.fits) if row.run == run else None
        if begins is None or begins == row.not_before:
            continue
        index = next(n for n, stage in enumerate(stages) if stage.step.name == row.step)
        why = (
            _not_there(row, ready[index], desk)
            or _in_the_way(row, _at_its_hour(row, placement.pushes, placer), desk)
            or _at_no_hour(row, stages[index], placer, desk)
            or _too_soon_after(row, index, stages, placement, placer, desk)
            or _in_the_way(row, _soon_after(row, placement.pushes), desk)
            or say("what follows it would not fit")
        )
        yield say(
            "{step} was to stay at {hour} and begins {begins}: {why}",
            step=row.step,
            hour=_words(row.not_before, desk),
            begins=_words(begins, desk),
            why=why,
        )


def _begins(step: str, fits: Sequence[Fit]) -> int | None:
    return next((fit.start for fit in fits if fit.stage.step.name == step), None)


def _words(minute: int, desk: Desk) -> str:
    return moment_in_words(desk.calendar.moment(minute), desk.facts.zone)


def _not_there(row: Floor, ready: int, desk: Desk) -> str:
    if ready <= row.not_before:
        return ""
    return say("what it takes is there from {since}", since=_words(ready, desk))


def _too_soon_after(
    row: Floor,
    index: int,
    stages: Sequence[Stage],
    placement: Placement,
    placer: Placer,
    desk: Desk,
) -> str:
    """The step before lets it begin only later."""
    if not index:
        return ""
    before = placement.fits[index - 1]
    release = placer.released(before, stages[index])
    if release <= row.not_before:
        return ""
    return say("after {before} it can begin {since}", before=before.stage.step.name,
               since=_words(release, desk))  # fmt: skip


def _at_no_hour(row: Floor, stage: Stage, placer: Placer, desk: Desk) -> str:
    """Nobody is in, it is too early in the day for the step, or nothing begins at such a minute."""
    calendar, minute = placer.calendar, row.not_before
    index = calendar.open_index(minute)
    if index < len(calendar.openings) and calendar.openings[index].opens > minute:
        return say(
            "nobody is in before {opens}", opens=_words(calendar.openings[index].opens, desk)
        )
    since = stage.step.from_time
    if since is not None and calendar.wall(calendar.day_of(minute), since) > minute:
        return say("it is not begun before {hour} of a day", hour=f"{since:%H:%M}")
    if minute % placer.house.starts_on:
        return say("steps begin every {minutes} minutes", minutes=placer.house.starts_on)
    return ""


def _in_the_way(row: Floor, push: Push | None, desk: Desk) -> str:
    return "" if push is None else reason_of(push, desk, row.run).text


def _at_its_hour(row: Floor, pushes: Sequence[Push], placer: Placer) -> Push | None:
    """What was in the way at the very hour, the last to let go."""
    hour = rounded_up(row.not_before, placer.house.starts_on)
    found = [push for push in pushes if push.step == row.step and push.at <= hour < push.until]
    return max(found, key=lambda push: push.until, default=None)


def _soon_after(row: Floor, pushes: Sequence[Push]) -> Push | None:
    """What was first in the way after it: a line that is full when the cloth would be hung."""
    found = [push for push in pushes if push.step == row.step and push.at > row.not_before]
    return min(found, key=lambda push: push.at, default=None)
