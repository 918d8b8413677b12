"""Small cases by hand of what a week's model is made of, on both sides of each border."""

from __future__ import annotations

from itertools import pairwise
from random import Random

import pytest

from sourcing.week.solving import (
    Days,
    Goal,
    Model,
    Sum,
    Work,
    at_most,
    at_most_by_size,
    days_of,
    each_day,
    follows,
    held,
    in_one_opening,
    in_order,
    last_of,
    not_after_day,
    not_before_day,
    same_day,
    step,
)

WORK = Work(counted=5, seconds=20)
ALL_DAY = {day: [(0, 100)] for day in range(4)}


def best(model: Model, of: Sum, *, most: bool = False) -> int | None:
    solved = in_order(model, [Goal("goal", of, most=most)], WORK)
    return solved.outcomes[0].value if solved.possible else None


def test_a_step_begins_in_its_windows_only() -> None:
    model = Model(100)
    row = step(model, "dye", minutes=10, windows=[(20, 25), (60, 70)])

    assert best(model, row.start) == 20
    model.cp.add(row.start > 25)
    assert best(model, row.end) == 70


def test_a_step_that_is_left_out_takes_nothing() -> None:
    model = Model(10)
    there = [model.yes_or_no(name) for name in "ab"]
    rows = [step(model, name, minutes=6, present=row)
            for name, row in zip("ab", there, strict=True)]  # fmt: skip
    for row in rows:
        model.cp.add(row.end <= 10)
    at_most(model, [(row, 1) for row in rows], 1)

    assert best(model, sum(there), most=True) == 1


@pytest.mark.parametrize(("there", "end"), [(3, 20), (4, 10)])
def test_kilos_on_a_line_at_one_time(there: int, end: int) -> None:
    model = Model(100)
    rows = [step(model, str(kilos), minutes=10) for kilos in (2, 2)]

    at_most(model, [(row, 2) for row in rows], there)

    assert best(model, last_of(model, "end", rows)) == end


def test_what_is_taken_already_is_not_there_for_others() -> None:
    model = Model(100)
    row = step(model, "hang", minutes=10)

    at_most(model, [(row, 2)], 3, taken=[(0, 30, 1), (5, 20, 1), (90, 100, 5)])

    assert best(model, row.start) == 20


def test_more_taken_than_there_is_bars_others_and_breaks_nothing() -> None:
    model = Model(100)
    row = step(model, "hang", minutes=10)

    at_most(model, [(row, 1)], 2, taken=[(0, 30, 2), (10, 40, 2)])

    assert best(model, row.start) == 40


@pytest.mark.parametrize(("sizes", "end"), [([5, 20], 20), ([20, 20], 10), ([5, 5, 20], 20)])
def test_big_loads_wait_for_big_pots(sizes: list[int], end: int) -> None:
    model = Model(100)
    rows = [step(model, str(n), minutes=10) for n in range(2)]

    at_most_by_size(model, [(row, 6) for row in rows], sizes)

    assert best(model, last_of(model, "end", rows)) == end


def test_a_load_too_big_for_every_pot_is_left_out() -> None:
    model = Model(100)
    there = model.yes_or_no("there")
    row = step(model, "dye", minutes=10, present=there)

    at_most_by_size(model, [(row, 21)], [5, 20])

    assert best(model, there, most=True) == 0


def test_a_pot_is_held_until_the_next_step_takes_over() -> None:
    model = Model(100)
    first, after = (step(model, name, minutes=10) for name in ("mordant", "dye"))
    other = step(model, "scour", minutes=10)
    follows(model, first, after, gap=15)
    pot = held(model, "pot", first, after.start, more=5)

    at_most(model, [(pot, 1), (other, 1)], 1)
    model.cp.add(first.start == 0)

    assert best(model, other.start) == 30


def two_days(soonest: dict[int, int]) -> tuple[Model, Days, Days]:
    model = Model(100)
    one, other = (days_of(model, name, ALL_DAY, count=4) for name in ("soak", "dye"))
    not_before_day(model, one, other, soonest)
    return model, one, other


def day(days: Days) -> Sum:
    return sum(number * days.on(number) for number in range(4))


def test_the_day_of_a_step_leaves_the_next_its_soonest_day() -> None:
    model, one, other = two_days({0: 2, 1: 2, 2: 3, 3: 4})

    assert best(model, day(other)) == 2
    model.cp.add(day(one) >= 2)
    assert best(model, day(other)) == 3
    model.cp.add(day(one) >= 3)
    assert best(model, day(other)) is None


def test_steps_of_one_day_and_of_few_days() -> None:
    model, one, other = two_days({0: 0, 1: 1, 2: 2, 3: 3})
    not_after_day(model, one, other, {day: day + 1 for day in range(4)})
    model.cp.add(day(one) == 1)
    assert best(model, day(other), most=True) == 2

    model, one, other = two_days({0: 0, 1: 1, 2: 2, 3: 3})
    same_day(model, one, other)
    model.cp.add(day(one) == 1)
    assert best(model, day(other), most=True) == 1


@pytest.mark.parametrize(("there", "count"), [((60, 0, 59, 0), 1), ((60, 0, 60, 0), 2)])
def test_hands_of_a_day_to_the_minute(there: tuple[int, ...], count: int) -> None:
    model = Model(100)
    present = [model.yes_or_no(name) for name in "ab"]
    rows = [days_of(model, name, ALL_DAY, count=4, present=row)
            for name, row in zip("ab", present, strict=True)]  # fmt: skip

    each_day(model, [(row, 60) for row in rows], there)

    assert best(model, sum(present), most=True) == count


def test_a_step_without_a_day_is_left_out() -> None:
    model = Model(100)
    present = model.yes_or_no("there")

    days_of(model, "dye", {0: [], 2: []}, count=4, present=present)

    assert best(model, present, most=True) == 0


def test_no_bound_is_said_before_the_solver_knows_one() -> None:
    model = Model(1_000)
    there = [model.yes_or_no(str(n)) for n in range(40)]
    rows = [step(model, str(n), minutes=7 + n, present=there[n]) for n in range(40)]
    for row in rows:
        model.cp.add(row.end <= 900)
    at_most(model, [(row, 1) for row in rows], 3)

    solved = in_order(model, [Goal("all", sum(there), most=True)], Work(1e-9, 1e-9))

    assert (solved.first.value, solved.first.bound, solved.first.gap) == (None, None, None)


@pytest.mark.parametrize(
    ("minutes", "pots", "most"),
    [
        # Two of 300 fill 600 to the minute; of 301 there is room for one in each pot.
        ((300, 300, 300, 300), 2, 4),
        ((301, 301, 301, 301), 2, 2),
        # By minutes alone five of 201 would fit into two pots; two fit into each.
        ((201, 201, 201, 201, 201), 2, 4),
        ((301, 301, 301, 100), 1, 2),
    ],
)
def test_what_one_opening_has_room_for(minutes: tuple[int, ...], pots: int, most: int) -> None:
    model = Model(10)
    there = [model.yes_or_no(f"{number}") for number in range(len(minutes))]
    uses = [(on, lasts, 1) for on, lasts in zip(there, minutes, strict=True)]

    in_one_opening(model, uses, [600] * pots, whole=600)

    assert best(model, sum(there), most=True) == most


def test_what_somebody_has_already_is_no_room() -> None:
    model = Model(10)
    there = [model.yes_or_no(name) for name in "abc"]

    in_one_opening(model, [(on, 100, 1) for on in there], [250], whole=600)

    assert best(model, sum(there), most=True) == 2


def test_what_takes_two_pots_counts_twice() -> None:
    model = Model(10)
    there = [model.yes_or_no(name) for name in "ab"]

    in_one_opening(model, [(on, 400, 2) for on in there], [600] * 3, whole=600)

    assert best(model, sum(there), most=True) == 1


def test_a_long_use_leaves_room_for_fewer_short_ones_than_its_minutes_say() -> None:
    """Of 600 the one of 468 leaves 132; four of 150 fill a whole one by themselves."""
    model = Model(10)
    there = [model.yes_or_no(f"{number}") for number in range(8)]
    uses = [(on, 468 if number == 0 else 150, 1) for number, on in enumerate(there)]
    model.cp.add(there[0] == 1)

    in_one_opening(model, uses, [600] * 2, whole=600)

    assert best(model, sum(there), most=True) == 5


@pytest.mark.parametrize(("lost", "most"), [(100, 2), (101, 1)])
def test_what_is_lost_at_the_beginning_is_no_room(lost: int, most: int) -> None:
    model = Model(10)
    there = [model.yes_or_no(name) for name in "ab"]

    in_one_opening(model, [(on, 250, 1) for on in there], [600], whole=600, lost=[(1, lost, 1)])

    assert best(model, sum(there), most=True) == most


def test_what_can_be_put_into_pots_is_never_refused() -> None:
    """Pots filled by chance up to the minute: all of that is in the model together."""
    for seed in range(200):
        dice, model = Random(seed), Model(10)
        whole, pots = dice.randint(1, 600), dice.randint(1, 3)
        minutes: list[int] = []
        for _ in range(pots):
            cuts = sorted(dice.sample(range(whole + 1), min(whole, dice.randint(0, 6))))
            minutes += [b - a for a, b in pairwise([0, *cuts, whole]) if b > a]
        there = [model.yes_or_no(f"{number}") for number in range(len(minutes))]
        uses = [(on, lasts, 1) for on, lasts in zip(there, minutes, strict=True)]

        in_one_opening(model, uses, [whole] * pots, whole=whole)

        assert best(model, sum(there), most=True) == len(minutes), seed
