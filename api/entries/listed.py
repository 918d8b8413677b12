"""Entries as a list: newest first, so many at a time, the same whatever is entered meanwhile."""

from __future__ import annotations

import re
from dataclasses import dataclass

from django.http import QueryDict

from api.asked import Unreadable, shown
from api.models.entries import STATES, Entry
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.week.words import listed

LIMIT, MOST = 50, 200


class ListUnreadable(Unreadable):
    """A list is asked for with a state, a limit or a cursor that there is not."""

    code = "list_unreadable"


@dataclass(frozen=True, slots=True)
class Listed:
    """Which entries are asked for."""

    state: str | None
    limit: int
    before: int | None


def listed_asked(asked: QueryDict) -> Listed:
    """State, limit and cursor of an address."""
    state, limit = asked.get("state"), asked.get("limit", str(LIMIT))
    if state is not None and state not in STATES:
        detail = say(
            "An entry is {states}; not {shown}.", states=listed(STATES), shown=shown(state)
        )
        raise ListUnreadable("state", state, detail)
    if not re.fullmatch(r"\d{1,3}", limit, re.ASCII) or not 1 <= int(limit) <= MOST:
        raise ListUnreadable(
            "limit", limit, say("Ask for 1 to {most} entries at a time.", most=MOST)
        )
    cursor = asked.get("cursor")
    if cursor is not None and not re.fullmatch(r"e\d{1,18}", cursor, re.ASCII):
        raise ListUnreadable("cursor", cursor, say("Take the cursor from the `next` of an answer."))
    return Listed(state, int(limit), None if cursor is None else int(cursor[1:]))


def entries_listed(studio: Studio, asked: Listed) -> tuple[list[Entry], str | None]:
    """Entries, and the cursor of those that follow, if there are more."""
    rows = Entry.objects.of(studio).order_by("-id")
    if asked.state is not None:
        rows = rows.filter(state=asked.state)
    if asked.before is not None:
        rows = rows.filter(id__lt=asked.before)
    found = list(rows[: asked.limit + 1])
    more = len(found) > asked.limit
    found = found[: asked.limit]
    return found, f"e{found[-1].pk}" if more else None
