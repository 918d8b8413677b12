"""Another week taken: the order that was taken holds up to its end, and the last word holds."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Any
from uuid import uuid4

import pytest
from django.db import transaction

from inventory.errors import EntryUsed
from inventory.models import Studio
from sourcing.errors import NoSuchRun, WrongWayRound
from sourcing.models import TakenWeek
from sourcing.notebook.load import load_files
from sourcing.outlook import facts_at, week_at
from sourcing.taken import take_week
from sourcing.week.guidance import Floor, Guidance
from sourcing.week.moments import minute_of
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import nov

NOW, END = nov(23, 7, 30), nov(30)
LATER = nov(23, 11)
ORDER = ("F", "A", "C", "D", "E", "G", "B")


@pytest.fixture(scope="module")
def loaded(django_db_setup: None, django_db_blocker: Any) -> Iterator[Studio]:
    with django_db_blocker.unblock(), transaction.atomic():
        load_files(yard_files())
        yield Studio.objects.get()
        transaction.set_rollback(True)


@pytest.fixture
def studio(loaded: Studio, db: None) -> Studio:
    return loaded


def take(studio: Studio, **said: Any) -> TakenWeek:
    given = {"entry": uuid4(), "at": NOW, "until": END, "order": ORDER, **said}
    return take_week(studio, **given)


def guidance(studio: Studio, at: datetime = NOW) -> Guidance | None:
    return facts_at(studio, at=at, days=7).guidance


def dry(studio: Studio, run: str) -> datetime | None:
    week = week_at(studio, at=NOW, days=7, unlocks=False)
    return next(answer.dry_at for answer in week.answers if answer.run == run)


def test_nobody_has_taken_a_week_so_it_is_the_plain_one(studio: Studio) -> None:
    assert guidance(studio) is None


def test_a_taken_week_is_worked_out_with_its_order_and_waits(studio: Studio) -> None:
    before = dry(studio, "A"), dry(studio, "C")

    take(studio, floors=[("A", "extract", LATER)])

    assert guidance(studio) == Guidance(
        order=ORDER, floors=(Floor("A", "extract", minute_of(LATER)),)
    )
    assert before == (nov(28, 10), nov(29, 11))
    assert dry(studio, "A") == nov(28, 10), "it waits less than it has to anyway"


def test_a_wait_puts_a_run_off(studio: Studio) -> None:
    take(studio, floors=[("A", "scour", nov(24, 9))])

    found = dry(studio, "A")
    assert found is not None
    assert found > nov(28, 10)


def test_it_holds_up_to_its_end_and_not_before_it_was_taken(studio: Studio) -> None:
    take(studio, at=LATER)

    assert guidance(studio, NOW) is None
    assert guidance(studio, LATER) == Guidance(order=ORDER)
    assert guidance(studio, nov(29, 23, 59)) == Guidance(order=ORDER)
    assert guidance(studio, END) is None


def test_the_last_word_holds_and_an_empty_one_is_the_plain_week(studio: Studio) -> None:
    take(studio)
    take(studio, order=("D", "A"))
    assert guidance(studio) == Guidance(order=("D", "A"))

    take(studio, order=())

    assert guidance(studio) is None


def test_said_twice_it_counts_once_and_said_otherwise_it_is_refused(studio: Studio) -> None:
    entry = uuid4()

    assert take(studio, entry=entry).pk == take(studio, entry=entry).pk

    with pytest.raises(EntryUsed):
        take(studio, entry=entry, order=("D",))
    assert TakenWeek.objects.of(studio).count() == 1


def test_a_run_that_nobody_asked_for_is_refused(studio: Studio) -> None:
    with pytest.raises(NoSuchRun, match="No run has the code Z"):
        take(studio, order=("A", "Z"))
    with pytest.raises(WrongWayRound):
        take(studio, until=NOW)

    assert not TakenWeek.objects.of(studio).exists()


def test_a_site_that_is_no_more_bars_nothing(studio: Studio) -> None:
    before = dry(studio, "A")

    take(studio, order=("A",), sites=[("A", "the barn")])

    assert dry(studio, "A") == before


def test_a_step_that_stays_is_begun_at_its_moment(studio: Studio) -> None:
    hour = nov(26, 14)
    take(studio, floors=[("C", "extract", hour)], stays=[("C", "extract")])

    found = guidance(studio)
    assert found is not None
    assert found.stays == (Floor("C", "extract", minute_of(hour), stays=True),)
    week = week_at(studio, at=NOW, days=7, unlocks=False)
    answer = next(row for row in week.answers if row.run == "C")
    assert min(row.start for row in answer.steps if row.step == "extract") == hour
    assert "extract stays at Thu 26 Nov 14:00" in [row.text for row in answer.reasons]


def test_an_entry_that_says_otherwise_what_stays_is_another(studio: Studio) -> None:
    entry = uuid4()
    take(studio, entry=entry, floors=[("C", "extract", LATER)])

    with pytest.raises(EntryUsed):
        take(studio, entry=entry, floors=[("C", "extract", LATER)], stays=[("C", "extract")])
