"""*Recipes*: every shade, and one with its steps, doses, sources, versions and swatches."""

from __future__ import annotations

import re
from http import HTTPStatus
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse
from django.urls import reverse

from api.asked import PageUnknown
from api.question import Question, moment_now, question_of
from api.visitor import Right, visitor_of
from api.web.forms import REFUSALS, form_view, on_to, sentences_of, with_form
from api.web.page import page, refused, shown
from api.web.recipes.view import address_of, card_of, recipe_shown
from inventory.science.saying import say
from sourcing.notebook.row_key import key_cells_in
from sourcing.recipes_seen import RECIPES_AT_MOST, recipe_seen, recipes_seen, swatches_of
from sourcing.starts.starts import start_called, starts
from sourcing.starts.take_over import take_over

WHOLE = re.compile(r"[1-9]\d{0,4}", re.ASCII)
LONGEST_FOUND = 60


@form_view
def recipes_page(request: HttpRequest) -> HttpResponse:
    """All recipes by shade; below them those that are shipped to begin with."""
    question = question_of(request, what=say("The page of recipes"), more=("find", "page"))
    faults: tuple[str, ...] = ()
    if request.method == "POST":
        visitor_of(request, least=Right.DYER)
        try:
            return on_to(_take_over(request, question))
        except REFUSALS as error:
            faults = sentences_of(error)
    find = " ".join(request.GET.get("find", "")[:LONGEST_FOUND].split())
    number = _number(request.GET.get("page", "1"))
    first = (number - 1) * RECIPES_AT_MOST
    found = recipes_seen(question.studio, find=find, first=first)
    there = {row.recipe.code for row in found}
    return with_form(
        request, "recipes/list.html", question, here="recipes", faults=faults,
        cards=[card_of(row, question.carried) for row in found[:RECIPES_AT_MOST]],
        find=find, said=question.said, new=reverse("recipe-new") + question.carried,
        before=_another(number - 1, find, question) if number > 1 else "",
        after=_another(number + 1, find, question) if len(found) > RECIPES_AT_MOST else "",
        starts=[row for row in starts() if row.code not in there],
    )  # fmt: skip


def _take_over(request: HttpRequest, question: Question) -> str:
    start = start_called(request.POST.get("start", ""))
    if start is None:
        return reverse("recipes") + question.carried
    take_over(question.studio, start, at=moment_now())
    return address_of(start.code) + question.carried


def _number(text: str) -> int:
    if not WHOLE.fullmatch(text):
        detail = say(
            "There is no page “{text}” of the recipes. Write a number from 1 on.", text=text[:20]
        )
        raise PageUnknown("page", text, detail)
    return int(text)


def _another(number: int, find: str, question: Question) -> str:
    asked = {"page": str(number), **({"find": find} if find else {})}
    return f"{reverse('recipes')}?{urlencode([*question.said, *asked.items()])}"


@page
def recipe_page(request: HttpRequest, key: str) -> HttpResponse:
    """One recipe in its last version, or in the one that the address names."""
    question = question_of(request, what=say("The page of a recipe"), more=("version",))
    cells = key_cells_in(key)
    code = cells[0] if cells is not None and len(cells) == 1 else key
    asked = request.GET.get("version")
    if asked is not None and not WHOLE.fullmatch(asked):
        detail = say("There is no version “{asked}”. Write a number from 1 on.", asked=asked[:20])
        raise PageUnknown("version", asked, detail)
    seen = recipe_seen(question.studio, code, None if asked is None else int(asked))
    if seen is None:
        said = say("No recipe is called {code}", code=code[:40]) + (
            say(" in version {asked}", asked=asked) if asked else ""
        )
        return refused(
            HTTPStatus.NOT_FOUND, say("{said}. All that there are stand under Recipes.", said=said)
        )
    swatches = swatches_of(question.studio, seen.recipe.shade)
    view = recipe_shown(seen, swatches, question)
    return shown("recipes/page.html", question, here="recipes", recipe=view)
