"""The chance that pick-ups bring what a run is short of, told beside its no."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from inventory.science.figures import Figures
from sourcing.forecast.facts import How, Stream, Visit
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Enough
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS

# The café of the worked week (13.3), Mondays and Thursdays, its last six up to Thu 19 Nov.
SIX = (65, 0, 48, 70, 55, 62)
DAYS = (date(2026, 11, 2), date(2026, 11, 5), date(2026, 11, 9), date(2026, 11, 12),
        date(2026, 11, 16), date(2026, 11, 19))  # fmt: skip
TONIGHT = Visit(date(2026, 11, 23), "made", 58)


def visits(counts: tuple[int, ...]) -> tuple[Visit, ...]:
    def visit(day: date, count: int) -> Visit:
        how: How = "made" if count else "missed"
        return Visit(day, how, count or None)

    return tuple(visit(day, count) for day, count in zip(DAYS, counts, strict=True))


CAFE = Stream("Lantern Steps café", "avocado stones", (0, 3), visits=(*visits(SIX), TONIGHT))


def answers(*streams: Stream, facts: WeekFacts = FACTS) -> dict[str, Answer]:
    week = project(replace(facts, streams=streams), days=7)
    return {answer.run: answer for answer in week.answers}


def old_rose(*streams: Stream) -> Enough:
    (enough,) = answers(*streams)["B"].enough
    return enough


def test_old_rose_has_a_fair_chance_by_thursday_and_a_good_one_a_pick_up_later() -> None:
    # 49 stones are wanted of one pick-up: four of the last six brought them, a fifth all but one.
    # Two pick-ups fail together once in sixteen if each fails once in four.
    enough = old_rose(CAFE)

    assert (enough.what, enough.amount, enough.by) == (
        "avocado stones", 2_034_000, date(2026, 11, 26),
    )  # fmt: skip
    assert 4 / 7 < enough.chance < 6 / 7
    assert [day for _, day in enough.days] == [date(2026, 11, 30), date(2026, 12, 3)]
    assert enough.text.startswith("avocado stones: a chance of ")
    assert enough.text.endswith(
        " that 2,034 g come by Thu 26 Nov; 80 % by Mon 30 Nov and 95 % by Thu 3 Dec"
    )


def test_a_chance_never_makes_a_yes() -> None:
    sure = replace(CAFE, visits=(*visits((500,) * 6), TONIGHT))

    assert old_rose(sure).chance > 0.8
    assert answers(sure)["B"].answer == "no"
    assert {code: row.answer for code, row in answers(sure).items()} == {
        code: row.answer for code, row in answers().items()
    }


def test_what_is_reported_for_tonight_is_not_counted_again() -> None:
    """58 stones stand on the shelf from 17:00; were they still to come, Thursday's chance rises."""
    still_to_come = replace(CAFE, visits=visits(SIX))

    assert old_rose(still_to_come).chance > old_rose(CAFE).chance + 0.1


def test_a_source_that_forgets_more_often_lowers_the_chance() -> None:
    forgetful = replace(CAFE, visits=(*visits((65, 0, 0, 70, 0, 62)), TONIGHT))

    assert old_rose(forgetful).chance < old_rose(CAFE).chance - 0.1


def test_a_closed_thursday_brings_nothing() -> None:
    closed = replace(CAFE, closed=((date(2026, 11, 24), date(2026, 11, 29)),))

    assert old_rose(closed).chance < 0.01
    assert "under 1 %" in old_rose(closed).text


@pytest.mark.parametrize("code", ["A", "C", "D", "E", "F"])
def test_what_is_short_of_nothing_has_no_chance_to_tell(code: str) -> None:
    assert answers(CAFE)[code].enough == ()


def test_without_a_source_nothing_is_told() -> None:
    skins = replace(CAFE, gives="onion skins")

    assert answers()["B"].enough == ()
    assert answers(skins)["B"].enough == ()


def test_without_a_mass_of_its_own_the_shipped_range_makes_it_less_sure() -> None:
    # Shipped: 28 to 60 g a stone; the studio's own 42 g has no range.
    rules = tuple(row for row in FACTS.figures.rows if row.name != "piece_mass_g")
    facts = replace(FACTS, figures=Figures(rows=rules))
    (enough,) = answers(CAFE, facts=facts)["B"].enough

    assert 0.5 < enough.chance < old_rose(CAFE).chance


def test_a_count_of_what_has_no_mass_of_a_piece_tells_nothing() -> None:
    lots = tuple(lot for lot in FACTS.shelf.lots if lot.dyestuff != "privet")
    facts = replace(FACTS, shelf=replace(FACTS.shelf, lots=lots))
    hedge = replace(CAFE, gives="privet")

    assert answers(hedge, facts=facts)["C"].answer == "no"
    assert answers(hedge, facts=facts)["C"].enough == ()


def test_the_same_need_is_reached_sooner_with_two_sources() -> None:
    second = replace(CAFE, source="a second café", visits=visits(SIX))
    day = old_rose(CAFE, second).days[1][1]

    assert day is not None
    assert day < date(2026, 12, 3) + timedelta(days=1)
    assert old_rose(CAFE, second).chance > old_rose(CAFE).chance
