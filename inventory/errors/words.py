"""How amounts, moments and what was said stand in a sentence that refuses."""

from __future__ import annotations

from datetime import datetime
from decimal import Decimal

from inventory.science.saying import measured, say

LONGEST_SHOWN = 40


def in_words(amount: int, unit: str) -> str:
    """An amount of mg or µL as it is said: g or mL.

    Examples
    --------
    >>> in_words(2_436_000, "mg")
    '2,436 g'
    >>> in_words(640_500, "µL")
    '640.5 mL'
    """
    number = (Decimal(amount) / 1000).normalize()
    which = say("mL") if unit == "µL" else say("g")
    return measured(say("{number:,f} {which}", number=number, which=which), amount, unit)


def on(at: datetime) -> str:
    """A moment as it is said.

    Examples
    --------
    >>> on(datetime(2026, 11, 3, 9, 0))
    '3 November 09:00'
    """
    return say("{day} {at:%B %H:%M}", day=at.day, at=at)


def quoted(said: object) -> str:
    """What was said, in quotes, safe to print and not too long.

    Examples
    --------
    >>> quoted("9 kg")
    '“9 kg”'
    """
    text = str(said)
    plain = "".join(sign if sign.isprintable() else "\N{REPLACEMENT CHARACTER}" for sign in text)
    return f"“{plain[:LONGEST_SHOWN]}{'…' if len(plain) > LONGEST_SHOWN else ''}”"
