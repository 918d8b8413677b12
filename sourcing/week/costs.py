"""What does a placed run cost, and how much water does it take?

Heat, hands, fibre and what is bought, by the studio's own prices; exact inside, rounded by whoever
shows it.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from inventory.science.catalogue import figure, find_figure
from inventory.science.days import local_day
from sourcing.week.facts import Heat, Recipe, RunFacts, WeekFacts
from sourcing.week.plan import Answer, Placed
from sourcing.week.pot_words import share_of_pot
from sourcing.week.second_bath import DYEBATH

UL_PER_L = 1_000_000
WATER_C = 10  # cold water where no source is written down; assumed, not measured

# Liquor that goes on into the next bath is counted there.
GOES_ON = ("soak", "extract")


@dataclass(frozen=True, slots=True)
class Part:
    """One part of a cost: what was paid for, how much of it, and the money."""

    what: str
    amount: Fraction
    unit: str  # mg, min, kWh
    money: Fraction


@dataclass(frozen=True, slots=True)
class Cost:
    """What one run costs; money in the studio's currency, exact."""

    run: str
    weight_mg: int
    parts: tuple[Part, ...]  # heat, hands, then fibre and supplies in the order taken
    warming_kwh: tuple[tuple[str, Fraction], ...]  # by step, all its loads
    holds: int
    held_kwh: Fraction  # all of them; of a pot that is shared this run's part
    unpriced: tuple[str, ...]  # taken, but without a price: counted as 0
    water_l: Fraction

    @property
    def total(self) -> Fraction:
        return sum((part.money for part in self.parts), Fraction(0))

    @property
    def kwh(self) -> Fraction:
        warming = sum((kwh for _, kwh in self.warming_kwh), Fraction(0))
        return warming + self.held_kwh

    @property
    def per_kg(self) -> Fraction:
        return self.total * 1_000_000 / self.weight_mg

    @property
    def labour_fraction(self) -> Fraction:
        hands = sum((part.money for part in self.parts if part.what == "hands"), Fraction(0))
        return hands / self.total if self.total else Fraction(0)


def costs_of(facts: WeekFacts, answer: Answer) -> Cost:
    """What a placed run costs.

    Raises
    ------
    NoFigure
        If a rate is neither the studio's nor shipped.

    References
    ----------
    Heat balance without losses in time; `water, heat_kj_per_kg_k` and the ring's efficiency are
    figures. A thing taken without a price of its own costs nothing and is named.
    """
    run = next(row for row in facts.runs if row.code == answer.run)
    recipe = next((row for row in facts.recipes if row.code == run.recipe), None)
    prices = _Prices(facts, local_day(facts.at, zone=facts.zone))
    water_c = facts.waters[0].temperature_c if facts.waters else WATER_C
    heats = [(step, _heats(step, recipe, water_c)) for step in answer.steps]
    warming = _warming(heats, prices)
    held = [step for step, row in heats for heat in row if heat.hold_min > 0]
    parts = sum((share_of_pot(step, facts.runs) for step in held), Fraction(0))
    held_kwh = parts * prices.number("studio", "hold_kwh")
    kwh = sum(warming.values(), Fraction(0)) + held_kwh
    goods, unpriced = _goods(answer, prices)
    return Cost(
        run=answer.run,
        weight_mg=run.weight_mg,
        parts=(_heat_part(kwh, prices), _hands_part(answer, prices), *goods),
        warming_kwh=tuple(warming.items()),
        holds=len(held),
        held_kwh=held_kwh,
        unpriced=unpriced,
        water_l=_water_l(answer, run, recipe, prices),
    )


@dataclass(frozen=True, slots=True)
class _Prices:
    """The figures of one day."""

    facts: WeekFacts
    on: date

    def number(self, item: str, name: str) -> Fraction:
        return Fraction(figure(self.facts.figures, item, name, on=self.on).value)

    def per_mg(self, item: str) -> Fraction | None:
        found = find_figure(self.facts.figures, item, "price_per_kg", on=self.on)
        return None if found is None else Fraction(found.value) / 1_000_000


def _heats(step: Placed, recipe: Recipe | None, water_c: int) -> list[Heat]:
    """The heatings of a placed load, each with the warmth that it starts from."""
    if step.goal_c is None:
        return []
    start_c = water_c if step.start_c is None else step.start_c
    rows = next((row.heats for row in recipe.steps if row.name == step.step), ()) if recipe else ()
    if not rows:
        return [Heat(step.goal_c, step.hold_min, start_c)]
    heats = []
    for number, row in enumerate(rows):
        begin_c = start_c if number == 0 or row.start_c is None else row.start_c
        heats.append(Heat(row.goal_c, row.hold_min, begin_c))
        start_c = row.goal_c
    return heats


def _warming(heats: list[tuple[Placed, list[Heat]]], prices: _Prices) -> dict[str, Fraction]:
    """Energy [kWh] that brings the liquor to heat, by step."""
    kj_per_kg_k = prices.number("water", "heat_kj_per_kg_k")
    efficiency = prices.number("studio", "ring_efficiency_fraction")
    kwh: dict[str, Fraction] = {}
    for step, rows in heats:
        for heat in rows:
            rise = max(0, heat.goal_c - (heat.start_c or 0))
            kj = Fraction(step.litres) * kj_per_kg_k * rise
            kwh[step.step] = kwh.get(step.step, Fraction(0)) + kj / (3600 * efficiency)
    return kwh


def _heat_part(kwh: Fraction, prices: _Prices) -> Part:
    return Part("heat", kwh, "kWh", kwh * prices.number("studio", "power_price_per_kwh"))


def _hands_part(answer: Answer, prices: _Prices) -> Part:
    """Hands of the steps, and of the jobs that are no step: a bath made for the run is one."""
    names = {step.step for step in answer.steps}
    minutes = sum(step.hands_min for step in answer.steps)
    minutes += sum(job.hands_min for job in answer.jobs if job.what not in names)
    rate = prices.number("studio", "hands_rate_per_h")
    return Part("hands", Fraction(minutes), "min", minutes * rate / 60)


def _goods(answer: Answer, prices: _Prices) -> tuple[list[Part], tuple[str, ...]]:
    """Fibre, dyestuff and supplies taken: those with a price, and the names of the others."""
    taken: dict[str, int] = {}
    unpriced: list[str] = []
    for take in answer.takes:
        if take.unit == "mg" and prices.per_mg(take.what) is not None:
            taken[take.what] = taken.get(take.what, 0) + take.amount
        elif take.what not in unpriced:
            unpriced.append(take.what)
    parts = [
        Part(what, Fraction(mg), "mg", mg * (prices.per_mg(what) or Fraction(0)))
        for what, mg in taken.items()
    ]
    return parts, tuple(unpriced)


def _water_l(answer: Answer, run: RunFacts, recipe: Recipe | None, prices: _Prices) -> Fraction:
    """Litres of every bath, what is topped up, and the rinses: after a scour and at the end.

    What is taken of a dyebath that was used before is no water.
    """
    baths = sum(
        (Fraction(step.litres) for step in answer.steps if step.kind not in GOES_ON), Fraction(0)
    )
    ratio = recipe.l_per_kg if recipe is not None else Decimal(0)
    rinse_l = Fraction(ratio) * run.weight_mg / 1_000_000
    rinses = Fraction(0)
    for kind, name in (("scour", "rinses_after_scour"), ("rinse", "rinses_at_end")):
        if any(step.kind == kind for step in answer.steps) and not _in_a_tub(kind, answer):
            rinses += prices.number("studio", name)
    used_l = sum(
        (Fraction(take.amount, UL_PER_L) for take in answer.takes if take.what == DYEBATH),
        Fraction(0),
    )
    return max(Fraction(0), baths - used_l) + Fraction(answer.top_up_ml, 1000) + rinses * rinse_l


def _in_a_tub(kind: str, answer: Answer) -> bool:
    """Whether the rinse after a scour, or the last one, stands in a vessel: its litres are there.

    `kind`: scour for the rinse that follows the scour, rinse for the last of the run.
    """
    names: dict[str, tuple[str, Decimal]] = {}
    for step in answer.steps:
        names.setdefault(step.step, (step.kind, step.litres))
    rows = list(names.values())
    place = max(number for number, (found, _) in enumerate(rows) if found == kind)
    after = place + 1 if kind == "scour" else place
    return rows[after : after + 1] != [] and rows[after][0] == "rinse" and rows[after][1] > 0
