"""What the form of a run offers: shades as tickets, fibre on the shelf, days, and for whom."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from decimal import Decimal

from api.web.ask.asked import AGREED, NOT_AGREED, OURSELVES, SOME_DAY, UNITS, RunAsked
from inventory.science.custom import Custom
from inventory.science.saying import joined, say
from inventory.science.wording import OF_FIBRE, liquor_dose, liquor_ratio
from sourcing.week.facts import Dose, Recipe, WeekFacts
from sourcing.week.words import day_in_words, decimal_string, grams, listed

SHADES_AT_MOST = 24  # on one page; others are found by their name
LOTS_AT_MOST = 40
NAMES_AT_MOST = 6
OLDER = re.compile(r" version \d+$")


@dataclass(frozen=True, slots=True)
class Choice:
    """One thing to choose."""

    value: str
    words: str
    more: str = ""  # beside it, in smaller letters
    chosen: bool = False
    marks: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class AskForm:
    """The whole form."""

    shades: tuple[Choice, ...]
    hidden_shades: int  # that the page has no room for
    fibre: tuple[Choice, ...]
    units: tuple[Choice, ...]
    days: tuple[Choice, ...]
    who: tuple[Choice, ...]
    names: tuple[str, ...]
    cards: tuple[Choice, ...]
    asked: RunAsked


def form_of(asked: RunAsked, facts: WeekFacts, *, custom: Custom, find: str = "") -> AskForm:
    """The form with what was filled in already."""
    offered = custom.offered(UNITS)
    chosen = asked.unit if asked.weight else offered[0]
    shades = [row for row in latest(facts.recipes) if _is_called(row, find)]
    shades.sort(key=lambda row: (row.code != asked.recipe, row.shade.casefold(), row.code))
    return AskForm(
        shades=tuple(_shade(row, asked) for row in shades[:SHADES_AT_MOST]),
        hidden_shades=max(0, len(shades) - SHADES_AT_MOST),
        fibre=tuple(_fibre(asked, facts)),
        units=tuple(Choice(unit, unit, chosen=unit == chosen) for unit in offered),
        days=tuple(_days(asked, facts.at.astimezone(facts.zone).date())),
        who=(
            Choice("", say("a client"), chosen=asked.who != OURSELVES),
            Choice(OURSELVES, say("ourselves"), chosen=asked.who == OURSELVES),
        ),
        names=tuple(_names(facts)),
        cards=(
            Choice("", say("as for the runs before"), chosen=not asked.card),
            Choice(AGREED, say("agreed"), chosen=asked.card == AGREED),
            Choice(NOT_AGREED, say("not agreed yet"), chosen=asked.card == NOT_AGREED),
        ),
        asked=asked,
    )


def latest(recipes: Iterable[Recipe]) -> list[Recipe]:
    """Recipes by which something may be asked for: of each its last version."""
    return [row for row in recipes if not OLDER.search(row.code)]


def _is_called(recipe: Recipe, find: str) -> bool:
    said = say(
        "{code} {shade} {fibres}",
        code=recipe.code,
        shade=recipe.shade,
        fibres=joined(" ", recipe.fibres),
    ).casefold()
    return all(word in said for word in find.casefold().split())


def _shade(recipe: Recipe, asked: RunAsked) -> Choice:
    wants = joined(", ", (dose_in_words(dose) for dose in recipe.doses))
    return Choice(
        value=recipe.code,
        words=recipe.shade,
        more=say("{fibres}: {wants}", fibres=listed(recipe.fibres), wants=wants)
        if wants
        else listed(recipe.fibres),
        chosen=recipe.code == asked.recipe,
        marks=(say("soon fades"),) if recipe.fugitive else (),
    )


def dose_in_words(dose: Dose) -> str:
    """`150 % avocado stones`, `50 mL per 100 g of iron liquor`.

    >>> from fractions import Fraction
    >>> dose_in_words(Dose("avocado stones", "dyestuff", "extract", Fraction(3, 2)))
    '150 % avocado stones'
    """
    state = say("{state} ", state=dose.state) if dose.state else ""
    if dose.ml_per_100g:
        return say(
            "{dose} per {of_fibre} of {what} liquor",
            dose=liquor_dose(Decimal(decimal_string(dose.ml_per_100g))),
            of_fibre=OF_FIBRE,
            what=dose.what,
        )
    if dose.l_per_kg:
        return say("{ratio} of {what}", ratio=liquor_ratio(dose.l_per_kg), what=dose.what)
    percent = Decimal(dose.per_fibre.numerator * 100) / dose.per_fibre.denominator
    return say(
        "{quantize} % {state}{what}",
        quantize=decimal_string(percent.quantize(Decimal("0.1"))),
        state=state,
        what=dose.what,
    )


def _fibre(asked: RunAsked, facts: WeekFacts) -> Iterator[Choice]:
    yield Choice("", say("whatever the shade is for"), chosen=not asked.on)
    lots = [row for row in facts.shelf.fibre if row.left_mg and not row.set_aside]
    known = {fibre for recipe in facts.recipes for fibre in recipe.fibres}
    for fibre in sorted(known):
        yield Choice(fibre, say("any {fibre}", fibre=fibre), chosen=asked.on == fibre)
    for row in lots[:LOTS_AT_MOST]:
        state = "" if row.scoured else say(", unscoured")
        words = say(
            "{code}: {left_mg} of {fibre}{state}",
            code=row.code,
            left_mg=grams(row.left_mg),
            fibre=row.fibre,
            state=state,
        )
        yield Choice(row.code, words, chosen=asked.on == row.code)
    if asked.on and asked.on not in known | {row.code for row in lots[:LOTS_AT_MOST]}:
        yield Choice(asked.on, asked.on, chosen=True)


def _days(asked: RunAsked, today: date) -> Iterator[Choice]:
    """Whenever it fits, the end of this week and of the next two, or a day of one's own."""
    friday = today + timedelta((4 - today.weekday()) % 7)
    ends = [friday + timedelta(7 * week) for week in range(3)]
    known = {str(day) for day in ends}
    own = asked.by == SOME_DAY or (asked.by or asked.day) not in {"", *known}
    yield Choice("", say("whenever it fits"), chosen=not asked.by and not asked.day)
    for day in ends:
        yield Choice(str(day), day_in_words(day), chosen=not own and asked.by == str(day))
    yield Choice(SOME_DAY, say("by the day below"), chosen=own)


def _names(facts: WeekFacts) -> Iterator[str]:
    """Those for whom something is wanted already."""
    names = dict.fromkeys(run.for_whom for run in facts.runs if run.for_whom)
    yield from list(names)[:NAMES_AT_MOST]
