"""The answers before and after, run by run: what moved, and what stays as it was."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Week
from sourcing.week.ripple import Shift, shifts_of


@dataclass(frozen=True, slots=True)
class RunMoved:
    """One run before and after; None before: it is one more, None after: it is left out."""

    run: str
    shade: str
    before: Answer | None
    after: Answer | None
    shifts: tuple[Shift, ...] = ()

    @property
    def moved(self) -> bool:
        """Whether anything about it is otherwise."""
        return self.before is None or self.after is None or bool(self.shifts)


def moved_runs(before: Week, after: Week, facts: WeekFacts) -> tuple[RunMoved, ...]:
    """Every run of either week, in the order of the answers after, then those left out."""
    return tuple(_runs(before, after, facts))


def _runs(before: Week, after: Week, facts: WeekFacts) -> Iterator[RunMoved]:
    was = {answer.run: answer for answer in before.answers}
    for answer in after.answers:
        old = was.pop(answer.run, None)
        shifts = tuple(shifts_of(old, answer, facts)) if old is not None else ()
        yield RunMoved(answer.run, answer.shade, old, answer, shifts)
    for old in was.values():
        yield RunMoved(old.run, old.shade, old, None)
