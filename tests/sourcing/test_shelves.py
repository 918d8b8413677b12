"""The shelves gathered for a page: what comes, what pots went through, what moved last."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory import jars, ledger, lots, vessels
from inventory.corrections import correct
from inventory.entries import Take
from inventory.errors import NoZone
from inventory.models import Dyestuff, Studio, StudioRule
from sourcing.moved import MOVED_AT_MOST, Moved
from sourcing.notebook.load import load_files
from sourcing.shelves import VesselPast, shelves_at
from tests.inventory.larder import FREEZER, stones
from tests.once import once
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import MONDAY_0730, SHELF

pytestmark = pytest.mark.django_db
HOUR = timedelta(hours=1)
QUESTIONS = 6


made = once(lambda: load_files(yard_files()))


@pytest.fixture
def yard(made: None, db: None) -> Studio:
    return Studio.objects.get(name="Pellitory Yard")


def questions(studio: Studio, at: datetime = MONDAY_0730) -> int:
    assert connection.features.supports_json_field  # asked once a connection, not for each page
    with CaptureQueriesContext(connection) as asked:
        shelves_at(studio, at=at)
    return len(asked)


def last_moved(studio: Studio) -> Moved:
    return shelves_at(studio, at=MONDAY_0730 + HOUR).moved[0]


def test_the_lots_are_those_of_the_worked_week_with_the_one_that_comes_tonight(
    yard: Studio,
) -> None:
    found = shelves_at(yard, at=MONDAY_0730)

    assert found.shelf.lots == tuple(sorted(SHELF.lots, key=lambda lot: lot.code))
    assert found.shelf.vessels == tuple(sorted(SHELF.vessels, key=lambda row: row.code))


@pytest.mark.parametrize(
    ("kind", "name"),
    [
        ("dyestuff", "lots"),
        ("supply", "supplies"),
        ("jar", "jars"),
        ("bath", "baths"),
        ("fibre", "fibre"),
    ],
)
def test_one_kind_of_lot_is_the_same_without_the_others(yard: Studio, kind: str, name: str) -> None:
    whole = shelves_at(yard, at=MONDAY_0730)

    alone = shelves_at(yard, at=MONDAY_0730, kinds=(kind,))

    assert getattr(alone.shelf, name) == getattr(whole.shelf, name) != ()
    others = {"supplies", "jars", "baths", "fibre"} - {name}
    assert {getattr(alone.shelf, other) for other in others} == {()}


def test_without_what_moved_all_else_is_the_same(yard: Studio) -> None:
    whole, still = (shelves_at(yard, at=MONDAY_0730, with_moved=moved) for moved in (True, False))

    assert whole.moved != still.moved == ()
    assert still == replace(whole, moved=(), more_moved=still.more_moved)


def test_without_any_kind_of_lot_pots_and_what_moved_are_the_same(yard: Studio) -> None:
    whole, none = shelves_at(yard, at=MONDAY_0730), shelves_at(yard, at=MONDAY_0730, kinds=())

    assert (none.moved, none.past, none.shelf.vessels) == (
        whole.moved, whole.past, whole.shelf.vessels
    )  # fmt: skip
    assert none.shelf.jars == ()


def test_only_what_no_recipe_wants_dried_is_frozen_to_keep_it(yard: Studio) -> None:
    found = shelves_at(yard, at=MONDAY_0730)

    stuffs = ("avocado stones", "privet", "nettle", "something new")
    assert [found.freezes(name) for name in stuffs] == [True, False, False, False]


def test_pots_tell_what_they_went_through_newest_first(yard: Studio) -> None:
    vessels.clear(yard, entry=uuid4(), at=MONDAY_0730, vessel="P1", passed=False)

    found = shelves_at(yard, at=MONDAY_0730).past

    assert [row for row in found if row.vessel == "P1"] == [
        VesselPast("P1", date(2026, 11, 23), "blank failed"),
        VesselPast("P1", date(2026, 11, 16), "blank passed"),
    ]


def test_a_use_that_was_taken_back_is_not_told(yard: Studio) -> None:
    noted = uuid4()
    vessels.mark_iron(yard, entry=noted, at=MONDAY_0730, vessel="P1")
    correct(yard, entry=uuid4(), corrects=noted)

    found = shelves_at(yard, at=MONDAY_0730)

    assert "iron" not in {row.what for row in found.past if row.vessel == "P1"}
    assert [row.taken_back for row in found.moved if row.kind == "iron"] == [True, False]


def test_a_draw_is_told_with_what_it_left(yard: Studio) -> None:
    ledger.draw(yard, entry=uuid4(), at=MONDAY_0730, takes=[Take("J2", 200_000)], note="try-out")

    told = last_moved(yard)

    (part,) = told.parts
    assert (told.kind, told.note, told.taken_back) == ("draw", "try-out", False)
    assert (part.code, part.what, part.amount, part.left) == (
        "J2",
        "iron liquor",
        -200_000,
        700_000,
    )


def test_a_dip_names_its_jar_and_its_grade(yard: Studio) -> None:
    jars.dip(yard, entry=uuid4(), at=MONDAY_0730, jar="J1", grade=4)

    assert (last_moved(yard).about, last_moved(yard).grade) == (("J1",), 4)


def test_setting_aside_gives_its_reason_and_since_when(yard: Studio) -> None:
    lots.set_aside(yard, entry=uuid4(), at=MONDAY_0730, lot="AV-1030", reason="bag torn")

    assert (last_moved(yard).about, last_moved(yard).set_aside) == (("AV-1030",), "bag torn")
    assert shelves_at(yard, at=MONDAY_0730 + HOUR).aside_since["AV-1030"] == MONDAY_0730


def test_more_moves_than_are_shown_are_left_for_the_next_page(yard: Studio) -> None:
    there = len(shelves_at(yard, at=MONDAY_0730).moved)
    for _ in range(MOVED_AT_MOST - there):
        ledger.draw(yard, entry=uuid4(), at=MONDAY_0730, takes=[Take("AV-1030", 1000)])
    just, one = shelves_at(yard, at=MONDAY_0730), uuid4()

    ledger.draw(yard, entry=one, at=MONDAY_0730, takes=[Take("AV-1030", 1000)])
    over = shelves_at(yard, at=MONDAY_0730)
    rest = shelves_at(yard, at=MONDAY_0730, skip=MOVED_AT_MOST)

    assert (len(just.moved), just.more_moved) == (MOVED_AT_MOST, False)
    assert (len(over.moved), over.more_moved) == (MOVED_AT_MOST, True)
    assert (len(rest.moved), rest.more_moved) == (1, False)


def test_what_happens_later_is_not_told_yet(yard: Studio) -> None:
    before = shelves_at(yard, at=MONDAY_0730)
    ledger.draw(yard, entry=uuid4(), at=MONDAY_0730 + HOUR, takes=[Take("J2", 200_000)])

    assert shelves_at(yard, at=MONDAY_0730).moved == before.moved


def test_twenty_times_as_much_asks_no_more_often(yard: Studio) -> None:
    few = questions(yard)
    for number in range(180):
        stones(yard, f"S-{number:03}", at=MONDAY_0730 - HOUR * number)
    Dyestuff.objects.of(yard).bulk_create(
        [Dyestuff(name=f"bark {number}") for number in range(100)]
    )
    StudioRule.objects.of(yard).bulk_create(
        [StudioRule(item=f"bark {n}", name="piece_mass_g", value=Decimal(2)) for n in range(100)]
    )

    assert few == questions(yard) == QUESTIONS


def test_putting_a_part_by_tells_both_lots_and_where_it_went(yard: Studio) -> None:
    ledger.put_by(
        yard,
        entry=uuid4(),
        at=MONDAY_0730,
        lot="CB-1121",
        amount=480_000,
        code="CB-1121F",
        state="frozen",
        place=FREEZER,
    )

    told = last_moved(yard)
    assert {(part.code, part.amount) for part in told.parts} == {
        ("CB-1121", -480_000),
        ("CB-1121F", 480_000),
    }
    assert (told.state, told.place) == ("frozen", "drawer")


def test_a_verdict_is_told_as_it_was_seen(yard: Studio) -> None:
    lots.judge(yard, entry=uuid4(), at=MONDAY_0730, lot="AV-1030", sound=False)

    assert (last_moved(yard).about, last_moved(yard).sound) == (("AV-1030",), False)


def test_another_studios_moves_stay_its_own(yard: Studio) -> None:
    other = Studio.objects.create(name="Elsewhere", zone="Europe/London")
    stones(other, "AV-1", at=MONDAY_0730)

    found = shelves_at(yard, at=MONDAY_0730)

    assert "AV-1" not in {part.code for row in found.moved for part in row.parts}
    assert [row.parts[0].code for row in shelves_at(other, at=MONDAY_0730).moved] == ["AV-1"]


def test_a_moment_without_its_offset_is_refused(yard: Studio) -> None:
    with pytest.raises(NoZone):
        shelves_at(yard, at=datetime(2026, 11, 23, 7, 30))  # noqa: DTZ001
