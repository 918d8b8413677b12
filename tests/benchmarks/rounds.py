"""Several actions timed in turn: each meets the same machine, and busy moments drop out."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Sequence

Action = Callable[[], object]


def in_turn(
    *actions: Action,
    rounds: int,
    warm: int = 2,
    least: int = 3,
    at_most_s: float = 60.0,
    clock: Callable[[], float] = time.perf_counter,
    of: Callable[[Sequence[float]], float] | None = None,
) -> list[float]:
    """The lower quartile of the seconds of each action, all done in turn, round after round.

    Parameters
    ----------
    rounds : rounds that count
    warm : rounds before them that do not
    least : rounds that are done however long they take
    at_most_s : after so long no round beyond these is begun
    clock : wall time, or `time.process_time` for arithmetic alone
    of : what stands for all rounds instead of the lower quartile
    """
    taken: list[list[float]] = [[] for _ in actions]
    begun = time.perf_counter()
    for turn in range(warm + rounds):
        late = time.perf_counter() - begun > at_most_s
        if late and len(taken[0]) >= min(least, rounds):
            break
        for action, times in zip(actions, taken, strict=True):
            since = clock()
            action()
            if turn >= warm:
                times.append(clock() - since)
    return [(of or lower_quartile)(times) for times in taken]


def lower_quartile(times: Sequence[float]) -> float:
    """The quartile that a busy machine disturbs least.

    >>> lower_quartile([4.0, 1.0, 2.0, 3.0, 5.0]), lower_quartile([2.0])
    (2.0, 2.0)
    """
    if len(times) == 1:
        return times[0]
    return statistics.quantiles(times, n=4, method="inclusive")[0]


def mean_of_most(times: Sequence[float]) -> float:
    """The mean of all but the slowest tenth: for what is now quick, now slow, by its nature.

    A quartile would take one action at its quick and the other at its slow.

    >>> mean_of_most([4.0, 0.0, 4.0, 0.0, 4.0, 0.0, 4.0, 0.0, 2.0, 90.0])
    2.0
    """
    kept = sorted(times)[: max(1, len(times) * 9 // 10)]
    return statistics.fmean(kept)
