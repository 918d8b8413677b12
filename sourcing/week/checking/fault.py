"""What is wrong with a plan, said so that a dyer can see it on the sheet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Fault:
    """One rule that a plan breaks."""

    kind: str  # one rule, one word or two: "pot twice", "night", "line"
    run: str  # code of the run; empty: the plan as a whole
    at: datetime | None
    text: str

    def __str__(self) -> str:
        when = f"{self.at:%a %d %b %H:%M}" if self.at else "-"
        return f"{self.kind}: run {self.run or '-'}, {when}: {self.text}"
