"""One test of the 38 by itself: facts on the good side, the same with one fact changed, and why."""

from __future__ import annotations

from dataclasses import dataclass, fields, is_dataclass

from sourcing.week.facts import WeekFacts


@dataclass(frozen=True)
class Case:
    """`good` answers yes, `bad` does not; `text` is the whole sentence that names the test."""

    test: int  # its number in the list of tests
    name: str
    good: WeekFacts
    bad: WeekFacts
    answer: str
    kind: str
    text: str
    figure: str = ""


def differences(one: object, other: object) -> int:
    """How many facts differ; a row put in or taken out counts as one."""
    if type(one) is not type(other):
        return 1
    if isinstance(one, tuple) and isinstance(other, tuple):
        if len(one) != len(other):
            return abs(len(one) - len(other)) if _begins(one, other) else 2
        return sum(differences(a, b) for a, b in zip(one, other, strict=True))
    if is_dataclass(one):
        names = [f.name for f in fields(one) if f.compare]
        return sum(differences(getattr(one, n), getattr(other, n)) for n in names)
    return int(one != other)


def _begins(one: tuple[object, ...], other: tuple[object, ...]) -> bool:
    """Whether the shorter is what the longer is without one stretch of rows."""
    short, long = sorted((one, other), key=len)
    cut = len(long) - len(short)
    return any(long[:n] + long[n + cut :] == short for n in range(len(short) + 1))
