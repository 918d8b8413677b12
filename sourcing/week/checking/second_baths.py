"""Baths used again: full shade first, within the keep days, no deeper, no bright after iron."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from fractions import Fraction

from inventory.science.facts import BathFacts
from inventory.science.keeping import bath_last_good_day
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.sheet import Sheet, Stage
from sourcing.week.facts import Recipe, Step
from sourcing.week.plan import Take, Week

ENDING = "-bath"  # behind a run's code: what it leaves in its pots


@dataclass(frozen=True, slots=True)
class Before:
    """The bath that a run dyes in, as the one before left it."""

    ratio: Fraction  # litres for each kilo that was dyed in it first
    free_at: datetime
    facts: BathFacts


def left_by_runs(week: Week, ground: Ground) -> dict[str, tuple[int, str]]:
    """What placed runs leave in their pots, by the code it is taken under."""
    found = {}
    for answer in week.answers:
        run = ground.runs.get(answer.run)
        recipe = ground.recipes.get(run.recipe) if run is not None else None
        if run is None or recipe is None or run.bath or run.group_block:
            continue
        step = _dye(recipe)
        placed = answer.answer != "no" and step is not None and any(
            row.step == step.name for row in answer.steps
        )  # fmt: skip
        if step is not None and (placed or answer.run + ENDING in _kept_for(ground)):
            found[answer.run + ENDING] = round(_ratio(recipe, step) * run.weight_mg), "µL"
    return found


def _kept_for(ground: Ground) -> set[str]:
    """Codes of baths that begun runs took into their plans before they were there."""
    plans = (run.kept for run in ground.runs.values() if run.kept is not None)
    return {code for kept in plans for code in kept.to_come}


def second_bath_takes(sheet: Sheet) -> list[Take]:
    """What a run takes of the bath of another shade."""
    step = _dye(sheet.recipe)
    if not sheet.recipe.second_of or step is None or sheet.run.group_block:
        return []
    return [row for row in sheet.answer.takes if row.step == step.name and row.what == "dyebath"]


def faults_in_second_baths(sheets: list[Sheet], ground: Ground) -> Iterator[Fault]:
    """Each run that follows in a bath, against the bath."""
    by_run = {sheet.code: sheet for sheet in sheets}
    for sheet in sheets:
        if not sheet.recipe.second_of or sheet.run.group_block:
            continue
        if sheet.run.kept is not None:
            yield from _begun_too_soon(sheet, by_run, ground)
            continue
        takes = second_bath_takes(sheet)
        first = ground.recipes.get(sheet.recipe.second_of)
        if first is None or _dye(first) is None or len(takes) != 1:
            yield Fault("second bath", sheet.code, None, f"{len(takes)} baths are taken, not one")
            continue
        for why in _wrong(sheet, takes[0], first, by_run, ground):
            yield Fault("second bath", sheet.code, takes[0].at, f"{takes[0].source}: {why}")


def _begun_too_soon(
    sheet: Sheet, by_run: dict[str, Sheet], ground: Ground
) -> Iterator[Fault]:  # fmt: skip
    """Cloth of a begun run that would go in before that of another is out, and nobody says so."""
    step = _dye(sheet.recipe)
    stage = None if step is None else sheet.stage(step.name)
    loads = () if stage is None else stage.loads
    if any(load.placed.done_at is not None for load in loads) or sheet.answer.warnings:
        return
    for take in second_bath_takes(sheet):
        other = by_run.get(take.source.removesuffix(ENDING))
        if other is None or other.run.kept is None or stage is None:
            continue
        before = _left_by(other, by_run, ground)
        if before is not None and ground.moment(stage.start) < before.free_at:
            free = f"{before.free_at:%a %d %H:%M}"
            yield Fault("second bath", sheet.code, take.at, f"{take.source}: is free {free}")


def _wrong(
    sheet: Sheet, take: Take, first: Recipe, by_run: dict[str, Sheet], ground: Ground
) -> Iterator[str]:
    baths, dyestuffs = _line_of(sheet.recipe, ground)
    for what in dyestuffs:
        most = ground.number(what, "exhaust_baths", str(_any_baths(ground)))
        if baths > most:
            yield f"{what} colours {most} baths, this is number {baths}"
    before = _before(take, first, by_run, ground)
    if before is None:
        yield f"is no bath of {first.shade}"
        return
    bath, recipe = before.facts, sheet.recipe
    used = bath.times_used or 1  # one that is kept has been dyed in
    if used != baths - 1:
        yield f"was dyed in {used} times, this is to be bath number {baths}"
    if take.at < before.free_at:
        yield f"is free {before.free_at:%a %d %H:%M}"
    good = bath_last_good_day(bath, ground.facts.figures, zone=ground.zone).day
    if ground.day_of(minute_of(take.at)) > good:
        yield f"ends {good:%a %d}"
    if bath.set_aside:
        yield "is set aside"
    if bath.site not in ("", sheet.site, take.carried_from):
        yield f"is at {bath.site}"
    if bath.metal and recipe.bright:
        yield f"holds {bath.metal}, the shade is bright"
    if bath.metal == "iron" and not _in_iron_pots(sheet, ground):
        yield "holds iron, and goes into a pot that has none"
    if bath.depth and recipe.depth > bath.depth:
        yield "is too pale for the shade"
    yield from _amount(sheet, take, before, baths, ground)


def _amount(
    sheet: Sheet, take: Take, before: Before, baths: int, ground: Ground
) -> Iterator[str]:  # fmt: skip
    """As much cloth takes a share of the shade before; what is taken goes by litres."""
    step = _dye(sheet.recipe)
    assert step is not None
    fade = _share(baths, ground) / _share(baths - 1, ground)
    wanted = fade if sheet.recipe.strength is None else sheet.recipe.strength
    each = before.ratio * wanted / fade
    if each > _ratio(sheet.recipe, step):
        yield f"{float(each):g} L a kilo do not go into {float(_ratio(sheet.recipe, step)):g}"
    litres = each * sheet.run.weight_mg
    if abs(litres - take.amount) > 1:
        yield f"{take.amount} µL are taken, {float(litres):.0f} give the shade"


def _share(number: int, ground: Ground) -> Fraction:
    """The shade of a bath, of the first one's."""
    second = Fraction(ground.number("studio", "second_bath_strength_fraction"))
    third = Fraction(ground.number("studio", "third_bath_strength_fraction"))
    known = {1: Fraction(1), 2: second, 3: third}
    while number not in known:
        known[len(known) + 1] = known[len(known)] * third / second
    return known[number]


def _any_baths(ground: Ground) -> int:
    return int(ground.number("any dyestuff", "exhaust_baths"))


def _line_of(recipe: Recipe, ground: Ground) -> tuple[int, set[str]]:
    """Which bath of a line a recipe is dyed in, and the dyestuffs of those before."""
    number, found, seen = 1, set[str](), {recipe.code}
    while recipe.second_of in ground.recipes and recipe.second_of not in seen:
        recipe, number = ground.recipes[recipe.second_of], number + 1
        seen.add(recipe.code)
        found |= {dose.what for dose in recipe.doses if dose.kind == "dyestuff"}
    return number, found


def _before(
    take: Take, first: Recipe, by_run: dict[str, Sheet], ground: Ground
) -> Before | None:  # fmt: skip
    step = _dye(first)
    assert step is not None
    kept = ground.baths.get(take.source)
    if kept is not None:
        known = kept.what == "dyebath" and kept.shade == first.shade
        return Before(_ratio(first, step), ground.facts.at, kept) if known else None
    run = take.source.removesuffix(ENDING)
    other = by_run.get(run)
    if other is None or take.source == run or other.recipe.shade != first.shade:
        return None
    return _left_by(other, by_run, ground)


def _left_by(other: Sheet, by_run: dict[str, Sheet], ground: Ground) -> Before | None:
    step = _dye(other.recipe)
    stages = [] if step is None else _in_the_bath(other, step)
    if step is None or not stages:
        return None
    out = max(load.held_until for stage in stages for load in stage.loads)
    facts = BathFacts(
        other.code + ENDING,
        "dyebath",
        ground.moment(out),
        round(_ratio(other.recipe, step) * other.run.weight_mg),
        float(ground.number("studio", "shed_c")),
        shade=other.recipe.shade,
        depth=other.recipe.depth,
        metal=_metal(other, stages, by_run, ground),
        times_used=_line_of(other.recipe, ground)[0],
        site=other.site,
    )
    return Before(_ratio(other.recipe, step), ground.moment(out), facts)


def _in_the_bath(sheet: Sheet, step: Step) -> list[Stage]:
    """The stage that dyes, and those after it in the same pots."""
    found: list[Stage] = []
    for stage in sheet.stages:
        if stage.step.name == step.name or (found and "same" in stage.step.vessels):
            found.append(stage)
        elif found:
            break
    return found


def _metal(sheet: Sheet, stages: list[Stage], by_run: dict[str, Sheet], ground: Ground) -> str:
    names = {stage.step.name for stage in stages}
    metals = {stage.step.metal for stage in stages}
    metals |= {d.what for d in sheet.recipe.doses if d.kind == "liquor" and d.step in names}
    for take in sheet.answer.takes:
        if take.source in ground.baths:
            metals.add(ground.baths[take.source].metal)
        elif take.source.endswith(ENDING) and take.source.removesuffix(ENDING) in by_run:
            before = _left_by(by_run[take.source.removesuffix(ENDING)], by_run, ground)
            metals.add("" if before is None else before.facts.metal)
    return "iron" if "iron" in metals else max(metals)


def _in_iron_pots(sheet: Sheet, ground: Ground) -> bool:
    step = _dye(sheet.recipe)
    stage = None if step is None else sheet.stage(step.name)
    pots = [] if stage is None else [load.placed.vessel for load in stage.loads]
    return all(code in ground.vessels and ground.vessels[code].iron_pot for code in pots)


def _dye(recipe: Recipe) -> Step | None:
    return next((step for step in recipe.steps if step.kind == "dye"), None)


def _ratio(recipe: Recipe, step: Step) -> Fraction:
    return Fraction(recipe.l_per_kg if step.l_per_kg is None else step.l_per_kg)
