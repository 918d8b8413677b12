"""Readers of reminders in words: who is told what, at which hours, since when."""

from __future__ import annotations

from datetime import time

from inventory.science.saying import say
from sourcing.reminding.facts import Kind, Wish
from sourcing.week.words import day_in_words


def shortened(address: str) -> str:
    """An address that its owner knows again and nobody else can use.

    >>> shortened("dyer@pellitory-yard.example")
    'd…@pellitory-yard.example'
    """
    local, _, domain = address.rpartition("@")
    return f"{local[:1]}…@{domain}"


def kind_in_words(wish: Wish, kind: Kind) -> str:
    """A kind as it is told, the sheet with its hour."""
    if kind == "morning sheet" and wish.sheet_at is not None:
        return say("{kind} at {clock}", kind=kind, clock=_clock(wish.sheet_at))
    return kind


def quiet_in_words(wish: Wish) -> str:
    """The hours in which a reader is not written to; empty where there are none."""
    if wish.quiet is None:
        return ""
    return say(
        "not between {clock} and {clock_2}",
        clock=_clock(wish.quiet.since),
        clock_2=_clock(wish.quiet.until),
    )


def since_in_words(wish: Wish) -> str:
    """The reader's first day."""
    return say("since {since} {year}", since=day_in_words(wish.since), year=wish.since.year)


def _clock(clock: time) -> str:
    return f"{clock:%H:%M}"
