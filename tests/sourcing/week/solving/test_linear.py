"""Bounds of sums that may be split in parts: never above what can be, and the same every time."""

from __future__ import annotations

from itertools import product
from random import Random

from sourcing.week.solving import Goal, Model, Sum, Work, in_order, in_parts
from sourcing.week.solving.linear import PARTS, _at_least, _costs, _rows

WORK = Work(counted=5, seconds=20)
Rows = list[tuple[list[int], int]]


def covering(seed: int) -> tuple[list[int], Rows]:
    """What each of a few things costs, and sums of them that are to be so much at the least."""
    dice = Random(seed)
    count = dice.randint(2, 6)
    costs = [dice.randint(1, 20) for _ in range(count)]
    rows = []
    for _ in range(dice.randint(1, 4)):
        counts = [dice.randint(-2, 5) for _ in range(count)]
        most = sum(max(0, row) for row in counts)
        rows.append((counts, dice.randint(0, most)))
    return costs, rows


def as_model(costs: list[int], rows: Rows) -> tuple[Model, list[Sum], Sum]:
    model = Model(10)
    names = [model.yes_or_no(f"{number}") for number in range(len(costs))]
    for counts, least in rows:
        model.cp.add(sum(c * x for c, x in zip(counts, names, strict=True)) >= least)
    return model, names, 7 + sum(c * x for c, x in zip(costs, names, strict=True))


def least_of_all(costs: list[int], rows: Rows) -> int | None:
    found = [
        7 + sum(c * x for c, x in zip(costs, chosen, strict=True))
        for chosen in product((0, 1), repeat=len(costs))
        if all(sum(c * x for c, x in zip(counts, chosen, strict=True)) >= least
               for counts, least in rows)
    ]  # fmt: skip
    return min(found, default=None)


def test_no_bound_is_above_what_can_be() -> None:
    met = 0
    for seed in range(400):
        costs, rows = covering(seed)
        model, _, of = as_model(costs, rows)
        least = least_of_all(costs, rows)

        split = in_parts(model, of, WORK)

        if least is not None:
            assert split is not None, seed
            assert split.bound <= least, seed
            met += split.bound == least
    assert met > 100


def test_by_hand_two_of_three_halves() -> None:
    """Each pair of three is at least 1: whole, two are needed; in parts a half of each will do."""
    model, names, of = as_model([2, 2, 2], [([1, 1, 0], 1), ([0, 1, 1], 1), ([1, 0, 1], 1)])

    split = in_parts(model, of, WORK)

    assert split is not None
    assert split.bound == 7 + 3
    assert [split.part(name) for name in names] == [0.5, 0.5, 0.5]
    assert split.part(4) == 4.0
    assert in_order(model, [Goal("whole", of)], WORK).first.value == 7 + 4


def test_prices_that_are_wrong_make_a_bound_that_is_low_and_never_one_that_is_high() -> None:
    for seed in range(300):
        dice = Random(seed)
        costs, rows = covering(seed)
        model, _, of = as_model(costs, rows)
        least = least_of_all(costs, rows)
        model.cp.minimize(of)
        counted, more = _costs(model.cp.proto, len(costs))
        known = list(_rows(model.cp.proto))
        prices = [dice.randint(-5 * PARTS, 9 * PARTS) for _ in known]

        whole = _at_least(counted, [(0, 1)] * len(costs), known, prices)

        assert least is None or more + whole / PARTS <= least, seed


def test_what_cannot_be_has_no_bound() -> None:
    model, _, of = as_model([1, 1], [([1, 1], 3)])

    assert in_parts(model, of, WORK) is None


def test_too_little_work_is_said_by_no_bound() -> None:
    costs, rows = [3] * 40, [([n % 7 - 3 + k for n in range(40)], 5) for k in range(30)]
    model, _, of = as_model(costs, rows)

    assert in_parts(model, of, Work(counted=1e-9, seconds=1)) is None


def test_the_same_model_has_the_same_bound_and_the_same_parts() -> None:
    found = {in_parts(*as_model(*covering(3))[::2], WORK) for _ in range(3)}

    assert len(found) == 1
