"""How long does a pot take to heat, what does it cost, and how is a run shared over the pots?

Exact fractions inside; whoever shows a number rounds it once.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from itertools import combinations
from math import comb, floor

from inventory.science.catalogue import figure
from inventory.science.figures import Figures
from inventory.science.saying import joined, say

SECONDS_PER_MINUTE = 60
KJ_PER_KWH = 3600
MOST_TRIED = 5000  # groups of pots compared; beyond that the largest pots are taken
MOST_ROUNDS = 1000  # a run that needs more is mistyped


class OutOfRange(ValueError):
    """A value lies outside the range that a sum holds for."""

    def __init__(self, name: str, value: object, allowed: str) -> None:
        self.name, self.value, self.allowed = name, value, allowed
        super().__init__(
            say("{name} is {value}; it must be {allowed}.", name=name, value=value, allowed=allowed)
        )


@dataclass(frozen=True, slots=True)
class Pot:
    """A vessel that a step may use, with what it may be filled to."""

    code: str
    working_l: Fraction


@dataclass(frozen=True, slots=True)
class Load:
    """What one pot takes in one round."""

    pot: str
    round: int  # 1, 2, ...
    weight_mg: int
    litres: Fraction


@dataclass(frozen=True, slots=True)
class RunCost:
    """The parts of what a run costs, in the studio's money, exact."""

    fibre: Fraction
    supplies: Fraction
    power: Fraction
    hands: Fraction
    power_kwh: Fraction

    @property
    def total(self) -> Fraction:
        return self.fibre + self.supplies + self.power + self.hands

    def per_kg(self, weight_mg: int) -> Fraction:
        """Money for a kg of dry fibre dyed; weight above 0."""
        return self.total * 1_000_000 / weight_mg

    @property
    def hands_fraction(self) -> Fraction:
        """Part of the whole that is hands, 0 to 1."""
        return self.hands / self.total if self.total else Fraction(0)


def heat_kwh(
    litres: Fraction, *, start_c: Fraction, goal_c: Fraction, heat_kj: Fraction
) -> Fraction:
    """Heat that a liquor takes up [kWh].

    Parameters
    ----------
    litres : volume [L], at least 0
        Counted as water of 1 kg a litre; pot and fibre are left out.
    start_c, goal_c : temperature [°C], 0 to 100; a goal at or below the start takes none
    heat_kj : heat of water [kJ/(kg K)], above 0

    References
    ----------
    Heat balance without losses; the ring's efficiency stands for them.

    Examples
    --------
    >>> water = Fraction("4.186")
    >>> round(float(heat_kwh(Fraction(300), start_c=8, goal_c=80, heat_kj=water)) / 0.7, 1)
    35.9
    """
    _check("litres", litres, at_least=0)
    _check("start_c", start_c, at_least=0, at_most=100)
    _check("goal_c", goal_c, at_least=0, at_most=100)
    _check("heat_kj", heat_kj, above=0)
    return litres * heat_kj * max(Fraction(goal_c) - start_c, Fraction(0)) / KJ_PER_KWH


def heat_up_minutes(
    litres: Fraction,
    *,
    start_c: Fraction,
    goal_c: Fraction,
    ring_kw: Fraction,
    efficiency: Fraction,
    heat_kj: Fraction = Fraction("4.186"),
) -> Fraction:
    """Minutes that a ring takes to bring a pot of liquor to heat, exact.

    Parameters
    ----------
    litres : volume [L], at least 0, counted as water
    start_c, goal_c : temperature [°C], 0 to 100
    ring_kw : power as written on the stove [kW], above 0
    efficiency : part of the ring's heat that reaches the water, above 0, at most 1
    heat_kj : heat of water [kJ/(kg K)]; tables/studio.csv, water

    Raises
    ------
    OutOfRange
        With name, value and range.

    References
    ----------
    Heat balance: L × 4.186 × ΔT ÷ (kW × efficiency × 60).

    Examples
    --------
    >>> minutes = heat_up_minutes(Fraction(36), start_c=8, goal_c=55, ring_kw=Fraction("3.5"),
    ...                           efficiency=Fraction("0.7"))
    >>> round(minutes)
    48
    """
    _check("ring_kw", ring_kw, above=0)
    _check("efficiency", efficiency, above=0, at_most=1)
    kwh = heat_kwh(litres, start_c=start_c, goal_c=goal_c, heat_kj=heat_kj)
    return kwh * KJ_PER_KWH / (ring_kw * efficiency * SECONDS_PER_MINUTE)


def power_kwh(
    heats: Iterable[Fraction], *, holds: int, efficiency: Fraction, hold_kwh: Fraction
) -> Fraction:
    """Power that a run draws [kWh]: its heatings over the efficiency, and its holds.

    Parameters
    ----------
    heats : heat taken up by each heating [kWh], any order
    holds : number of holds at heat, each of one pot
    efficiency : above 0, at most 1
    hold_kwh : power of one hold [kWh]
    """
    _check("efficiency", efficiency, above=0, at_most=1)
    return sum(heats, Fraction(0)) / efficiency + holds * hold_kwh


def mix_c(parts: Sequence[tuple[Fraction, Fraction]]) -> Fraction:
    """Temperature of liquors poured together [°C], each part `(litres, °C)`, some of them above 0.

    References
    ----------
    Heat balance of equal liquids without losses.

    Examples
    --------
    >>> round(mix_c([(Fraction(40), Fraction(70)), (Fraction(20), Fraction(8))]))
    49
    """
    litres = sum((each for each, _ in parts), Fraction(0))
    _check("litres", litres, above=0)
    return sum((each * c for each, c in parts), Fraction(0)) / litres


def working_litres(brim_l: Fraction, fill_fraction: Fraction) -> Fraction:
    """What a pot may be filled to [L].

    Examples
    --------
    >>> working_litres(Fraction(60), Fraction("0.8")) == 48
    True
    """
    _check("brim_l", brim_l, above=0)
    _check("fill_fraction", fill_fraction, above=0, at_most=1)
    return brim_l * fill_fraction


def litres_for(
    weight_mg: int, ratio_l_per_kg: Fraction, *, plant_mg: int = 0, swell_l_per_kg: Fraction
) -> Fraction:
    """Room that a run takes [L]: its liquor and the swell of plant left in it.

    Parameters
    ----------
    weight_mg : dry weight of fibre
    ratio_l_per_kg : litres of liquor for a kg of dry fibre
    plant_mg : dyestuff that stays in the pot
    swell_l_per_kg : litres that a kg of it takes; 0 where the studio leaves it out
    """
    _check("ratio_l_per_kg", ratio_l_per_kg, above=0)
    _check("swell_l_per_kg", swell_l_per_kg, at_least=0)
    return (weight_mg * ratio_l_per_kg + plant_mg * swell_l_per_kg) / 1_000_000


def needs_two_people(litres: Fraction, figures: Figures, *, on: date) -> bool:
    """Whether a filled pot is a two-person lift: a warning, not a bar."""
    return litres > Fraction(figure(figures, "studio", "two_person_l", on=on).value)


def shared_out(weight_mg: int, litres: Fraction, pots: Sequence[Pot]) -> tuple[Load, ...]:
    """A run over pots used together: fewest rounds, equal in weight, one ratio everywhere.

    Parameters
    ----------
    weight_mg : dry weight of the run, above 0
    litres : liquor of the whole run [L], above 0
    pots : pots that may be used together, any order; each at least above 0 L

    Returns
    -------
    tuple of Load
        Rounds in order, within a round the largest pot first, then by code. A pot that a round
        does not need is left out: the fewest pots, the smallest that hold it. Shares follow the
        working litres; weights are whole mg and sum to the run.

    Raises
    ------
    OutOfRange
        Without a pot, or if the run would need too many rounds.

    Examples
    --------
    >>> pots = [Pot("P1", Fraction(48)), Pot("P2", Fraction(32))]
    >>> for load in shared_out(2_000_000, Fraction(60), pots):
    ...     print(load.pot, load.weight_mg, load.litres)
    P1 1200000 36
    P2 800000 24
    """
    _check("weight_mg", weight_mg, above=0)
    _check("litres", litres, above=0)
    room = sum((pot.working_l for pot in pots), Fraction(0))
    _check("working litres", room, above=0)
    rounds = -floor(-litres / room)
    _check("rounds", rounds, at_least=1, at_most=MOST_ROUNDS)
    used = _fewest(pots, litres / rounds)
    loads: list[Load] = []
    for number, round_mg in enumerate(split_evenly(weight_mg, rounds), start=1):
        shares = split_by(round_mg, [pot.working_l for pot in used])
        loads.extend(
            Load(pot.code, number, share_mg, litres * share_mg / weight_mg)
            for pot, share_mg in zip(used, shares, strict=True)
        )
    return tuple(loads)


def split_evenly(weight_mg: int, parts: int) -> list[int]:
    """A weight in equal parts of whole mg, the first ones a mg heavier where it does not divide.

    Examples
    --------
    >>> split_evenly(900_001, 3)
    [300001, 300000, 300000]
    """
    return split_by(weight_mg, [Fraction(1)] * parts)


def split_by(weight_mg: int, shares: Sequence[Fraction]) -> list[int]:
    """A weight in whole mg by shares; what is left over goes to the largest remainders first."""
    whole = sum(shares, Fraction(0))
    exact = [weight_mg * share / whole for share in shares]
    parts = [floor(part) for part in exact]
    left = weight_mg - sum(parts)
    by_remainder = sorted(range(len(parts)), key=lambda n: (parts[n] - exact[n], n))
    for n in by_remainder[:left]:
        parts[n] += 1
    return parts


def run_cost(
    *,
    fibre_mg: int,
    fibre_per_kg: Fraction,
    supplies: Iterable[tuple[int, Fraction]],
    power_kwh: Fraction,
    power_per_kwh: Fraction,
    hands_min: int,
    hands_per_h: Fraction,
) -> RunCost:
    """What a run costs, in parts.

    Parameters
    ----------
    fibre_mg : fibre as bought (unscoured where it is scoured here) [mg]
    supplies : weight [mg] and price per kg of each supply
    power_kwh : power that the run draws [kWh]
    hands_min : minutes of hands

    Examples
    --------
    >>> cost = run_cost(fibre_mg=2_105_263, fibre_per_kg=Fraction(22),
    ...                 supplies=[(240_000, Fraction(9))], power_kwh=Fraction("25.53"),
    ...                 power_per_kwh=Fraction("0.28"), hands_min=350, hands_per_h=Fraction(16))
    >>> round(float(cost.total), 2), round(float(cost.per_kg(2_000_000)), 2)
    (148.96, 74.48)
    """
    return RunCost(
        fibre=fibre_mg * fibre_per_kg / 1_000_000,
        supplies=sum((mg * price / 1_000_000 for mg, price in supplies), Fraction(0)),
        power=power_kwh * power_per_kwh,
        hands=hands_min * hands_per_h / 60,
        power_kwh=power_kwh,
    )


def _fewest(pots: Sequence[Pot], litres: Fraction) -> list[Pot]:
    """The fewest pots that hold a round, of those the least room, then by code; largest first."""
    largest = sorted(pots, key=lambda pot: (-pot.working_l, pot.code))
    count, room = 0, Fraction(0)
    while room < litres:
        room += largest[count].working_l
        count += 1
    if comb(len(pots), count) > MOST_TRIED:
        return largest[:count]

    def size(group: tuple[Pot, ...]) -> tuple[Fraction, list[str]]:
        return sum((pot.working_l for pot in group), Fraction(0)), [pot.code for pot in group]

    groups: list[tuple[Pot, ...]] = list(combinations(largest, count))
    groups = [group for group in groups if size(group)[0] >= litres]
    chosen: tuple[Pot, ...] = min(groups, key=size)
    return list(chosen)


def _check(
    name: str,
    value: Fraction | int | Decimal,
    *,
    at_least: int | None = None,
    above: int | None = None,
    at_most: int | None = None,
) -> None:
    """Refuse a value outside its range."""
    wanted = [
        say("at least {at_least}", at_least=at_least) if at_least is not None else "",
        say("above {above}", above=above) if above is not None else "",
        say("at most {at_most}", at_most=at_most) if at_most is not None else "",
    ]
    low = (at_least is not None and value < at_least) or (above is not None and value <= above)
    if low or (at_most is not None and value > at_most):
        shown = value if isinstance(value, int | Decimal) else float(value)
        raise OutOfRange(name, shown, joined(", ", (part for part in wanted if part)))
