"""What could have been taken instead: a lot that spoils sooner, a jar ready now, a smaller pot.

What is free in the whole plan was free when the run was placed, so none of these may be passed by.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from inventory.science.facts import RingFacts, VesselFacts
from inventory.science.keeping import use_first
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground
from sourcing.week.checking.holding import Hold, all_holds
from sourcing.week.checking.jars import ready_at, wanted_ul
from sourcing.week.checking.loads import barred, holder_of, minutes_over, ratio_of
from sourcing.week.checking.lots import may_be_used
from sourcing.week.checking.sheet import Load, Sheet, Stage
from sourcing.week.facts import Dose
from sourcing.week.plan import Placed, Take

Left = dict[str, int]


def faults_in_choices(
    sheets: list[Sheet], jobs: tuple[Placed, ...], ground: Ground
) -> Iterator[Fault]:
    """Better choices that were passed by."""
    left = _left_at_first(ground)
    for sheet in sorted(sheets, key=lambda sheet: ground.turn_of(sheet.run)):
        for dose in sheet.recipe.doses if sheet.run.kept is None else ():
            takes = [take for take in sheet.answer.takes if take.step == dose.step]
            if dose.kind == "dyestuff":
                yield from _passed_lots(dose, takes, left, sheet, ground)
            elif dose.kind == "liquor":
                yield from _passed_jars(dose, takes, left, sheet, ground)
        for take in sheet.answer.takes:
            left[take.source] = left.get(take.source, 0) - take.amount
    pots, rings = all_holds(sheets, jobs, ground)
    for sheet in sheets:
        if not sheet.run.group_block and sheet.run.kept is None:
            yield from _passed_pots(sheet, pots, rings, ground)


def _left_at_first(ground: Ground) -> Left:
    left: Left = defaultdict(int)
    left.update({lot.code: lot.left_mg for lot in ground.lots.values()})
    left.update({jar.code: jar.left_ul for jar in ground.jars.values()})
    return left


# -- lots and jars ---------------------------------------------------------------------------


def _passed_lots(
    dose: Dose, takes: list[Take], left: Left, sheet: Sheet, ground: Ground
) -> Iterator[Fault]:
    """A lot that comes first, good on the day, and not taken or not taken whole."""
    facts = ground.facts
    order = [
        lot.code
        for lot in use_first(facts.shelf.lots, facts.figures, at=facts.at, zone=facts.zone)
        if lot.dyestuff == dose.what
    ]
    taken = {take.source: take for take in takes if take.source in order}
    if not taken or sheet.recipe.match == "lot":
        return
    last = max(order.index(code) for code in taken)
    for code in order[:last]:
        used = taken[code].amount if code in taken else 0
        take = next(iter(taken.values()))
        if left[code] > used and may_be_used(ground.lots[code], take.at, dose, sheet, ground):
            yield Fault(
                "use first",
                sheet.code,
                take.at,
                f"{left[code] - used} mg of {code} stand good while {order[last]} is opened",
            )


def _passed_jars(
    dose: Dose, takes: list[Take], left: Left, sheet: Sheet, ground: Ground
) -> Iterator[Fault]:
    """A jar ready at the moment asked for, with enough in it, while one ready later is taken."""
    now = ground.facts.at
    for take in takes:
        if take.source not in ground.jars or ready_at(take.source, now, ground):
            continue
        for jar in ground.jars.values():
            fits = jar.metal == dose.what and jar.site in ("", sheet.site)
            if not fits or not ready_at(jar.code, now, ground):
                continue
            if not ready_at(jar.code, take.at, ground):
                continue
            if left[jar.code] >= wanted_ul(jar, dose, sheet.run, now, ground):
                yield Fault(
                    "ready jar",
                    sheet.code,
                    take.at,
                    f"{take.source} is waited for while {jar.code} is ready",
                )


# -- pots and rings --------------------------------------------------------------------------

Holds = dict[str, list[Hold]]


def _passed_pots(sheet: Sheet, pots: Holds, rings: Holds, ground: Ground) -> Iterator[Fault]:
    """A stage of one load in a pot or on a ring that was not the smallest or weakest free."""
    for number, stage in enumerate(sheet.stages):
        if len(stage.loads) != 1 or stage.loads[0].placed.vessel not in ground.vessels:
            continue
        load = stage.loads[0]
        if load.placed.ring in ground.rings:
            yield from _weaker_ring(sheet, stage, load, rings, ground)
        if "same" in stage.step.vessels:
            continue
        until = _held_until(sheet, number, load)
        for vessel in ground.vessels.values():
            if _smaller(vessel, ground.vessels[load.placed.vessel]) and _would_do(
                vessel, sheet, stage, load, until, pots, ground
            ):
                yield Fault(
                    "smaller pot",
                    sheet.code,
                    load.placed.start,
                    f"{stage.step.name} is in {load.placed.vessel}, {vessel.code} would do",
                )


def _held_until(sheet: Sheet, number: int, load: Load) -> int:
    """Until when a stage's pot is held, later steps in the same pot included."""
    until = load.held_until
    for stage in sheet.stages[number + 1 :]:
        if "same" not in stage.step.vessels:
            break
        until = max([until, *(later.held_until for later in stage.loads)])
    return until


def _smaller(vessel: VesselFacts, other: VesselFacts) -> bool:
    return (vessel.working_ml, vessel.code) < (other.working_ml, other.code)


def _would_do(
    vessel: VesselFacts,
    sheet: Sheet,
    stage: Stage,
    load: Load,
    until: int,
    pots: Holds,
    ground: Ground,
) -> bool:
    holder = holder_of(sheet, stage)
    wanted_ml = ratio_of(holder, sheet) * load.together_mg / 1000
    bright = sheet.recipe.bright or any(
        ground.recipes[ground.runs[row.run].recipe].bright for row in load.others
    )
    if vessel.site not in ("", sheet.site) or vessel.working_ml < wanted_ml:
        return False
    if barred(vessel, holder, holder, bright=bright):
        return False
    if stage.step.heats and not _same_ring(vessel, sheet, load, ground):
        return False
    pause = max(ground.rules.between_runs, ground.rules.between_steps)
    return all(
        hold.until + pause <= load.start or until + pause <= hold.since
        for hold in pots.get(vessel.code, ())
    )


def _same_ring(vessel: VesselFacts, sheet: Sheet, load: Load, ground: Ground) -> bool:
    """Whether another pot would stand on the same ring: it takes it, and no weaker one does."""
    mine = ground.rings.get(load.placed.ring)
    if mine is None or vessel.code in mine.not_for:
        return False
    return not any(
        (ring.watts, ring.code) < (mine.watts, mine.code)
        and vessel.code not in ring.not_for
        and ring.site in ("", sheet.site)
        for ring in ground.rings.values()
    )


def _weaker_ring(
    sheet: Sheet, stage: Stage, load: Load, rings: Holds, ground: Ground
) -> Iterator[Fault]:
    mine = ground.rings[load.placed.ring]
    for ring in ground.rings.values():
        if (ring.watts, ring.code) >= (mine.watts, mine.code) or not _takes(ring, load, sheet):
            continue
        before = sheet.stages[: sheet.stages.index(stage)]
        minutes = minutes_over(sheet, stage, before[-1] if before else None, load, ring, ground)
        until = load.start + minutes
        if not ground.somebody_there(load.start, until, sheet.site):
            continue
        if _leads_on(sheet, stage):
            continue  # what follows at once could end after hours
        free = all(
            hold.until <= load.start or until <= hold.since for hold in rings.get(ring.code, ())
        )
        if free:
            yield Fault(
                "weaker ring",
                sheet.code,
                load.placed.start,
                f"{stage.step.name} is on {mine.code}, {ring.code} would do",
            )


def _takes(ring: RingFacts, load: Load, sheet: Sheet) -> bool:
    return load.placed.vessel not in ring.not_for and ring.site in ("", sheet.site)


def _leads_on(sheet: Sheet, stage: Stage) -> bool:
    """Whether another step hangs on the end of this one's hold."""
    index = sheet.stages.index(stage) + 1
    return index < len(sheet.stages) and not stage.step.night
