"""How acid and metal stand in a jar's liquid: worked on between events, changed by each of them.

Between two events the solution is closed; nothing here knows a figure or a calendar.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import datetime
from fractions import Fraction
from math import expm1, log

from inventory.science.facts import Dip, JarEvent
from inventory.science.warmth import q10_factor

TRADE_C = 20.0  # warmth at which the trade's days of steeping are told
UL_PER_L = 1_000_000
SECONDS_PER_DAY = 86_400


@dataclass(frozen=True, slots=True, eq=False)
class Pace:
    """Speed of the acid and strength of a strip by the figures of one day, likely or at an edge.

    One is equal to itself alone, so what was worked out at a pace is found again by it.
    """

    per_day: float  # at 20 °C
    q10_above: float  # at 20 °C and above
    q10_below: float
    acid_g_per_mol: Fraction
    metal_g_per_mol: Fraction
    soluble_mol_per_l: Fraction | None
    strip_mol_per_l: dict[int, float]
    reading_factor: float

    def at(self, temperature_c: float) -> float:
        """Speed at a warmth [1/day]."""
        q10 = self.q10_above if temperature_c >= TRADE_C else self.q10_below
        return self.per_day * q10_factor(temperature_c, reference_c=TRADE_C, q10=q10)


@dataclass(frozen=True, slots=True)
class Contents:
    """A jar's liquid at a moment; acid counts what is free and what holds metal."""

    at: datetime
    volume_l: Fraction
    acid_mol_per_l: Fraction
    metal_mol_per_l: float
    scrap_mol: float | None  # undissolved; None: in excess
    dissolved_mol: float  # since the beginning, drawn or not
    temperature_c: float

    @property
    def free_mol_per_l(self) -> float:
        return max(float(self.acid_mol_per_l) - 2 * self.metal_mol_per_l, 0.0)


def worked(contents: Contents, until: datetime, pace: Pace) -> Contents:
    """The acid at work on the metal until a moment, nothing else happening."""
    # By elapsed time: within one zone a difference of moments would be of wall hours.
    days = max((until.timestamp() - contents.at.timestamp()) / SECONDS_PER_DAY, 0.0)
    if not contents.volume_l or contents.scrap_mol == 0.0 or not days:
        return replace(contents, at=until if days else contents.at)
    metal = contents.metal_mol_per_l
    grown = -expm1(-pace.at(contents.temperature_c) * days) * contents.free_mol_per_l / 2
    if contents.scrap_mol is not None:
        grown = min(grown, contents.scrap_mol / float(contents.volume_l))
    if pace.soluble_mol_per_l is not None:
        grown = min(grown, max(float(pace.soluble_mol_per_l) - metal, 0.0))
    gone_mol = grown * float(contents.volume_l)
    return Contents(
        at=until,
        volume_l=contents.volume_l,
        acid_mol_per_l=contents.acid_mol_per_l,
        metal_mol_per_l=metal + grown,
        scrap_mol=None if contents.scrap_mol is None else max(contents.scrap_mol - gone_mol, 0.0),
        dissolved_mol=contents.dissolved_mol + gone_mol,
        temperature_c=contents.temperature_c,
    )


def days_until(contents: Contents, goal: float, pace: Pace) -> float | None:
    """Days of undisturbed work until the metal reaches a goal [mol/L]; None: never."""
    lacking = goal - contents.metal_mol_per_l
    if lacking <= 0:
        return 0.0
    if contents.scrap_mol == 0.0 or not contents.volume_l or 2 * lacking >= contents.free_mol_per_l:
        return None
    if goal > reachable(contents):
        return None
    return -log(1 - 2 * lacking / contents.free_mol_per_l) / pace.at(contents.temperature_c)


def changed(contents: Contents, event: JarEvent, pace: Pace) -> Contents:
    """The contents after one event."""
    volume_l = Fraction(event.volume_ul, UL_PER_L)
    if event.kind == "topped up":
        return _topped_up(contents, volume_l, event, pace)
    if event.kind == "drawn":
        return replace(contents, volume_l=max(contents.volume_l - volume_l, Fraction(0)))
    if event.kind == "evaporated":
        return _evaporated(contents, volume_l, pace)
    if event.kind == "strained":
        return replace(contents, scrap_mol=0.0)
    if event.kind == "kept at" and event.temperature_c is not None:
        return replace(contents, temperature_c=event.temperature_c)
    return contents


def _topped_up(contents: Contents, added_l: Fraction, event: JarEvent, pace: Pace) -> Contents:
    volume_l = contents.volume_l + added_l
    if not volume_l:
        return contents
    added = event.vinegar_parts * Fraction(event.acid_percent) * 10 / pace.acid_g_per_mol
    kept = contents.volume_l / volume_l
    return replace(
        contents,
        volume_l=volume_l,
        acid_mol_per_l=contents.acid_mol_per_l * kept + added * (1 - kept),
        metal_mol_per_l=contents.metal_mol_per_l * float(kept),
    )


def _evaporated(contents: Contents, lost_l: Fraction, pace: Pace) -> Contents:
    """Thicker by the water lost; what no longer dissolves falls out with its acid."""
    volume_l = contents.volume_l - lost_l
    if volume_l <= 0:
        return contents
    times = contents.volume_l / volume_l
    metal = contents.metal_mol_per_l * float(times)
    acid = contents.acid_mol_per_l * times
    if pace.soluble_mol_per_l is not None and metal > pace.soluble_mol_per_l:
        acid -= 2 * (Fraction(metal) - pace.soluble_mol_per_l)
        metal = float(pace.soluble_mol_per_l)
    return replace(contents, volume_l=volume_l, acid_mol_per_l=acid, metal_mol_per_l=metal)


def reset(contents: Contents, dip: Dip, pace: Pace) -> Contents:
    """The estimate after a strip or a reading; the acid's bound stands above both."""
    if dip.metal_mg_per_l is not None:
        seen = dip.metal_mg_per_l / 1000 / float(pace.metal_g_per_mol) * pace.reading_factor
    elif dip.grade in pace.strip_mol_per_l:
        seen = pace.strip_mol_per_l[dip.grade]
    else:
        return contents
    metal = min(seen, float(contents.acid_mol_per_l / 2))
    more_mol = (metal - contents.metal_mol_per_l) * float(contents.volume_l)
    scrap = contents.scrap_mol
    return replace(
        contents,
        metal_mol_per_l=metal,
        scrap_mol=None if scrap is None else max(scrap - more_mol, 0.0) if scrap else 0.0,
        dissolved_mol=max(contents.dissolved_mol + more_mol, 0.0),
    )


def reachable(contents: Contents) -> float:
    """The metal [mol/L] that the free acid and the scrap left can still make it."""
    if not contents.volume_l or contents.scrap_mol == 0.0:
        return contents.metal_mol_per_l
    more = contents.free_mol_per_l / 2
    if contents.scrap_mol is not None:
        more = min(more, contents.scrap_mol / float(contents.volume_l))
    return contents.metal_mol_per_l + more
