"""Wishes to put by for: written down, changed, dropped."""

from __future__ import annotations

from datetime import date

from django.db import transaction

from inventory.draft import number_of
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import check_row, check_said
from sourcing.errors import (
    NoSuchPutBy,
    NoSuchRecipe,
    PutByOfOneThing,
    SpreadUnknown,
    TakesNoDyestuff,
    TooManyRuns,
    WrongWayRound,
)
from sourcing.models import PutByWish, Recipe, RecipeDose
from sourcing.models.put_by import RUNS_AT_MOST
from sourcing.putting_by.facts import EVENLY, MONTHLY
from sourcing.putting_by.turning import DRIED, FROZEN


@said_in_words()
def wish_put_by(
    studio: Studio,
    *,
    code: str,
    runs: int,
    each_mg: int,
    since: date,
    last_on: date,
    recipe: str = "",
    dyestuff: str = "",
    state: str = "",
    spread: str = MONTHLY,
    note: str = "",
) -> PutByWish:
    """Runs that something is to be put by for; said again under its code, the last word holds.

    Parameters
    ----------
    code : a short name
    each_mg : what one run takes of the dyestuff; of a recipe, its dry weight of fibre
    since, last_on : first and last day on which one of them may be dyed
    recipe, dyestuff : one of the two
    state : dried or frozen, of a dyestuff; empty: as it keeps best
    spread : monthly or evenly

    Raises
    ------
    PutByOfOneThing
        If neither a recipe nor a dyestuff is named, or both are.
    NoSuchRecipe, TakesNoDyestuff
        If no recipe has the code, or it is dyed from nothing that could be put by.
    TooManyRuns, WrongWayRound, SpreadUnknown
        If a number, a day or a word is none that can be.
    """
    check_said({"code": code, "recipe": recipe, "dyestuff": dyestuff, "state": state})
    check_said({"spread": spread, "note": note})
    number_of(runs, least=1)
    number_of(each_mg, least=1)
    if bool(recipe) == bool(dyestuff) or (recipe and state):
        raise PutByOfOneThing
    if runs > RUNS_AT_MOST:
        raise TooManyRuns(runs, RUNS_AT_MOST)
    if last_on < since:
        raise WrongWayRound(since, last_on)
    if spread not in (MONTHLY, EVENLY):
        raise SpreadUnknown(spread, (MONTHLY, EVENLY))
    if state not in ("", DRIED, FROZEN):
        raise SpreadUnknown(state, (DRIED, FROZEN))
    with transaction.atomic():
        found = PutByWish.objects.of(studio).select_for_update().filter(code=code).first()
        row = found or PutByWish(studio=studio, code=code)
        row.recipe = _recipe(studio, recipe)
        row.dyestuff, row.state, row.runs, row.each_mg = dyestuff, state, runs, each_mg
        row.since, row.last_on, row.spread, row.note = since, last_on, spread, note
        check_row(row)
        row.save()
    return row


@said_in_words()
def drop_put_by(studio: Studio, *, code: str) -> None:
    """A wish that nobody has any more; what was put by for it stays on the shelf.

    Raises
    ------
    NoSuchPutBy
        If no wish has the code.
    """
    check_said({"code": code})
    with transaction.atomic():
        gone, _ = PutByWish.objects.of(studio).filter(code=code).delete()
        if not gone:
            raise NoSuchPutBy(code)


def _recipe(studio: Studio, code: str) -> Recipe | None:
    """The last version of a recipe, one that takes a dyestuff; None where none is named."""
    if not code:
        return None
    found = Recipe.objects.of(studio).filter(code=code).order_by("version").last()
    if found is None:
        raise NoSuchRecipe(code)
    if not RecipeDose.objects.of(studio).filter(recipe=found, kind="dyestuff").exists():
        raise TakesNoDyestuff(found.shade)
    return found
