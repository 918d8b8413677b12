"""A run ready to show beside its answer: what was asked, its gates, and what is claimed for it."""

from __future__ import annotations

from dataclasses import dataclass, field
from uuid import UUID, uuid4

from django.urls import reverse

from api.question import Question
from api.web.ask.asked import UNITS
from api.web.ask.choices import Choice
from api.web.ask.view import in_grams
from inventory.science.saying import say
from sourcing.notebook.row_key import key_text
from sourcing.week.facts import FastnessWish, RunFacts, WeekFacts
from sourcing.week.plan import Answer, Take
from sourcing.week.words import amount, decimal_string, moment_in_words


@dataclass(frozen=True, slots=True)
class Claimable:
    """Something that the answer takes, and that may be kept for the run."""

    lot: str
    what: str
    said: str  # 1,180 g
    exact: str  # of the field: 1180 g
    entry: UUID = field(default_factory=uuid4)  # of its form


@dataclass(frozen=True, slots=True)
class RunShown:
    """A run that is wanted."""

    code: str
    shade: str
    key: str
    address: str
    recipe: str  # as it is called
    recipe_address: str
    weight: str  # in grams, for the field
    units: tuple[Choice, ...]
    due: str  # a day, for the field
    wanted: str
    begun: bool
    card: str  # agreed, not agreed yet, none yet
    agreed: bool
    gates: tuple[str, ...]
    claims: tuple[Claimable, ...]  # kept for it already
    takes: tuple[Claimable, ...]  # that are not


def run_shown(run: RunFacts, answer: Answer, facts: WeekFacts, question: Question) -> RunShown:
    """The run as it is written down."""
    card = run.shade_card
    kept = {row.code: row.amount for row in facts.promised if row.run == run.code}
    return RunShown(
        code=run.code,
        shade=run.shade,
        key=key_text([run.code]),
        address=reverse("run", args=[key_text([run.code])]) + question.carried,
        recipe=run.recipe,
        recipe_address=reverse("recipe", args=[key_text([run.recipe.partition(" version ")[0]])])
        + question.carried,
        weight=in_grams(run.weight_mg),
        units=tuple(Choice(unit, unit, chosen=unit == "g") for unit in UNITS),
        due="" if run.due is None else str(run.due.astimezone(facts.zone).date()),
        wanted=say("whenever it fits") if run.due is None else moment_in_words(run.due, facts.zone),
        begun=run.begun,
        card=say("none yet")
        if card is None
        else say("agreed")
        if card.approved
        else say("not agreed yet"),
        agreed=card is not None and card.approved,
        gates=tuple(_gate(wish) for wish in run.wishes),
        claims=tuple(_kept(code, number, facts) for code, number in kept.items()),
        takes=tuple(
            _take(take)
            for take in answer.takes
            if take.source not in kept and take.source in _lots(facts)
        ),
    )


def _gate(wish: FastnessWish) -> str:
    so_far = (
        say("none so far")
        if wish.reading is None
        else say("{reading} so far", reading=decimal_string(wish.reading))
    )
    said = say("; accepted in writing") if wish.accepted_in_writing else ""
    return say(
        "{what} reading of {wanted} wanted, {so_far}{said}",
        what=wish.what,
        wanted=decimal_string(wish.wanted),
        so_far=so_far,
        said=said,
    )


def _lots(facts: WeekFacts) -> dict[str, str]:
    """What lies on the shelves under its code, in its unit."""
    shelf = facts.shelf
    solid = (*shelf.lots, *shelf.fibre, *shelf.supplies)
    liquid = (*shelf.jars, *shelf.baths)
    units = [(row, "mg") for row in solid] + [(row, "µL") for row in liquid]
    return {code: unit for row, unit in units if (code := getattr(row, "code", ""))}


def _kept(code: str, number: int, facts: WeekFacts) -> Claimable:
    unit = _lots(facts).get(code, "mg")
    return Claimable(code, "", amount(number, unit), "")


def _take(take: Take) -> Claimable:
    exact = say(
        "{in_grams} {which}",
        in_grams=in_grams(take.amount),
        which=say("g") if take.unit == "mg" else say("mL"),
    )
    what = "" if take.what == take.source else take.what
    return Claimable(take.source, what, amount(take.amount, take.unit), exact)
