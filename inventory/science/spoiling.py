"""What the studio's own lots teach about keeping: how long they really lasted.

A lot used up before it spoiled still counts: it lasted at least that long.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import ROUND_FLOOR, Decimal
from math import exp, fsum, log, sqrt

from inventory.science.figures import Figure
from inventory.science.saying import say

LEAST_SPOILED = 3  # below that a fit says nothing; assumed, not measured


@dataclass(frozen=True, slots=True)
class Lasted:
    """One lot's end: days it lasted, and whether it spoiled or was used up sound."""

    days: float
    spoiled: bool


@dataclass(frozen=True, slots=True)
class Survived:
    """One step of the share still sound: after these days, with its standard error."""

    days: float
    at_risk: int
    spoiled: int
    share: float
    standard_error: float


@dataclass(frozen=True, slots=True)
class Weibull:
    """Share still sound after t days: exp(-(t / scale) ** shape)."""

    shape: float
    scale_days: float

    def share_sound(self, days: float) -> float:
        """Share still sound after some days, 0 to 1."""
        return exp(-((days / self.scale_days) ** self.shape))

    def days_until(self, share: float) -> float:
        """Days after which this share is still sound; share above 0, below 1."""
        return float(self.scale_days * (-log(share)) ** (1 / self.shape))


class TooFewSpoiled(ValueError):
    """Too few lots have spoiled for a life to be learned."""

    def __init__(self, spoiled: int, needed: int) -> None:
        self.spoiled, self.needed = spoiled, needed
        super().__init__(
            say(
                "{spoiled} spoiled lots written down, {needed} needed before they say how long "
                "a lot keeps. Mark lots bad or used up as they end.",
                spoiled=spoiled,
                needed=needed,
            )
        )


def share_sound(seen: Sequence[Lasted]) -> tuple[Survived, ...]:
    """Share still sound after each day on which a lot spoiled (product limit).

    Parameters
    ----------
    seen : lots' ends, any order, may be empty
        A lot used up on a day counts as still at risk on that day.

    References
    ----------
    Kaplan and Meier, J. Am. Stat. Assoc. 53 (1958) 457; standard error by Greenwood (1926).

    Examples
    --------
    >>> [(step.days, step.share) for step in share_sound([Lasted(3, True), Lasted(5, False)])]
    [(3, 0.5)]
    """
    steps = []
    share, variance = 1.0, 0.0
    for days in sorted({one.days for one in seen if one.spoiled}):
        at_risk = sum(1 for one in seen if one.days >= days)
        spoiled = sum(1 for one in seen if one.spoiled and one.days == days)
        share *= 1 - spoiled / at_risk
        if at_risk > spoiled:
            variance += spoiled / (at_risk * (at_risk - spoiled))
        steps.append(Survived(days, at_risk, spoiled, share, share * sqrt(variance)))
    return tuple(steps)


def median_days(seen: Sequence[Lasted]) -> float | None:
    """First day by which no more than half are still sound; None if more than half lasted."""
    return next((step.days for step in share_sound(seen) if step.share <= 0.5), None)


def rate_per_day(seen: Sequence[Lasted]) -> float:
    """Spoiling rate [1/day] if it does not change with age: spoiled lots over days lasted.

    References
    ----------
    Maximum likelihood of the exponential law with right-censoring: events over total time.

    Examples
    --------
    >>> rate_per_day([Lasted(3, True), Lasted(5, False)])
    0.125
    """
    return sum(one.spoiled for one in seen) / fsum(one.days for one in seen)


def fitted(seen: Sequence[Lasted]) -> Weibull:
    """The Weibull law that makes the lots' ends the most likely.

    Parameters
    ----------
    seen : lots' ends, days above 0, any order
        At least two spoiled on different days, else the shape has no bound.

    Raises
    ------
    TooFewSpoiled
        With fewer than two different days of spoiling.

    References
    ----------
    Profile likelihood of the shape with right-censoring; Kalbfleisch and Prentice, The Statistical
    Analysis of Failure Time Data (2002), from memory. Its derivative falls in the shape, so it is
    halved to the root.

    Examples
    --------
    >>> ends = [Lasted(4, True), Lasted(6, True), Lasted(7, False)]
    >>> round(fitted(ends).days_until(0.9), 1)
    3.7
    """
    days_spoiled = [one.days for one in seen if one.spoiled]
    if len(set(days_spoiled)) < 2:
        raise TooFewSpoiled(len(set(days_spoiled)), 2)
    assert min(one.days for one in seen) > 0
    longest = max(one.days for one in seen)
    # Counted in parts of the longest life, so that no power overflows.
    logs = [log(one.days / longest) for one in seen]
    mean_log = fsum(log(days / longest) for days in days_spoiled) / len(days_spoiled)

    def slope(shape: float) -> float:
        powers = [exp(shape * each) for each in logs]
        weighted = fsum(p * each for p, each in zip(powers, logs, strict=True))
        return 1 / shape + mean_log - weighted / fsum(powers)

    low, high = 1e-3, 1e3
    for _ in range(200):
        middle = sqrt(low * high)
        low, high = (middle, high) if slope(middle) > 0 else (low, middle)
    shape = sqrt(low * high)
    mean_power = fsum(exp(shape * each) for each in logs) / len(days_spoiled)
    return Weibull(shape, longest * mean_power ** (1 / shape))


def learned_life(
    seen: Sequence[Lasted], *, item: str, name: str, since: date, share: float = 0.9
) -> Figure:
    """The studio's own life of a lot: whole days after which a share is still sound.

    Parameters
    ----------
    seen : ends of lots kept in one state and place, any order
    item, name : what the figure is of, such as `avocado stones`, `keeps_fresh_bench_days`
    since : day from which the figure holds
    share : above 0, below 1
        Sound on the last good day; low and high come from half as many and twice as many spoiled.

    Raises
    ------
    TooFewSpoiled
        Below three spoiled lots.

    Examples
    --------
    >>> ends = [Lasted(3, True), Lasted(4, True), Lasted(5, True), Lasted(4, False)]
    >>> figure = learned_life(
    ...     ends, item="privet", name="keeps_fresh_bench_days", since=date(2026, 11, 23)
    ... )
    >>> figure.value, figure.source
    (Decimal('3'), '3 of 4 lots spoiled, measured here, 2026-11-23')
    """
    spoiled = sum(one.spoiled for one in seen)
    if spoiled < LEAST_SPOILED:
        raise TooFewSpoiled(spoiled, LEAST_SPOILED)
    law = fitted(seen)

    def whole_days(share_left: float) -> Decimal:
        days = Decimal(law.days_until(share_left))
        return days.to_integral_value(rounding=ROUND_FLOOR)

    lost = 1 - share
    return Figure(
        item=item,
        name=name,
        value=whole_days(share),
        low=whole_days(1 - lost / 2),
        high=whole_days(1 - min(2 * lost, 0.99)),
        basis="measured here",
        source=say(
            "{spoiled} of {count} lots spoiled, measured here, {since}",
            spoiled=spoiled,
            count=len(seen),
            since=since.isoformat(),
        ),
        own=True,
        since=since,
    )
