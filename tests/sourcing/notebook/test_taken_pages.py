"""A week that was taken leaves with its studio and is the same week elsewhere."""

from __future__ import annotations

from typing import Any
from uuid import uuid4

import pytest

from inventory.models import Site, Studio
from sourcing.models import Run, TakenWeek
from sourcing.notebook.load import load_files
from sourcing.notebook.one_page import load_pages
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at, week_at
from sourcing.taken import take_week
from tests.once import once
from tests.sourcing.notebook.desk import sentences, yard_files
from tests.sourcing.week.pellitory import nov
from tests.sourcing.week.worked import brief

pytestmark = pytest.mark.django_db
NOW, LATER, END = nov(23, 7, 30), nov(23, 12), nov(30)
ORDER = ("F", "A", "C", "D", "E", "G", "B")
made = once(lambda: load_files(yard_files()))


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    found = Studio.objects.get()
    Site.objects.of(found).create(code="shed")
    return found


def take(studio: Studio, **said: Any) -> None:
    given = {"at": NOW, "until": END, "order": ORDER, "note": "Olive sooner", **said}
    take_week(studio, entry=uuid4(), **given)


def back(files: dict[str, bytes]) -> Studio:
    page = files["studio.csv"].decode().replace("Pellitory Yard", "Wash House")
    load_files({**files, "studio.csv": page.encode()})
    return Studio.objects.get(name="Wash House")


def leaving(studio: Studio) -> dict[str, bytes]:
    return files_for(notebook_of(studio, at=LATER))


def test_a_taken_week_is_the_same_week_elsewhere(studio: Studio) -> None:
    take(
        studio,
        floors=[("A", "scour", nov(24, 9)), ("C", "soak", nov(25, 14))],
        stays=[("A", "scour")],
        sites=[("E", "shed")],
        together=[("A", "G", "hot alum")],
    )

    other = back(leaving(studio))

    was, now = (facts_at(row, at=LATER, days=7) for row in (studio, other))
    assert was.guidance is not None
    assert [row.step for row in was.guidance.stays] == ["scour"]
    assert now.guidance == was.guidance
    assert brief(week_at(other, at=LATER, days=7)) == brief(week_at(studio, at=LATER, days=7))
    assert TakenWeek.objects.of(other).get().note == "Olive sooner"


def test_the_same_folder_twice_takes_one_week(studio: Studio) -> None:
    take(studio)
    files = leaving(studio)
    other = back(files)
    back(files)

    assert TakenWeek.objects.of(other).count() == 1


def test_a_studio_s_own_pages_change_nothing(studio: Studio) -> None:
    take(studio, floors=[("A", "scour", nov(24, 9))])

    loaded = load_pages(studio, leaving(studio), at=LATER)

    assert (dict(loaded.new), dict(loaded.changed)) == ({}, {})
    assert TakenWeek.objects.of(studio).count() == 1


def test_the_plain_week_leaves_no_page_filled(studio: Studio) -> None:
    take(studio)
    take_week(studio, entry=uuid4(), at=nov(23, 9), until=END)

    files = leaving(studio)

    assert len(files["taken.csv"].splitlines()) == 1
    assert len(files["taken_runs.csv"].splitlines()) == 1
    assert TakenWeek.objects.of(back(files)).count() == 0


def test_a_week_that_is_over_stays_behind(studio: Studio) -> None:
    take(studio, until=nov(23, 11))

    assert len(leaving(studio)["taken.csv"].splitlines()) == 1


def test_a_finished_run_leaves_the_order(studio: Studio) -> None:
    take(studio, together=[("A", "G", "hot alum")])
    Run.objects.of(studio).filter(code="A").update(finished_at=nov(23, 10), begun=True)

    guidance = facts_at(back(leaving(studio)), at=LATER, days=7).guidance

    assert guidance is not None
    assert guidance.order == ("F", "C", "D", "E", "G", "B")
    assert guidance.together == ()


@pytest.mark.parametrize(
    ("page", "old", "new", "says"),
    [
        ("taken", "Mon 30 Nov 2026", "Fri 20 Nov 2026", "20 Nov"),
        ("taken", "Mon 23 Nov 2026 07:30,", ",", "taken.csv, line 2, column at"),
        ("taken_runs", "hot alum", "", "Write both with and last step"),
        ("taken_runs", "\r\nA,", "\r\nZ,", "runs.csv has no Z"),
    ],
)
def test_what_cannot_be_is_refused_with_its_line(
    studio: Studio, page: str, old: str, new: str, says: str
) -> None:
    take(studio, together=[("A", "G", "hot alum")])
    files = leaving(studio)
    text = files[f"{page}.csv"].decode()
    assert old in text

    with pytest.raises(NotebookRefused) as refused:
        back({**files, f"{page}.csv": text.replace(old, new, 1).encode()})

    assert says in "\n".join(sentences(list(refused.value.problems)))


def test_what_a_week_does_without_the_week_is_refused(studio: Studio) -> None:
    take(studio)
    files = leaving(studio)
    heading = files["taken.csv"].splitlines(keepends=True)[0]

    with pytest.raises(NotebookRefused) as refused:
        back({**files, "taken.csv": heading})

    assert "taken.csv has no week. Write when it was taken." in "\n".join(
        sentences(list(refused.value.problems))
    )
