"""What is strained off with the dyestuff is topped up, no more and no less."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from inventory.science.catalogue import find_figure
from inventory.science.figures import Figure
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground
from sourcing.week.checking.loads import ratio_of
from sourcing.week.checking.sheet import Sheet
from sourcing.week.facts import Step
from sourcing.week.plan import Take

ML_EACH = 2  # rounding of each load that is shown


def faults_in_topping_up(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Water that the run says it tops up, against what its dyestuff keeps."""
    wanted = Fraction(0)
    steps = sheet.recipe.steps
    begins = 0
    for number, step in enumerate(steps):
        if not step.strain:
            continue
        inside = [row.name for row in steps[begins:number] if row.kind in ("soak", "extract")]
        begins = number + 1
        kept = sum(
            (_kept_ml(take, sheet, ground) for take in sheet.answer.takes
             if take.step in (*inside, step.name)),
            start=Fraction(0),
        )  # fmt: skip
        bath = next((row for row in steps[number + 1 :] if row.vessels), step)
        spare = _bath_ml(step, sheet) - _bath_ml(bath, sheet)
        wanted += kept - min(kept, max(Fraction(0), spare))
    if abs(wanted - sheet.answer.top_up_ml) > ML_EACH * max(1, len(sheet.loads)):
        yield Fault(
            "top up",
            sheet.code,
            None,
            f"{sheet.answer.top_up_ml} mL are topped up, {float(wanted):g} are held back",
        )


def _bath_ml(step: Step, sheet: Sheet) -> Fraction:
    """What a step's bath holds for the whole run; one in the same pot has that pot's ratio."""
    place = sheet.recipe.steps.index(step)
    while place and "same" in sheet.recipe.steps[place].vessels:
        place -= 1
    return ratio_of(sheet.recipe.steps[place], sheet) * sheet.run.weight_mg / 1000


def _kept_ml(take: Take, sheet: Sheet, ground: Ground) -> Fraction:
    lot = ground.lots.get(take.source)
    named = {dose.what for dose in sheet.recipe.doses if dose.kind == "dyestuff"}
    if lot is None or lot.dyestuff not in named:
        return Fraction(0)
    state = "fresh" if lot.stay.state == "frozen" else lot.stay.state
    found: list[Figure] = []
    for item in (lot.dyestuff, "any dyestuff"):
        for name in (f"held_back_{state}_l_per_kg", "held_back_l_per_kg"):
            row = find_figure(ground.facts.figures, item, name, on=ground.today)
            found += [] if row is None else [row]
    found.sort(key=lambda row: not row.own)
    return Fraction(found[0].value) * take.amount / 1000 if found else Fraction(0)
