"""What would turn an answer into a yes? One constraint eased at a time, each proved by placing.

`seek.py` looks, `easing.py` says what a change is in facts, `turn.py` places a run with it.
"""

from __future__ import annotations

from sourcing.week.unlocking.seek import unlocked

__all__ = ["unlocked"]
