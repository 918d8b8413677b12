"""What a notebook may say that cannot be: refused with file, line and what to write instead."""

from __future__ import annotations

import io
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from inventory.audit import audit
from inventory.models import Studio
from inventory.shelves import shelf_at
from sourcing.notebook.notebook import read_notebook
from sourcing.notebook.to_come import to_come
from tests.faults.verbs import rows
from tests.sourcing.notebook.desk import altered, yard_files

pytestmark = pytest.mark.django_db

WEIGHT = "Write a weight such as 500 g."
PROBLEMS = [
    ("lots.csv", "AV-0911,", ",", "line 2, column lot: The cell is empty. Write what is written "
     "on the bag, such as AV-1116."),
    ("fibre.csv", "wool", "milkweed", 'line 2, column fibre: "milkweed" stands there. Write wool, '
     "silk, cotton, linen or lyocell."),
    ("lots.csv", '"1,900 g"', "0 g", f'line 2, column amount: "0 g" stands there. It is nothing. '
     f"{WEIGHT}"),
    ("lots.csv", '"1,900 g"', "10^12 g", 'line 2, column amount: "10^12 g" stands there. “^” at '
     "character 3 was not understood. Work out the product and write one amount, such as 1500 g."),
    ("lots.csv", '"1,900 g"', "1000000000000 g", 'line 2, column amount: "1000000000000 g" stands '
     f"there. It is more than 100 tonnes. {WEIGHT}"),
    ("lots.csv", '"1,900 g"', "lots", 'line 2, column amount: "lots" stands there. “lots” makes it '
     "a guess. Write one amount, as the scale or the jug shows it."),
    ("lots.csv", '"1,900 g"', "NaN", 'line 2, column amount: "NaN" stands there. “NaN” at '
     "character 1 was not understood. Write a number and a unit, such as 500 g or 58 stones."),
    ("lots.csv", '"1,900 g"', "-5 g", 'line 2, column amount: "-5 g" stands there. A cell may not '
     "begin with -: a spreadsheet would work it out. Begin with a letter or digit."),
    ("lots.csv", "Fri 11 Sep 2026 09:00", "Sun 29 Mar 2026 01:30", "line 2, column since: "
     '"Sun 29 Mar 2026 01:30" stands there. The clocks go forward on Sun 29 Mar 2026: 01:30 does '
     "not exist in Europe/London. Write 02:30."),
    ("lots.csv", "Fri 11 Sep 2026 09:00", "11 Sep 9999 09:00", "line 2, column since: "
     '"11 Sep 9999 09:00" stands there. Write a year from 1900 to 2199.'),
    ("vessels.csv", "P2,pot", "P1,pot", "line 3, column vessel: Line 2 has the same vessel, p1. "
     "Write another, or keep one row."),
    ("doses.csv", "blush,extract,avocado stones,dyestuff", "blush,extract,blush,dyestuff",
     'line 3, column what: "blush" stands there. So the recipe asks for itself. Write what it is '
     "really made with."),
    ("makings.csv", "nettle bath,nettle,", "nettle bath,nettle bath,", "line 2, column dyestuff: "
     '"nettle bath" stands there. So the bath asks for itself. Write what it is really made with.'),
]  # fmt: skip


def loaded(folder: Path, files: dict[str, bytes]) -> str:
    """What `load` tells of a folder with these files."""
    folder.mkdir(exist_ok=True)
    for name, raw in files.items():
        (folder / name).write_bytes(raw)
    told = io.StringIO()
    try:
        call_command("load", str(folder), stdout=io.StringIO(), stderr=told)
    except CommandError as refused:
        return told.getvalue() + str(refused)
    return told.getvalue()


@pytest.mark.parametrize(("file", "old", "new", "problem"), PROBLEMS, ids=str)
def test_one_thing_that_cannot_be_is_one_sentence_and_nothing_is_kept(
    tmp_path: Path, file: str, old: str, new: str, problem: str
) -> None:
    before = rows()

    told = loaded(tmp_path / "yard", altered(file, old, new)).splitlines()

    assert told == [
        f"{file}, {problem}",
        "Nothing was loaded: one thing to put right in the notebook first.",
    ]
    assert rows() == before


def test_two_baths_that_ask_for_each_other_are_both_named(tmp_path: Path) -> None:
    files = yard_files()
    back = b"nettle,nettle bath,dried,50 g per L,fresh > 95 hold 25 min,40 min,pot\n"

    told = loaded(tmp_path / "yard", {**files, "makings.csv": files["makings.csv"] + back})

    itself = "So the bath asks for itself. Write what it is really made with."
    assert told.splitlines()[:2] == [
        f'makings.csv, line 2, column dyestuff: "nettle" stands there. {itself}',
        f'makings.csv, line 3, column dyestuff: "nettle bath" stands there. {itself}',
    ]


def test_the_hour_that_comes_twice_means_the_first_unless_it_says_otherwise(
    tmp_path: Path,
) -> None:
    since = {}
    for said in ("Sun 25 Oct 2026 01:30", "Sun 25 Oct 2026 01:30 +00:00"):
        files = altered("lots.csv", "Fri 11 Sep 2026 09:00", said)
        found = read_notebook(files)[0].page("lots")[0].moment("since")
        assert found is not None
        since[said] = found.astimezone(UTC)

    first, second = since.values()
    assert first == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)
    assert second - first == timedelta(hours=1)


def test_a_jar_begun_tomorrow_is_told_of_and_not_on_the_shelf_today(tmp_path: Path) -> None:
    tomorrow = datetime.now(UTC) + timedelta(days=1)
    said = f"{tomorrow:%Y-%m-%d} 09:00"
    files = altered("jars.csv", "Sun 22 Nov 2026 16:00", said)

    told = loaded(tmp_path / "yard", files)

    (line,) = [line for line in told.splitlines() if "J4" in line]
    day = f"{tomorrow:%a} {tomorrow.day} {tomorrow:%b %Y} 09:00"
    assert line == (
        f"To mind: jars.csv, line 5, column begun: J4 is begun on {day}, which is still to come: "
        "until then it is not on the shelf. If it is there, correct the day."
    )
    studio = Studio.objects.get()
    today, then = (
        {jar.code for jar in shelf_at(studio, at=tomorrow + timedelta(days=days)).jars}
        for days in (-1, 1)
    )
    assert then - today == {"J4"}
    assert audit(studio) == []


def test_what_begins_at_the_very_moment_is_there() -> None:
    notebook, _ = read_notebook(yard_files())
    begun = datetime(2026, 11, 22, 16, tzinfo=UTC)

    lines = [problem.line for problem in to_come(notebook, at=begun) if problem.file == "jars.csv"]

    assert lines == []
    assert 5 in [
        problem.line
        for problem in to_come(notebook, at=begun - timedelta(minutes=1))
        if problem.file == "jars.csv"
    ]
