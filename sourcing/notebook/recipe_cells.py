"""One recipe as the cells of its pages: to be changed in a form and written as a new version."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from inventory.models import Studio
from sourcing.errors import RecipeChanged, RecipeThere
from sourcing.models import Recipe, RecipeDose, RecipeStep
from sourcing.notebook.cells import Setting
from sourcing.notebook.load_shelf import Values
from sourcing.notebook.merge import cells_of
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.one_row import Wanted, put_row
from sourcing.notebook.page import Page, Row
from sourcing.notebook.row_key import key_text
from sourcing.notebook.write_yard import dose_values, recipe_values, step_values
from sourcing.notebook.yard_pages import BY_NAME

Cells = Mapping[str, str]


@dataclass(frozen=True, slots=True)
class RecipeCells:
    """A recipe in the words of the notebook; `version` 0: it is not written down yet."""

    cells: Cells
    steps: tuple[Cells, ...] = ()
    doses: tuple[Cells, ...] = ()
    version: int = 0


def recipe_cells(studio: Studio, code: str) -> RecipeCells | None:
    """The last version of a recipe; None where there is none of that code."""
    row = Recipe.objects.of(studio).filter(code=code).order_by("version").last()
    if row is None:
        return None
    steps = RecipeStep.objects.of(studio).filter(recipe=row).order_by("number")
    doses = RecipeDose.objects.of(studio).filter(recipe=row).order_by("number")
    setting = Setting(ZoneInfo(studio.zone), studio.country)
    return RecipeCells(
        _written(BY_NAME["recipes"], recipe_values(row, code), setting),
        _all(BY_NAME["steps"], steps, step_values, setting),
        _all(BY_NAME["doses"], doses, dose_values, setting),
        row.version,
    )


def write_recipe(studio: Studio, wanted: RecipeCells, *, at: datetime) -> int:
    """A recipe written down, as a new version where it is there; its version then.

    Raises
    ------
    RecipeThere
        If one is written as new that is there.
    RecipeChanged
        If another version was written since the one that was changed.
    NotebookRefused
        With every problem, if it cannot be written so.
    """
    code = wanted.cells["recipe"]

    def look(mark: str | None) -> None:
        if mark is not None and not wanted.version:
            raise RecipeThere(code)
        last = _version(studio, code)
        if wanted.version and last != wanted.version:
            raise RecipeChanged(code, version=last)

    parts = {"steps": wanted.steps, "doses": wanted.doses}
    page = BY_NAME["recipes"]
    put_row(studio, page, key_text([code]), Wanted(wanted.cells, parts), at=at, look=look)
    return _version(studio, code)


def _version(studio: Studio, code: str) -> int:
    rows = Recipe.objects.of(studio).filter(code=code).order_by("version")
    return rows.values_list("version", flat=True).last() or 0


def _all(
    page: Page, rows: Iterable[object], values: Callable[..., Values], setting: Setting
) -> tuple[Cells, ...]:
    return tuple(_written(page, values(row), setting) for row in rows)


def _written(page: Page, values: Values, setting: Setting) -> Cells:
    row = Row(page.name, 0, {k: v for k, v in values.items() if v not in (None, "", ())})
    return cells_of(page, row, Notebook(setting))
