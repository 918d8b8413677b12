"""Every load is in a pot that may hold it, at one ratio, warmed for as long as it takes."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache

from inventory.science.facts import RingFacts, VesselFacts
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground
from sourcing.week.checking.sheet import STANDS_ATTENDED, Load, Round, Sheet, Stage, stands
from sourcing.week.facts import Step

SOFT_METALS = ("aluminium", "copper", "brass", "tin")
ML_TOLERANCE = 2  # litres on the sheet are rounded


def faults_in_loads(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Everything that is wrong with pots, rings, litres, weights and heats of a run."""
    before: Stage | None = None
    for stage in sheet.stages:
        yield from _weights(sheet, stage, ground)
        yield from _rounds(sheet, stage, before, ground)
        for part in stage.rounds:
            yield from _shares(sheet, stage, part, ground)
        for load in stage.loads:
            yield from _vessel(sheet, stage, load, ground)
            yield from _over_the_flame(sheet, stage, before, load, ground)
        before = stage


# -- pots ------------------------------------------------------------------------------------


def holder_of(sheet: Sheet, stage: Stage) -> Step:
    """The step that chose the vessel: for `same`, the one whose pot is kept."""
    index = sheet.recipe.steps.index(stage.step)
    while index and "same" in sheet.recipe.steps[index].vessels:
        index -= 1
    return sheet.recipe.steps[index]


def barred(vessel: VesselFacts, step: Step, holder: Step, *, bright: bool) -> str:
    """Why a vessel may not hold a step; empty when it may."""
    if vessel.food:
        return "is used for food"
    kind = "iron pot" if vessel.kind == "pot" and vessel.iron_pot else vessel.kind
    wanted_metal = f"{vessel.material} {kind}" in holder.vessels
    if kind not in holder.vessels and not wanted_metal:
        return f"is not a {' or '.join(holder.vessels)} but {_a(kind)}"
    if step.metal == "iron" and vessel.kind == "pot" and not vessel.iron_pot:
        return "is not kept for iron"
    if vessel.material in SOFT_METALS and not wanted_metal:
        return f"is of {vessel.material}"
    return _dulls(vessel) if bright and step.metal != "iron" else ""


def _a(kind: str) -> str:
    return f"an {kind}" if kind[:1] in "aeiou" else f"a {kind}"


def _dulls(vessel: VesselFacts) -> str:
    if vessel.iron_pot:
        return "is kept for iron"
    if vessel.chipped:
        return "is chipped"
    proved = vessel.blank_passed_on
    if vessel.iron_on is not None and (proved is None or proved < vessel.iron_on):
        return "had iron and has passed no blank swatch since"
    return ""


def _vessel(sheet: Sheet, stage: Stage, load: Load, ground: Ground) -> Iterator[Fault]:
    code, step = load.placed.vessel, stage.step
    at, what = load.placed.start, stage.step.name
    if not code:
        if step.vessels:
            yield Fault("pot", sheet.code, at, f"{what} is in no pot")
        return
    vessel = ground.vessels.get(code)
    if vessel is None:
        yield Fault("pot", sheet.code, at, f"{what} is in {code}, which is not here")
        return
    why = barred(vessel, step, holder_of(sheet, stage), bright=sheet.recipe.bright)
    if why:
        yield Fault("pot", sheet.code, at, f"{what} may not be in {code}: it {why}")
    if load.together_l * 1000 > vessel.working_ml + len(load.others):
        yield Fault(
            "litres",
            sheet.code,
            at,
            f"{what}: {load.together_l} L in {code}, which takes {vessel.working_ml / 1000} L",
        )
    if vessel.site not in ("", sheet.site):
        yield Fault("site", sheet.code, at, f"{what} is in {code} at {vessel.site}")


# -- weights and litres ----------------------------------------------------------------------


def _weights(sheet: Sheet, stage: Stage, ground: Ground) -> Iterator[Fault]:
    together = sum(load.placed.weight_mg for load in stage.loads)
    if abs(together - sheet.run.weight_mg) > len(stage.loads):
        yield Fault(
            "weight",
            sheet.code,
            ground.moment(stage.start),
            f"loads of {stage.step.name} make {together / 1000} g, the run is "
            f"{sheet.run.weight_mg / 1000} g",
        )


def ratio_of(step: Step, sheet: Sheet) -> Fraction:
    """Litres a kg that a step wants."""
    return Fraction(sheet.recipe.l_per_kg if step.l_per_kg is None else step.l_per_kg)


def _shares(sheet: Sheet, stage: Stage, part: Round, ground: Ground) -> Iterator[Fault]:
    """One ratio in every pot, and within a round shares by working litres."""
    if not stage.step.vessels:
        return
    ratio = ratio_of(holder_of(sheet, stage), sheet)
    fill: list[tuple[Fraction, int]] = []
    for load in part.loads:
        wanted_ml = ratio * load.placed.weight_mg / 1000
        given_ml = Fraction(load.placed.litres) * 1000
        if abs(given_ml - wanted_ml) > ML_TOLERANCE:
            yield Fault(
                "ratio",
                sheet.code,
                load.placed.start,
                f"{stage.step.name}: {load.placed.litres} L for "
                f"{load.placed.weight_mg / 1000} g, {float(wanted_ml) / 1000:g} L wanted",
            )
        vessel = ground.vessels.get(load.placed.vessel)
        if vessel is not None:
            fill.append((given_ml, vessel.working_ml))
    whole_ml = sum((ml for ml, _ in fill), start=Fraction(0))
    room_ml = sum(room for _, room in fill)
    for given_ml, working_ml in fill:
        if abs(given_ml - whole_ml * working_ml / room_ml) > ML_TOLERANCE:
            yield Fault(
                "shares",
                sheet.code,
                part.loads[0].placed.start,
                f"{stage.step.name}: {float(given_ml) / 1000:g} L is not the share of a pot "
                f"that takes {working_ml / 1000:g} L",
            )


def _rounds(sheet: Sheet, stage: Stage, before: Stage | None, ground: Ground) -> Iterator[Fault]:
    """As few rounds as the pots allow, equal in weight."""
    if not stage.step.vessels:
        return
    weights = [part.weight_mg for part in stage.rounds]
    if max(weights) - min(weights) > len(stage.loads):
        yield Fault(
            "rounds",
            sheet.code,
            ground.moment(stage.start),
            f"rounds of {stage.step.name} are not equal: {[mg / 1000 for mg in weights]} g",
        )
    if stage.step.one_lot and any(len(part.loads) > 1 for part in stage.rounds):
        yield Fault(
            "one vessel", sheet.code, ground.moment(stage.start), f"{stage.step.name} is shared out"
        )
    fewest = _fewest_rounds(sheet, stage, before, ground)
    if fewest and len(stage.rounds) > fewest and sheet.parting is None:
        yield Fault(
            "fewest rounds",
            sheet.code,
            ground.moment(stage.start),
            f"{stage.step.name} is worked in {len(stage.rounds)} rounds, {fewest} would do",
        )


def _fewest_rounds(sheet: Sheet, stage: Stage, before: Stage | None, ground: Ground) -> int:
    holder = holder_of(sheet, stage)
    heated = bool(stage.step.heats or holder.heats)
    standing = set()
    if before is not None and stands(before.step):
        standing = {load.placed.vessel for load in before.loads}
    fit = [
        vessel
        for vessel in ground.vessels.values()
        if vessel.site in ("", sheet.site)
        and vessel.code not in standing
        and not barred(vessel, holder, holder, bright=sheet.recipe.bright)
    ]
    rings = [ring for ring in ground.rings.values() if ring.site in ("", sheet.site)]
    most_ml = most_together(
        tuple((vessel.code, vessel.working_ml) for vessel in fit),
        tuple(ring.not_for for ring in rings) if heated else None,
    )
    if holder.one_lot:
        most_ml = max(
            (v.working_ml for v in fit if not heated or _on_any(v.code, rings)), default=0
        )
    litres_ml = ratio_of(holder, sheet) * sheet.run.weight_mg / 1000
    return -int(-litres_ml // most_ml) if most_ml else 0


def _on_any(vessel: str, rings: list[RingFacts]) -> bool:
    return any(vessel not in ring.not_for for ring in rings)


@lru_cache(maxsize=4096)
def most_together(
    vessels: tuple[tuple[str, int], ...], rings: tuple[tuple[str, ...], ...] | None
) -> int:
    """The most working litres [mL] that can be in use together, each heated pot on its own ring.

    The largest pots first, each kept if rings can be dealt out so that all kept ones have one
    (a matching by augmenting paths: Kuhn 1955; largest first is best for weights on one side).
    """
    if rings is None:
        return sum(ml for _, ml in vessels)
    holder: dict[int, str] = {}

    def seat(vessel: str, tried: set[int]) -> bool:
        for number, not_for in enumerate(rings):
            if vessel in not_for or number in tried:
                continue
            tried.add(number)
            if number not in holder or seat(holder[number], tried):
                holder[number] = vessel
                return True
        return False

    return sum(
        ml for code, ml in sorted(vessels, key=lambda row: (-row[1], row[0])) if seat(code, set())
    )


# -- heat ------------------------------------------------------------------------------------


def _over_the_flame(
    sheet: Sheet, stage: Stage, before: Stage | None, load: Load, ground: Ground
) -> Iterator[Fault]:
    placed, step = load.placed, stage.step
    if not step.heats:
        if placed.ring:
            yield Fault("ring", sheet.code, placed.start, f"{step.name} is not heated")
        yield from _lasts(sheet, stage, load)
        return
    ring = ground.rings.get(placed.ring)
    if ring is None:
        yield Fault("ring", sheet.code, placed.start, f"{step.name} stands on no ring")
        return
    if placed.vessel in ring.not_for:
        yield Fault("ring", sheet.code, placed.start, f"{ring.code} does not take {placed.vessel}")
    if ring.site not in ("", sheet.site):
        yield Fault("site", sheet.code, placed.start, f"{ring.code} is at {ring.site}")
    low, high = _heating(sheet, stage, before, load, ring, ground)
    hold = sum(heat.hold_min for heat in step.heats)
    if not low <= placed.heat_min <= high:
        yield Fault(
            "heat",
            sheet.code,
            placed.start,
            f"{step.name}: {placed.litres} L on {ring.code} come up in {low} min, "
            f"not {placed.heat_min}",
        )
    if placed.hold_min != hold:
        yield Fault(
            "hold",
            sheet.code,
            placed.start,
            f"{step.name} is held {placed.hold_min} min, {hold} by the recipe",
        )
    if load.end < load.lit_until:
        yield Fault("hold", sheet.code, placed.start, f"{step.name} ends before its hold")


def _lasts(sheet: Sheet, stage: Stage, load: Load) -> Iterator[Fault]:
    """An after-bath stands its time, a rinse takes its hands' time."""
    step, placed = stage.step, load.placed
    wanted = 0
    if step.kind == "rinse":
        together = [row for row in stage.loads if row.start == load.start]
        wanted = max(sum(row.placed.hands_min for row in together), step.stand_min)
    elif step.kind == STANDS_ATTENDED or (step.vessels and step.stand_min):
        wanted = step.stand_min
    elif not step.vessels:
        wanted = max(placed.hands_min, step.stand_min)
    if load.end - load.start < wanted:
        yield Fault(
            "too short",
            sheet.code,
            placed.start,
            f"{step.name} takes {wanted} min, {load.end - load.start} are given",
        )


def _heating(
    sheet: Sheet,
    stage: Stage,
    before: Stage | None,
    load: Load,
    ring: RingFacts,
    ground: Ground,
) -> tuple[int, int]:
    """Minutes to bring a load to its heats, L x 4.186 x dT / (kW x efficiency x 60), each rounded.

    Two values where half a minute may be rounded either way or the warmth may.
    """
    litres = ratio_of(holder_of(sheet, stage), sheet) * load.together_mg / 1_000_000
    # Weights are rounded to the milligram, so a half may fall to either side.
    edge = Fraction(1 + len(load.others), 10_000)
    low = high = 0
    warm_low, warm_high = first_warmth(sheet, stage, before, load, ground)
    for heat in stage.step.heats:
        if heat.start_c is not None:
            warm_low = warm_high = heat.start_c
        low += _minutes(litres, heat.goal_c - warm_high, ring, ground, -edge)
        high += _minutes(litres, heat.goal_c - warm_low, ring, ground, edge)
        warm_low = warm_high = heat.goal_c
    return low, high


def minutes_over(
    sheet: Sheet,
    stage: Stage,
    before: Stage | None,
    load: Load,
    ring: RingFacts,
    ground: Ground,
) -> int:
    """Minutes that a load would be over a ring's flame, heating and holds, at the most."""
    _, heating = _heating(sheet, stage, before, load, ring, ground)
    return heating + sum(heat.hold_min for heat in stage.step.heats)


def _minutes(litres: Fraction, rise_c: int, ring: RingFacts, ground: Ground, edge: Fraction) -> int:
    kilowatts = Fraction(ring.watts, 1000) * ground.rules.efficiency
    exact = litres * Fraction("4.186") * max(0, rise_c) / (kilowatts * 60)
    return int(exact + Fraction(1, 2) + edge)


def first_warmth(
    sheet: Sheet, stage: Stage, before: Stage | None, load: Load, ground: Ground
) -> tuple[int, int]:
    """Warmth of the liquor when it is put on: cold water, or a strained extract filled up.

    What is left of an extract for a later round has stood and is as cold as the shed.
    """
    cold = ground.cold_water_c(sheet.site)
    cold = 10 if cold is None else cold
    if before is None or not before.step.strain or before.step.strained_c is None:
        return cold, cold
    if id(load) in sheet.later_loads():
        shed = round(ground.number("studio", "shed_c"))
        return shed, shed
    whole = ratio_of(holder_of(sheet, stage), sheet)
    part = min(ratio_of(holder_of(sheet, before), sheet), whole)
    exact = (part * before.step.strained_c + (whole - part) * cold) / whole
    return int(exact + Fraction(1, 2) - Fraction(1, 1000)), int(exact + Fraction(1, 2))
