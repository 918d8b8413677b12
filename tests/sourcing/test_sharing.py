"""Pots that runs share, from the notebook to the plan that is kept: Blush and a small one more.

Blush (A) is 2,000 g of W-88; H is 250 g of the same, so 2,250 g go into 67.5 L, of which P1 and P2
take 80: 40.5 L in P1 and 27 L in P2, each run's cloth in both.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import uuid4

import pytest
from django.db import transaction

from inventory.models import Studio
from sourcing.errors import NoSuchRun
from sourcing.models import Recipe, Run
from sourcing.notebook.load import load_files
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.write_yard import recipe_values
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at, week_at
from sourcing.steps import begin_run, step_done
from sourcing.taken import take_week
from sourcing.week.checking import check
from sourcing.week.guidance import Together
from sourcing.week.plan import Answer, Placed
from sourcing.week.pot_words import shared_said
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import nov

NOW, NINE, END = nov(23, 7, 30), nov(23, 9), nov(30)
SMALL = "H,blush,wool,250 g,W-88,Mon 30 Nov 2026 18:00,,,yes,,,no,\n"


def shared_yard() -> dict[str, bytes]:
    """The demo studio's files with a small Blush more, and Blush that may share its pots."""
    files = yard_files()
    head, *rows = files["recipes.csv"].decode().splitlines()
    rows = [f'{row},"{word}"' for row, word in zip(
        rows, ("scour, mordant", *("" for _ in rows)), strict=False)]  # fmt: skip
    runs, gates = files["runs.csv"].decode(), files["gates.csv"].decode()
    own = [row for row in gates.splitlines() if row.startswith("A,")]
    return {
        **files,
        "recipes.csv": "\n".join([f"{head},may share", *rows, ""]).encode(),
        "runs.csv": (runs + SMALL).encode(),
        "gates.csv": (gates + "".join(f"H{row[1:]}\n" for row in own)).encode(),
    }


@pytest.fixture(scope="module")
def loaded(django_db_setup: None, django_db_blocker: Any) -> Iterator[Studio]:
    with django_db_blocker.unblock(), transaction.atomic():
        load_files(shared_yard())
        yield Studio.objects.get()
        transaction.set_rollback(True)


@pytest.fixture
def studio(loaded: Studio, db: None) -> Studio:
    take_week(loaded, entry=uuid4(), at=NOW, until=END, together=[("A", "H", "hot alum")])
    return loaded


def answers(studio: Studio, at: datetime = NOW) -> dict[str, Answer]:
    return {row.run: row for row in week_at(studio, at=at, days=7, unlocks=False).answers}


def rows_of(answer: Answer, step: str) -> list[Placed]:
    return [row for row in answer.steps if row.step == step]


def test_what_may_be_shared_is_read_from_the_notebook_and_written_again(studio: Studio) -> None:
    recipe = Recipe.objects.of(studio).get(code="blush")

    assert recipe.may_share == ["scour", "mordant"]
    assert recipe_values(recipe, "blush")["may share"] == ("scour", "mordant")
    assert Recipe.objects.of(studio).get(code="old-rose").may_share == []


def test_an_older_notebook_leaves_the_recipe_in_its_version(studio: Studio) -> None:
    before = set(Recipe.objects.of(studio).values_list("code", "version"))

    load_files(shared_yard())
    assert set(Recipe.objects.of(studio).values_list("code", "version")) == before

    load_files(yard_files())
    after = set(Recipe.objects.of(studio).values_list("code", "version"))
    assert after - before == {("blush", 2)}, "it shares nothing any more; the others say the same"


def test_a_step_that_cannot_be_shared_is_refused_in_the_notebook(studio: Studio) -> None:
    files = shared_yard()
    files["recipes.csv"] = files["recipes.csv"].replace(b"scour, mordant", b"scour, rinse")

    with pytest.raises(NotebookRefused) as refused:
        load_files(files)

    assert [row.column for row in refused.value.problems] == ["may share"]


def test_a_taken_week_puts_both_into_the_same_pots(studio: Studio) -> None:
    found = answers(studio)
    facts = facts_at(studio, at=NOW, days=7)

    assert facts.guidance is not None
    assert facts.guidance.together == (Together("A", "H", "hot alum"),)
    for step in ("scour", "hot alum"):
        mine, theirs = rows_of(found["A"], step), rows_of(found["H"], step)
        assert [row.vessel for row in mine] == [row.vessel for row in theirs] == ["P1", "P2"]
        assert [row.start for row in mine] == [row.start for row in theirs]
    pots = zip(rows_of(found["A"], "scour"), rows_of(found["H"], "scour"), strict=True)
    assert [a.litres + h.litres for a, h in pots] == [Decimal("40.5"), Decimal(27)]
    assert check(facts, week_at(studio, at=NOW, days=7, unlocks=False)) == []


def test_the_pot_is_said_with_who_else_is_in_it(studio: Studio) -> None:
    runs = facts_at(studio, at=NOW, days=7).runs
    row = rows_of(answers(studio)["H"], "scour")[0]

    assert str(shared_said(row, runs)) == "in one pot with Blush (A), 40.5 L in all"
    assert shared_said(rows_of(answers(studio)["H"], "dye")[0], runs) == ""


def test_a_week_that_names_a_run_nobody_asked_for_is_refused(studio: Studio) -> None:
    with pytest.raises(NoSuchRun):
        take_week(studio, entry=uuid4(), at=NOW, until=END, together=[("A", "Z", "scour")])


def test_who_shares_a_pot_is_begun_with_it_and_both_keep_their_hours(studio: Studio) -> None:
    before = answers(studio)

    begin_run(studio, entry=uuid4(), at=NOW, run="A")

    assert Run.objects.of(studio).get(code="H").begun
    after = answers(studio)
    for code in "AH":
        assert after[code].begun_at is not None
        assert [
            (row.step, row.vessel, row.start, row.shared_with) for row in after[code].steps
        ] == [(row.step, row.vessel, row.start, row.shared_with) for row in before[code].steps]
    facts = facts_at(studio, at=NOW, days=7)
    assert check(facts, week_at(studio, at=NOW, days=7, unlocks=False)) == []


def test_the_first_step_done_begins_both_and_the_pots_are_held_for_both(studio: Studio) -> None:
    step_done(studio, entry=uuid4(), at=nov(23, 11), run="H", step="scour")

    found = answers(studio, nov(23, 11))
    facts = facts_at(studio, at=nov(23, 11), days=7)
    assert {row.code for row in facts.runs if row.kept is not None} == {"A", "H"}
    assert rows_of(found["H"], "hot alum")[0].shared_with == ("A",)
    assert check(facts, week_at(studio, at=nov(23, 11), days=7, unlocks=False)) == []


def test_who_is_in_a_pot_goes_along_when_the_studio_leaves(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="A")
    files = files_for(notebook_of(studio, at=NOW))
    page = files["studio.csv"].decode().replace("Pellitory Yard", "Another Yard")

    load_files({**files, "studio.csv": page.encode()})

    other = Studio.objects.get(name="Another Yard")
    assert rows_of(answers(other)["H"], "scour")[0].shared_with == ("A",)
    assert answers(other)["H"].steps == answers(studio)["H"].steps


def test_a_run_that_shares_nothing_is_begun_alone(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="D")

    begun = Run.objects.of(studio).filter(begun=True).values_list("code", flat=True)
    assert list(begun) == ["D"]
