"""A whole notebook into the database: all of it, or nothing and the list of what is wrong."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from django.db import transaction

from inventory.hindrance import said_in_words
from inventory.science.catalogue import shipped
from sourcing.notebook import (
    load_begun,
    load_liquors,
    load_orders,
    load_reminders,
    load_shelf,
    load_taken,
    load_yard,
)
from sourcing.notebook.check import check
from sourcing.notebook.loading import Loading
from sourcing.notebook.notebook import Notebook, read_notebook
from sourcing.notebook.problem import NotebookRefused, Problem

STAGES = (
    load_shelf.load_rooms,
    load_shelf.load_vessels,
    load_shelf.load_lots,
    load_liquors.load_liquors,
    load_shelf.load_supplies,
    load_shelf.load_fibre,
    load_yard.load_calendar,
    load_yard.load_sources,
    load_yard.load_recipes,
    load_yard.load_runs,
    load_begun.load_begun,
    load_taken.load_taken,
    load_reminders.load_reminders,
    load_orders.load_orders,
)


@dataclass(frozen=True)
class Loaded:
    """What a notebook brought: rows by page that are new, and rows that changed."""

    studio: str
    new: Mapping[str, int] = field(default_factory=dict)
    changed: Mapping[str, int] = field(default_factory=dict)

    def __str__(self) -> str:
        said = [_counted(self.new, "new")] if self.new else []
        said += [_counted(self.changed, "changed")] if self.changed else []
        return f"{self.studio}: {'; '.join(said) or 'nothing new'}."


class DryRun(Exception):
    """Nothing is kept of a dry run."""


def load_files(files: Mapping[str, bytes], *, dry_run: bool = False) -> Loaded:
    """A studio's notebook, read, checked and loaded in one transaction.

    Parameters
    ----------
    files : file name to bytes
    dry_run : find everything that is wrong, keep nothing

    Raises
    ------
    NotebookRefused
        With every problem; nothing was loaded.
    """
    notebook, problems = read_notebook(files)
    return load(notebook, problems=problems, dry_run=dry_run)


def load(
    notebook: Notebook, *, problems: list[Problem] | None = None, dry_run: bool = False
) -> Loaded:
    """A notebook that was read, with what was wrong then, checked and loaded.

    Raises
    ------
    NotebookRefused
        With every problem; nothing was loaded.
    Busy, NoRoom, OutOfReach
        If the database could not; nothing was loaded.
    """
    found = [*(problems or ()), *check(notebook, piece_known=piece_shipped)]
    if found:
        raise NotebookRefused(_once(found))
    loaded = None
    try:
        with said_in_words(), transaction.atomic():
            loaded = _write(notebook)
            if dry_run:
                raise DryRun
    except DryRun:
        pass
    assert loaded is not None
    return loaded


def _write(notebook: Notebook) -> Loaded:
    studio, made = load_shelf.load_studio(notebook.page("studio")[0])
    loading = Loading(studio, notebook)
    if made:
        loading.new["studio"] += 1
    for stage in STAGES:
        stage(loading)
    if loading.problems:
        raise NotebookRefused(_once(loading.problems))
    return Loaded(studio.name, dict(loading.new), dict(loading.changed))


def piece_shipped(item: str) -> bool:
    """Whether we ship a figure of what one piece of it weighs."""
    return any((row.item, row.name) == (item, "piece_mass_g") for row in shipped().rows)


def _once(problems: list[Problem]) -> list[Problem]:
    """Each cell's first problem: a heading that is missing is not named twice."""
    return sorted(set(problems))


def _counted(rows: Mapping[str, int], what: str) -> str:
    parts = ", ".join(f"{count:,} of {page.replace('_', ' ')}" for page, count in rows.items())
    return f"{what}: {parts}"
