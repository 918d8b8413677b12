"""Pages of a notebook one by one: read from the studio, and brought into it without the others.

What such a page names is looked up in what the studio has. Rows that are there and say the same
are passed over, so that a page that was read can be handed in again and changes nothing.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from datetime import datetime
from typing import Any

from django.db import transaction

from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.models.scope import OfStudio
from sourcing.models import Agreement, Offer, PutByWish, Reader, Run, Source, Supplier
from sourcing.notebook.check import check
from sourcing.notebook.history_pages import RECORDED_BY
from sourcing.notebook.load import STAGES, DryRun, Loaded, piece_shipped
from sourcing.notebook.load_liquors import load_later_events
from sourcing.notebook.load_shelf import READ_AS, load_studio
from sourcing.notebook.loading import Loading
from sourcing.notebook.merge import Merged, merge
from sourcing.notebook.notebook import Notebook, read_pages
from sourcing.notebook.page import Page
from sourcing.notebook.problem import NotebookRefused, Problem
from sourcing.notebook.saying import say
from sourcing.notebook.writing import file_of, notebook_of
from sourcing.notebook.yard_pages import BY_NAME
from sourcing.versions import names_of, wanted_recipes

# Tables that verbs change too, by the page that writes them: their rows are held meanwhile.
HELD: Mapping[str, type[OfStudio]] = {
    "sources": Source,
    "agreements": Agreement,
    "suppliers": Supplier,
    "offers": Offer,
    "reminders": Reader,
    "putby": PutByWish,
    "runs": Run,
}


def page_of(studio: Studio, page: Page, *, at: datetime) -> bytes:
    """One page of what a studio has at a moment, as the CSV file that a notebook folder holds."""
    return file_of(page, notebook_of(studio, at=at))


def load_page(
    studio: Studio, page: Page, raw: bytes, *, at: datetime, dry_run: bool = False
) -> Loaded:
    """The rows of one page that are new or changed, brought into a studio.

    Raises
    ------
    NotebookRefused
        With every problem by line; nothing was loaded.
    """
    return load_pages(studio, {page.file: raw}, at=at, dry_run=dry_run)


def load_pages(
    studio: Studio, files: Mapping[str, bytes], *, at: datetime, dry_run: bool = False
) -> Loaded:
    """The rows of some pages that are new or changed, brought into a studio: all, or nothing.

    Parameters
    ----------
    files : file name to bytes; pages that are not among them stay as they are
    at : now
    dry_run : find everything that is wrong, keep nothing

    Raises
    ------
    NotebookRefused
        With every problem by line; nothing was loaded.
    Busy, NoRoom, OutOfReach
        If the database could not; nothing was loaded.
    """

    def put_over(standing: Notebook) -> tuple[Merged, list[Problem]]:
        given, problems = read_pages(files, standing.setting)
        standing = replace(standing, setting=given.setting)
        return merge(standing, {name: given.page(name) for name in given.rows}), problems

    return bring_in(studio, [BY_NAME[name] for name in _named(files)], put_over,
                    at=at, dry_run=dry_run)  # fmt: skip


def bring_in(
    studio: Studio,
    pages: Iterable[Page],
    put_over: Callable[[Notebook], tuple[Merged, list[Problem]]],
    *,
    at: datetime,
    dry_run: bool = False,
) -> Loaded:
    """What `put_over` makes of all that a studio has, checked and loaded in one transaction.

    Parameters
    ----------
    pages : that are written; nobody else writes them meanwhile
    put_over : the merged notebook, and what is wrong with what was handed in
    """
    loaded = None
    try:
        with said_in_words(), transaction.atomic():
            standing = held(studio, pages, at=at)
            merged, problems = put_over(standing)
            problems += [*merged.problems, *new_problems(standing, merged.whole)]
            loaded = _write(studio, merged.part, problems)
            if dry_run:
                raise DryRun
    except DryRun:
        pass
    assert loaded is not None
    return loaded


def held(studio: Studio, pages: Iterable[Page], *, at: datetime) -> Notebook:
    """What a studio has, while nobody else writes those pages until the transaction ends."""
    Studio.objects.select_for_update(no_key=True).get(pk=studio.pk)
    for page in pages:
        if page.name in HELD:
            rows = HELD[page.name].objects.of(studio).order_by("pk")
            list(rows.select_for_update(no_key=True).values_list("pk", flat=True))
    studio.refresh_from_db()
    return notebook_of(studio, at=at)


def new_problems(before: Notebook, after: Notebook) -> list[Problem]:
    """What does not fit together after a change and did before it, or was not there."""
    known = Counter(_where_ever(problem) for problem in check(before, piece_known=piece_shipped))
    found = []
    for problem in check(after, piece_known=piece_shipped):
        if known[_where_ever(problem)]:
            known[_where_ever(problem)] -= 1
        else:
            found.append(problem)
    return found


def _where_ever(problem: Problem) -> tuple[str, str, str]:
    return problem.file, problem.column, problem.stands


def _named(files: Mapping[str, bytes]) -> list[str]:
    """The pages that files are of, as far as they are any."""
    names = (file.casefold().removesuffix(".csv") for file in files)
    return sorted(name for name in names if name in BY_NAME)


def _write(studio: Studio, part: Notebook, problems: list[Problem]) -> Loaded:
    """Load a part, where nothing is wrong with it."""
    if problems:
        raise NotebookRefused(sorted(set(problems)))
    loading = Loading(studio, part)
    loading.versions = _older(studio)
    _no_older(loading)
    _no_late_stays(loading)
    _studio(loading)
    for stage in (*STAGES, load_later_events):
        stage(loading)
    if loading.problems:
        raise NotebookRefused(sorted(set(loading.problems)))
    return Loaded(studio.name, dict(loading.new), dict(loading.changed))


def _studio(loading: Loading) -> None:
    """The studio's own row, brought up to date where it says something else."""
    columns = ("zone", "country", "region", "currency", *READ_AS)
    before = [getattr(loading.studio, name) for name in columns]
    load_studio(loading.notebook.page("studio")[0])
    loading.studio.refresh_from_db()
    if before != [getattr(loading.studio, name) for name in columns]:
        loading.changed["studio"] += 1


def _older(studio: Studio) -> dict[str, Any]:
    """Older versions of recipes that runs were begun with, by what each is called."""
    recipes = list(wanted_recipes(studio))
    names = names_of((row.pk, row.code, row.version) for row in recipes)
    return {names[row.pk]: row for row in recipes if names[row.pk] != row.code}


def _no_older(loading: Loading) -> None:
    for row in loading.notebook.page("recipes"):
        if row.text("recipe") in loading.versions:
            code = loading.versions[row.text("recipe")].code
            note = say(
                "Runs were begun with that version, so it stays as it was. Write {code}.", code=code
            )
            loading.problem(row, note)
            raise NotebookRefused(loading.problems)


def _no_late_stays(loading: Loading) -> None:
    """Where a lot was is written together with the lot; a later move is recorded."""
    new = {row.text("lot") for row in loading.notebook.page("lots")}
    for row in loading.notebook.page("stays"):
        if row.text("lot") not in new:
            note = say(
                "The lot is on the shelf already, and where it was is not changed by writing it. "
                "Record it: {by}.",
                by=RECORDED_BY["stays"],
            )
            loading.problem(row, note)
