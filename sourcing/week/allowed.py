"""Which vessels may hold a step, and why another one may not: iron, chips, food, soft metals."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from inventory.science.facts import RingFacts, VesselFacts
from inventory.science.saying import say
from sourcing.week.facts import Step

SOFT_METALS = {"aluminium", "copper", "iron", "brass", "tin"}


def refused_for(vessel: VesselFacts, step: Step, *, bright: bool) -> str:
    """Why a vessel may not hold a step; empty when it may."""
    if vessel.food:
        return say("is used for food")
    wanted = step.vessels
    if vessel.material in SOFT_METALS:
        return (
            ""
            if f"{vessel.material} pot" in wanted
            else say("is {material}", material=vessel.material)
        )
    if vessel.kind != "pot":
        return "" if vessel.kind in wanted else say("is a {kind}", kind=vessel.kind)
    if vessel.iron_pot:
        if "iron pot" not in wanted:
            return say("is kept for iron")
    elif "pot" not in wanted:
        return say("is not an iron pot")
    if step.metal == "iron" and not vessel.iron_pot:
        return say("is not an iron pot")
    if not bright:
        return ""
    if vessel.iron_pot:
        return say("is kept for iron")
    if vessel.chipped:
        return "is chipped"
    if vessel.iron_on and (vessel.blank_passed_on is None
                           or vessel.blank_passed_on < vessel.iron_on):  # fmt: skip
        return say("had iron and has passed no blank swatch since")
    return ""


def allowed_vessels(
    vessels: Iterable[VesselFacts], step: Step, *, bright: bool, site: str
) -> tuple[VesselFacts, ...]:
    """Vessels that may hold a step, the smallest first, then by code."""
    fit = [
        vessel
        for vessel in vessels
        if (not site or vessel.site in ("", site))
        and not refused_for(vessel, step, bright=bright and step.metal != "iron")
    ]
    return tuple(sorted(fit, key=lambda vessel: (vessel.working_ml, vessel.code)))


def can_heat(vessel: VesselFacts, rings: Sequence[RingFacts]) -> bool:
    """Whether any ring takes the vessel."""
    return any(vessel.code not in ring.not_for for ring in rings)
