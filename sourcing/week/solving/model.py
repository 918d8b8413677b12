"""A model of a week's steps, empty at first, and a step in it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

Sum = Any  # a sum of the solver's variables, or a whole number


@dataclass(frozen=True, slots=True)
class Timed:
    """A step with its start, end and minutes; where it may be left out, whether it is there."""

    name: str
    start: Sum
    minutes: Sum
    end: Sum
    interval: Any
    present: Sum  # 1 where it cannot be left out


@dataclass
class Model:
    """What is to hold, in whole minutes from 0 to the horizon."""

    horizon: int
    cp: Any = field(init=False)
    domain: Any = field(init=False)  # the solver's word for stretches of whole numbers

    def __post_init__(self) -> None:
        from ortools.sat.python import cp_model

        self.cp = cp_model.CpModel()
        self.domain = cp_model.Domain

    def yes_or_no(self, name: str) -> Sum:
        return self.cp.new_bool_var(name)

    def number(self, name: str, *, least: int = 0, most: int | None = None) -> Sum:
        return self.cp.new_int_var(least, self.horizon if most is None else most, name)
