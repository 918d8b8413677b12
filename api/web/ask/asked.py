"""What somebody asks for: a shade, how much fibre, by when and for whom, read off an address."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from urllib.parse import urlencode

from django.http import QueryDict

from api.asked import day_asked
from api.web.form_unclear import FormUnclear
from inventory.science.custom import Custom
from inventory.science.saying import say
from inventory.science.unclear import Unclear
from sourcing.week.facts import Recipe, WeekFacts
from sourcing.week.words import listed

WORDS = ("recipe", "weight", "unit", "on", "by", "day", "who", "whom", "card")
UNITS = ("g", "kg", "lb", "oz")
EVENING = time(18)  # of the day by which a run is to be dry; assumed, not measured
SOME_DAY, OURSELVES = "day", "own"
AGREED, NOT_AGREED = "yes", "no"
LONGEST = 80


@dataclass(frozen=True, slots=True)
class RunAsked:
    """The fields as they were filled in; empty where nothing was."""

    recipe: str = ""
    weight: str = ""
    unit: str = "g"
    on: str = ""  # a lot of fibre, or a fibre by its name; empty: whatever the recipe is for
    by: str = ""  # a day; SOME_DAY: the day written beside; empty: whenever it fits
    day: str = ""
    who: str = ""  # OURSELVES; empty: a client
    whom: str = ""
    card: str = ""  # AGREED, NOT_AGREED; empty: as for the runs before

    @property
    def complete(self) -> bool:
        """Whether there is enough to look."""
        return bool(self.recipe and self.weight)

    @property
    def pairs(self) -> list[tuple[str, str]]:
        """What the fields say, to be asked again at another address."""
        return [(name, text) for name in WORDS if (text := getattr(self, name))]

    def address(self, carried: str, **otherwise: str) -> str:
        """The query that asks the same with something otherwise."""
        asked = urlencode(replace(self, **otherwise).pairs)
        return f"{carried}&{asked}" if carried else f"?{asked}"


@dataclass(frozen=True, slots=True)
class Wish:
    """A run as the week and the tables understand it."""

    recipe: Recipe
    fibre: str
    lot: str
    mg: int
    words: str  # of the weight, 200 g
    due: datetime | None
    client: bool
    whom: str
    agreed: bool | None  # the shade; None: as for the runs before


def run_asked(query: QueryDict) -> RunAsked:
    """The fields of an address or of a form, cut to what any of them can hold."""
    said = {name: query.get(name, "").strip()[:LONGEST] for name in WORDS if name in query}
    return RunAsked(**said)


def wish_of(asked: RunAsked, facts: WeekFacts, *, custom: Custom) -> Wish:
    """The run that the fields say.

    Raises
    ------
    FormUnclear
        With a sentence on what to say instead.
    """
    recipe = next((row for row in facts.recipes if row.code == asked.recipe), None)
    if recipe is None:
        detail = say("Choose a shade; there is no recipe of that name.")
        raise FormUnclear("recipe", asked.recipe, detail)
    fibre, lot = _fibre(asked, recipe, facts)
    mg, words = weight_of(asked.weight, asked.unit, custom=custom)
    due = due_of(asked, facts)
    agreed = {AGREED: True, NOT_AGREED: False}.get(asked.card)
    return Wish(recipe, fibre, lot, mg, words, due, asked.who != OURSELVES, asked.whom, agreed)


def _fibre(asked: RunAsked, recipe: Recipe, facts: WeekFacts) -> tuple[str, str]:
    lot = next((row for row in facts.shelf.fibre if row.code == asked.on), None)
    fibre = lot.fibre if lot is not None else asked.on or next(_there_first(recipe, facts))
    if fibre not in recipe.fibres:
        detail = say(
            "{shade} is worked out for {fibres}, not for {fibre}. Choose another shade or "
            "other fibre.",
            shade=recipe.shade,
            fibres=listed(recipe.fibres),
            fibre=fibre,
        )
        raise FormUnclear("on", asked.on, detail)
    return fibre, "" if lot is None else lot.code


def _there_first(recipe: Recipe, facts: WeekFacts) -> Iterator[str]:
    """The fibres of a recipe, those on the shelf before those that are not."""
    there = {row.fibre for row in facts.shelf.fibre if row.left_mg}
    yield from (fibre for fibre in recipe.fibres if fibre in there)
    yield from recipe.fibres


def weight_of(
    said: str, unit: str, *, custom: Custom, what: str = say("the fibre")
) -> tuple[int, str]:
    """A dry weight in mg, and as it is written; a bare number has the unit beside it."""
    bare = said.replace(",", "").replace(".", "").replace(" ", "").isdigit()
    words = (
        say("{said} {which}", said=said, which=unit if unit in UNITS else say("g"))
        if bare
        else said
    )
    try:
        amount = custom.amount(words)
    except Unclear as wrong:
        raise FormUnclear("weight", said, str(wrong)) from None
    if amount.kind != "mass" or amount.mg <= 0:
        raise FormUnclear(
            "weight", said, say("Say what {what} weighs dry, such as 200 g.", what=what)
        )
    return amount.mg, words


def due_of(asked: RunAsked, facts: WeekFacts) -> datetime | None:
    """The evening of the day by which it is to be dry; None: whenever it fits."""
    text = asked.day if asked.by in ("", SOME_DAY) else asked.by
    if not text:
        if asked.by == SOME_DAY:
            raise FormUnclear("day", "", say("Say by which day, or choose “whenever it fits”."))
        return None
    day = day_asked("by", text)
    if day < facts.at.astimezone(facts.zone).date():
        raise FormUnclear(
            "by", text, say("{said} has passed. Say a day that is still to come.", said=_said(day))
        )
    return datetime.combine(day, EVENING, tzinfo=facts.zone)


def _said(day: date) -> str:
    return say("{number} {day:%B} {day:%Y}", number=day.day, day=day)
