"""Which steps a run still needs, in which pot-loads: a recipe and a fibre made into stages.

A stage is one step for one weight of cloth that goes in together. The placer gives it a time.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import lru_cache
from itertools import combinations

from inventory.science.facts import FibreFacts, RingFacts, VesselFacts
from inventory.science.heating import mix_c
from sourcing.week.allowed import allowed_vessels, can_heat
from sourcing.week.facts import Recipe, RunFacts, Step, Water
from sourcing.week.house import House


@dataclass(frozen=True, slots=True)
class Option:
    """One way to hold a stage: so many rounds, each over these vessels."""

    rounds: int
    vessels: tuple[str, ...]
    working_ml: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Load:
    """What one vessel takes in one round."""

    vessel: str
    weight_mg: int
    litres_ml: Fraction
    minutes: tuple[tuple[int, int, int], ...]  # by ring, see `Stage.heat`; empty when unheated


@dataclass(frozen=True, slots=True)
class Stage:
    """One step for one weight of cloth."""

    step: Step
    weight_mg: int
    litres_ml: Fraction
    options: tuple[Option, ...]  # the first is preferred
    hands_min: int  # of the whole stage, for the preferred option
    hands_per_load: int  # of each load, when hands go by the load
    heats: tuple[tuple[int, int, int], ...]  # start °C, goal °C, hold minutes
    same: bool  # in the vessels of the stage before
    pause_after: int  # straining and a snippet before the next stage
    round_of: tuple[int, int] = (1, 1)
    snippet_hands: int = 0  # after the last of its rounds
    own_mg: int | None = None  # of the weight, where other runs' cloth is in; None: all of it
    shared_with: tuple[str, ...] = ()  # those runs
    rounds_from: tuple[int, ...] = ()  # of a run under way: minutes before which none begins

    @property
    def heated(self) -> bool:
        return bool(self.heats)


@lru_cache(maxsize=4096)
def options_for(
    litres_ml: Fraction, vessels: tuple[tuple[str, int], ...], most_at_once: int
) -> tuple[Option, ...]:
    """Ways to hold so many litres: fewest rounds first, then fewest vessels, then the smallest.

    Parameters
    ----------
    litres_ml : volume [mL], above 0
    vessels : code and working volume [mL], any order, may be empty
    most_at_once : vessels that can be in use together (rings, when the step is heated)
    """
    if not vessels or most_at_once < 1:
        return ()
    biggest = sorted((ml for _, ml in vessels), reverse=True)[:most_at_once]
    rounds = max(1, -(-litres_ml // sum(biggest)))
    share = litres_ml / rounds
    found: list[tuple[int, int, tuple[str, ...], tuple[int, ...]]] = []
    for count in range(1, min(len(vessels), most_at_once) + 1):
        for group in combinations(vessels, count):
            total = sum(ml for _, ml in group)
            if total < share or total - min(ml for _, ml in group) >= share:
                continue
            by_code = sorted(group)
            codes = tuple(code for code, _ in by_code)
            found.append((count, total, codes, tuple(ml for _, ml in by_code)))
        if len(found) > 200:
            break
    found.sort()
    return tuple(Option(rounds, codes, mls) for _, _, codes, mls in found)


def loads_of(stage: Stage, option: Option) -> list[tuple[str, int, Fraction]]:
    """Vessel, weight [mg] and liquor [mL] of each load of one round: shares by working litres."""
    whole = sum(option.working_ml)
    weight = Fraction(stage.weight_mg, option.rounds)
    litres = stage.litres_ml / option.rounds
    return [
        (vessel, round(weight * ml / whole), litres * ml / whole)
        for vessel, ml in zip(option.vessels, option.working_ml, strict=True)
    ]


def needed_steps(recipe: Recipe, fibre: FibreFacts | None) -> tuple[Step, ...]:
    """Steps that this fibre still needs: no scour or mordant twice, wet cloth is not wetted out.

    The rinse of a step that falls away falls away with it.
    """
    needed: list[Step] = []
    wet = fibre is not None and fibre.damp
    left_out = False
    for step in recipe.steps:
        left_out = _behind_it(step, recipe, fibre) or (left_out and step.kind == "rinse")
        if left_out or (step.kind == "wet out" and wet):
            continue
        needed.append(step)
        wet = wet or holds_cloth(step)
    return tuple(needed)


def _behind_it(step: Step, recipe: Recipe, fibre: FibreFacts | None) -> bool:
    """Whether a fibre has a scour or mordant behind it."""
    if fibre is None:
        return False
    if step.kind == "scour":
        return fibre.scoured
    return (
        step.kind == "mordant"
        and bool(recipe.mordant)
        and fibre.mordant == recipe.mordant
        and fibre.mordant_percent >= recipe.mordant_percent
    )


def holds_cloth(step: Step) -> bool:
    """Whether cloth is in a step's vessel; a soak and an extract hold the dyestuff alone."""
    return step.kind not in ("soak", "extract")


def timed(step: Step, fibre: str, house: House) -> Step:
    """A step with its time: wetting out takes the fibre's own where the recipe does not say."""
    found = next((row for row in house.wetting if row.item == fibre), None)
    if step.kind != "wet out" or step.stand_min or found is None:
        return step
    most = None if found.high is None else round(found.high * 60)
    least = round(found.value * 60)
    return replace(step, stand_min=least, stand_max=None if most is None else max(least, most))


@dataclass(frozen=True)
class Room:
    """Vessels, rings and water of one site."""

    site: str
    vessels: tuple[VesselFacts, ...]
    rings: tuple[RingFacts, ...]
    water: Water | None

    @property
    def water_c(self) -> int:
        return self.water.temperature_c if self.water else 10


def stages_for(
    run: RunFacts, recipe: Recipe, fibre: FibreFacts | None, room: Room, house: House
) -> tuple[Stage, ...]:
    """The stages of a run in order; those after the last night are repeated round by round."""
    return stages_of(run, recipe, needed_steps(recipe, fibre), room, house)


def stages_of(
    run: RunFacts, recipe: Recipe, needed: Iterable[Step], room: Room, house: House
) -> tuple[Stage, ...]:
    """The stages of such steps of a recipe, in order, for the whole of a run."""
    steps = tuple(timed(step, run.fibre, house) for step in needed)
    made = [_stage(step, index, steps, run.weight_mg, recipe, room, house)
            for index, step in enumerate(steps)]  # fmt: skip
    return _by_rounds(made, run, recipe, room, house, steps)


def _by_rounds(
    made: list[Stage],
    run: RunFacts,
    recipe: Recipe,
    room: Room,
    house: House,
    steps: tuple[Step, ...],
) -> tuple[Stage, ...]:
    """Loads that share no overnight hold: dye and what follows it, once for each round."""
    parting = next((n for n in range(len(made)) if _parts_from(made, n)), None)
    if parting is None:
        return tuple(made)
    rounds, first = _rounds(made[parting]), parting
    while first and stands_on(made[first - 1].step):
        # What stands until the next step takes it stands for its own round only.
        first -= 1
    # Litres by the exact part: a milligram from rounding must not ask for another load.
    part = Fraction(run.weight_mg, rounds)
    tail = []
    for number in range(rounds):
        weight = round(part * (number + 1)) - round(part * number)
        for index in range(first, len(steps)):
            stage = _stage(steps[index], index, steps, weight, recipe, room, house, part)
            stage = replace(
                stage,
                hands_min=_share_of_hands(stage, number, rounds),
                round_of=(number + 1, rounds),
            )
            mixed = index == first > 0 and steps[index - 1].strained_c is not None
            tail.append(_from_cold(stage, house) if number and mixed else stage)
    return (*made[:first], *tail)


def _share_of_hands(stage: Stage, number: int, rounds: int) -> int:
    """Hands of a stage that each round has for itself: those for the whole run are shared out."""
    if stage.step.hands_per != "run":
        return stage.hands_min
    return stage.hands_min * (number + 1) // rounds - stage.hands_min * number // rounds


def stands_on(step: Step) -> bool:
    """Whether a step stands in its liquor, unattended, until the next one takes over."""
    return bool(step.stand_min) and step.kind not in ("after-bath", "rinse")


def _parts_from(made: list[Stage], index: int) -> bool:
    """Whether the loads go their own ways from here: no shared night, no bath to come back to."""
    stage = made[index]
    if _rounds(stage) == 1:
        return False
    followed = index + 1 < len(made) and made[index + 1].same
    return followed or (stage.step.kind == "dye" and stage.step.night)


def _from_cold(stage: Stage, house: House) -> Stage:
    """A later round's liquor has stood: its first heating starts at the shed's warmth."""
    if not stage.heats or stage.step.heats[0].start_c is not None:
        return stage
    _, goal, hold = stage.heats[0]
    return replace(stage, heats=((round(house.shed_c), goal, hold), *stage.heats[1:]))


def _rounds(stage: Stage) -> int:
    return stage.options[0].rounds if stage.options else 1


def _load_count(stage_options: tuple[Option, ...]) -> int:
    return stage_options[0].rounds * len(stage_options[0].vessels) if stage_options else 1


def _options(
    step: Step,
    index: int,
    steps: tuple[Step, ...],
    weight_mg: int | Fraction,
    recipe: Recipe,
    room: Room,
) -> tuple[Option, ...]:
    """Ways to hold a step, for `same` those of the step whose vessels it shares."""
    while "same" in steps[index].vessels and index > 0:
        index -= 1
    holder = steps[index]
    if not holder.vessels:
        return ()
    litres = _litres(holder, weight_mg, recipe)
    fit = allowed_vessels(room.vessels, holder, bright=recipe.bright, site=room.site)
    heated = bool(holder.heats) or bool(step.heats)
    if heated:
        fit = tuple(vessel for vessel in fit if can_heat(vessel, room.rings))
    most = len(room.rings) if heated else len(fit)
    if holder.one_lot:
        most = 1
    found = options_for(litres, tuple((v.code, v.working_ml) for v in fit), most)
    if holder.kind in ("extract", "dye") and any(_goes_by_dye_load(row) for row in steps):
        # Hands and straining before the dye are counted for so many pot-loads: keep to them.
        return tuple(row for row in found if len(row.vessels) == len(found[0].vessels))
    return found


def _goes_by_dye_load(step: Step) -> bool:
    return step.strain or step.hands_per == "dye load"


def _litres(step: Step, weight_mg: int | Fraction, recipe: Recipe) -> Fraction:
    ratio = recipe.l_per_kg if step.l_per_kg is None else step.l_per_kg
    return Fraction(ratio) * weight_mg / 1000


def _stage(
    step: Step,
    index: int,
    steps: tuple[Step, ...],
    weight_mg: int,
    recipe: Recipe,
    room: Room,
    house: House,
    part: Fraction | None = None,
) -> Stage:
    """A step for a weight; `part` is the exact weight of which that is whole milligrams."""
    exact = weight_mg if part is None else part
    litres = _litres(step, exact, recipe)
    options = _options(step, index, steps, exact, recipe, room) if step.vessels else ()
    dye_loads = _dye_loads(index, steps, exact, recipe, room)
    per_load = step.hands_min if step.hands_per == "load" else 0
    before = steps[index - 1] if index else None
    return Stage(
        step=step,
        weight_mg=weight_mg,
        litres_ml=litres,
        options=options,
        hands_min=_hands(step, weight_mg, _load_count(options), dye_loads),
        hands_per_load=per_load,
        heats=_heats(step, before, litres, exact, recipe, room),
        same="same" in step.vessels and index > 0,
        pause_after=_pause_after(step, dye_loads, house),
        snippet_hands=step.snippet_hands_min if step.takes_snippet else 0,
    )


def with_others(
    stages: tuple[Stage, ...],
    index: int,
    recipe: Recipe,
    room: Room,
    house: House,
    *,
    others: tuple[Stage, ...],
    bright: bool,
    shared_with: tuple[str, ...],
) -> Stage | None:
    """A stage whose vessels take other runs' cloth as well; None: not in one round.

    Parameters
    ----------
    others : the same stage of each of the others, by itself
    bright : whether iron would spoil any of the cloth
    """
    mine = stages[index]
    steps = tuple(stage.step for stage in stages)
    made = _stage(
        mine.step,
        index,
        steps,
        mine.weight_mg + sum(stage.weight_mg for stage in others),
        replace(recipe, bright=bright),
        room,
        house,
    )
    if mine.step.vessels and (not made.options or made.options[0].rounds > 1):
        return None
    if mine.step.hands_per == "dye load":
        # Each run's dye has its own pots, which are prepared one by one.
        made = replace(made, hands_min=sum(stage.hands_min for stage in (mine, *others)))
    if mine.step.strain:
        more = sum(stage.pause_after - house.strain for stage in others)
        made = replace(made, pause_after=mine.pause_after + more)
    return replace(made, own_mg=mine.weight_mg, shared_with=shared_with)


def _pause_after(step: Step, dye_loads: int, house: House) -> int:
    """Minutes between a step and the next: straining into the pots, then a snippet in a jug."""
    if not step.strain:
        return 0
    snippet = step.snippet_min if step.takes_snippet else 0
    return house.strain + house.strain_per_load * dye_loads + snippet


def _dye_loads(
    index: int, steps: tuple[Step, ...], weight_mg: int | Fraction, recipe: Recipe, room: Room
) -> int:
    """Pot-loads of the dye step that this step prepares, itself if there is none after it."""
    for later in range(index, len(steps)):
        if steps[later].kind == "dye":
            found = _options(steps[later], later, steps, weight_mg, recipe, room)
            return _load_count(found)
    return 1


def _hands(step: Step, weight_mg: int, loads: int, dye_loads: int) -> int:
    if step.hands_per == "kg":
        return int(Fraction(step.hands_min) * weight_mg / 1_000_000 + Fraction(1, 2))
    return step.hands_min * {"load": loads, "run": 1, "dye load": dye_loads}[step.hands_per]


def _heats(
    step: Step,
    before: Step | None,
    litres: Fraction,
    weight_mg: int | Fraction,
    recipe: Recipe,
    room: Room,
) -> tuple[tuple[int, int, int], ...]:
    """Start, goal and hold of each heating; the first starts from fresh water or from the mix."""
    heats = []
    start = room.water_c
    if before is not None and before.strain and before.strained_c is not None:
        start = mixed_c(_litres(before, weight_mg, recipe), before.strained_c, litres, room.water_c)
    for heat in step.heats:
        begin = start if heat.start_c is None else heat.start_c
        heats.append((begin, heat.goal_c, heat.hold_min))
        start = heat.goal_c
    return tuple(heats)


def mixed_c(extract_ml: Fraction, extract_c: int, whole_ml: Fraction, water_c: int) -> int:
    """Warmth of an extract filled up with cold water, in whole degrees."""
    part = min(extract_ml, whole_ml)
    return round(mix_c(((part, Fraction(extract_c)), (whole_ml - part, Fraction(water_c)))))
