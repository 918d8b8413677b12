"""Pots and rings: never two at once, never too soon after one another, never given up too soon."""

from __future__ import annotations

from dataclasses import replace

from sourcing.week.checking import check
from sourcing.week.facts import Block
from tests.sourcing.week.checking.breaking import (
    FACTS,
    WEEK,
    kinds,
    later,
    texts,
    with_figure,
    with_step,
)
from tests.sourcing.week.pellitory import nov


def test_the_week_worked_by_hand_has_no_fault() -> None:
    assert check(FACTS, WEEK) == []


def test_pot_that_stands_overnight_is_not_free_for_a_group() -> None:
    closed_day = Block("tea", "tea on the lawn", nov(25, 10), nov(25, 11), vessels=("P1",))

    broken = replace(FACTS, blocks=(*FACTS.blocks, closed_day))

    assert texts("pot twice", broken) == [
        "P1 is wanted for tea on the lawn of tea while dye of A has it until Thu 09:00"
    ]
    assert kinds(broken) == {"pot twice"}


def test_pot_is_free_from_the_minute_it_is_emptied() -> None:
    thursday = Block("tea", "tea on the lawn", nov(26, 9), nov(26, 11), vessels=("P1",))

    assert kinds(replace(FACTS, blocks=(*FACTS.blocks, thursday))) == set()


def test_pot_is_cleaned_before_a_group_dyes_in_it() -> None:
    def group(minute: int) -> Block:
        return Block("tea", "group", nov(26, 10, minute), nov(26, 11), vessels=("P1",), group=True)

    assert kinds(replace(FACTS, blocks=(*FACTS.blocks, group(0)))) == set()
    early = replace(group(0), since=nov(26, 9, 55))
    assert kinds(replace(FACTS, blocks=(*FACTS.blocks, early))) == {"pause between runs"}


def test_ring_taken_by_a_group_cannot_heat() -> None:
    power_cut = Block("cut", "power cut", nov(24, 10), nov(24, 11), rings=("R1",))

    assert kinds(replace(FACTS, blocks=(*FACTS.blocks, power_cut))) == {"ring twice"}


def test_ring_is_free_from_the_end_of_the_hold() -> None:
    after_the_hold = Block("cut", "power cut", nov(24, 11, 22), nov(24, 12, 15), rings=("R1",))

    assert kinds(replace(FACTS, blocks=(*FACTS.blocks, after_the_hold))) == set()


def test_an_hour_lies_between_two_runs_in_a_pot() -> None:
    kept_longer = with_step("A", "dye", load=2, held_until=nov(26, 9, 5))

    assert texts("pause between runs", week=kept_longer) == [
        "P2: extract begins 55 min after dye of A, 60 min wanted"
    ]
    assert kinds(week=kept_longer) == {"pause between runs"}


def test_half_an_hour_lies_between_two_steps_in_a_pot() -> None:
    assert kinds(week=later("A", "hot alum", -5)) == {"pause between steps"}
    assert kinds(with_figure("studio", "pause_between_steps_min", "30")) == set()
    assert kinds(with_figure("studio", "pause_between_steps_min", "31")) == {"pause between steps"}


def test_pot_is_held_till_the_night_is_over() -> None:
    given_up = with_step("A", "dye", held_until=nov(25, 18))

    assert texts("held", week=given_up) == ["P1 is given up after dye before Thu 26 09:00"]
    assert kinds(week=given_up) == {"held"}


def test_bucket_is_held_till_the_soak_is_poured_off() -> None:
    assert kinds(week=with_step("C", "soak", held_until=nov(26, 9, 55))) == {"held"}


def test_pot_is_held_through_cooling() -> None:
    assert kinds(week=with_step("D", "dye", held_until=nov(24, 14))) == {"held"}
