"""How warm is wet cloth when it meets its next bath, and is the fall more than its hair bears?

Wool and other animal hair felts where it goes from a hot bath into one much colder.
"""

from __future__ import annotations

from dataclasses import dataclass
from math import ceil, exp, log

from inventory.science.heating import OutOfRange

MINUTES_PER_HOUR = 60


@dataclass(frozen=True, slots=True)
class Shock:
    """A fall in warmth that felts: how warm the cloth left, arrived, and what it met [°C]."""

    left_c: float
    arrives_c: float
    meets_c: float
    bears_k: float  # the fall that the fibre bears

    @property
    def begin_at_c(self) -> int:
        """The coldest water, in whole degrees, that the cloth could meet as it arrives."""
        return ceil(self.arrives_c - self.bears_k)


def cooled_c(warm_c: float, *, around_c: float, minutes: float, per_h: float) -> float:
    """Warmth of a bath or of wet cloth after it was left to itself.

    Parameters
    ----------
    warm_c : temperature at first [°C]
    around_c : temperature of the air around it [°C], warmer or colder
    minutes : time, at least 0
    per_h : share of the difference that is lost in an hour at the beginning [1/h], at least 0

    Returns
    -------
    temperature [°C]

    Raises
    ------
    OutOfRange
        If time or pace is below 0.

    References
    ----------
    Newton's law of cooling: d(warm)/dt = -per_h x (warm - around). What water loses as steam is
    left out, so a hot open bath cools faster at first.

    Examples
    --------
    >>> round(cooled_c(80, around_c=8, minutes=50, per_h=0.2))
    69
    """
    for name, value in (("minutes", minutes), ("per_h", per_h)):
        if value < 0:
            raise OutOfRange(name, value, "at least 0")
    return around_c + (warm_c - around_c) * exp(-per_h * minutes / MINUTES_PER_HOUR)


def minutes_to_cool(warm_c: float, *, to_c: float, around_c: float, per_h: float) -> int | None:
    """Whole minutes until a bath has fallen to a warmth; None: it never falls so far.

    Parameters
    ----------
    warm_c, to_c, around_c : temperature [°C]
    per_h : pace as in `cooled_c` [1/h], above 0

    Raises
    ------
    OutOfRange
        If the pace is 0 or below.

    Examples
    --------
    >>> minutes_to_cool(55, to_c=23, around_c=8, per_h=0.2)
    343
    """
    if per_h <= 0:
        raise OutOfRange("per_h", per_h, "above 0")
    if warm_c <= to_c:
        return 0
    if to_c <= around_c:
        return None
    return ceil(MINUTES_PER_HOUR / per_h * log((warm_c - around_c) / (to_c - around_c)))


def shock(*, left_c: float, arrives_c: float, meets_c: float, bears_k: float) -> Shock | None:
    """The fall that felts a fibre; None where it bears it: just as much as it bears is borne.

    Parameters
    ----------
    left_c : temperature at which the cloth left its bath [°C]
    arrives_c : temperature that it still has when it goes in [°C]
    meets_c : temperature of the bath that it goes into [°C]
    bears_k : fall that the fibre bears [K], at least 0

    Raises
    ------
    OutOfRange
        If the fall that it bears is below 0.

    Examples
    --------
    >>> shock(left_c=55, arrives_c=36, meets_c=8, bears_k=15).begin_at_c
    21
    >>> shock(left_c=23, arrives_c=23, meets_c=8, bears_k=15) is None
    True
    """
    if bears_k < 0:
        raise OutOfRange("bears_k", bears_k, "at least 0")
    if arrives_c - meets_c <= bears_k:
        return None
    return Shock(left_c, arrives_c, meets_c, bears_k)
