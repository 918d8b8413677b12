"""What stands on the sheet by the ring: each step of a placed run with its pot-loads filled in.

Pure: an answer of the week in, the sheet's figures out. What the run takes is shared out over the
pot-loads by their dry weight, and what is poured together after straining is made up with water.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from itertools import groupby

from inventory.science.days import local_day
from inventory.science.saying import say
from sourcing.week.carry import CARRY, fetched_by
from sourcing.week.facts import Dose, Heat, Making, Recipe, WeekFacts
from sourcing.week.plan import Answer, Placed, Take


@dataclass(frozen=True, slots=True)
class Given:
    """What goes into a pot: of one lot, jar or supply, or of all lots of a dyestuff together."""

    what: str
    source: str  # code; empty: of several lots together
    amount: int  # mg or µL
    unit: str


@dataclass(frozen=True, slots=True)
class PotLoad:
    """One pot-load: where, how much, until when, and what goes in."""

    placed: Placed
    gives: tuple[Given, ...]
    hot_at: datetime | None  # when its warmth is reached; None: unheated, or heated twice


@dataclass(frozen=True, slots=True)
class SheetStep:
    """One step that begins at one moment, with all its pot-loads."""

    name: str
    kind: str
    start: datetime
    end: datetime
    held_until: datetime
    hands_min: int
    weight_mg: int
    loads: tuple[PotLoad, ...]
    gives: tuple[Given, ...]  # of each lot in all
    heats: tuple[Heat, ...]  # as the recipe has them; empty: unheated
    metal: str = ""
    aired: bool = False
    strained_to_l: Decimal = Decimal(0)  # strained and made up to so many litres; 0: not strained
    water_l: Decimal = Decimal(0)  # of that so much water


@dataclass(frozen=True, slots=True)
class SheetDay:
    """The steps that begin on one day of the studio."""

    day: date
    steps: tuple[SheetStep, ...]


def sheet_days(answer: Answer, facts: WeekFacts) -> tuple[SheetDay, ...]:
    """The steps of a placed run by day and hour; of a run that is not placed, none.

    Parameters
    ----------
    answer : of the week; of a run that is begun its kept steps
    facts : that it was worked out from; heats and straining come from the run's recipe
    """
    wanted = next((run.recipe for run in facts.runs if run.code == answer.run), "")
    recipe = next((row for row in facts.recipes if row.code == wanted), None)
    answer = replace(answer, takes=all_taken(answer, facts))
    moments = groupby(_by_hour(answer.steps), key=lambda row: (row.start, row.step))
    steps = [_step(tuple(rows), answer, recipe, facts.makings) for _, rows in moments]
    days = groupby(steps, key=lambda step: local_day(step.start, zone=facts.zone))
    return tuple(SheetDay(day, tuple(rows)) for day, rows in days)


def all_taken(answer: Answer, facts: WeekFacts) -> tuple[Take, ...]:
    """What a run takes from first to last; of one under way what its done steps took, too.

    The answer of a run under way lists what is still claimed; paper lists what stands in the pots.
    """
    kept = next((run.kept for run in facts.runs if run.code == answer.run), None)
    if kept is None:
        return answer.takes
    said = {done.step: done for done in kept.done if done.took}
    known = {take.source: take for take in kept.takes}
    names = {lot.code: lot.dyestuff for lot in facts.shelf.lots}
    names |= {jar.code: say("{metal} liquor", metal=jar.metal) for jar in facts.shelf.jars}
    liquids = {jar.code for jar in facts.shelf.jars} | {row.code for row in facts.shelf.baths}
    found = [take for take in kept.takes if take.step not in said]
    for step, done in said.items():
        for code, amount in done.took:
            what = known[code].what if code in known else names.get(code, code)
            unit = "µL" if code in liquids else "mg"
            found.append(Take(answer.run, code, what, amount, unit, done.at, 0, step))
    return tuple(found)


def _by_hour(rows: Iterable[Placed]) -> list[Placed]:
    return sorted(rows, key=lambda row: (row.start, row.step, row.load))


def _step(
    rows: tuple[Placed, ...], answer: Answer, recipe: Recipe | None, makings: tuple[Making, ...]
) -> SheetStep:
    first = rows[0]
    all_rows = [row for row in answer.steps if row.step == first.step]
    if first.kind == CARRY:
        all_rows = list(rows)  # each way brings its own
    takes = _taken(first, answer, recipe, makings)
    own = next((s for s in recipe.steps if s.name == first.step), None) if recipe else None
    heats = own.heats if own is not None else ()
    strained_l, water_l = _strained(first, answer, recipe)
    return SheetStep(
        name=first.step,
        kind=first.kind,
        start=first.start,
        end=max(row.end for row in rows),
        held_until=max(row.held_until for row in rows),
        hands_min=sum(row.hands_min for row in rows),
        weight_mg=sum(row.weight_mg for row in rows),
        loads=tuple(_load(row, all_rows, takes, heats) for row in rows),
        gives=tuple(Given(take.what, take.source, take.amount, take.unit) for take in takes),
        heats=heats,
        metal=own.metal if own is not None else "",
        aired=own.aired if own is not None else False,
        strained_to_l=strained_l,
        water_l=water_l,
    )


def _taken(
    row: Placed, answer: Answer, recipe: Recipe | None, makings: tuple[Making, ...]
) -> list[Take]:
    """What a step takes; of a bath that is made for the run the dyestuff goes into its making.

    A way to another site takes what is fetched by it.
    """
    if row.kind == CARRY:
        return fetched_by(row, answer.takes)
    step = row.step
    placed = {row.step for row in answer.steps}
    made = {row.bath: row.dyestuff for row in makings if f"make {row.bath}" in placed}
    bath = step.removeprefix("make ")
    if bath in made and bath != step:
        return [take for take in answer.takes if take.what == made[bath]]
    doses = [dose for dose in recipe.doses if dose.step == step] if recipe else []
    poured = {dose.what: dose for dose in doses if dose.kind == "bath" and dose.what in made}
    gone = {made[what] for what in poured} - {dose.what for dose in doses}
    own = [take for take in answer.takes if take.step == step and take.what not in gone]
    return [*own, *(_poured(step, dose, answer) for dose in poured.values())]


def _poured(step: str, dose: Dose, answer: Answer) -> Take:
    """So much of a bath that was made before; litres for a kilo are microlitres for a milligram."""
    rows = [row for row in answer.steps if row.step == step]
    amount = round(dose.l_per_kg * sum(row.weight_mg for row in rows))
    return Take(answer.run, dose.what, dose.what, amount, "µL", rows[0].start, 0, step)


def _load(
    row: Placed, rows: Sequence[Placed], takes: Sequence[Take], heats: tuple[Heat, ...]
) -> PotLoad:
    once = row.heat_min and len(heats) < 2
    return PotLoad(
        placed=row,
        gives=tuple(_of_load(row, rows, takes)),
        hot_at=row.start + timedelta(minutes=row.heat_min) if once else None,
    )


def _of_load(row: Placed, rows: Sequence[Placed], takes: Sequence[Take]) -> list[Given]:
    """A pot-load's share of what its step takes, lots of one dyestuff together."""
    place = list(rows).index(row)
    weights = [each.weight_mg for each in rows]
    found = []
    for what in dict.fromkeys(take.what for take in takes):
        of_it = [take for take in takes if take.what == what]
        share = shared_out(sum(take.amount for take in of_it), weights)[place]
        source = of_it[0].source if len(of_it) == 1 else ""
        found.append(Given(what, source, share, of_it[0].unit))
    return found


def shared_out(amount: int, weights: Sequence[int]) -> tuple[int, ...]:
    """A whole amount over pot-loads by their weight; nothing is lost to rounding.

    Parameters
    ----------
    amount : mg or µL, 0 or more
    weights : mg, 0 or more, at least one; all 0: equal parts

    Examples
    --------
    >>> shared_out(240_000, [1_200_000, 800_000])
    (144000, 96000)
    >>> shared_out(100, [1, 1, 1])
    (34, 33, 33)
    """
    weights = weights if any(weights) else [1] * len(weights)
    whole = sum(weights)
    parts = [amount * weight // whole for weight in weights]
    # What rounding left goes to those that lost most, the first of equals.
    by_loss = sorted(range(len(weights)), key=lambda place: -(amount * weights[place] % whole))
    for place in by_loss[: amount - sum(parts)]:
        parts[place] += 1
    return tuple(parts)


def _strained(first: Placed, answer: Answer, recipe: Recipe | None) -> tuple[Decimal, Decimal]:
    """Litres that an extract is made up to once it is strained, and the water among them."""
    names = [step.name for step in recipe.steps] if recipe else []
    if recipe is None or first.step not in names:
        return Decimal(0), Decimal(0)
    place = names.index(first.step)
    if not recipe.steps[place].strain:
        return Decimal(0), Decimal(0)
    after = next((step.name for step in recipe.steps[place + 1 :] if step.vessels), first.step)
    there, wanted = _litres(answer.steps, first.step), _litres(answer.steps, after)
    more = max(Decimal(0), wanted - there)
    return max(wanted, there), more + Decimal(answer.top_up_ml) / 1000


def _litres(steps: Iterable[Placed], name: str) -> Decimal:
    return sum((row.litres for row in steps if row.step == name), start=Decimal(0))
