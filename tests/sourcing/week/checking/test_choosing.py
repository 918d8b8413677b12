"""Choices: what spoils sooner, is ready now, is smaller or weaker comes first."""

from __future__ import annotations

from dataclasses import replace

from inventory.science.facts import Dip, RingFacts, VesselFacts
from tests.sourcing.week.checking.breaking import (
    FACTS,
    answer_of,
    kinds,
    on_shelf,
    texts,
    with_answer,
    with_step,
    with_take,
)
from tests.sourcing.week.pellitory import lot, nov
from tests.sourcing.week.pellitory_plan import WEEK, take


def test_lot_that_spoils_sooner_is_not_passed_by() -> None:
    older = lot("PR-0901", "privet", 100, "dried", "dry store", nov(1, 9), foraged=True,
                permission="corner house")  # fmt: skip
    older = replace(older, stays=(replace(older.stay, since=nov(1).replace(month=9)),))
    shelf = replace(FACTS.shelf, lots=(*FACTS.shelf.lots, older))

    first_it = take("C", "PR-0901", "privet", 100_000, 0, "24 14:00", "soak")
    wool, privet, copper = answer_of("C").takes
    rest = replace(privet, amount=380_000, left_after=180_000)
    week = with_answer("C", takes=(wool, first_it, rest, copper))

    assert kinds(replace(FACTS, shelf=shelf), week) == set()


def test_lot_left_standing_while_the_next_is_opened_is_found() -> None:
    stones, frozen = answer_of("A").takes[2:]
    part = replace(stones, amount=1_000_000, left_after=180_000)
    more = replace(frozen, amount=1_900_000, left_after=0)
    next_one = take("A", "AV-1030", "avocado stones", 100_000, 1_350_000, "24 09:00", "extract")
    week = with_answer("A", takes=(*answer_of("A").takes[:2], part, more, next_one))

    assert texts("use first", week=week) == ["AV-0911 is opened while 180000 mg of AV-1116 stand"]


def test_jar_ready_now_comes_before_one_ready_later() -> None:
    """Iron 7 may be drawn from by the clock on 1 December; Iron 6 is ready and holds enough."""
    week = with_take("E", "J2", source_="J1", left_after=2_550_000)

    assert "J1 is waited for while J2 is ready" in texts("ready jar", week=week)


def test_jar_ready_now_that_holds_too_little_is_passed_by() -> None:
    facts = on_shelf("jars", "J2", left_ul=600_000)
    week = with_take("E", "J2", source_="J1", left_after=2_550_000)

    assert texts("ready jar", facts, week) == []


def test_smaller_pot_that_is_free_comes_first() -> None:
    """Slate's 12 L are in P3, which takes 16 L; a pot for iron of 12 L would do."""
    small = VesselFacts("P0", "pot", "stainless", 15_000, 12_000, iron_pot=True)
    shelf = replace(FACTS.shelf, vessels=(*FACTS.shelf.vessels, small))

    assert texts("smaller pot", replace(FACTS, shelf=shelf)) == ["dye is in P3, P0 would do"]


def test_smaller_pot_that_is_too_small_does_not_count() -> None:
    small = VesselFacts("P0", "pot", "stainless", 14_000, 11_200, iron_pot=True)
    shelf = replace(FACTS.shelf, vessels=(*FACTS.shelf.vessels, small))

    assert "smaller pot" not in kinds(replace(FACTS, shelf=shelf))


def test_first_of_two_like_buckets_is_taken() -> None:
    assert texts("smaller pot", week=with_step("C", "soak", vessel="B3")) == [
        "soak is in B3, B2 would do"
    ]


def test_weaker_ring_that_is_free_comes_first() -> None:
    weak = RingFacts("R0", 2900)
    shelf = replace(FACTS.shelf, rings=(*FACTS.shelf.rings, weak))

    assert texts("weaker ring", replace(FACTS, shelf=shelf)) == ["dye is on R2, R0 would do"]


def test_weaker_ring_does_not_count_where_the_hold_would_end_after_hours() -> None:
    weak = RingFacts("R0", 100)
    shelf = replace(FACTS.shelf, rings=(*FACTS.shelf.rings, weak))

    assert "weaker ring" not in kinds(replace(FACTS, shelf=shelf))


def test_order_of_readiness_does_not_matter_once_both_are_ready() -> None:
    dipped = on_shelf("jars", "J1", dips=(Dip(nov(20, 9), 4),))

    assert "ready jar" not in kinds(dipped, WEEK)
