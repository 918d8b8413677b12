"""What must hold before a run is promised, whatever is on the shelf: cards, readings, water, order.

Each gate gives the reasons that bar the run; an empty list lets it through.
"""

from __future__ import annotations

from datetime import date, datetime, time, timedelta
from decimal import Decimal

from inventory.science.saying import joined, say
from sourcing.week.facts import FastnessWish, Recipe, RunFacts, WeekFacts
from sourcing.week.plan import Reason
from sourcing.week.words import day_in_words

ANIMAL = {"wool", "silk", "alpaca", "mohair", "cashmere"}  # the others are plant fibre
BEFORE_IRON = {"scour", "mordant", "tannin", "soak", "extract", "dye", "wet out"}


def barred_by(run: RunFacts, recipe: Recipe, facts: WeekFacts, *, today: date) -> list[Reason]:
    """Every gate that bars a run, in the order of a dyer's questions."""
    return [
        *order_of_steps(recipe, run.fibre),
        *water(recipe, facts),
        *shade_card(run),
        *readings(run, facts, today=today),
        *fugitive(run, recipe, facts),
    ]


def shade_card(run: RunFacts) -> list[Reason]:
    """A shade card for this fibre must exist and be approved; a group day needs none."""
    if run.group_block:
        return []
    card = run.shade_card
    if card is None or not card.exists:
        return [
            Reason(
                "shade card",
                run.shade,
                say("no shade card for {shade} on {fibre}", shade=run.shade, fibre=run.fibre),
            )
        ]
    if not card.approved:
        return [
            Reason(
                "shade card",
                run.shade,
                say(
                    "shade card for {shade} on {fibre} is not approved yet",
                    shade=run.shade,
                    fibre=run.fibre,
                ),
            )
        ]
    return []


def readings(run: RunFacts, facts: WeekFacts, *, today: date) -> list[Reason]:
    """A wished fastness must have been read, once the card's days are out."""
    reasons = []
    for wish in run.wishes:
        if wish.accepted_in_writing:
            continue
        out = card_out_on(wish)
        days = (today - wish.begun_on).days if wish.begun_on else 0
        there = (
            "no reading" if wish.reading is None else say("reading {reading}", reading=wish.reading)
        )
        if out is not None and today < out:
            text = say(
                "{what} card is on day {days} of {wish_days}, {there}, {wanted} wanted: look "
                "again {out}",
                what=wish.what,
                days=days,
                wish_days=wish.days,
                there=there,
                wanted=wish.wanted,
                out=day_in_words(out),
            )
            until = datetime.combine(out, time(), tzinfo=facts.zone)
            reasons.append(Reason("reading", wish.what, text, until))
        elif wish.reading is None or wish.reading < wish.wanted:
            text = say(
                "{what}: {there}, {wanted} wanted", what=wish.what, there=there, wanted=wish.wanted
            )
            reasons.append(Reason("reading", wish.what, text))
    return reasons


def card_out_on(wish: FastnessWish) -> date | None:
    """The day on which a test card's days are out; None when it was never hung."""
    return None if wish.begun_on is None else wish.begun_on + timedelta(wish.days)


def water(recipe: Recipe, facts: WeekFacts) -> list[Reason]:
    """The recipe's water must run here, within its pH."""
    if not recipe.water and recipe.ph_low is None and recipe.ph_high is None:
        return []
    waters = [row for row in facts.waters if recipe.water in ("", row.name)]
    if not waters:
        there = joined(", ", (row.name for row in facts.waters)) or "none written down"
        return [
            Reason(
                "water",
                recipe.water,
                say("worked out with {water}; here: {there}", water=recipe.water, there=there),
            )
        ]
    low, high = recipe.ph_low or Decimal(0), recipe.ph_high or Decimal(14)
    if any(row.ph is None or low <= row.ph <= high for row in waters):
        return []
    row = waters[0]
    return [
        Reason(
            "water",
            row.name,
            say(
                "{name} has pH {ph}, the recipe {low} to {high}",
                name=row.name,
                ph=row.ph,
                low=low,
                high=high,
            ),
        )
    ]


def order_of_steps(recipe: Recipe, fibre: str) -> list[Reason]:
    """Tannin before alum on plant fibre, iron last, lemon and iron never together."""
    names = [step.kind for step in recipe.steps]
    reasons = []
    if fibre not in recipe.fibres:
        reasons.append(
            Reason(
                "fibre",
                fibre,
                say(
                    "{shade} is worked out for {fibres}",
                    shade=recipe.shade,
                    fibres=joined(", ", recipe.fibres),
                ),
            )
        )
    both = fibre not in ANIMAL and "tannin" in names and "mordant" in names
    if both and names.index("tannin") > names.index("mordant"):
        reasons.append(Reason("order", recipe.shade, say("tannin stands after the mordant")))
    for number, step in enumerate(recipe.steps):
        later = [row.name for row in recipe.steps[number + 1 :] if row.kind in BEFORE_IRON]
        if step.metal == "iron" and later:
            reasons.append(
                Reason(
                    "order",
                    step.name,
                    say(
                        "{name} comes before {later}: iron is last", name=step.name, later=later[0]
                    ),
                )
            )
    iron = {dose.step for dose in recipe.doses if dose.kind == "liquor" and dose.what == "iron"}
    for dose in recipe.doses:
        if dose.what in ("lemon", "citric acid") and dose.step in iron:
            reasons.append(
                Reason(
                    "order",
                    dose.step,
                    say("lemon and iron stand together in {step}", step=dose.step),
                )
            )
    return reasons


def fugitive(run: RunFacts, recipe: Recipe, facts: WeekFacts) -> list[Reason]:
    """What soon fades does not go into a client's run."""
    if not run.client:
        return []
    soon = sorted(d.what for d in recipe.doses if d.what in facts.fugitive)
    if not soon and not recipe.fugitive:
        return []
    what = joined(", ", soon) or recipe.shade
    return [Reason("fugitive", what, say("{what} soon fades: not for a client's run", what=what))]
