"""Chores said to be done: once, taken back, and read as of a moment."""

from __future__ import annotations

from datetime import date, datetime
from uuid import uuid4

import pytest

from inventory.errors import EntryUsed
from inventory.models import Studio
from sourcing.chores import chore_done, chore_not_done
from sourcing.errors import ChoreIsDone, ChoreStillToDo, NoSuchChore
from sourcing.models import Chore, ChoreDone
from sourcing.notebook.load import load_files
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at
from tests.once import once
from tests.sourcing.notebook.desk import without_readers, yard_files
from tests.sourcing.week.pellitory import nov

pytestmark = pytest.mark.django_db
FRIDAY = date(2026, 11, 27)
PREP = {"day": FRIDAY, "what": "group prep"}
NINE = nov(27, 9)
made = once(lambda: load_files(without_readers(yard_files())))


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


def done_at(studio: Studio, at: datetime) -> datetime | None:
    rows = facts_at(studio, at=at, days=7).chores
    return next(row.done_at for row in rows if row.what == "group prep")


def test_a_chore_is_done_from_the_minute_at_which_it_was_said(studio: Studio) -> None:
    chore_done(studio, entry=uuid4(), at=NINE, **PREP)

    assert done_at(studio, nov(27, 8, 59)) is None
    assert done_at(studio, NINE) == NINE
    assert [row.done_at for row in facts_at(studio, at=NINE, days=7).chores] == [NINE]


def test_the_last_word_on_a_chore_holds(studio: Studio) -> None:
    chore_done(studio, entry=uuid4(), at=NINE, **PREP)
    chore_not_done(studio, entry=uuid4(), at=nov(27, 9, 5), **PREP)
    assert done_at(studio, nov(27, 9, 4)) == NINE
    assert done_at(studio, nov(27, 9, 5)) is None

    chore_done(studio, entry=uuid4(), at=nov(27, 11), **PREP)

    assert done_at(studio, nov(27, 12)) == nov(27, 11)


def test_the_same_entry_counts_once_and_with_other_words_is_refused(studio: Studio) -> None:
    entry = uuid4()
    first = chore_done(studio, entry=entry, at=NINE, **PREP)

    assert chore_done(studio, entry=entry, at=NINE, **PREP) == first
    with pytest.raises(EntryUsed):
        chore_not_done(studio, entry=entry, at=NINE, **PREP)
    assert ChoreDone.objects.of(studio).count() == 1


def test_a_chore_is_said_done_once(studio: Studio) -> None:
    chore_done(studio, entry=uuid4(), at=NINE, **PREP)

    with pytest.raises(ChoreIsDone) as refused:
        chore_done(studio, entry=uuid4(), at=nov(27, 10), **PREP)

    assert str(refused.value) == (
        "“group prep”: done on 27 November 09:00. If that was a mistake, say “not done after "
        "all” first."
    )


def test_what_nobody_said_is_not_taken_back(studio: Studio) -> None:
    with pytest.raises(ChoreStillToDo) as refused:
        chore_not_done(studio, entry=uuid4(), at=NINE, **PREP)

    assert str(refused.value) == (
        "“group prep” on Fri 27 Nov: nobody said that it is done. Look at the day again."
    )


def test_a_chore_that_the_day_has_not_is_refused_with_those_there_are(studio: Studio) -> None:
    with pytest.raises(NoSuchChore) as refused:
        chore_done(studio, entry=uuid4(), at=NINE, day=FRIDAY, what="sweep")

    assert str(refused.value) == "Fri 27 Nov has no chore “sweep”. It has “group prep”."
    assert not ChoreDone.objects.of(studio).exists()


def test_minutes_of_a_chore_stay_spent_on_its_day(studio: Studio) -> None:
    before = facts_at(studio, at=NINE, days=7).chores
    chore_done(studio, entry=uuid4(), at=NINE, **PREP)
    after = facts_at(studio, at=NINE, days=7).chores

    assert [row.hands_min for row in after] == [row.hands_min for row in before] == [30]


def test_a_chore_that_is_done_goes_along_in_the_notebook(studio: Studio) -> None:
    chore_done(studio, entry=uuid4(), at=NINE, **PREP)
    pages = files_for(notebook_of(studio, at=nov(27, 12)))
    assert "Fri 27 Nov 2026 09:00" in pages["chores.csv"].decode()
    pages["studio.csv"] = pages["studio.csv"].replace(b"Pellitory Yard", b"Wash House")

    load_files(without_readers(pages))

    other = Studio.objects.get(name="Wash House")
    assert Chore.objects.of(other).count() == 2
    assert done_at(other, NINE) == NINE
    load_files(without_readers(pages))
    assert ChoreDone.objects.of(other).count() == 1
