"""Somebody is there when a step begins and while a flame burns, with hands enough on each day."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import date

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.jars import dips_on
from sourcing.week.checking.sheet import STANDS_ATTENDED, Load, Sheet, Stage
from sourcing.week.facts import Step
from sourcing.week.plan import Placed, Week


def faults_in_hours(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Steps begun when nobody is there, off the grid, before the moment asked for, unattended."""
    now = minute_of(ground.facts.at)
    for stage in sheet.stages:
        for load in stage.loads:
            at = load.placed.start
            what = f"{stage.step.name} load {load.placed.load}"
            if load.start < now:
                yield Fault("past", sheet.code, at, f"{what} begins before the moment asked for")
            if not _begins_open(load, sheet, ground):
                yield Fault("hours", sheet.code, at, f"nobody is there when {what} begins")
            elif not ground.somebody_there(load.start, watched_until(stage, load), sheet.site):
                yield Fault("attended", sheet.code, at, f"nobody is there through {what}")
            if not stage.step.at_once and _off_grid(load, ground):
                yield Fault(
                    "grid", sheet.code, at, f"{what} does not fall on {ground.rules.grid} minutes"
                )


def _begins_open(load: Load, sheet: Sheet, ground: Ground) -> bool:
    return any(
        opens <= load.start < closes or load.start == load.end == closes
        for opens, closes in ground.open_at(sheet.site)
    )


def _off_grid(load: Load, ground: Ground) -> bool:
    local = ground.moment(load.start)
    off = (local.hour * 60 + local.minute) % ground.rules.grid
    return bool(off or load.placed.start.second or load.placed.start.microsecond)


def watched_until(stage: Stage, load: Load) -> int:
    """From lighting to the end of the hold; an after-bath and a rinse to their end."""
    if load.over_flame:
        return max(load.lit_until, load.end if stage.step.kind == STANDS_ATTENDED else 0)
    if stage.step.kind in (STANDS_ATTENDED, "rinse") or not stage.step.vessels:
        return load.end
    return load.start


# -- hands -----------------------------------------------------------------------------------


def hands_wanted(sheet: Sheet, stage: Stage) -> set[int]:
    """Minutes of hands of a step over all its loads; rounding may fall by the round."""
    step: Step = stage.step
    if step.hands_per == "load":
        return {step.hands_min * len(stage.loads)}
    if step.hands_per == "dye load":
        return {step.hands_min * (sheet.dye_loads + stage.others_dye_loads)}
    if step.hands_per == "run":
        return {step.hands_min}
    by_round: dict[int, int] = defaultdict(int)
    for load in stage.loads:
        by_round[load.placed.round] += load.together_mg
    rounds, loads = list(by_round.values()), [load.together_mg for load in stage.loads]
    others = max((len(load.others) for load in stage.loads), default=0)
    pieces = [part.loads for chain in sheet.chains() for part in chain if part.step is step]
    if sum(map(len, pieces)) == len(loads):  # else the step comes before the ways part
        rounds = [sum(load.together_mg for load in piece) for piece in pieces]
    return {
        sum((2 * step.hands_min * (mg + edge) + 1_000_000) // 2_000_000 for mg in parts)
        for parts in ([sum(loads)], rounds, loads)
        for edge in range(-others, 2 + others)  # parts of a run are rounded to the milligram
    }


def faults_in_hands_of_steps(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Minutes of hands that are not those of the recipe; in a shared pot those of all in it."""
    for stage in sheet.stages:
        rows = [row for load in stage.loads for row in (load.placed, *load.others)]
        there = sum(row.hands_min for row in rows)
        wanted = hands_wanted(sheet, stage)
        if there not in wanted:
            yield Fault(
                "hands of a step",
                sheet.code,
                ground.moment(stage.start),
                f"{stage.step.name} is charged {there} min of hands, {min(wanted)} by the recipe",
            )


Used = dict[date, dict[str, int]]


def hands_used(sheets: list[Sheet], made: tuple[Placed, ...], week: Week, ground: Ground) -> Used:
    """Minutes of hands on each local day, by site."""
    used: Used = defaultdict(lambda: defaultdict(int))
    for sheet in sheets:
        for stage in sheet.stages:
            for load in stage.loads:
                used[ground.day_of(load.start)][sheet.site] += load.placed.hands_min
        for placed in (*sheet.snippets, *sheet.carries):
            day = ground.day_of(minute_of(placed.start))
            used[day][sheet.site] += placed.hands_min
    for placed in made:
        site = ground.vessels[placed.vessel].site if placed.vessel in ground.vessels else ""
        used[ground.day_of(minute_of(placed.start))][site] += placed.hands_min
    for answer in week.answers:
        for job in answer.jobs:
            if job.kind != "make bath":  # its hands stand in its step
                used[job.by][""] += job.hands_min
    _outside_runs(used, ground)
    return used


def _outside_runs(used: Used, ground: Ground) -> None:
    """Chores, hand-overs, jars to dip and group days."""
    for chore in ground.facts.chores:
        used[chore.day][""] += chore.hands_min
    for pick_up in ground.facts.pick_ups:
        if pick_up.in_window and not pick_up.missed:
            day = ground.day_of(minute_of(pick_up.at))
            used[day][""] += pick_up.hands_min
    for day, site in dips_on(ground):
        used[day][site] += ground.rules.dip
    for block in ground.facts.blocks:
        used[ground.day_of(minute_of(block.since))][""] += block.hands_min


def faults_in_hands(sheets: list[Sheet], week: Week, used: Used, ground: Ground) -> Iterator[Fault]:
    """Days on which more hands are asked for than are in, and day rows that say otherwise."""
    for day, by_site in sorted(used.items()):
        steps = _steps_on(day, sheets, ground)
        at = {sheet.site for sheet in sheets if sheet.code in steps}
        if steps and not _enough(by_site, day, at, ground):
            asked, there = sum(by_site.values()), hands_there(day, ground)
            yield Fault(
                "hands",
                steps[-1],
                None,
                f"{day:%a %d}: {asked} min of hands are asked for, {there} are in",
            )
    for row in week.days:
        # What falls on a day without hours, such as a hand-over by the gate, asks for no hands.
        asked = sum(used.get(row.day, {}).values()) if hands_there(row.day, ground) else 0
        if (row.hands_on_min, row.hands_available_min) != (asked, hands_there(row.day, ground)):
            yield Fault(
                "day row",
                "",
                None,
                f"{row.day:%a %d} says {row.hands_on_min} of {row.hands_available_min} min of "
                f"hands; its steps ask for {asked} of {hands_there(row.day, ground)}",
            )


def hands_there(day: date, ground: Ground) -> int:
    """Minutes of hands of those in on a day, at all sites."""
    return sum(row.hands_min for row in ground.facts.hours if row.day == day)


def _enough(by_site: dict[str, int], day: date, at: set[str], ground: Ground) -> bool:
    """Whether each site's hands, with those that count anywhere, suffice where steps are.

    Fixed work of no site is the first one's; where it alone is more than its hands, no step is to
    blame.
    """
    rows = [row for row in ground.facts.hours if row.day == day]
    if len([site for site in ground.facts.sites if site]) < 2 or not any(row.site for row in rows):
        return sum(by_site.values()) <= sum(row.hands_min for row in rows)
    asked = dict(by_site)
    main = ground.facts.sites[0]
    asked[main] = asked.get(main, 0) + asked.pop("", 0)
    own = {site: sum(row.hands_min for row in rows if row.site == site) for site in asked}
    anywhere = sum(row.hands_min for row in rows if not row.site)
    return sum(max(0, least - own[site]) for site, least in asked.items() if site in at) <= anywhere


def _steps_on(day: date, sheets: list[Sheet], ground: Ground) -> list[str]:
    return [
        sheet.code
        for sheet in sheets
        if any(ground.day_of(load.start) == day for load in sheet.loads)
        or any(ground.day_of(minute_of(row.start)) == day for row in sheet.carries)
    ]
