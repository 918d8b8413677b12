"""What would the week be if …? Facts changed for one question; what was handed in stays as it is.

`change.py` says what a change is, one file a noun holds the kinds, `asked.py` puts them together,
`moved.py` sets the answers before and after side by side.
"""

from __future__ import annotations

from sourcing.week.what_if.asked import CHANGES_AT_MOST, CannotBe, changed, check, week_if
from sourcing.week.what_if.change import Change, Fault
from sourcing.week.what_if.moved import RunMoved, moved_runs

__all__ = [
    "CHANGES_AT_MOST",
    "CannotBe",
    "Change",
    "Fault",
    "RunMoved",
    "changed",
    "check",
    "moved_runs",
    "week_if",
]
