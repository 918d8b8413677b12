"""A plan in sentences: whole sentences, both sides of each border."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from inventory.science.facts import ColdPlaceFacts
from sourcing.putting_by import words
from sourcing.putting_by.months import months_of
from tests.sourcing.putting_by.olive import OLIVE, YARD, plan, privet, with_dried, with_made


def test_with_1360_g_dried_there_is_no_olive_from_may_to_august() -> None:
    """Design papers 12, no. 40: 560 g on the shelf and 800 g from the hedge make two runs."""
    found = plan(with_dried(1_360_000))

    assert words.shade_gap(found) == "no Hedge Olive May to Aug 2027"
    assert words.what_falls(found.without) == "2 of 4 runs fall: Hedge Olive in May and Jun 2027."


def test_with_1920_g_there_is_nothing_to_do_and_no_gap() -> None:
    found = plan(with_dried(1_920_000))

    assert words.what_to_do(found) == "Nothing more has to be put by."
    assert words.shade_gap(found) == ""
    assert words.what_falls(found.without) == "all 4 runs can be dyed."
    assert words.what_comes(found) == words.what_to_ask(found) == ""
    assert found.room is None


def test_with_a_milligram_less_something_is_to_be_done() -> None:
    found = plan(with_dried(1_919_999))

    assert words.what_to_do(found).startswith("Put by at least 1 g of privet, dried")
    assert words.shade_gap(found) == "no Hedge Olive Jun to Aug 2027"


def test_what_to_put_by_says_dried_and_fresh_and_the_day() -> None:
    found = plan()

    assert words.what_to_do(found) == (
        "Put by at least 1,840 g of privet, dried (4,600 g fresh), by Fri 27 Nov 2026."
    )
    assert words.fresh_range(found) == (
        "3,915 g to 5,576 g fresh, as the figures range: dried weight from fresh 40 % (assumed), "
        "lost on the way 0 % (the studio’s own)."
    )


def test_a_lot_that_lies_fresh_is_to_be_dried_by_its_last_good_day() -> None:
    lots = (privet("PR-1122", 5_000_000, state="fresh", on=date(2026, 11, 22)),)
    found = plan(replace(with_dried(0), shelf=replace(YARD.shelf, lots=lots)), answers=())

    assert words.what_to_do(found) == (
        "Dry 5,000 g of PR-1122 by Tue 24 Nov 2026. Then nothing more is wanted."
    )


def test_what_comes_is_called_a_guess() -> None:
    said = words.what_comes(plan())

    assert said.startswith("A guess: ")
    assert "at worst nothing; a chance of " in said
    assert said.endswith("Its sources said 2,000 g.")


def test_nothing_agreed_is_said() -> None:
    found = plan(with_dried(0))

    assert words.what_comes(found) == "No pick-up is agreed that would come in time."
    assert words.what_to_do(found).endswith("; nothing is agreed that comes in time.")


def test_room_is_said_with_what_it_is_over_by() -> None:
    stones = replace(
        OLIVE, dyestuff="avocado stones", state="frozen", runs=1, each_mg=20_000_000, shade="Blush"
    )
    found = plan(YARD, stones)

    assert found.room is not None
    assert "over by" in words.what_room(found, found.room)
    assert words.what_room(found, replace(found.room, needs_mg=4_470_000)) == (
        "4.47 kg go into the freezer, 4.47 kg are free."
    )
    assert words.what_room(found, replace(found.room, needs_mg=4_471_000)) == (
        "4.471 kg go into the freezer, 4.47 kg are free: over by 0.001 kg. "
        "Use some first, or find other room."
    )


def test_trays_are_said_in_loads() -> None:
    shelf = replace(
        YARD.shelf, cold_places=(*YARD.shelf.cold_places, ColdPlaceFacts("t", "tray", 2_300_000))
    )
    found = plan(replace(YARD, shelf=shelf))

    assert found.room is not None
    assert words.what_room(found, found.room) == (
        "4.6 kg fresh have to be dried; the trays hold 2.3 kg: 2 loads, one after the other."
    )


def test_months_add_up_to_what_is_wanted_and_short() -> None:
    for facts in (YARD, with_dried(1_360_000), with_made((900, 0, 800, 1000))):
        found = plan(facts)
        months = months_of(found)

        assert sum(month.wanted_mg for month in months) == found.need_mg
        assert sum(month.short_mg for month in months) == found.likely_short_mg
        assert all(month.shelf_mg >= 0 and month.likely_mg >= 0 for month in months)


def test_months_go_from_today_to_the_end_of_the_gap() -> None:
    months = months_of(plan())

    assert months[0].first == date(2026, 11, 23)
    assert months[-1].first == date(2027, 8, 1)
    assert [month.first.month for month in months if month.closed] == [3, 4, 5, 6, 7, 8]
    assert [month.word for month in months[:5]] == ["", "", "", "", "likely"]
