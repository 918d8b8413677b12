"""Cloth of animal hair that meets a bath much colder is warned of, and nothing else is."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from math import exp

from inventory.science.catalogue import find_figure
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground
from sourcing.week.checking.loads import first_warmth
from sourcing.week.checking.sheet import Load, Sheet, Stage
from sourcing.week.checking.working import HOLD_NO_CLOTH

EDGE_K = 1  # what starts from a mix is warmer or colder by a rounding


def faults_in_warnings(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Warnings of felting that are missing, or stand where the cloth bears the fall."""
    said = [row for row in sheet.answer.warnings if row.kind == "felting"]
    if find_figure(ground.facts.figures, sheet.run.fibre, "drop_without_felting_k",
                   on=ground.today) is None:  # fmt: skip
        if said:
            yield Fault("felting", sheet.code, None, f"{sheet.run.fibre} does not felt")
        return
    bears = float(ground.number(sheet.run.fibre, "drop_without_felting_k"))
    falls = falls_of(sheet, ground)
    sure = {names for names, fall in falls if fall > bears + EDGE_K}
    maybe = {names for names, fall in falls if fall > bears - EDGE_K}
    if not len(sure) <= len(said) <= len(maybe):
        yield Fault(
            "felting",
            sheet.code,
            None,
            f"{len(said)} warnings; the fall is too much between {sorted(sure) or 'no steps'}",
        )


def falls_of(sheet: Sheet, ground: Ground) -> list[tuple[tuple[str, str], float]]:
    """The fall in warmth [K] from each bath with cloth to the next, by the names of both steps."""
    falls = []
    for chain in sheet.chains():
        with_cloth = [stage for stage in chain if stage.step.kind not in HOLD_NO_CLOTH]
        for before, after in pairwise(with_cloth):
            if _in_the_same_bath(after):
                continue
            lifted = _out_at(before)
            warm = _warm_at(before, lifted, chain, sheet, ground)
            warm = _cooled(warm, after.start - lifted, "lifted_cools_per_h", ground)
            meets = _meets(after, chain, sheet, ground)
            falls.append(((before.step.name, after.step.name), warm - meets))
    return falls


def _out_at(stage: Stage) -> int:
    return max(load.held_until for load in _last(stage))


def _last(stage: Stage) -> list[Load]:
    return stage.rounds[-1].loads


def _warm_at(stage: Stage, minute: int, chain: list[Stage], sheet: Sheet, ground: Ground) -> float:
    """Warmth of a stage's bath at a minute: from its last flame, whichever step lit it."""
    place = chain.index(stage)
    while not chain[place].step.heats and _in_the_same_bath(chain[place]) and place:
        place -= 1
    lit = chain[place]
    if not lit.step.heats:
        fresh = _meets(lit, chain, sheet, ground)
        return _cooled(fresh, minute - lit.last_start, "bath_cools_per_h", ground)
    out = max(load.lit_until for load in _last(lit))
    return _cooled(lit.step.heats[-1].goal_c, minute - out, "bath_cools_per_h", ground)


def _in_the_same_bath(stage: Stage) -> bool:
    return "same" in stage.step.vessels and stage.step.kind != "rinse"


def _cooled(warm: float, minutes: int, pace: str, ground: Ground) -> float:
    shed = float(ground.number("studio", "shed_c"))
    hours = max(0, minutes) / 60
    return shed + (warm - shed) * exp(-float(ground.number("studio", pace)) * hours)


def _meets(stage: Stage, chain: list[Stage], sheet: Sheet, ground: Ground) -> float:
    if not stage.step.heats:
        warmed = stage.step.begun_c
        return _cold(sheet, ground) if warmed is None else warmed
    if stage.step.heats[0].start_c is not None:
        return stage.step.heats[0].start_c
    place = chain.index(stage)
    before = chain[place - 1] if place else None
    return first_warmth(sheet, stage, before, stage.loads[0], ground)[0]


def _cold(sheet: Sheet, ground: Ground) -> float:
    cold = ground.cold_water_c(sheet.site)
    return 10 if cold is None else cold
