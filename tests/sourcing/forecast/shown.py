"""Records and habits in a line, for the tests of the forecast."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import date, timedelta

import numpy as np

from sourcing.forecast.factors import AFTER, WEEKDAYS
from sourcing.forecast.facts import PieceMass, Stream, Visit, Weighing
from sourcing.forecast.learn import Habit
from sourcing.forecast.record import MADE, MISSED, NONE, Record

MONDAY = date(2026, 11, 23)
STONE = PieceMass(42_000, 28_000, 60_000, (Weighing(1000, 42_000_000),))
CAFE_SIX = (65, 0, 48, 70, 55, 62)  # JOB.md 13.3, the oldest first


def habit_of(
    *,
    counted: bool = True,
    evenness: float = 6.0,
    c: float = 20.0,
    d: float = 30.0,
    missed: float = 2.0,
    made: float = 8.0,
) -> Habit:
    """One stream with a habit written out, every day alike."""
    one = [np.array([value]) for value in (evenness, c, d, missed, made)]
    ones = np.ones((1, WEEKDAYS))
    return Habit(counted, *one, ones, ones, np.ones((1, AFTER)), np.zeros(1, dtype=np.intp))


def with_factors(habit: Habit, *, amount: dict[int, float] | None = None,
                 missed: dict[int, float] | None = None) -> Habit:  # fmt: skip
    """The same habit with factors on some weekdays."""
    amounts, misses = np.ones((1, WEEKDAYS)), np.ones((1, WEEKDAYS))
    for factors, given in ((amounts, amount or {}), (misses, missed or {})):
        for weekday, factor in given.items():
            factors[0, weekday] = factor
    return replace(habit, amount_by_weekday=amounts, missed_by_weekday=misses)


def record(
    amounts: Sequence[float | None],
    *,
    counted: bool = True,
    promised: float | None = None,
    weekdays: Sequence[int] = (0, 3),
) -> Record:
    """The record of one stream: an amount, 0 for a missed one, None for a day without a word."""
    happened = [NONE if each is None else MADE if each else MISSED for each in amounts]
    days = [weekdays[n % len(weekdays)] for n in range(len(amounts))]
    return Record(
        counted=counted,
        happened=np.array([happened], dtype=np.int8),
        amount=np.array([[each or 0.0 for each in amounts]], dtype=float),
        weekday=np.array([days], dtype=np.intp),
        season=np.ones((1, len(amounts))),
        promised=np.array([np.nan if promised is None else promised]),
    )


def cafe(amounts: Sequence[int] = CAFE_SIX, **more: object) -> Stream:
    """The café of the demo, Mondays and Thursdays, last on Thursday 19 November 2026."""
    visits = tuple(visit_of(on, pieces) for on, pieces in zip(_back(len(amounts)), amounts,
                                                               strict=True))  # fmt: skip
    stream = Stream("Lantern Steps café", "avocado stones", (0, 3), visits=visits)
    return replace(stream, **more)  # type: ignore[arg-type]


def visit_of(on: date, pieces: int) -> Visit:
    return Visit(on, "made", pieces=pieces) if pieces else Visit(on, "missed")


def _back(many: int) -> list[date]:
    """So many Mondays and Thursdays before the demo's Monday, the oldest first."""
    days = (MONDAY - timedelta(n) for n in range(1, 4 * many + 8))
    return sorted([day for day in days if day.weekday() in (0, 3)][:many])
