"""Choices from the shelves: jars, lots, baths, fibre, pots, each with what tells it apart."""

from __future__ import annotations

from collections.abc import Sequence

from api.web.note.hand import Choice, Hand
from api.web.shelves.words import one_or
from inventory.science.jar_story import JarStory

WAITING = {"ready to dip": 0, "retest": 1, "steeping": 2, "matured": 3, "set aside": 4, "spent": 5}


def jars(hand: Hand) -> Sequence[Choice]:
    """Every jar, those that wait for a strip in front."""
    facts = hand.shelves
    stories = [facts.story(jar) for jar in facts.shelf.jars]
    stories.sort(key=lambda story: (_wait(story), WAITING[story.state.word], story.jar.code))
    return [Choice(row.jar.code, row.jar.name or row.jar.looks or row.jar.code, _told(row))
            for row in stories]  # fmt: skip


def _wait(story: JarStory) -> str:
    """A jar that has a day for its next strip by that day, the others behind."""
    dip = story.state.next_dip
    return dip.isoformat() if dip is not None else "9999"


def _told(story: JarStory) -> str:
    jar, state = story.jar, story.state
    parts = [jar.code, state.word]
    if state.age_days is not None and state.word in ("steeping", "ready to dip"):
        parts.append(f"day {state.age_days}")
    if state.grade is not None:
        parts.append(f"strip {state.grade} of 5")
        if state.strip_age_days is not None:
            parts.append(f"{one_or(state.strip_age_days, 'day', 'days')} ago")
    return ", ".join(parts)
