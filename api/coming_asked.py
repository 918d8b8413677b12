"""Which dyestuff somebody asks the pick-ups of: one by its name, or all."""

from __future__ import annotations

from django.http import QueryDict

from api.asked import Unreadable, shown
from inventory.science.saying import say
from sourcing.week.coming import AllComing
from sourcing.week.words import listed

COMING_WORDS = ("gives",)
NAMED_AT_MOST = 8  # dyestuffs that a refusal names


class NotAgreed(Unreadable):
    """No source gives what was asked for."""

    code = "not_agreed"


def gives_asked(query: QueryDict) -> str:
    """The dyestuff that an address names; empty: all."""
    return query.get("gives", "").strip()


def check_agreed(gives: str, found: AllComing) -> None:
    """Refuse a dyestuff that no source gives.

    Raises
    ------
    NotAgreed
        The message names what is agreed.
    """
    if not gives or found.dyestuffs:
        return
    names = found.agreed[:NAMED_AT_MOST]
    there = (
        say("Agreed are {names}.", names=listed(names))
        if names
        else say("Nothing is agreed with any source yet.")
    )
    raise NotAgreed(
        "gives", gives, say("No source gives {shown}. {there}", shown=shown(gives), there=there)
    )
