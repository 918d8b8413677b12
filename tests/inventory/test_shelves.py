"""What is on the shelves at a moment, read back as facts."""

from __future__ import annotations

from datetime import UTC, date, datetime
from decimal import Decimal
from fractions import Fraction
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory import fibre, jars, ledger, lots, vessels
from inventory.corrections import correct
from inventory.entries import Fibre, NewLot, Take
from inventory.errors import NoSuchLot, NoZone
from inventory.models import ColdPlace, Line, Ring, Site, Studio, StudioRule, Vessel
from inventory.science.facts import (
    ColdPlaceFacts,
    Dip,
    FibreFacts,
    JarEvent,
    JarFacts,
    LineFacts,
    RingFacts,
    Shelf,
    SupplyFacts,
    Verdict,
    VesselFacts,
)
from inventory.shelves import LeftAt, figures_of, left_at, pieces_weighed, shelf_at
from tests.inventory.larder import BENCH, DAY, FREEZER, FRIDGE, HOUR, MONDAY_NINE, G, stones

ML = 1000  # µL


def _iron_7(studio: Studio) -> None:
    jars.begin(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        code="J1",
        name="Iron 7",
        metal="iron",
        volume=3_000 * ML,
        vinegar_parts=1,
        water_parts=2,
        acid_percent=Decimal(5),
        begun_at=MONDAY_NINE,
        temperature_c=8,
    )


def test_a_lot_stands_on_the_shelf_as_it_was_received(studio: Studio) -> None:
    Site.objects.of(studio).create(code="yard")
    lot = NewLot(
        code="PR-1003",
        what="privet",
        state="dried",
        place=BENCH,
        site="yard",
        source="corner house",
        gathered_on=date(2026, 10, 3),
        permission="Mr Ash, 2 October",
        foraged=True,
        nest_checked=True,
    )
    ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, amount=560 * G)

    (found,) = shelf_at(studio, at=MONDAY_NINE).lots

    assert (found.code, found.dyestuff, found.left_mg) == ("PR-1003", "privet", 560 * G)
    assert (found.stay.state, found.stay.place_kind, found.stay.since) == (
        "dried",
        "bench",
        MONDAY_NINE,
    )
    assert (found.source, found.permission, found.site) == (
        "corner house",
        "Mr Ash, 2 October",
        "yard",
    )
    assert (found.gathered_on, found.foraged, found.nest_checked) == (
        date(2026, 10, 3),
        True,
        True,
    )


def test_the_shelf_is_as_it_was_at_the_moment(studio: Studio) -> None:
    stones(studio)
    ledger.draw(studio, entry=uuid4(), at=MONDAY_NINE + HOUR, takes=[("AV-1116", 180 * G)])

    assert shelf_at(studio, at=MONDAY_NINE - HOUR).lots == ()
    assert shelf_at(studio, at=MONDAY_NINE).lots[0].left_mg == 1180 * G
    assert shelf_at(studio, at=MONDAY_NINE + HOUR).lots[0].left_mg == 1000 * G


def test_what_is_used_up_leaves_the_shelf(studio: Studio) -> None:
    stones(studio)
    ledger.draw(studio, entry=uuid4(), at=MONDAY_NINE + HOUR, takes=[Take("AV-1116", None)])

    assert shelf_at(studio, at=MONDAY_NINE + HOUR).lots == ()
    assert len(shelf_at(studio, at=MONDAY_NINE).lots) == 1


def test_a_shelf_is_its_studio_s_own(studio: Studio, other: Studio) -> None:
    stones(studio)

    assert shelf_at(other, at=MONDAY_NINE) == Shelf()


def test_a_frozen_lot_keeps_its_past_stays(studio: Studio) -> None:
    stones(studio)
    ledger.put_by(
        studio, entry=uuid4(), at=MONDAY_NINE + DAY, lot="AV-1116", state="frozen", place=FREEZER
    )

    (found,) = shelf_at(studio, at=MONDAY_NINE + DAY).lots

    assert [(stay.state, stay.place, stay.since) for stay in found.stays] == [
        ("fresh", "fridge", MONDAY_NINE),
        ("frozen", "drawer", MONDAY_NINE + DAY),
    ]
    assert len(shelf_at(studio, at=MONDAY_NINE).lots[0].stays) == 1


def test_a_part_put_by_carries_the_stays_of_its_parent(studio: Studio) -> None:
    stones(studio)
    ledger.put_by(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + DAY,
        lot="AV-1116",
        state="frozen",
        place=FREEZER,
        amount=966 * G,
        code="AV-1116f",
    )

    rest, part = shelf_at(studio, at=MONDAY_NINE + DAY).lots

    assert (rest.left_mg, part.left_mg) == (214 * G, 966 * G)
    assert [stay.since for stay in part.stays] == [MONDAY_NINE, MONDAY_NINE + DAY]


def test_a_putting_by_that_was_taken_back_leaves_no_stay(studio: Studio) -> None:
    stones(studio)
    frozen = ledger.put_by(
        studio, entry=uuid4(), at=MONDAY_NINE, lot="AV-1116", state="frozen", place=FREEZER
    )
    undone = correct(studio, entry=uuid4(), corrects=frozen.entry)

    assert shelf_at(studio, at=MONDAY_NINE).lots[0].stay.state == "fresh"

    correct(studio, entry=uuid4(), corrects=undone.entry)

    assert shelf_at(studio, at=MONDAY_NINE).lots[0].stay.state == "frozen"


def test_a_confirmed_lot_shows_when_it_comes(studio: Studio) -> None:
    comes = MONDAY_NINE + 8 * HOUR
    lot = NewLot("AV-1123", "avocado stones", state="fresh", place=FRIDGE, arrives_at=comes)
    ledger.receive_count(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, pieces=58, piece_mg=42 * G)

    (found,) = shelf_at(studio, at=MONDAY_NINE).lots

    assert (found.left_mg, found.arrives_at, found.stay.since) == (2436 * G, comes, comes)


def test_a_lot_set_aside_is_set_aside_from_then_on(studio: Studio) -> None:
    stones(studio)
    lots.set_aside(studio, entry=uuid4(), at=MONDAY_NINE + DAY, lot="AV-1116", reason="furry")
    lots.judge(studio, entry=uuid4(), at=MONDAY_NINE + DAY, lot="AV-1116", sound=False)

    before, after = (shelf_at(studio, at=MONDAY_NINE + DAY * n).lots[0] for n in (0, 1))

    assert (before.set_aside, after.set_aside) == ("", "furry")
    assert (before.verdicts, after.verdicts) == ((), (Verdict(MONDAY_NINE + DAY, sound=False),))


def test_supplies_say_what_they_are(studio: Studio) -> None:
    lot = NewLot("ALUM", "alum", kind="supply")
    ledger.receive(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, amount=900 * G)

    assert shelf_at(studio, at=MONDAY_NINE).supplies == (SupplyFacts("ALUM", "alum", 900 * G),)


def test_a_jar_shows_everything_that_was_done_to_it(studio: Studio) -> None:
    _iron_7(studio)
    third = Fraction(1, 3)
    jars.dip(studio, entry=uuid4(), at=MONDAY_NINE + DAY, jar="J1", grade=4)
    jars.draw(studio, entry=uuid4(), at=MONDAY_NINE + 2 * DAY, jar="J1", volume=200 * ML)
    jars.top_up(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + 3 * DAY,
        jar="J1",
        volume=300 * ML,
        vinegar_parts=third,
        acid_percent=Decimal(5),
    )
    jars.keep_at(studio, entry=uuid4(), at=MONDAY_NINE + 4 * DAY, jar="J1", temperature_c=20)
    jars.evaporate(studio, entry=uuid4(), at=MONDAY_NINE + 5 * DAY, jar="J1", left=3000 * ML)
    jars.strain(studio, entry=uuid4(), at=MONDAY_NINE + 6 * DAY, jar="J1", left=2950 * ML)

    (jar,) = shelf_at(studio, at=MONDAY_NINE + 6 * DAY).jars

    assert jar == JarFacts(
        code="J1",
        name="Iron 7",
        metal="iron",
        vinegar_parts=Fraction(1),
        water_parts=Fraction(2),
        acid_percent=Decimal(5),
        begun_at=MONDAY_NINE,
        begun_volume_ul=3_000 * ML,
        left_ul=2950 * ML,
        temperature_c=8,
        dips=(Dip(MONDAY_NINE + DAY, grade=4),),
        events=(
            JarEvent(MONDAY_NINE + 2 * DAY, "drawn", 200 * ML),
            JarEvent(MONDAY_NINE + 3 * DAY, "topped up", 300 * ML, third, Decimal(5)),
            JarEvent(MONDAY_NINE + 4 * DAY, "kept at", temperature_c=20),
            JarEvent(MONDAY_NINE + 5 * DAY, "evaporated", 100 * ML),
            JarEvent(MONDAY_NINE + 6 * DAY, "strained"),
            JarEvent(MONDAY_NINE + 6 * DAY, "drawn", 50 * ML),
        ),
    )


def test_a_corrected_draw_from_a_jar_counts_as_it_was(studio: Studio) -> None:
    _iron_7(studio)
    drawn = jars.draw(studio, entry=uuid4(), at=MONDAY_NINE + DAY, jar="J1", volume=2000 * ML)
    correct(studio, entry=uuid4(), corrects=drawn.entry, amounts={"J1": 200 * ML})

    (jar,) = shelf_at(studio, at=MONDAY_NINE + DAY).jars

    assert jar.events == (JarEvent(MONDAY_NINE + DAY, "drawn", 200 * ML),)
    assert jar.left_ul == 2800 * ML


def test_a_dip_that_was_taken_back_does_not_show(studio: Studio) -> None:
    _iron_7(studio)
    dipped = jars.dip(studio, entry=uuid4(), at=MONDAY_NINE + DAY, jar="J1", grade=5)
    correct(studio, entry=uuid4(), corrects=dipped.entry)

    assert shelf_at(studio, at=MONDAY_NINE + DAY).jars[0].dips == ()


def test_a_jar_begun_with_another_amount_than_noted_is_put_right(studio: Studio) -> None:
    entry = uuid4()
    jars.begin(
        studio,
        entry=entry,
        at=MONDAY_NINE,
        code="J1",
        name="Iron 7",
        metal="iron",
        volume=3_000 * ML,
    )
    correct(studio, entry=uuid4(), corrects=entry, amounts={"J1": 2_800 * ML})

    (jar,) = shelf_at(studio, at=MONDAY_NINE).jars

    assert (jar.begun_volume_ul, jar.left_ul, jar.events) == (2_800 * ML, 2_800 * ML, ())


def test_a_bath_knows_how_often_it_was_used(studio: Studio) -> None:
    jars.make_bath(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        code="A1",
        what="alum bath",
        volume=30_000 * ML,
        temperature_c=8,
        times_used=1,
        alum_left_mg=120 * G,
    )
    jars.use_bath(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + DAY,
        bath="A1",
        alum_left_mg=60 * G,
        left=28_000 * ML,
    )
    jars.move_bath(studio, entry=uuid4(), at=MONDAY_NINE + DAY, bath="A1", place=FRIDGE)

    (bath,) = shelf_at(studio, at=MONDAY_NINE + DAY).baths

    assert (bath.times_used, bath.alum_left_mg, bath.left_ul) == (2, 60 * G, 28_000 * ML)
    assert (bath.what, bath.made_at, bath.temperature_c) == ("alum bath", MONDAY_NINE, 5.0)


def test_scoured_fibre_is_a_lot_of_its_own(studio: Studio) -> None:
    fibre.receive(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        lot=NewLot("W-88", "wool"),
        amount=2400 * G,
        form="yarn",
        fibre=Fibre(),
    )
    fibre.scour(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + DAY,
        lot="W-88",
        amount=2105 * G,
        weighs=2000 * G,
        code="W-88a",
        damp=False,
    )

    shelf = shelf_at(studio, at=MONDAY_NINE + DAY)

    assert shelf.fibre == (
        FibreFacts("W-88", "wool", "yarn", 295 * G, scoured=False, since=date(2026, 11, 23)),
        FibreFacts("W-88a", "wool", "yarn", 2000 * G, scoured=True, since=date(2026, 11, 24)),
    )


def test_a_vessel_remembers_iron_and_its_blank_swatch(studio: Studio) -> None:
    Vessel.objects.of(studio).create(
        code="P3", kind="pot", material="stainless", brim_ml=20_000, working_ml=16_000
    )
    vessels.mark_iron(studio, entry=uuid4(), at=MONDAY_NINE, vessel="P3")
    vessels.clear(studio, entry=uuid4(), at=MONDAY_NINE + DAY, vessel="P3", passed=False)
    vessels.clear(studio, entry=uuid4(), at=MONDAY_NINE + 2 * DAY, vessel="P3")
    vessels.chip(studio, entry=uuid4(), at=MONDAY_NINE + 3 * DAY, vessel="P3")

    (day_2,) = shelf_at(studio, at=MONDAY_NINE + DAY).vessels
    (day_4,) = shelf_at(studio, at=MONDAY_NINE + 3 * DAY).vessels

    assert (day_2.iron_on, day_2.blank_passed_on, day_2.chipped) == (
        date(2026, 11, 23),
        None,
        False,
    )
    assert day_4 == VesselFacts(
        code="P3",
        kind="pot",
        material="stainless",
        brim_ml=20_000,
        working_ml=16_000,
        chipped=True,
        iron_on=date(2026, 11, 23),
        blank_passed_on=date(2026, 11, 25),
    )


def test_an_iron_mark_that_was_taken_back_bars_nothing(studio: Studio) -> None:
    Vessel.objects.of(studio).create(code="P1", kind="pot", brim_ml=60_000, working_ml=48_000)
    marked = vessels.mark_iron(studio, entry=uuid4(), at=MONDAY_NINE, vessel="P1")
    correct(studio, entry=uuid4(), corrects=marked.entry)

    assert shelf_at(studio, at=MONDAY_NINE).vessels[0].iron_on is None


def test_fittings_stand_in_the_order_of_their_codes(studio: Studio) -> None:
    site = Site.objects.of(studio).create(code="yard")
    Ring.objects.of(studio).create(code="R2", watts=3000, not_for="P1, P9")
    Ring.objects.of(studio).create(code="R1", watts=3500, site=site)
    Line.objects.of(studio).create(code="L1", holds_mg=3_000 * G, outdoors=True)
    ColdPlace.objects.of(studio).create(code="fridge", kind="fridge")
    ColdPlace.objects.of(studio).create(
        code="drawer", kind="freezer", holds_mg=6_000 * G, temperature_c=-18, site=site
    )

    shelf = shelf_at(studio, at=MONDAY_NINE)

    assert shelf.rings == (
        RingFacts("R1", 3500, (), "yard"),
        RingFacts("R2", 3000, ("P1", "P9")),
    )
    assert shelf.lines == (LineFacts("L1", 3_000 * G, outdoors=True),)
    assert shelf.cold_places == (
        ColdPlaceFacts("drawer", "freezer", 6_000 * G, -18.0, "yard"),
        ColdPlaceFacts("fridge", "fridge", None),
    )


def _full_shelf(studio: Studio, times: int) -> None:
    for n in range(times):
        stones(studio, f"AV-{n}", 500)
        jars.begin(
            studio,
            entry=uuid4(),
            at=MONDAY_NINE,
            code=f"J{n}",
            name=f"Iron {n}",
            metal="iron",
            volume=900 * ML,
        )
        jars.draw(studio, entry=uuid4(), at=MONDAY_NINE, jar=f"J{n}", volume=1 * ML)
        fibre.receive(
            studio,
            entry=uuid4(),
            at=MONDAY_NINE,
            lot=NewLot(f"W-{n}", "wool"),
            amount=400 * G,
            form="yarn",
            fibre=Fibre(),
        )


def test_a_full_shelf_asks_the_database_no_more_often(studio: Studio, other: Studio) -> None:
    _full_shelf(studio, 1)
    _full_shelf(other, 30)

    with CaptureQueriesContext(connection) as few:
        shelf_at(studio, at=MONDAY_NINE)
    with CaptureQueriesContext(connection) as many:
        shelf_at(other, at=MONDAY_NINE)

    assert len(few) == len(many) == 5


def test_a_moment_without_a_zone_is_refused(studio: Studio) -> None:
    with pytest.raises(NoZone, match="23 November 2026 09:00 has no time zone"):
        shelf_at(studio, at=MONDAY_NINE.replace(tzinfo=None))


def test_left_at_reads_in_the_order_in_which_things_happened(studio: Studio) -> None:
    stones(studio)
    ledger.draw(studio, entry=uuid4(), at=MONDAY_NINE + 2 * DAY, takes=[("AV-1116", 180 * G)])
    ledger.draw(studio, entry=uuid4(), at=MONDAY_NINE + DAY, takes=[("AV-1116", 500 * G)])

    left = [left_at(studio, "AV-1116", at=MONDAY_NINE + n * DAY).amount for n in range(3)]

    assert left == [1180 * G, 680 * G, 500 * G]


def test_left_at_marks_where_a_late_entry_dips_below_nothing(studio: Studio) -> None:
    stones(studio)
    found = MONDAY_NINE + 2 * DAY
    ledger.recount(studio, entry=uuid4(), at=found, lot="AV-1116", found=2_000 * G)
    ledger.draw(studio, entry=uuid4(), at=MONDAY_NINE + DAY, takes=[("AV-1116", 1_500 * G)])

    before = left_at(studio, "AV-1116", at=MONDAY_NINE)
    after = left_at(studio, "AV-1116", at=found)

    assert before == LeftAt(1180 * G, "mg")
    assert after == LeftAt(500 * G, "mg", dips=(MONDAY_NINE + DAY,))
    assert shelf_at(studio, at=MONDAY_NINE + DAY).lots == ()


def test_left_at_of_a_lot_that_is_not_there_is_refused(studio: Studio) -> None:
    with pytest.raises(NoSuchLot, match="No lot has the code AV-1"):
        left_at(studio, "AV-1", at=MONDAY_NINE)


def test_a_count_that_is_weighed_teaches_the_piece_mass(studio: Studio) -> None:
    lot = NewLot("AV-1123", "avocado stones", state="fresh", place=FRIDGE)
    counted = ledger.receive_count(
        studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, pieces=58, piece_mg=42 * G
    )
    weighed = ledger.weigh_again(
        studio, entry=uuid4(), at=MONDAY_NINE + HOUR, lot="AV-1123", found=2_410 * G
    )

    assert counted.moved[0].left_after == 2_436 * G
    assert weighed.moved[0].amount == -26 * G
    assert pieces_weighed(studio, at=MONDAY_NINE) == {}
    assert pieces_weighed(studio, at=MONDAY_NINE + HOUR) == {"avocado stones": ((58, 2_410 * G),)}


def test_a_weighing_that_was_taken_back_teaches_nothing(studio: Studio) -> None:
    lot = NewLot("AV-1123", "avocado stones", state="fresh", place=FRIDGE)
    ledger.receive_count(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, pieces=58, piece_mg=42 * G)
    weighed = ledger.weigh_again(
        studio, entry=uuid4(), at=MONDAY_NINE, lot="AV-1123", found=24_100 * G
    )
    correct(studio, entry=uuid4(), corrects=weighed.entry)

    assert pieces_weighed(studio, at=MONDAY_NINE) == {}
    assert left_at(studio, "AV-1123", at=MONDAY_NINE).amount == 2_436 * G


def test_a_count_of_which_some_is_gone_teaches_nothing(studio: Studio) -> None:
    lot = NewLot("AV-1123", "avocado stones", state="fresh", place=FRIDGE)
    ledger.receive_count(studio, entry=uuid4(), at=MONDAY_NINE, lot=lot, pieces=58, piece_mg=42 * G)
    ledger.draw(studio, entry=uuid4(), at=MONDAY_NINE, takes=[("AV-1123", 42 * G)])
    ledger.weigh_again(studio, entry=uuid4(), at=MONDAY_NINE + HOUR, lot="AV-1123", found=2_300 * G)

    assert pieces_weighed(studio, at=MONDAY_NINE + HOUR) == {}


def test_the_studio_s_own_figures_come_with_their_day(studio: Studio) -> None:
    StudioRule.objects.of(studio).create(
        item="wool", name="scour_loss_fraction", value="0.05", since=date(2026, 1, 1)
    )

    (figure,) = figures_of(studio)

    assert (figure.item, figure.value, figure.own) == ("wool", Decimal("0.05"), True)
    assert (figure.basis, figure.since) == ("measured here", date(2026, 1, 1))


def test_a_day_is_the_studio_s_own(db: None) -> None:
    late = Studio.objects.create(name="Far Side", zone="Pacific/Auckland")
    Vessel.objects.of(late).create(code="P1", kind="pot", brim_ml=20_000, working_ml=16_000)
    at = datetime(2026, 11, 23, 12, 0, tzinfo=UTC)
    vessels.mark_iron(late, entry=uuid4(), at=at, vessel="P1")

    assert shelf_at(late, at=at).vessels[0].iron_on == date(2026, 11, 24)
