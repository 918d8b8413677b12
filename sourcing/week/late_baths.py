"""Baths of begun runs that were to be made by now and are not: made before they are used after all.

What uses such a bath waits for it, where it cannot be made before its kept hour any more.
"""

from __future__ import annotations

from dataclasses import replace

from inventory.science.saying import say
from sourcing.week.desk import Desk
from sourcing.week.jobs import can_make, keeps_from, make_bath
from sourcing.week.kept import over_at
from sourcing.week.loads import placed_round
from sourcing.week.moments import minute_of
from sourcing.week.plan import Placed
from sourcing.week.under_way import MAKES, UnderWay
from sourcing.week.wants import MakingWanted

UL_PER_L = 1_000_000
HOUR, WEEK_H = 60, 7 * 24  # how far what uses a bath may wait for it


def late_baths(row: UnderWay, desk: Desk) -> dict[str, list[Placed]]:
    """By step, the pots of baths that are late; none whose cloth went into it, as it was made."""
    found: dict[str, list[Placed]] = {}
    for load in row.apart:
        late = load.done_at is None and over_at(load) < desk.facts.at
        if late and load.step.startswith(MAKES) and not row.run.group_block:
            place = _used_by(load.step, row)
            if place is not None and not row.parts[place].touched:
                found.setdefault(load.step, []).append(load)
    return found


def wait_for_baths(row: UnderWay, desk: Desk) -> None:
    """Let what uses a late bath wait for the first full hour before which it can be made.

    Parameters
    ----------
    row : not on the board yet, unlike the runs that wait for no bath
    """
    if any(part.stage is None for part in row.parts):
        return  # it is not placed anew at all
    for step, loads in late_baths(row, desk).items():
        place, wanted = _used_by(step, row), _wanted(step, loads, row, desk)
        if place is None or wanted is None:
            continue
        kept = minute_of(row.parts[place].start)
        soonest = _soonest(wanted, max(kept, desk.now), row, desk)
        if soonest is not None and soonest > kept:
            row.not_before[place] = soonest
            row.settled = min(row.settled, place)


def make_late_baths(row: UnderWay, desk: Desk) -> list[Placed]:
    """Book what is late at the latest hour at which it still does, before its run moves on.

    Returns
    -------
    pots that stay at their hours, as they fit nowhere any more
    """
    stay: list[Placed] = []
    for step, loads in late_baths(row, desk).items():
        place, wanted = _used_by(step, row), _wanted(step, loads, row, desk)
        assert place is not None
        before = row.not_before.get(place, minute_of(row.parts[place].start))
        if row.settled <= place and wanted is not None:
            before = _soonest(wanted, before, row, desk) or before
            row.not_before[place] = before
        rows = _made(wanted, before, row, desk) if wanted is not None else []
        if not rows:
            stay += loads
            row.warnings.append(
                say("{step} fits nowhere any more before it is used; look at it first", step=step)
            )
        since = max(over_at(load) for load in loads)
        row.apart = [load for load in row.apart if load not in loads]
        row.apart += [replace(again, late_since=since) for again in rows or loads]
    return stay


def _soonest(wanted: MakingWanted, since: int, row: UnderWay, desk: Desk) -> int | None:
    """The first minute before which a bath can be made, by the hour; None: there is none."""
    hours = (since + HOUR * n for n in range(WEEK_H))
    return next((at for at in hours if _can(wanted, at, row, desk)), None)


def _made(wanted: MakingWanted, before: int, row: UnderWay, desk: Desk) -> list[Placed]:
    made = make_bath(wanted, row.run.code, desk, before=before,
                     not_before=keeps_from(wanted.making.bath, before, desk),
                     site=row.placer.room.site)  # fmt: skip
    if isinstance(made, str):
        return []
    job, done = made
    jobs = (job if was.what == job.what else was for was in row.kept.jobs)
    row.kept = replace(row.kept, jobs=tuple(jobs))
    return placed_round(done, row.run.code, wanted.making, desk)


def _can(wanted: MakingWanted, before: int, row: UnderWay, desk: Desk) -> bool:
    since = keeps_from(wanted.making.bath, before, desk)
    site = row.placer.room.site
    return can_make(wanted, desk, before=before, not_before=since, site=site)


def _wanted(step: str, loads: list[Placed], row: UnderWay, desk: Desk) -> MakingWanted | None:
    making = next((m for m in desk.facts.makings if m.bath == step.removeprefix(MAKES)), None)
    if making is None:
        return None
    need_ul = sum(round(load.litres * UL_PER_L) for load in loads)
    return MakingWanted(making, need_ul, step, bright=row.recipe.bright)


def _used_by(step: str, row: UnderWay) -> int | None:
    """The first part of a run that goes into a bath."""
    bath = step.removeprefix(MAKES)
    doses = row.recipe.doses
    names = {dose.step for dose in doses if dose.kind == "bath" and dose.what == bath}
    return next((n for n, part in enumerate(row.parts) if part.rows[0].step in names), None)
