"""Runs in one pot: at the very same hours, the same work, nothing that would harm the other."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

from inventory.science.catalogue import find_figure
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground
from sourcing.week.checking.sheet import Load, Round, Sheet, Stage
from sourcing.week.facts import Step

WET_WORK = ("scour", "mordant", "extract")
Where = tuple[object, ...]


def with_shared_pots(sheets: list[Sheet]) -> list[Sheet]:
    """The sheets, each load with those of other runs that say of each other that they share it."""
    there: dict[Where, list[Load]] = defaultdict(list)
    for sheet in sheets:
        for load in sheet.loads:
            if load.placed.shared_with:
                there[_where(load, sheet)].append(load)
    dyes = {sheet.code: sheet.dye_loads for sheet in sheets}
    return [_with_others(sheet, there, dyes) for sheet in sheets] if there else sheets


def _where(load: Load, sheet: Sheet) -> Where:
    """The pot and its hours; of runs under way the pot, as each is done when somebody says so."""
    row = load.placed
    if sheet.run.kept is not None:
        return row.vessel, row.kind
    return row.vessel, row.kind, row.ring, row.start, row.end, row.held_until


def _with_others(sheet: Sheet, there: dict[Where, list[Load]], dyes: dict[str, int]) -> Sheet:
    stages = []
    for stage in sheet.stages:
        rounds = [
            Round([_beside(load, sheet, there, dyes) for load in part.loads])
            for part in stage.rounds
        ]
        stages.append(Stage(stage.step, rounds))
    return replace(sheet, stages=stages)


def _beside(load: Load, sheet: Sheet, there: dict[Where, list[Load]], dyes: dict[str, int]) -> Load:
    mine = load.placed
    if not mine.shared_with:
        return load
    others = {
        row.placed.run: row.placed
        for row in there[_where(load, sheet)]
        if row.placed.run in mine.shared_with and mine.run in row.placed.shared_with
    }
    return replace(
        load,
        others=tuple(others[code] for code in sorted(others)),
        others_dye_loads=sum(dyes[code] for code in others),
    )


def faults_in_sharing(sheets: list[Sheet], ground: Ground) -> Iterator[Fault]:
    """Pots said to be shared that are not, or that may not be."""
    by_run = {sheet.code: sheet for sheet in sheets}
    for sheet in sheets:
        for stage in sheet.stages:
            for load in stage.loads:
                yield from _of_load(sheet, stage, load, by_run, ground)


def _of_load(
    sheet: Sheet, stage: Stage, load: Load, by_run: dict[str, Sheet], ground: Ground
) -> Iterator[Fault]:
    at, name = load.placed.start, stage.step.name
    found = {row.run for row in load.others}
    for code in load.placed.shared_with:
        if code not in found and sheet.run.kept is None:
            yield Fault("shared", sheet.code, at, f"{name}: {code} is not in its pot just then")
    for row in load.others:
        other = by_run[row.run]
        theirs = other.stage(row.step)
        if theirs is None or sheet.run.kept is not None:
            continue
        for kind, why in _why_not(sheet, stage, other, theirs, ground):
            yield Fault(kind, sheet.code, at, f"{name} in one pot with {other.code}: {why}")


def _why_not(
    sheet: Sheet, stage: Stage, other: Sheet, theirs: Stage, ground: Ground
) -> Iterator[tuple[str, str]]:
    """Each rule that two runs in one pot break."""
    step = stage.step
    if step.kind in WET_WORK:
        for recipe in (sheet.recipe, other.recipe):
            if step.kind not in recipe.may_share:
                yield "shared recipe", f"{recipe.shade} shares no {step.kind}"
    elif step.kind != "rinse":
        yield "shared recipe", f"{step.kind} is work for one run"
    if _as_work(step, sheet) != _as_work(theirs.step, other):
        yield "shared step", f"{theirs.step.name} is other work"
    if _takes(step, sheet) != _takes(theirs.step, other):
        yield "shared step", f"{theirs.step.name} takes other amounts"
    if step.kind == "extract" and "lot" in (sheet.recipe.match, other.recipe.match):
        yield "shared lot", "one of them is to be of one lot only"
    if step.kind == "mordant" and _mordant(sheet) != _mordant(other):
        yield "shared mordant", f"{_mordant(sheet)} and {_mordant(other)}"
    if not _one_kind(sheet.run.fibre, other.run.fibre, ground):
        yield "shared fibre", f"{sheet.run.fibre} and {other.run.fibre}"
    lots = (*sheet.fibre, *other.fibre)
    bright = sheet.recipe.bright or other.recipe.bright
    if bright and any(lot.iron_percent > 0 for lot in lots):
        yield "shared iron", "there is iron in the cloth and one shade is bright"
    if any(lot.shade for lot in lots):
        yield "shared dye", "one is dyed already"
    if sheet.recipe.water != other.recipe.water:
        yield "shared water", "they want other water"


def _as_work(step: Step, sheet: Sheet) -> tuple[object, ...]:
    ratio = sheet.recipe.l_per_kg if step.l_per_kg is None else step.l_per_kg
    return (step.kind, step.vessels, ratio, step.heats, step.stand_min, step.night,
            step.cool_min, step.hands_min, step.hands_per, step.strain, step.strained_c,
            step.one_lot, step.snippet_min)  # fmt: skip


def _takes(step: Step, sheet: Sheet) -> list[tuple[object, ...]]:
    return sorted((dose.kind, dose.what, dose.state, dose.per_fibre, dose.ml_per_100g,
                   dose.l_per_kg)
                  for dose in sheet.recipe.doses if dose.step == step.name)  # fmt: skip


def _mordant(sheet: Sheet) -> str:
    return f"{sheet.recipe.mordant_percent} % {sheet.recipe.mordant}"


def _one_kind(fibre: str, other: str, ground: Ground) -> bool:
    """Whether both are of hair and silk, or both of plants."""
    if fibre == other:
        return True
    rows = [find_figure(ground.facts.figures, name, "protein_fraction", on=ground.today)
            for name in (fibre, other)]  # fmt: skip
    return None not in rows and len({row.value for row in rows if row is not None}) == 1
