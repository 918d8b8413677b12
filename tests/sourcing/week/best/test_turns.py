"""Cloth that goes into few pots in turn: by hand, and against every order of it."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import permutations, product
from random import Random

from sourcing.week.best import PROVED, best
from sourcing.week.best.bound import all_forms
from sourcing.week.best.forms import earliest, soonest_on
from sourcing.week.best.goals import Measure
from sourcing.week.best.replaying import Replay
from sourcing.week.best.turns import Last, _in_turn
from sourcing.week.solving import Goal, Model, Work, in_order
from tests.benchmarks.placing import busy_studio

WORK = Work(counted=2, seconds=20)


@dataclass
class House:
    hangs_on: int


@dataclass
class Few:
    """As much of a week as the sum asks for."""

    model: Model
    house: House

    @property
    def measure(self) -> Few:
        return self

    desk = measure


def least_in_turn(minutes: list[int], pots: int, hangs_on: int) -> int:
    """What the model says of all of them on one day."""
    model = Model(10)
    rows = [Last(1, lasts, 1) for lasts in minutes]
    found = _in_turn(Few(model, House(hangs_on)), "in turn", rows, pots)  # type: ignore[arg-type]
    if found is None:
        return 0
    value = in_order(model, [Goal("least", found)], WORK).first.value
    assert value is not None
    return value


def least_of_all(minutes: list[int], pots: int, hangs_on: int) -> int:
    """Every order and every way to share them out, each hung on the grid."""
    found = []
    for order in permutations(minutes):
        for where in product(range(pots), repeat=len(order)):
            free, late = [0] * pots, 0
            for pot, lasts in zip(where, order, strict=True):
                late += -(-free[pot] // hangs_on) * hangs_on
                free[pot] += lasts
            found.append(late)
    return min(found)


def test_seven_of_the_same_in_three_pots() -> None:
    """Three begin at once, three after 150 minutes, the last after 300."""
    assert least_in_turn([150] * 7, pots=3, hangs_on=15) == 3 * 150 + 300


def test_as_many_as_there_are_pots_begin_at_once() -> None:
    assert least_in_turn([150] * 3, pots=3, hangs_on=15) == 0


def test_no_order_of_a_few_has_less_delay() -> None:
    met = 0
    for seed in range(60):
        dice = Random(seed)
        minutes = [dice.choice((40, 90, 150, 155)) for _ in range(dice.randint(2, 5))]
        pots, hangs_on = dice.randint(1, 2), dice.choice((1, 15))

        least, known = least_in_turn(minutes, pots, hangs_on), least_of_all(minutes, pots, hangs_on)

        assert least <= known, seed
        met += least == known
    assert met > 15


def test_a_run_is_hung_no_sooner_on_a_day_than_its_steps_of_that_day_last() -> None:
    """Slate dyes for 138 minutes, cools for three hours and stands in iron for 90."""
    replay = Replay(busy_studio(lots=20, runs=10), 7)
    measure = Measure(replay.desk)
    (form,) = all_forms(measure)["R00002"]
    calendar = replay.desk.calendar
    soonest = earliest(form.parts, replay.desk.now, calendar)
    assert soonest is not None
    thursday = 3

    first = soonest_on(form.parts, len(form.parts) - 1, thursday, soonest, calendar)

    assert first - calendar.midnights[thursday] == 9 * 60 + 138 + 180 + 90


def test_ten_runs_of_a_busy_studio_are_proved_to_the_minute() -> None:
    found = best(busy_studio(lots=20, runs=10), days=7)

    assert found.status == PROVED
    assert found.bound == found.goals
