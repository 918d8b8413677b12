"""Runs under way leave with their studio and come back as they were: plans, steps, claims."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

import pytest

from inventory.entries import Place
from inventory.ledger import put_by
from inventory.models import Studio
from sourcing.claims import claimed
from sourcing.models import KeptPlan, KeptStep, StepDone
from sourcing.notebook.load import load_files
from sourcing.notebook.one_page import load_pages
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at, week_at
from sourcing.steps import Otherwise, begin_run, step_done
from sourcing.week.kept import Kept
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import nov
from tests.sourcing.week.worked import brief

pytestmark = pytest.mark.django_db
EVENING = nov(24, 18)
RUNS = ("A", "D", "F")


@pytest.fixture
def lived() -> Studio:
    """The worked Tuesday: Blush, Slate and the group begun, some steps done, one otherwise."""
    load_files(yard_files())
    studio = Studio.objects.get()
    for run in RUNS:
        begin_run(studio, entry=uuid4(), at=nov(23, 9), run=run)
    put_by(studio, entry=uuid4(), at=nov(23, 16), lot="AV-1116", state="frozen",
           place=Place("freezer", "freezer"))  # fmt: skip
    done(studio, "A", "scour", nov(23, 10, 48))
    done(studio, "A", "hot alum", nov(23, 13, 40), vessel="P2", minutes=70)
    took = (("AV-1116", 1_180_000), ("AV-0911", 1_700_000))
    done(studio, "A", "extract", nov(24, 11, 30), took=took)
    return studio


def done(studio: Studio, run: str, step: str, at: Any, **otherwise: Any) -> None:
    step_done(studio, entry=uuid4(), at=at, run=run, step=step, otherwise=Otherwise(**otherwise),
              note="as it went")  # fmt: skip


def leaving(studio: Studio) -> dict[str, bytes]:
    return files_for(notebook_of(studio, at=EVENING))


def back(files: dict[str, bytes], name: str = "Another Yard") -> Studio:
    """The studio as it comes in elsewhere, under another name."""
    page = files["studio.csv"].decode().replace("Pellitory Yard", name)
    load_files({**files, "studio.csv": page.encode()})
    return Studio.objects.get(name=name)


def kept(studio: Studio, run: str) -> Kept:
    found = next(row for row in facts_at(studio, at=EVENING, days=7).runs if row.code == run)
    assert found.kept is not None
    return found.kept


def test_a_plan_comes_back_with_every_step_job_and_hanging(lived: Studio) -> None:
    again = back(leaving(lived))

    for run in RUNS:
        was, now = kept(lived, run), kept(again, run)
        assert now.steps == was.steps
        assert (now.begun_at, now.hangs, now.jobs) == (was.begun_at, was.hangs, was.jobs)
        assert now.to_come == was.to_come
        assert [(row.source, row.amount, row.step) for row in now.takes] == [
            (row.source, row.amount, row.step) for row in was.takes
        ]


def test_what_is_done_comes_back_with_what_went_otherwise(lived: Studio) -> None:
    again = back(leaving(lived))

    assert kept(again, "A").done == kept(lived, "A").done


def test_what_is_promised_comes_back(lived: Studio) -> None:
    lots = ["W-88", "AV-0911", "alum", "J2", "W-85", "S-12"]

    again = back(leaving(lived))

    assert claimed(again, lots) == claimed(lived, lots)


def test_the_week_goes_on_as_it_would_have(lived: Studio) -> None:
    again = back(leaving(lived))

    was, now = (week_at(studio, at=EVENING, days=6, unlocks=False) for studio in (lived, again))

    assert brief(now) == brief(was)
    assert [(row.run, row.step, row.start) for a in now.answers for row in a.steps] == [
        (row.run, row.step, row.start) for a in was.answers for row in a.steps
    ]


def test_a_studio_s_own_pages_change_nothing(lived: Studio) -> None:
    files = leaving(lived)

    loaded = load_pages(lived, files, at=EVENING)

    assert (dict(loaded.new), dict(loaded.changed)) == ({}, {})
    assert KeptPlan.objects.of(lived).count() == len(RUNS)
    assert StepDone.objects.of(lived).count() == 3


def test_the_same_folder_twice_keeps_one_plan(lived: Studio) -> None:
    files = leaving(lived)
    again = back(files)

    back(files)

    assert KeptPlan.objects.of(again).count() == len(RUNS)
    assert KeptStep.objects.of(again).count() == KeptStep.objects.of(lived).count()


@pytest.mark.parametrize(
    ("page", "old", "new", "says"),
    [
        ("begun_steps", "10:48", "08:48", "It is over before it begins"),
        ("claims", '"2,105.263 g"', "", "Write either a weight or a volume"),
        ("claims", '"2,105.263 g"', '"2,500 g"', "asked for"),
        ("runs", ",yes,\r\n", ",no,\r\n", "The run is not begun by runs.csv"),
    ],
)
def test_what_cannot_be_is_refused_with_its_line(
    lived: Studio, page: str, old: str, new: str, says: str
) -> None:
    files = leaving(lived)
    text = files[f"{page}.csv"].decode()
    assert old in text, text
    files[f"{page}.csv"] = text.replace(old, new).encode()

    with pytest.raises(NotebookRefused) as refused:
        back(files)

    assert any(says in problem.write for problem in refused.value.problems), refused.value.problems
    assert not Studio.objects.filter(name="Another Yard").exists()


def test_a_step_of_a_run_that_keeps_no_plan_is_refused(lived: Studio) -> None:
    files = leaving(lived)
    files["begun.csv"] = files["begun.csv"].splitlines(keepends=True)[0]

    with pytest.raises(NotebookRefused) as refused:
        back(files)

    assert {row.file for row in refused.value.problems} >= {"begun_steps.csv", "steps_done.csv"}
