"""What a solver brings back: values, how good they are, and what nothing is better than."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Outcome:
    """One goal: what was reached, and what nothing is better than."""

    name: str
    value: int | None  # None: nothing was found in the time
    bound: int | None  # nothing is better; None: not known, the time was too short for any
    proved: bool

    @property
    def gap(self) -> float | None:
        """Part by which what was reached may fall short; None where nothing was."""
        if self.value is None or self.bound is None:
            return None
        if self.value == self.bound:
            return 0.0
        return abs(self.value - self.bound) / max(abs(self.value), abs(self.bound))


@dataclass(frozen=True)
class Solved:
    """Goals in order, as far as they were come to, and the values of the last that was found."""

    outcomes: tuple[Outcome, ...]
    found: Any  # the solver with its values; None: nothing was found, or nothing can be
    possible: bool  # False: proved that nothing can hold all at once

    @property
    def first(self) -> Outcome:
        """What the first goal reached; nothing where nothing can hold all at once."""
        return self.outcomes[0] if self.outcomes else Outcome("", None, None, proved=False)

    def value(self, what: Any) -> int:
        """The value of a sum in what was found."""
        assert self.found is not None
        return int(what) if isinstance(what, int) else int(self.found.value(what))
