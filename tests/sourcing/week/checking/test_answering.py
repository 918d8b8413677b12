"""Answers: yes, not yet and no mean what they say; gates hold; metal is aired."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from sourcing.week.checking import Fault
from sourcing.week.checking.answering import gates_shut
from sourcing.week.checking.ground import Ground
from sourcing.week.facts import Block, FastnessWish, Recipe, ShadeCard, Weather, WeekFacts
from tests.sourcing.week.checking.breaking import (
    FACTS,
    answer_of,
    kinds,
    texts,
    with_answer,
    with_recipe,
    with_run,
)
from tests.sourcing.week.pellitory import nov
from tests.sourcing.week.pellitory_plan import WEEK, at


def test_every_run_is_answered_once() -> None:
    assert texts("answer", week=replace(WEEK, answers=WEEK.answers[:-1])) == ["answered 0 times"]
    twice = replace(WEEK, answers=(*WEEK.answers, answer_of("B")))
    assert texts("answer", week=twice) == ["answered 2 times"]


def test_yes_begins_within_the_period() -> None:
    """Olive begins on Tuesday at 14:00; the period ends before what ends it."""
    assert kinds(week=replace(WEEK, until=nov(28, 10, 1))) == set()
    assert kinds(week=replace(WEEK, until=nov(28, 10))) == {"answer"}


def test_not_yet_does_not_fit_within_the_period() -> None:
    assert texts("answer", week=replace(WEEK, until=at(31, "0:00"))) == [
        "not yet, but it fits in time"
    ]


def test_not_yet_says_what_it_waits_for() -> None:
    assert texts("answer", week=with_answer("E", waits_for=())) == [
        "not yet, but waits for nothing"
    ]


def test_no_takes_nothing() -> None:
    assert texts("answer", week=with_answer("B", takes=answer_of("C").takes[:1]))[0] == (
        "no, but it takes pots, amounts or hands"
    )


def test_no_says_what_is_lacking() -> None:
    assert texts("answer", week=with_answer("B", short=())) == [
        "no, but nothing is said to be lacking"
    ]


def test_dry_after_the_due_moment_is_late() -> None:
    on_time = with_run("C", due=nov(29, 11))
    too_soon = with_run("C", due=nov(29, 10, 59))

    assert "answer" not in kinds(on_time)
    assert texts("answer", too_soon) == [
        "late is said to be False",
        "yes, but outside the period",
    ]


def test_shade_card_is_approved() -> None:
    facts = with_run("C", shade_card=ShadeCard(approved=False))

    assert texts("gate", facts) == ["no approved shade card for Hedge Olive"]
    assert kinds(facts) == {"gate"}


def test_reading_counts_once_its_days_are_out() -> None:
    def wish(begun: date, reading: int) -> FastnessWish:
        return FastnessWish("light", Decimal(4), Decimal(reading), begun, 28)

    assert kinds(with_run("C", wishes=(wish(date(2026, 10, 26), 4),))) == set()
    assert kinds(with_run("C", wishes=(wish(date(2026, 10, 27), 4),))) == {"gate"}
    assert kinds(with_run("C", wishes=(wish(date(2026, 10, 26), 3),))) == {"gate"}


def test_what_soon_fades_is_not_for_a_client() -> None:
    assert texts("gate", with_run("F", client=True)) == ["soon fades: not for a client"]


def test_iron_is_last() -> None:
    def turned(recipe: Recipe) -> Recipe:
        return replace(recipe, steps=(*recipe.steps[:2], recipe.steps[0]))

    assert "iron is not last" in gates_shut_for("E", with_recipe("oak-grey", turned))


def test_water_is_the_recipes() -> None:
    town = with_recipe("hedge-olive", lambda recipe: replace(recipe, ph_high=Decimal("7.4")))
    soft = with_recipe("hedge-olive", lambda recipe: replace(recipe, ph_high=Decimal("7.3")))

    assert kinds(town) == set()
    assert kinds(soft) == {"gate"}


def gates_shut_for(run: str, facts: WeekFacts) -> list[str]:
    ground = Ground(facts)
    return list(gates_shut(ground.runs[run], ground.recipes[ground.runs[run].recipe], ground))


def test_metal_bath_wants_an_aired_day() -> None:
    assert kinds(replace(FACTS, weather=(Weather(date(2026, 11, 27), aired=False),))) == {"aired"}


def test_no_metal_bath_stands_open_while_children_are_about() -> None:
    def about(since: int, until: int) -> Block:
        return Block("school", "school", nov(27, since), nov(27, until, 30), no_iron=True)

    during = replace(FACTS, blocks=(*FACTS.blocks, about(10, 12)))
    after = replace(FACTS, blocks=(*FACTS.blocks, about(11, 12)))

    assert texts("group about", during) == ["copper stands open during school"]
    assert kinds(after) == set()


def test_fault_reads_as_one_line() -> None:
    fault = Fault("line over", "E", nov(27, 15), "line carries 3.5 kg, it takes 3 kg")

    assert str(fault) == ("line over: run E, Fri 27 Nov 15:00: line carries 3.5 kg, it takes 3 kg")
