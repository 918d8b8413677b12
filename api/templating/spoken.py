"""Filters that say a word: `aloud` as the reader says it, `capfirst` with a large letter."""

from __future__ import annotations

from api.tongue.speaking import aloud as said_aloud
from api.tongue.trade import trade
from inventory.science.saying import Said, first_large


def aloud(value: object) -> object:
    """A word of the trade said; a name that somebody gave, or what is no text, as it is."""
    return said_aloud(trade(value)) if isinstance(value, str) else value


def as_written(value: object) -> object:
    """A value as it is kept: a sentence as its plain text, not said again."""
    return value[:] if isinstance(value, Said) else value


def capfirst(value: object) -> str:
    """A text that begins with a large letter, and can be said again if it could before."""
    return first_large(trade(value if isinstance(value, str) else str(value)))
