"""The steps are the recipe's, in its order, with the nights, standings and coolings between."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from itertools import pairwise

from inventory.science.facts import FibreFacts
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.sheet import Load, Sheet, Stage, dye_loads, stands
from sourcing.week.facts import Recipe, Step

HOLD_NO_CLOTH = ("soak", "extract")


def faults_in_steps(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Everything that is wrong with the order of a run's steps and the gaps between them."""
    yield from _steps_there(sheet, ground)
    for chain in sheet.chains():
        loads = dye_loads(chain) if sheet.parting is not None else sheet.dye_loads
        for before, after in pairwise(chain):
            own = before not in sheet.stages
            yield from _gap(sheet, before, after, ground, dyes=loads if own else sheet.dye_loads)
    for stage in sheet.stages:
        yield from _one_after_another(sheet, stage, ground)
    yield from _same_bath(sheet, ground)


def steps_wanted(recipe: Recipe, fibre: list[FibreFacts]) -> list[Step]:
    """The recipe's steps without what the fibre has had: scour, mordant, their rinses, wetting."""
    scoured = bool(fibre) and all(lot.scoured for lot in fibre)
    mordanted = (
        bool(fibre)
        and bool(recipe.mordant)
        and all(
            lot.mordant == recipe.mordant and lot.mordant_percent >= recipe.mordant_percent
            for lot in fibre
        )
    )
    had = {"scour": scoured, "mordant": mordanted}
    wanted: list[Step] = []
    for number, step in enumerate(recipe.steps):
        rinsed = number
        while rinsed and recipe.steps[rinsed].kind == "rinse":
            rinsed -= 1
        if had.get(recipe.steps[rinsed].kind, False):
            continue
        if step.kind == "wet out" and _wet_by_then(wanted, fibre):
            continue
        wanted.append(step)
    return wanted


def _wet_by_then(before: list[Step], fibre: list[FibreFacts]) -> bool:
    damp = bool(fibre) and all(lot.damp for lot in fibre)
    return damp or any(step.kind not in HOLD_NO_CLOTH for step in before)


def _steps_there(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    wanted = [step.name for step in steps_wanted(sheet.recipe, sheet.fibre)]
    there = [stage.step.name for stage in sheet.stages]
    for name in wanted:
        if name not in there:
            yield Fault("missing step", sheet.code, None, f"{name} is not in the plan")
    for name in there:
        if name not in wanted:
            yield Fault("needless step", sheet.code, None, f"{name} was done before")
    for placed in sheet.strangers:
        yield Fault("needless step", sheet.code, placed.start, f"{placed.step} is in no recipe")


def released(sheet: Sheet, before: Stage, ground: Ground, *, dyes: int) -> int | None:
    """The first moment at which the step after may begin; None: no open day is known."""
    step = before.step
    if step.night:
        mornings = [_night_over(load, sheet, ground) for load in before.loads]
        known = [morning for morning in mornings if morning is not None]
        return max(known) if len(known) == len(mornings) else None
    if stands(step):
        return max(load.lit_until for load in before.loads) + step.stand_min
    if step.strain:
        pots = dyes + before.others_dye_loads
        return before.end + step.cool_min + straining(pots, ground) + snippet_min(step)
    return before.end + step.cool_min


def _night_over(load: Load, sheet: Sheet, ground: Ground) -> int | None:
    """The morning after a load; of a night before today the one that was planned."""
    kept, row = sheet.run.kept, load.placed
    if kept is not None and row.done_at is not None:
        number = row.step, row.round, row.load
        till = next(
            (minute_of(was.held_until) for was in kept.steps
             if (was.step, was.round, was.load) == number), load.end
        )  # fmt: skip
        if ground.day_of(load.end) < ground.day_of(till) < ground.today:
            return till
    return ground.night_over(load.end, sheet.site)


def snippet_min(step: Step) -> int:
    """Minutes for a snippet in what is strained and goes on the same day."""
    return 0 if step.night or step.stand_min or not step.strain else step.snippet_min


def straining(dyes: int, ground: Ground) -> int:
    """Minutes to strain an extract into so many pot-loads."""
    return ground.rules.straining + ground.rules.straining_per_load * dyes


def _gap(
    sheet: Sheet, before: Stage, after: Stage, ground: Ground, *, dyes: int
) -> Iterator[Fault]:
    """What must lie between two steps."""
    soonest = released(sheet, before, ground, dyes=dyes)
    at = ground.moment(after.start)
    names = f"{after.step.name} after {before.step.name}"
    if soonest is None:
        yield Fault("night", sheet.code, at, f"{names}: no open day is known after the night")
        return
    if after.start < soonest:
        yield Fault(
            _why(before, after),
            sheet.code,
            at,
            f"{names} may begin at {ground.moment(soonest):%a %d %H:%M} at the earliest",
        )
    if after.step.at_once and (
        after.start > soonest or ground.day_of(after.last_start) != ground.day_of(soonest)
    ):
        yield Fault(
            "at once",
            sheet.code,
            at,
            f"{names} follows at once, at {ground.moment(soonest):%a %d %H:%M}",
        )
    yield from _standing_too_long(sheet, before, after, ground)
    yield from _too_many_nights(sheet, before, after, ground)


def _why(before: Stage, after: Stage) -> str:
    if after.start <= before.start or (after.start < before.end and not stands(before.step)):
        return "order"
    if before.step.night:
        return "night"
    if stands(before.step):
        return "standing"
    return "straining" if before.step.strain else "cooling"


def _standing_too_long(
    sheet: Sheet, before: Stage, after: Stage, ground: Ground
) -> Iterator[Fault]:
    most = before.step.stand_max
    if most is None:
        return
    for part in before.rounds:
        stood = after.last_start - max(load.lit_until for load in part.loads)
        if stood > most:
            yield Fault(
                "standing",
                sheet.code,
                ground.moment(after.last_start),
                f"{before.step.name} stands {stood} min until the last load of "
                f"{after.step.name}, at most {most}",
            )


def _too_many_nights(sheet: Sheet, before: Stage, after: Stage, ground: Ground) -> Iterator[Fault]:
    """Cloth cools in its bath for so many nights at most; lifted, it keeps damp so many days."""
    if not before.step.night:
        return
    stays = "same" in after.step.vessels or not after.step.vessels
    for load in before.loads:
        laid = ground.day_of(load.end)
        morning = ground.night_over(load.end, sheet.site)
        lifted = ground.day_of(after.start if stays or morning is None else morning)
        yield from _nights(sheet, before, laid, lifted, ground)
        damp = (ground.day_of(after.start) - lifted).days
        if damp > ground.rules.damp_days:
            yield Fault(
                "damp",
                sheet.code,
                ground.moment(after.start),
                f"cloth lifted from {before.step.name} on {lifted:%a %d} lies damp for {damp} "
                f"days, at most {ground.rules.damp_days}",
            )


def _nights(
    sheet: Sheet, before: Stage, laid: date, lifted: date, ground: Ground
) -> Iterator[Fault]:
    nights = (lifted - laid).days
    if nights > ground.rules.nights:
        yield Fault(
            "nights",
            sheet.code,
            None,
            f"cloth stands {nights} nights in {before.step.name}, at most {ground.rules.nights}",
        )


def _one_after_another(sheet: Sheet, stage: Stage, ground: Ground) -> Iterator[Fault]:
    """Loads of a round begin together; a step is not begun before its hour."""
    by_number: dict[int, set[int]] = {}
    for load in stage.loads:
        by_number.setdefault(load.placed.round, set()).add(load.start)
        hour = stage.step.from_time
        if hour is not None and ground.moment(load.start).time() < hour:
            yield Fault(
                "from time",
                sheet.code,
                load.placed.start,
                f"{stage.step.name} is not begun before {hour:%H:%M}",
            )
    tail = len(sheet.chains()) > 1
    for number, starts in by_number.items():
        if len(starts) > 1 and not tail:
            yield Fault(
                "together",
                sheet.code,
                ground.moment(min(starts)),
                f"loads of round {number} of {stage.step.name} do not begin together",
            )


def _same_bath(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """A step in the same pot finds there the cloth of the step before, and nothing between."""
    for chain in sheet.chains():
        for before, after in pairwise(chain):
            if "same" not in after.step.vessels:
                continue
            for load in after.loads:
                stayed = [
                    earlier
                    for earlier in before.loads
                    if earlier.placed.vessel == load.placed.vessel
                ]
                if not stayed:
                    yield Fault(
                        "same pot",
                        sheet.code,
                        load.placed.start,
                        f"{after.step.name} is in {load.placed.vessel or 'no pot'}, "
                        f"{before.step.name} was not",
                    )
            if len(after.rounds) > 1 or len(before.rounds) > 1:
                yield Fault(
                    "same bath",
                    sheet.code,
                    ground.moment(after.start),
                    f"{after.step.name} is in the bath of {before.step.name}, which was worked "
                    f"in {len(before.rounds)} rounds, so the bath of the first was tipped out",
                )
