"""What an address of the notebook asks for: which page, a dry run, where a list goes on."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

from django.http import QueryDict

from api.asked import Unreadable, shown
from api.question import check_words
from api.records.asked import LIMIT, LIMIT_AT_MOST, LimitUnreadable
from api.records.cursors import cells_after, cursor_after
from api.rights import Right
from inventory.science.saying import say
from sourcing.notebook.notebook import nearest
from sourcing.notebook.one_row import KeptRow
from sourcing.notebook.page import Page
from sourcing.notebook.row_errors import NoSuchPage
from sourcing.notebook.yard_pages import BY_NAME

# Pages that hold what the studio is and reckons by.
OF_THE_OWNER = ("studio", "sites", "rules")
# Pages with addresses of people, whom nobody else needs.
OF_PEOPLE = ("reminders", "stops")
WHOLE = re.compile(r"\d{1,3}", re.ASCII)
NUMBERS = re.compile(r"(\d+)", re.ASCII)


class DryRunUnreadable(Unreadable):
    """A word for the dry run that is neither yes nor no."""

    code = "dry_run_unreadable"


def page_called(name: str) -> Page:
    """The page of a name.

    Raises
    ------
    NoSuchPage
        With the one that looks most like it.
    """
    if name not in BY_NAME:
        raise NoSuchPage(name, nearest=nearest(name[:80], BY_NAME))
    return BY_NAME[name]


def right_to_write(page: Page) -> Right:
    """The least right that writes on a page."""
    return Right.OWNER if page.name in (*OF_THE_OWNER, *OF_PEOPLE) else Right.DYER


def right_to_read(page: Page) -> Right:
    """The least right that reads a page."""
    return Right.OWNER if page.name in OF_PEOPLE else Right.LOOKER_ON


def dry_run_asked(query: QueryDict, *, what: str) -> bool:
    """Whether nothing is to be kept."""
    check_words(query, ("studio", "dry_run"), what=what)
    text = query.get("dry_run", "0")
    if text not in ("0", "1"):
        detail = say(
            "{text} is neither 1 nor 0. Write dry_run=1 to keep nothing.", text=shown(text)
        )
        raise DryRunUnreadable("dry_run", text, detail)
    return text == "1"


def limit_asked(query: QueryDict) -> int:
    """How many rows at most."""
    text = query.get("limit", str(LIMIT))
    number = int(text) if WHOLE.fullmatch(text) else 0
    if not 1 <= number <= LIMIT_AT_MOST:
        detail = say(
            "{text} is no number of rows. Write one from 1 to {limit_at_most}.",
            text=shown(text),
            limit_at_most=LIMIT_AT_MOST,
        )
        raise LimitUnreadable("limit", text, detail)
    return number


def cut(
    kept: Sequence[KeptRow], query: QueryDict, *, limit: int, question: tuple[object, ...]
) -> tuple[list[KeptRow], str | None]:
    """The rows that are asked for by their keys, and the cursor of those that follow."""
    ordered = sorted(kept, key=lambda row: _order(row.key))
    cursor = query.get("cursor")
    if cursor is not None:
        (last,) = cells_after(cursor, question=question)
        ordered = [row for row in ordered if _order(row.key) > _order(last)]
    found = ordered[:limit]
    more = len(ordered) > limit
    return found, cursor_after((found[-1].key,), question=question) if more else None


def _order(key: str) -> list[Any]:
    """Keys as people put them in order: step 2 before step 10."""
    parts = NUMBERS.split(key.casefold())
    return [(0, int(part), "") if part.isdigit() else (1, 0, part) for part in parts] + [
        (1, 0, key)
    ]
