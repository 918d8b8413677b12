"""A recipe written: a new one, or a new version of one that is there."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse

from api.question import Question, moment_now, question_of
from api.visitor import Right, visitor_of
from api.web.forms import REFUSALS, form_view, on_to, sentences_of, with_form
from api.web.page import refused
from api.web.recipes.form import blank, form_of, recipe_in
from api.web.recipes.view import address_of
from inventory.science.saying import say
from sourcing.notebook.recipe_cells import RecipeCells, recipe_cells, write_recipe
from sourcing.notebook.row_key import key_cells_in

WHAT = say("The form of a recipe")


@form_view
def new_recipe_page(request: HttpRequest) -> HttpResponse:
    """A shade that no recipe is written for."""
    question = question_of(request, what=WHAT)
    return _answer(request, question, recipe_in(request.POST), blank(), title=say("A new recipe"))


@form_view
def change_recipe_page(request: HttpRequest, key: str) -> HttpResponse:
    """A recipe as it stands, to be written otherwise as a new version."""
    question = question_of(request, what=WHAT)
    cells = key_cells_in(key)
    code = cells[0] if cells is not None and len(cells) == 1 else key
    there = recipe_cells(question.studio, code)
    if there is None:
        return refused(HTTPStatus.NOT_FOUND, say("No recipe is called {code}.", code=code[:40]))
    version = _whole(request.POST.get("version", ""))
    said = recipe_in(request.POST, code=code, version=version)
    return _answer(request, question, said, there, title=there.cells["shade"])


def _answer(
    request: HttpRequest, question: Question, said: RecipeCells, there: RecipeCells, *, title: str
) -> HttpResponse:
    """The recipe kept, or the form with what is wrong with it; nothing that was typed is lost."""
    faults: tuple[str, ...] = ()
    if request.method == "POST":
        visitor_of(request, least=Right.DYER)
        try:
            write_recipe(question.studio, said, at=moment_now())
            return on_to(address_of(said.cells["recipe"]) + question.carried)
        except REFUSALS as error:
            faults = sentences_of(error)
        there = said
    return with_form(request, "recipes/form.html", question, here="recipes", faults=faults,
                     form=form_of(there), title=title, action=request.get_full_path())  # fmt: skip


def _whole(text: str) -> int:
    return int(text) if text.isascii() and text.isdecimal() and len(text) < 6 else 0
