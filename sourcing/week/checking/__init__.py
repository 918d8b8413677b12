"""Is a plan right? A second opinion that shares nothing with the placer.

It goes through a plan from the rules alone and names each one that is broken, with run and moment.
"""

from __future__ import annotations

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.replay import check

__all__ = ["Fault", "check"]
