"""What a run's site lacks is fetched from another: a step of its plan. Hours by hand.

Little studio with its pots in the Yard and one thing at a time in the Shed, 45 min there and back.
One person is in from 9:00 to 17:00, so nobody goes while a flame burns.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from typing import Any

import pytest

from inventory.science.facts import LotFacts, Stay
from inventory.science.figures import Figure
from sourcing.week.best import Effort, best
from sourcing.week.checking import check
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Placed
from sourcing.week.project import project
from tests.sourcing.week.little import LITTLE, MONDAY, feb, own

DAYS = 5
SHELVES = ("lots", "supplies", "jars", "fibre", "vessels", "rings", "lines")


def in_the_shed(*names: str, facts: WeekFacts = LITTLE, hands_min: int = 140) -> WeekFacts:
    """The studio with some of its shelves in the Shed and the others in the Yard."""
    rows = {
        name: tuple(
            replace(row, site="Shed" if name in names else "Yard")
            for row in getattr(facts.shelf, name)
        )
        for name in SHELVES
    }
    hours = tuple(replace(row, hands_min=hands_min) for row in facts.hours)
    shelf = replace(facts.shelf, **rows)
    return replace(facts, sites=("Yard", "Shed"), hours=hours, shelf=shelf)


def ruled(facts: WeekFacts, *rows: Figure) -> WeekFacts:
    return replace(facts, figures=replace(facts.figures, rows=(*facts.figures.rows, *rows)))


def answer_of(facts: WeekFacts) -> Answer:
    week = project(facts, days=DAYS, unlocks=True)
    assert check(facts, week) == []
    return week.answers[0]


def ways(answer: Answer) -> list[Placed]:
    return [step for step in answer.steps if step.kind == "carry"]


def fetched(answer: Answer) -> list[tuple[str, str, int]]:
    return [(row.source, row.carried_from, row.carried_round) for row in answer.takes
            if row.carried_from]  # fmt: skip


def test_dry_skins_are_fetched_the_day_before_as_late_as_may_be() -> None:
    answer = answer_of(in_the_shed("lots"))

    (way,) = ways(answer)
    # The dye takes them on Tuesday at 9:00, when the day begins.
    assert (way.step, way.start, way.end) == ("carry from Shed", feb(1, 16, 15), feb(1, 17))
    assert (way.hands_min, way.vessel, way.ring) == (45, "", "")
    assert (answer.answer, answer.dry_at) == ("yes", feb(4, 15, 30))
    assert fetched(answer) == [("ON-1", "Shed", 1)]
    assert answer.unlocks == ()


def test_a_reason_names_the_way_and_its_figure() -> None:
    (reason,) = [row for row in answer_of(in_the_shed("lots")).reasons if row.kind == "carry"]

    assert reason.text == "Shed to Yard: 45 min there and back"
    assert reason.figure == "studio, carry_min = 45 (assumed)"


def test_what_the_first_step_takes_is_fetched_before_it() -> None:
    answer = answer_of(in_the_shed("fibre"))

    (way,) = ways(answer)
    assert (way.start, way.end) == (feb(1, 9), feb(1, 9, 45))
    assert answer.first_step_at == feb(1, 9, 45)


def test_liquor_is_poured_off_and_fetched_on_the_day_of_its_step() -> None:
    answer = answer_of(in_the_shed("jars"))

    (way,) = ways(answer)
    # Dye 9:00 to 10:36 over the flame; iron at 13:36.
    assert (way.start, way.end) == (feb(2, 12, 50), feb(2, 13, 35))
    assert fetched(answer) == [("J1", "Shed", 1)]


def test_fresh_skins_are_fetched_on_the_day_of_their_step_which_waits_for_them() -> None:
    fresh = LotFacts("ON-2", "onion skins", (Stay(feb(1, 7), "fresh", "bench", "bench"),), 250_000)
    facts = in_the_shed("lots", facts=replace(LITTLE, shelf=replace(LITTLE.shelf, lots=(fresh,))))
    recipe = facts.recipes[0]
    doses = tuple(replace(row, state="") for row in recipe.doses)
    facts = ruled(
        replace(facts, recipes=(replace(recipe, doses=doses),)),
        own("onion skins", "keeps_bench_days", "9"),
    )

    answer = answer_of(facts)

    (way,) = ways(answer)
    dye = next(step for step in answer.steps if step.step == "dye")
    assert (way.start, way.end) == (feb(2, 9), feb(2, 9, 45))
    assert dye.start == feb(2, 9, 45)


def test_everything_ready_by_then_comes_along_on_one_way() -> None:
    answer = answer_of(in_the_shed("lots", "supplies", "fibre"))

    assert len(ways(answer)) == 1
    assert {row[0] for row in fetched(answer)} == {"W-1", "alum", "ON-1"}


def test_liquor_and_wool_are_fetched_on_two_ways_of_one_step() -> None:
    answer = answer_of(in_the_shed("fibre", "jars", hands_min=200))

    assert [(way.step, way.round) for way in ways(answer)] == [
        ("carry from Shed", 1), ("carry from Shed", 2),
    ]  # fmt: skip
    assert fetched(answer) == [("W-1", "Shed", 1), ("J1", "Shed", 2)]


def test_a_minute_of_hands_too_few_and_it_is_fetched_on_another_day() -> None:
    # Steps take 65 min on Monday and 90 on Tuesday, the way 45.
    assert ways(answer_of(in_the_shed("lots", hands_min=110)))[0].start == feb(1, 16, 15)
    assert answer_of(in_the_shed("lots", hands_min=109)).dry_at != feb(4, 15, 30)


def test_a_way_has_minutes_of_its_own_in_both_directions_unless_said_otherwise() -> None:
    facts = in_the_shed("lots")

    def minutes(*rows: Figure) -> int:
        return ways(answer_of(ruled(facts, *rows)))[0].hands_min

    assert minutes(own("Shed to Yard", "carry_min", "20")) == 20
    assert minutes(own("Yard to Shed", "carry_min", "30")) == 30
    both = own("Shed to Yard", "carry_min", "20"), own("Yard to Shed", "carry_min", "30")
    assert minutes(*both) == 20
    assert minutes(own("studio", "carry_min", "25")) == 25
    assert minutes(own("Barn to Yard", "carry_min", "5")) == 45


def test_a_studio_may_want_nothing_fetched_by_a_plan() -> None:
    facts = ruled(in_the_shed("lots"), own("studio", "carry_in_plan", "0"))
    answer = answer_of(facts)

    assert answer.answer == "no"
    assert [row.kind for row in answer.unlocks[0].changes] == ["carry"]


@pytest.mark.parametrize(
    ("shelf", "code", "amount", "unit", "said"),
    [
        ("supplies", "alum", 60_000, "mg", "60 g of alum"),
        ("jars", "J1", 250_000, "µL", "250 mL of J1"),
        ("fibre", "W-1", 526_000, "mg", "526 g of W-1"),
    ],
)
def test_by_hand_a_supply_or_liquor_or_fibre_may_be_carried_too(
    shelf: str, code: str, amount: int, unit: str, said: str
) -> None:
    rules = own("studio", "carry_in_plan", "0"), own("Shed to Yard", "carry_min", "20")
    facts = ruled(in_the_shed(shelf), *rules)
    facts = replace(facts, runs=(replace(facts.runs[0], fibre_lot="", weight_mg=499_700),))
    unlock = answer_of(facts).unlocks[0]

    (change,) = unlock.changes
    assert (change.kind, change.what, change.unit) == ("carry", code, unit)
    assert 0 <= amount - change.amount < 2_000
    assert "(20 min of hands on Monday)" in unlock.text
    assert said.split()[-1] in unlock.text


def test_nothing_is_fetched_that_lies_there() -> None:
    facts = in_the_shed()
    shelf = facts.shelf
    more = replace(shelf.lots[0], code="ON-0", site="Shed")
    both = replace(facts, shelf=replace(shelf, lots=(more, *shelf.lots)))

    assert ways(answer_of(both)) == []


def test_what_lacks_is_fetched_behind_what_lies_there() -> None:
    facts = in_the_shed()
    (lot,) = facts.shelf.lots
    far = replace(lot, code="ON-0", site="Shed")
    lots = (far, replace(lot, left_mg=100_000))
    facts = replace(facts, shelf=replace(facts.shelf, lots=lots))

    takes = [row for row in answer_of(facts).takes if row.what == "onion skins"]

    assert [(row.source, row.amount, row.carried_from) for row in takes] == [
        ("ON-1", 100_000, ""), ("ON-0", 150_000, "Shed"),
    ]  # fmt: skip


def test_a_jar_that_matures_stays_where_it_is() -> None:
    (jar,) = LITTLE.shelf.jars
    young = replace(jar, begun_at=feb(1, 7), dips=(), events=())
    facts = replace(LITTLE, shelf=replace(LITTLE.shelf, jars=(young,)))
    answer = answer_of(in_the_shed("jars", facts=facts))

    assert answer.answer != "yes"
    assert all(way.start >= feb(15, 7) for way in ways(answer))


def test_more_of_a_bath_than_may_be_carried_is_not() -> None:
    facts = ruled(in_the_shed("jars"), own("studio", "carry_l_at_most", "0.2"))
    answer = answer_of(facts)

    assert answer.answer == "no"
    assert ways(answer) == []


@pytest.mark.parametrize("people", [1, 2])
def test_who_is_there_alone_leaves_no_flame(people: int) -> None:
    facts = in_the_shed("jars")
    hours = tuple(replace(row, people=people) for row in facts.hours)
    # The iron follows the dye at once: only a way during the dye would do, or one before it.
    steps = tuple(replace(row, cool_min=0) for row in facts.recipes[0].steps)
    facts = replace(facts, hours=hours, recipes=(replace(facts.recipes[0], steps=steps),))
    answer = answer_of(facts)

    (way,) = ways(answer)
    dye = next(step for step in answer.steps if step.step == "dye")
    assert (way.end <= dye.start) == (people == 1)


def test_best_plans_the_same_way_and_no_week_is_better_than_its_bound() -> None:
    facts = in_the_shed("lots", "supplies", "jars")
    found = best(facts, days=DAYS, effort=Effort(placings=50))

    assert check(facts, found.week) == []
    assert not found.plain.better_than(found.goals)
    assert found.bound is not None
    assert found.bound.on_time >= found.goals.on_time > 0


def test_hands_of_the_way_are_paid() -> None:
    from sourcing.week.costs import costs_of

    facts = in_the_shed("lots")

    def hands(at: WeekFacts) -> Any:
        return next(row.amount for row in costs_of(at, answer_of(at)).parts if row.what == "hands")

    assert hands(facts) == hands(in_the_shed()) + 45


def kinds_of(changed: WeekFacts, answers: Iterable[Answer]) -> set[str]:
    week = project(changed, days=DAYS)
    return {fault.kind for fault in check(changed, replace(week, answers=tuple(answers)))}


def test_the_checker_finds_what_is_wrong_with_a_way() -> None:
    facts = in_the_shed("jars")
    answer = project(facts, days=DAYS).answers[0]
    (way,) = ways(answer)
    rest = [step for step in answer.steps if step != way]

    def found(**wrong: Any) -> set[str]:
        steps = (replace(way, **wrong), *rest)
        return kinds_of(facts, [replace(answer, steps=steps)])

    assert found() == set()
    assert "carry" in found(start=feb(2, 13), end=feb(2, 13, 45), held_until=feb(2, 13, 45))
    assert "carry" in found(start=feb(1, 14), end=feb(1, 14, 45))
    assert "carry" in found(start=feb(2, 8), end=feb(2, 8, 45))
    assert "attended" in found(start=feb(2, 9), end=feb(2, 9, 45))
    assert "carry" in found(hands_min=40)
    assert "site" in kinds_of(facts, [replace(answer, steps=tuple(rest))])
    assert MONDAY.weekday() == 0
