"""Rows of a page taken out of a studio, where nothing points at them."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Collection, Iterator
from datetime import datetime
from typing import Any, TypeVar

from django.db import IntegrityError, transaction
from django.db.models import ProtectedError

from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.models.scope import OfStudio
from sourcing.models import Recipe, RecipeDose, RecipeStep
from sourcing.notebook.load import STAGES
from sourcing.notebook.loading import Entered, Loading
from sourcing.notebook.merge import OF_A_RECIPE, Part, cells_of, merge
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.one_page import bring_in, held, new_problems
from sourcing.notebook.one_row import Look, check_standing, kept_row, row_called
from sourcing.notebook.page import Column, Page, Row
from sourcing.notebook.row_errors import NoSuchRow, RowPointedAt, StudioStays
from sourcing.notebook.row_key import key_text
from sourcing.notebook.yard_pages import PAGES

MOST_SAID = 3  # of what points at a row
M = TypeVar("M", bound=OfStudio)
# Columns that name a row of another page without having to: a place may be a kind too.
PLACES = ("cold_places",)


class _Finding(Loading):
    """Finds the row of a table that a row of a page keeps, and writes nothing."""

    found: OfStudio | None = None

    def keep(self, row: Row, model: type[M], key: dict[str, Any], values: dict[str, Any]) -> M:
        kept = self.kept(model, tuple(key))[tuple(key.values())]
        self.found = kept
        return kept

    def post(
        self, row: Row, verb: Callable[..., Entered], *, part: str = "", **values: Any
    ) -> None:
        """What a vessel went through is not recorded once more."""


def delete_row(studio: Studio, page: Page, key: str, *, at: datetime, look: Look) -> None:
    """A row taken out of a studio.

    Parameters
    ----------
    look : is told the mark of what stands there, while nobody else writes it

    Raises
    ------
    NoSuchRow
        If it is not there.
    RowIsHistory, StudioStays
        If the page says what happened, or is the studio's own.
    RowPointedAt
        If something names it or hangs on it; the message says what.
    """
    check_standing(page)
    if page.required:
        raise StudioStays(studio.name)
    try:
        with said_in_words(), transaction.atomic():
            standing = held(studio, [page], at=at)
            row = row_called(standing, page, key)
            look(None if row is None else kept_row(standing, page, row).mark)
            if row is None:
                raise NoSuchRow(page.name, key)
            _check_free(standing, page, row, key)
            _take_out(studio, page, row, standing, at=at)
    except ProtectedError as protected:
        raise RowPointedAt(page.name, key, _kinds(protected.protected_objects)) from None
    except IntegrityError:
        raise RowPointedAt(page.name, key, ["it was named just now"]) from None


def _take_out(studio: Studio, page: Page, row: Row, standing: Notebook, *, at: datetime) -> None:
    if page.name in OF_A_RECIPE:
        code = row.text("recipe")
        left = [of for of in standing.page(page.name) if of.text("recipe") == code and of != row]
        merged = merge(standing, {page.name: left}, leaving=[row])
        bring_in(studio, [page], lambda _: (merged, []), at=at)
    elif page.name == "recipes":
        _recipe(studio, row.text("recipe"))
    else:
        _found(studio, page, row, standing).delete()


def _found(studio: Studio, page: Page, row: Row, standing: Notebook) -> OfStudio:
    """The row of a table that a row of a page keeps."""
    rows = {page.name: (row,), "studio": standing.page("studio")}
    finding = _Finding(studio, Part(standing.setting, rows, standing))
    for stage in STAGES:
        stage(finding)
    assert finding.found is not None, (page.name, row)
    return finding.found


def _recipe(studio: Studio, code: str) -> None:
    """All versions of a recipe, with their steps and doses."""
    versions = Recipe.objects.of(studio).filter(code=code)
    for model in (RecipeStep, RecipeDose):
        model.objects.of(studio).filter(recipe__in=versions).delete()
    versions.delete()


def _check_free(standing: Notebook, page: Page, row: Row, key: str) -> None:
    """Refuse to take out what other rows name, or could not do without."""
    if pointing := list(_pointing(standing, page, row)):
        more = len(pointing) - MOST_SAID
        said = [*pointing[:MOST_SAID], *([f"and {more:,} more rows"] if more > 0 else [])]
        raise RowPointedAt(page.name, key, said)
    wrong = new_problems(standing, merge(standing, {}, leaving=_going(standing, page, row)).whole)
    if wrong:
        said = [f"without it, {str(problem).rstrip('.')}" for problem in wrong[:MOST_SAID]]
        raise RowPointedAt(page.name, key, said)


def _going(standing: Notebook, page: Page, row: Row) -> list[Row]:
    """A row, and the steps and doses that go with a recipe."""
    if page.name != "recipes":
        return [row]
    parts = [of for name in OF_A_RECIPE for of in standing.page(name)]
    return [row, *(of for of in parts if of.text("recipe") == row.text("recipe"))]


def _pointing(standing: Notebook, page: Page, row: Row) -> Iterator[str]:
    """What rows of other pages name this one, in words."""
    name = row.text(page.key[0])
    for other in PAGES:
        if page.name == "recipes" and other.name in OF_A_RECIPE:
            continue
        for column in other.columns:
            if not _names(column, page):
                continue
            for of in standing.page(other.name):
                value = of.values.get(column.name)
                if name in (value if isinstance(value, tuple) else (value,)):
                    cells = cells_of(other, of, standing)
                    its = key_text(cells[part] for part in other.key)
                    yield f"{other.name} {its} names it under {column.name}"


def _names(column: Column, page: Page) -> bool:
    return page.name in column.refers or (column.kind == "place" and page.name in PLACES)


def _kinds(objects: Collection[Any]) -> list[str]:
    """What hangs on a row beside the notebook, so many of each kind."""
    counted = Counter(type(row)._meta.verbose_name for row in objects)
    return [f"{count:,} × {kind} in its history hangs on it" for kind, count in counted.items()]
