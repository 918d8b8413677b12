"""How days and money stand in a sentence that refuses."""

from __future__ import annotations

from datetime import date

from inventory.science.saying import say


def day_said(day: date) -> str:
    """A day as it is said.

    Examples
    --------
    >>> day_said(date(2026, 11, 3))
    '3 November 2026'
    """
    return say("{day} {day_2:%B %Y}", day=day.day, day_2=day)
