"""Nothing in the code knows the demo studio: other codes, other weeks, another recipe by rows."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta

import pytest

from inventory.models import Studio
from sourcing.notebook.load import load, load_files
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Row, Value
from sourcing.notebook.shift import moved
from sourcing.notebook.yard_pages import BY_NAME
from sourcing.outlook import week_at
from sourcing.week.plan import Week
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import yard, yard_files
from tests.sourcing.week.pellitory import MONDAY_0730, ZONE

pytestmark = pytest.mark.django_db
CODES = ("code", "codes")


def week(at: datetime = MONDAY_0730) -> Week:
    return week_at(Studio.objects.get(), at=at, days=7)


def told(found: Week, *, weeks: int = 0) -> dict[str, tuple[str, date | None, date | None]]:
    """Answer, first day and dry day of each run, as if in the week of the notebook."""
    by = timedelta(weeks=weeks)
    return {
        answer.run: (
            answer.answer,
            answer.first_step_at and (answer.first_step_at - by).date(),
            answer.dry_at and (answer.dry_at - by).date(),
        )
        for answer in found.answers
    }


def renamed(notebook: Notebook) -> Notebook:
    """Every code of lots, pots, rings, runs, recipes and blocks with a letter before it."""
    return Notebook(
        notebook.setting,
        {page: tuple(_renamed(row) for row in rows) for page, rows in notebook.rows.items()},
    )


def _renamed(row: Row) -> Row:
    return replace(row, values={name: _new(row, name, value) for name, value in row.values.items()})


def _new(row: Row, name: str, value: Value) -> Value:
    column = BY_NAME[row.page].column(name)
    if column.kind not in CODES or name == "piece":
        return value
    if isinstance(value, tuple):
        return tuple(f"Q{part}" for part in value)
    return f"Q{value}"


def test_other_codes_give_the_same_week() -> None:
    load_fixture()
    before = week()
    Studio.objects.update(name="Old Yard")

    load(renamed(yard()))
    after = week_at(Studio.objects.get(name="Pellitory Yard"), at=MONDAY_0730, days=7)

    assert {f"Q{run}": answer for run, answer in told(before).items()} == told(after)
    for mine, theirs in zip(after.answers, before.answers, strict=True):
        assert [(step.step, step.start, step.end, step.vessel) for step in mine.steps] == [
            (step.step, step.start, step.end, f"Q{step.vessel}" if step.vessel else "")
            for step in theirs.steps
        ]
        assert [(take.source, take.amount) for take in mine.takes] == [
            (f"Q{take.source}", take.amount) for take in theirs.takes
        ]


@pytest.mark.parametrize("weeks", [-4, 1, 9, 52, 200])
def test_another_week_gives_the_same_days(weeks: int) -> None:
    load(moved(yard(), weeks=weeks))

    found = week(MONDAY_0730 + timedelta(weeks=weeks))

    assert told(found, weeks=weeks) == ANSWERS


# 13.6 of the worked week.
ANSWERS = {
    "A": ("yes", date(2026, 11, 23), date(2026, 11, 28)),
    "B": ("no", None, None),
    "C": ("yes", date(2026, 11, 24), date(2026, 11, 29)),
    "D": ("yes", date(2026, 11, 23), date(2026, 11, 26)),
    "E": ("not yet", date(2026, 11, 30), date(2026, 12, 3)),
    "F": ("yes", date(2026, 11, 28), None),
    "G": ("no", None, None),
}


@pytest.mark.parametrize(
    ("weeks", "dry_hour"),
    [
        (16, 11),  # as in the worked week: hung Fri 11:00, 48 h
        (17, 12),  # clocks go forward on Sun 28 March 2027 at 01:00
        (48, 10),  # clocks go back on Sun 31 October 2027 at 02:00
        (49, 11),
    ],
)
def test_cloth_dries_in_elapsed_hours_when_the_clocks_change(weeks: int, dry_hour: int) -> None:
    load(moved(yard(), weeks=weeks))

    found = week((MONDAY_0730 + timedelta(weeks=weeks)).replace(tzinfo=ZONE))

    (olive,) = [answer for answer in found.answers if answer.run == "C"]
    assert olive.dry_at is not None
    assert olive.dry_at.astimezone(ZONE).hour == dry_hour


def test_a_sixth_shade_comes_by_rows_alone() -> None:
    files = yard_files()
    more = {
        "recipes": "soft-skin,Soft Skin,silk,30:1,,no,yes,blend,,,,no,2\n",
        "steps": "soft-skin,1,dye,dye,pot,,fresh > 80 hold 60 min,,no,,45 min per load,"
        ",no,,,no,no,\n",
        "doses": "soft-skin,dye,onion skins,dyestuff,100 %,dried\n",
        "runs": "H,soft-skin,silk,100 g,,Sat 5 Dec 2026 18:00,,,no,,,no,\n",
        "gates": "H,shade card,,,,,yes\n",
        "fibre": "S-13,silk,yarn,100 g,yes,,no,,,no,yes,,yes,,\n",
    }
    for page, row in more.items():
        files[f"{page}.csv"] += row.encode()
    load_files(files)

    found = {answer.run: answer for answer in week().answers}

    answer = found["H"]
    assert answer.shade == "Soft Skin"
    assert {(take.source, take.amount) for take in answer.takes} >= {("ON-0801", 100_000)}
    assert {run: told(week())[run] for run in ANSWERS} == ANSWERS
