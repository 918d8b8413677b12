"""In place of the studio's facts: what the tests say is due, and all of it is wanted."""

from __future__ import annotations

from datetime import datetime

from api.reminders.letter import Letter
from inventory.models import Studio

LETTERS: list[Letter] = []
UNWANTED: set[str] = set()


def letters_due(studio: Studio, *, since: datetime, until: datetime) -> tuple[Letter, ...]:
    """Of the letters laid down here, those that fall between two moments."""
    return tuple(letter for letter in LETTERS if since <= letter.at < until)


def still_wanted(studio: Studio, letter: Letter, *, at: datetime) -> bool:
    """All but those named."""
    return letter.key not in UNWANTED
