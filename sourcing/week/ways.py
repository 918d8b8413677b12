"""Ways to hold a stage, worked out once: loads, rings that take them, minutes over the flame."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from itertools import pairwise

from inventory.science.facts import RingFacts, VesselFacts
from inventory.science.heating import heat_up_minutes
from sourcing.week.stages import Option, Stage, loads_of, stands_on


@dataclass(frozen=True, slots=True)
class Way:
    """One way to hold a stage, worked out: loads, and for each load the rings that take it."""

    option: Option
    loads: tuple[tuple[str, int, Fraction], ...]  # vessel, weight [mg], liquor [mL]
    # By load, hardest to place first: vessel and (ring, minutes over it, heating minutes),
    # the weakest ring first.
    rings: tuple[tuple[str, tuple[tuple[str, int, int], ...]], ...]
    hands_min: int
    shortest: int  # minutes that the vessels are held at the least


@lru_cache(maxsize=16_384)
def heating_minutes(
    litres_ml: Fraction, watts: int, efficiency: Fraction, heats: tuple[tuple[int, int, int], ...]
) -> tuple[int, int]:
    """Minutes over the flame until the last hold is over, and the heating part of them.

    Each heating is rounded to the nearest minute by itself (`heating.heat_up_minutes`).
    """
    heating = 0
    hold = 0
    for start_c, goal_c, hold_min in heats:
        exact = heat_up_minutes(
            litres_ml / 1000,
            start_c=Fraction(min(start_c, goal_c)),
            goal_c=Fraction(goal_c),
            ring_kw=Fraction(watts, 1000),
            efficiency=efficiency,
        )
        heating += int(exact + Fraction(1, 2))
        hold += hold_min
    return heating + hold, heating


class Ways:
    """Every option of every stage of a site, each worked out when first asked for."""

    def __init__(
        self, vessels: Iterable[VesselFacts], rings: Iterable[RingFacts], efficiency: Fraction
    ) -> None:
        weakest_first = sorted(rings, key=lambda ring: (ring.watts, ring.code))
        self._efficiency = efficiency
        self._rings = {
            vessel.code: tuple(ring for ring in weakest_first if vessel.code not in ring.not_for)
            for vessel in vessels
        }
        self._known: dict[tuple[int, int], tuple[Stage, Option, Way]] = {}
        self._ending: dict[int, tuple[tuple[Stage, ...], tuple[frozenset[Option], ...]]] = {}

    def of(self, stage: Stage, option: Option) -> Way:
        """An option worked out for a stage, once; both are kept so that their ids stay theirs."""
        key = (id(stage), id(option))
        known = self._known.get(key)
        if known is None:
            known = (stage, option, self._worked_out(stage, option))
            self._known[key] = known
        return known[2]

    def ending(self, stages: tuple[Stage, ...]) -> tuple[frozenset[Option], ...]:
        """For each stage the ways to hold its last round that leave one to the next stage.

        What stands in its liquor keeps its vessels until the next stage takes over in others.
        Empty where any way will do, and where none does.
        """
        known = self._ending.get(id(stages))
        if known is None:
            known = self._ending[id(stages)] = (stages, _ending(stages))
        return known[1]

    def _worked_out(self, stage: Stage, option: Option) -> Way:
        loads = tuple(loads_of(stage, option))
        rings: list[tuple[str, tuple[tuple[str, int, int], ...]]] = []
        if stage.heats:
            for vessel, _, litres in sorted(loads, key=lambda load: len(self._rings[load[0]])):
                rings.append((vessel, tuple(
                    (ring.code, *heating_minutes(litres, ring.watts, self._efficiency,
                                                 stage.heats))
                    for ring in self._rings[vessel]
                )))  # fmt: skip
        by_load = stage.step.hands_per == "load"
        hands = stage.hands_per_load * len(option.vessels) if by_load else stage.hands_min
        shortest = max((min(row[1] for row in of) for _, of in rings if of), default=0)
        return Way(option, loads, tuple(rings), hands, max(1, shortest, stage.step.stand_min))


def _ending(stages: tuple[Stage, ...]) -> tuple[frozenset[Option], ...]:
    found: list[frozenset[Option]] = [frozenset()]
    for stage, after in reversed(tuple(pairwise(stages))):
        left: frozenset[Option] = frozenset()
        if stands_on(stage.step) and after.step.vessels and not after.same:
            later = [set(row.vessels) for row in found[0] or after.options]
            fit = [
                row for row in stage.options if not all(pots & set(row.vessels) for pots in later)
            ]
            left = frozenset(fit) if len(fit) < len(stage.options) else left
        found.insert(0, left)
    return tuple(found)
