"""Rows that somebody hands in, against those that the studio has: what is new, what is changed.

Out of both comes the notebook as it would be then, which is checked as a whole, and the part of
it that has to be loaded.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from sourcing.notebook.cells import write_cell
from sourcing.notebook.check import left_of
from sourcing.notebook.history_pages import KEPT_COLUMNS, RECORDED_BY, is_history
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Page, Row
from sourcing.notebook.problem import Problem
from sourcing.notebook.sheet import plain
from sourcing.notebook.yard_pages import BY_NAME

OF_A_RECIPE = ("steps", "doses")  # pages whose rows belong to a recipe and go with it
Key = tuple[str, ...]


@dataclass(frozen=True)
class Part(Notebook):
    """Rows that are to be loaded; what they name is looked up in the whole notebook."""

    whole: Notebook | None = None

    def named_row(self, page: str, name: str) -> Row | None:
        whole = Notebook(self.setting, self.rows) if self.whole is None else self.whole
        return whole.named_row(page, name)


@dataclass(frozen=True)
class Merged:
    """The notebook as it would be, the part that is new or changed, and what cannot be."""

    whole: Notebook
    part: Part
    problems: tuple[Problem, ...]


def merge(
    standing: Notebook, given: Mapping[str, Sequence[Row]], *, leaving: Iterable[Row] = ()
) -> Merged:
    """What a studio has, with the rows that are given put over it.

    Parameters
    ----------
    standing : all that the studio has
    given : sound rows by page, each key once; a recipe that is named on `steps` or `doses` has
        only the steps or doses that are given there
    leaving : standing rows that shall not be there any more
    """
    gone = {id(row) for row in leaving}
    setting = standing.setting
    rows = {page: [row for row in found if id(row) not in gone]
            for page, found in standing.rows.items()}  # fmt: skip
    fresh: dict[str, list[Row]] = {}
    problems: list[Problem] = []
    for name, new in given.items():
        page = BY_NAME[name]
        own = {key_cells(page, row, standing): row for row in rows.get(name, ())}
        changed, wrong = _against(page, own, new, standing)
        problems += wrong
        fresh[name] = changed
        rows[name] = _over(page, own, new, standing)
    _leave_in_jars(rows, fresh.get("jar_events", ()))
    whole = Notebook(setting, {name: tuple(found) for name, found in rows.items()})
    load = {**fresh, **_recipes(standing, whole), "studio": list(whole.page("studio"))}
    part = Part(setting, {name: tuple(found) for name, found in load.items()}, whole)
    return Merged(whole, part, tuple(problems))


def cells_of(page: Page, row: Row, notebook: Notebook) -> dict[str, str]:
    """The cells of a row as they would be written, by column."""
    return {
        column.name: plain(write_cell(column, row.values.get(column.name), notebook.setting))
        for column in page.columns
    }


def key_cells(page: Page, row: Row, notebook: Notebook) -> Key:
    """What tells a row from the others of its page, in any case of letters."""
    return tuple(
        plain(write_cell(page.column(name), row.values.get(name), notebook.setting)).casefold()
        for name in page.key
    )


def _against(
    page: Page, own: Mapping[Key, Row], new: Sequence[Row], notebook: Notebook
) -> tuple[list[Row], list[Problem]]:
    """The rows that say something new, and what is wrong with them."""
    changed, problems = [], []
    for row in new:
        # There is one studio: its row is meant whatever name stands on it.
        key = next(iter(own)) if page.required and own else key_cells(page, row, notebook)
        there = own.get(key)
        if there is None:
            changed.append(row)
            continue
        cells, stand = cells_of(page, row, notebook), cells_of(page, there, notebook)
        if cells == stand:
            continue
        wrong = list(_wrong(page, row, cells, stand))
        problems += wrong
        if not wrong and not is_history(page.name):
            changed.append(_with_kept(page, row, there))
    return changed, problems


def _wrong(
    page: Page, row: Row, cells: Mapping[str, str], stand: Mapping[str, str]
) -> Iterable[Problem]:
    """Cells that say otherwise of what does not change by being written."""
    fixed = KEPT_COLUMNS.get(page.name, {})
    for name, cell in cells.items():
        if name in page.key and cell != stand[name]:
            note = f"It is written {stand[name]} here. Write it so."
        elif is_history(page.name) and cell and cell != stand[name]:
            note = f"{stand[name] or 'Nothing'} stands here, and what happened is not changed by "
            note += f"writing it. Record it: {RECORDED_BY[page.name]}."
        elif name in fixed and cell and cell != stand[name]:
            note = f"{stand[name] or 'Nothing'} stands here, and that is not changed by writing "
            note += f"it. Record it: {fixed[name]}." if fixed[name] else "it. Leave it so."
        else:
            continue
        yield Problem(page.file, row.line, name, cell, note)


def _with_kept(page: Page, row: Row, there: Row) -> Row:
    """A row that leaves as it is what only entries record."""
    kept = KEPT_COLUMNS.get(page.name, {})
    values = {name: value for name, value in row.values.items() if name not in kept}
    if page.name != "vessels":  # what a vessel went through would be recorded once more
        values |= {name: there.values[name] for name in kept if name in there.values}
    return replace(row, values=values)


def _over(page: Page, own: Mapping[Key, Row], new: Sequence[Row], notebook: Notebook) -> list[Row]:
    """The rows of a page once those that are given are put over it."""
    kept = {} if page.required else dict(own)
    if page.name in OF_A_RECIPE:
        whose = {row.text("recipe") for row in new}
        kept = {key: row for key, row in own.items() if row.text("recipe") not in whose}
    elif is_history(page.name):
        kept = {key: replace(row, line=0) for key, row in own.items()}
    for row in new:
        kept[key_cells(page, row, notebook)] = row
    return list(kept.values())


def _leave_in_jars(rows: dict[str, list[Row]], events: Sequence[Row]) -> None:
    """What is left in jars that more has happened to, as their own rows would say it then."""
    jars = {row.text("jar") for row in events}
    for at, row in enumerate(rows.get("jars", ())):
        if row.text("jar") in jars:
            own = [event for event in rows["jar_events"] if event.text("jar") == row.text("jar")]
            left = left_of(row.whole("begun with", row.whole("left")), own)
            rows["jars"][at] = replace(row, values={**row.values, "left": max(left, 0)})


def _recipes(standing: Notebook, whole: Notebook) -> dict[str, list[Row]]:
    """Recipes that say something new, each with all its steps and doses."""
    pages = ("recipes", *OF_A_RECIPE)
    found: dict[str, list[Row]] = {page: [] for page in pages}
    before, after = _by_recipe(standing), _by_recipe(whole)
    for code, says in after.items():
        if before.get(code) != says:
            for page in pages:
                rows = whole.page(page)
                found[page] += [row for row in rows if row.text("recipe") == code]
    return found


def _by_recipe(notebook: Notebook) -> dict[str, list[dict[str, str]]]:
    found: dict[str, list[dict[str, str]]] = {}
    for name in ("recipes", *OF_A_RECIPE):
        for row in notebook.page(name):
            says = cells_of(BY_NAME[name], row, notebook)
            found.setdefault(row.text("recipe"), []).append(says)
    return found
