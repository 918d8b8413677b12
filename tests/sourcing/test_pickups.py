"""Pick-ups reported, made and missed."""

from __future__ import annotations

from uuid import uuid4

import pytest

from inventory.entries import Place
from inventory.models import Lot, Studio
from inventory.posting import Posted
from inventory.shelves import shelf_at
from sourcing.errors import NoAmount, NoPieceMass, NoSuchSource
from sourcing.models import PickUp
from sourcing.notebook.load import load_files
from sourcing.outlook import facts_at
from sourcing.pickups import miss_pickup, record_pickup, report_pickup
from tests.once import once
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import MONDAY_0730, nov

pytestmark = pytest.mark.django_db
CAFE, STONES = "Lantern Steps café", "avocado stones"
FRIDGE = Place("fridge", "fridge")


made = once(lambda: load_files(yard_files()))


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


def record(studio: Studio, **more: object) -> Posted:
    values: dict[str, object] = {
        "entry": uuid4(),
        "at": nov(23, 16, 40),
        "source": CAFE,
        "gives": STONES,
        "lot": "AV-1123",
        "place": FRIDGE,
        **more,
    }
    return record_pickup(studio, **values)  # type: ignore[arg-type]


def of_monday(studio: Studio) -> PickUp:
    return PickUp.objects.of(studio).get(at__gte=nov(23), at__lt=nov(24))


def test_a_count_of_stones_becomes_a_lot_by_the_mass_of_a_stone(studio: Studio) -> None:
    # The worked week: 58 stones at 42 g are 2,436 g, lot AV-1123.
    posted = record(studio, pieces=58)

    assert (posted.moved[0].lot, posted.moved[0].amount) == ("AV-1123", 2_436_000)
    lot = Lot.objects.of(studio).get(code="AV-1123")
    assert (lot.source, lot.gathered_on, lot.foraged) == (CAFE, nov(23).date(), False)


def test_a_reported_pick_up_becomes_the_one_that_was_made(studio: Studio) -> None:
    assert of_monday(studio).how == "reported"

    posted = record(studio, pieces=60)

    row = of_monday(studio)
    assert (row.how, row.at, row.pieces, row.lot_code) == ("made", nov(23, 16, 40), 60, "AV-1123")
    assert row.posting is not None
    assert row.posting.entry == posted.entry


def test_what_was_made_is_a_lot_once_and_expected_no_more(studio: Studio) -> None:
    record(studio, pieces=60)

    facts = facts_at(studio, at=nov(23, 18), days=7)

    assert [lot.left_mg for lot in facts.shelf.lots if lot.code == "AV-1123"] == [2_520_000]
    assert not [row for row in facts.pick_ups if row.at < nov(24)]


def test_a_pick_up_sent_again_is_made_once(studio: Studio) -> None:
    entry = uuid4()

    first, again = record(studio, entry=entry, pieces=58), record(studio, entry=entry, pieces=58)

    assert (first, again.again) == (again, True)
    assert PickUp.objects.of(studio).filter(at__gte=nov(23), at__lt=nov(24)).count() == 1


def test_a_second_hand_over_on_the_day_is_one_of_its_own(studio: Studio) -> None:
    record(studio, pieces=58)

    record(studio, at=nov(23, 17, 30), lot="AV-1123 b", weight=500_000)

    rows = PickUp.objects.of(studio).filter(at__gte=nov(23), at__lt=nov(24)).order_by("at")
    assert [(row.lot_code, row.pieces, row.weight_mg) for row in rows] == [
        ("AV-1123", 58, None),
        ("AV-1123 b", None, 500_000),
    ]


def test_foraged_matter_carries_the_leave_it_was_cut_by(studio: Studio) -> None:
    record(
        studio,
        at=nov(27, 9),
        source="Hedge at the corner house",
        gives="privet",
        lot="PR-1127",
        weight=2_000_000,
    )

    lots = {lot.code: lot for lot in shelf_at(studio, at=nov(27, 10)).lots}
    assert (lots["PR-1127"].foraged, lots["PR-1127"].permission) == (
        True,
        "the corner house, 1 Oct 2026",
    )


def test_what_comes_is_weighed_or_counted(studio: Studio) -> None:
    for amounts in ({}, {"pieces": 58, "weight": 2_436_000}):
        with pytest.raises(NoAmount, match=r"^Weigh what came or count it: one of the two\.$"):
            record(studio, **amounts)
    assert not Lot.objects.of(studio).filter(code="AV-1123").exists()


def test_pieces_of_unknown_mass_are_not_counted(studio: Studio) -> None:
    with pytest.raises(NoPieceMass) as refusal:
        record(studio, gives="nettle", lot="NE-1123", pieces=3)

    assert str(refusal.value) == (
        "Nobody knows what one piece of nettle weighs. Weigh what came, "
        "or write the mass of a piece in the studio's rules."
    )


def test_a_source_that_nobody_knows_is_named(studio: Studio) -> None:
    with pytest.raises(NoSuchSource, match=r"^No source is called Café\. Look at its name, or add"):
        record(studio, source="Café", pieces=1)


def test_a_missed_pick_up_counts_as_none(studio: Studio) -> None:
    miss_pickup(studio, at=nov(26, 17), source=CAFE, gives=STONES)

    facts = facts_at(studio, at=nov(27, 8), days=7)
    (coming, *_) = [row for row in facts.pick_ups if row.source == CAFE]
    # Of the last six 62, 55, 70, 48, 0 and the new 0: mean 235 ÷ 6 at 42 g.
    assert (coming.likely_mg, coming.worst_mg) == (1_645_000, 0)


def test_the_last_word_of_a_source_holds(studio: Studio) -> None:
    for pieces in (40, 45):
        report_pickup(
            studio,
            at=nov(26, 16),
            source=CAFE,
            gives=STONES,
            lot="AV-1126",
            place=FRIDGE,
            pieces=pieces,
        )

    facts = facts_at(studio, at=MONDAY_0730, days=7)
    assert [row.confirmed_mg for row in facts.pick_ups if row.at == nov(26, 16)] == [1_890_000]
    assert [lot.left_mg for lot in facts.shelf.lots if lot.code == "AV-1126"] == [1_890_000]


def test_what_has_come_is_not_missed_and_not_reported_again(studio: Studio) -> None:
    record(studio, at=nov(23, 17), pieces=58)

    miss_pickup(studio, at=nov(23, 17), source=CAFE, gives=STONES)
    report_pickup(
        studio, at=nov(23, 17), source=CAFE, gives=STONES, lot="X", place=FRIDGE, pieces=1
    )

    assert (of_monday(studio).how, of_monday(studio).pieces) == ("made", 58)


def test_a_report_says_how_much(studio: Studio) -> None:
    with pytest.raises(NoAmount):
        report_pickup(studio, at=nov(26, 17), source=CAFE, gives=STONES, lot="X", place=FRIDGE)
