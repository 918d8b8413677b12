"""The largest number that works, where more need not be worse than less."""

from __future__ import annotations

from collections.abc import Callable, Iterator

POINTS = 16  # at which it is looked from the top down


def largest(works: Callable[[int], bool], most: int) -> int:
    """A number of steps that works where one more does not; 0 where none was found.

    A run that finds no place in two small pots may find one in a big pot, so more may work where
    less does not. Points from the top down are tried first, then always half of the lowest one;
    between the first that works and the next one above it that does not, the border is halved in.

    Parameters
    ----------
    works : of a number from 1 to `most`; asked at most `POINTS` + 2 · log2(`most`) times
    most : above which nothing works, 0 or more

    Examples
    --------
    >>> largest(lambda n: n <= 528, 20_000), largest(lambda n: n <= 80 or 320 <= n <= 400, 640)
    (528, 400)
    >>> largest(lambda n: False, 640), largest(lambda n: True, 640), largest(lambda n: True, 0)
    (0, 640, 0)
    """
    above = most + 1
    for point in _points(most):
        if works(point):
            return _border(works, point, above)
        above = point
    return 0


def _points(most: int) -> Iterator[int]:
    """From the top down evenly, then halves of the lowest down to 1."""
    low = most
    for part in range(POINTS, 0, -1):
        point = -(-most * part // POINTS)
        if point < low or part == POINTS:
            if point > 0:
                yield point
            low = point
    while low > 1:
        low //= 2
        yield low


def _border(works: Callable[[int], bool], low: int, above: int) -> int:
    """The last that works below one that does not; `low` works, `above` does not."""
    while above - low > 1:
        middle = (low + above) // 2
        if works(middle):
            low = middle
        else:
            above = middle
    return low
