"""Snippets of a run: kept once, with how they looked, until its cloth is dyed."""

from __future__ import annotations

from contextlib import suppress
from uuid import uuid4

import pytest
from django.db import transaction

from inventory.entries import Fibre, Made
from inventory.models import Studio, Swatch
from sourcing.errors import NoSuchRun, RunFinished
from sourcing.models import Recipe, Snippet
from sourcing.notebook.load import load_files
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at
from sourcing.runs import finish_run
from sourcing.snippets import record_snippet
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import altered
from tests.sourcing.week.pellitory import nov

pytestmark = pytest.mark.django_db
NOON = nov(24, 12)


@pytest.fixture
def studio() -> Studio:
    load_fixture()
    return Studio.objects.get()


def test_a_snippet_is_kept_in_the_swatch_book_with_its_run(studio: Studio) -> None:
    entry = uuid4()
    said = {"entry": entry, "at": NOON, "run": "A", "lot": "W-88", "good": False}
    first = record_snippet(studio, **said, looks="too pale")  # type: ignore[arg-type]
    again = record_snippet(studio, **said, looks="too pale")  # type: ignore[arg-type]

    assert again == first
    found = Snippet.objects.of(studio).select_related("run", "swatch__lot").get()
    assert (found.run.code, found.looks, found.good) == ("A", "too pale", False)
    assert (found.swatch.snippet, found.swatch.shade, found.swatch.lot.code) == (
        True, "Blush", "W-88",
    )  # fmt: skip
    assert Swatch.objects.of(studio).count() == 1


def test_a_run_that_is_dyed_or_unknown_takes_no_snippet(studio: Studio) -> None:
    finish_run(studio, entry=uuid4(), at=NOON, run="D", takes=[("S-12", 400_000)],
               makes=[Made("S-12", "S-12 slate", 400_000, Fibre(scoured=True))])  # fmt: skip

    for run, refusal in (("D", RunFinished), ("Z", NoSuchRun)):
        with pytest.raises(refusal):
            record_snippet(studio, entry=uuid4(), at=NOON, run=run, lot="W-88", good=True)
    assert not Swatch.objects.of(studio).exists()


def with_snippet() -> dict[str, bytes]:
    """The demo studio, its Blush tried on a snippet."""
    files = altered("steps.csv", "aired,leaves\n", "aired,leaves,snippet,snippet hands\n")
    text = files["steps.csv"].decode()
    extract = next(line for line in text.splitlines() if line.startswith("blush,3,extract"))
    return files | {"steps.csv": text.replace(extract, f"{extract},20 min,10 min").encode()}


def test_a_notebook_says_how_long_a_snippet_stands_and_is_written_as_it_was_read() -> None:
    with suppress(_Undone), transaction.atomic():
        load_files(with_snippet())
        once = files_for(notebook_of(Studio.objects.get(), at=NOON))
        raise _Undone
    load_files(once)

    here = Studio.objects.get()
    assert files_for(notebook_of(here, at=NOON)) == once
    recipes = {row.code: row for row in facts_at(here, at=NOON, days=7).recipes}
    step = next(row for row in recipes["blush"].steps if row.name == "extract")
    assert (step.snippet_min, step.snippet_hands_min, step.takes_snippet) == (20, 10, True)
    assert b",20 min,10 min" in once["steps.csv"]


def test_a_recipe_without_a_snippet_stays_the_version_that_it_was(studio: Studio) -> None:
    before = {(row.code, row.version) for row in Recipe.objects.of(studio)}

    load_files(altered("steps.csv", "aired,leaves\n", "aired,leaves,snippet,begun at\n"))

    assert {(row.code, row.version) for row in Recipe.objects.of(studio)} == before


class _Undone(Exception):
    """Leave nothing of a studio."""
