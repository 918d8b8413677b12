"""Which visit somebody asks to be struck: a source, a day, and one thing where it gives several."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from django.http import QueryDict

from api.asked import Unreadable, day_asked, shown
from inventory.science.saying import say

MISSED_WORDS = ("source", "gives", "on")
LONGEST = 120  # of a name, longer than any that the tables hold


@dataclass(frozen=True, slots=True)
class Visit:
    """A source's visit on a day; `gives` empty: all that it brings."""

    source: str
    on: date
    gives: str = ""


class VisitUnreadable(Unreadable):
    """A source without a day, or a day without a source."""

    code = "visit_unreadable"


def visit_asked(query: QueryDict) -> Visit | None:
    """The visit that an address names; None where it names none."""
    source, on, gives = (query.get(name, "").strip() for name in ("source", "on", "gives"))
    if not (source or on or gives):
        return None
    return visit_of(source, on, gives)


def visit_of(source: str, on: str, gives: str = "") -> Visit:
    """A visit from its words.

    Raises
    ------
    VisitUnreadable, DayUnreadable
        The message says what to write instead.
    """
    for name, text in (("source", source), ("gives", gives)):
        if len(text) > LONGEST or not text.isprintable():
            detail = say(
                "{shown} is no name of a {which}.",
                shown=shown(text),
                which=say("source") if name == "source" else say("dyestuff"),
            )
            raise VisitUnreadable(
                name, text, say("{detail} Write it as it stands in the week.", detail=detail)
            )
    if not source or not on:
        name = "on" if source else "source"
        detail = say("A missed visit is asked for with its source and its day, such as 2026-11-26.")
        raise VisitUnreadable(name, "", detail)
    return Visit(source, day_asked("on", on), gives)
