"""How much of the shelves is shown at once: the whole page with the rest in words, or one part."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeVar
from urllib.parse import urlencode

from api.shelves_asked import Asked
from inventory.science.saying import say
from sourcing.moved import MOVED_AT_MOST

# How many of each part the whole page shows; `show all` gives the rest, PAGE_ROWS at a time.
AT_MOST = {
    "jars": 12,
    "baths": 8,
    "lots": 24,
    "totals": 12,
    "fibre": 24,
    "supplies": 16,
    "pots": 12,
    "moved": 12,
}
PAGE_ROWS = 60
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Rest:
    """What of a part is not shown here: in words, with the way to it."""

    words: str  # empty: everything is shown
    all_address: str = ""
    before_address: str = ""
    next_address: str = ""
    here: str = ""  # "61 to 120 of 300"


class Cut:
    """Takes of each part what is shown, and keeps the rest in words."""

    def __init__(self, said: tuple[tuple[str, str], ...], asked: Asked) -> None:
        self.said, self.asked = said, asked
        self.rest: dict[str, Rest] = {}

    def __call__(
        self, part: str, rows: Sequence[T], *, rest: Callable[[Sequence[T]], str] | None = None
    ) -> Sequence[T]:
        if self.asked.part and self.asked.part != part:
            self.rest[part] = Rest("")
            return ()
        if self.asked.part:
            return self._page(part, rows)
        most = AT_MOST[part]
        over = rows[most:]
        if over:
            words = rest(over) if rest else say("{count:,} more not shown here", count=len(over))
            self.rest[part] = Rest(words, all_address=self._to(part, 1))
        else:
            self.rest[part] = Rest("")
        return rows[:most]

    def moved(self, rows: Sequence[T], *, more: bool) -> Sequence[T]:
        """Postings are cut by the query; how many there are in all is not counted."""
        if self.asked.part and self.asked.part != "moved":
            self.rest["moved"] = Rest("")
            return ()
        page, most = self.asked.page, AT_MOST["moved"]
        if not self.asked.part:
            over = len(rows) > most or more
            self.rest["moved"] = (
                Rest(say("Older ones stand further back"), self._to("moved", 1))
                if over
                else Rest("")
            )
            return rows[:most]
        before = self._to("moved", page - 1) if page > 1 else ""
        after = self._to("moved", page + 1) if more else ""
        first = (page - 1) * MOVED_AT_MOST
        here = (
            say("{first:,} to {first_2:,}", first=first + 1, first_2=first + len(rows))
            if rows
            else say("nothing further back")
        )
        self.rest["moved"] = Rest("", before_address=before, next_address=after, here=here)
        return rows

    def _page(self, part: str, rows: Sequence[T]) -> Sequence[T]:
        page = self.asked.page
        first = (page - 1) * PAGE_ROWS
        found = rows[first : first + PAGE_ROWS]
        here = say(
            "{first:,} to {first_2:,} of {count:,}",
            first=first + 1,
            first_2=first + len(found),
            count=len(rows),
        )
        before = self._to(part, page - 1) if page > 1 else ""
        after = self._to(part, page + 1) if len(rows) > first + PAGE_ROWS else ""
        self.rest[part] = Rest(
            "", "", before, after, here if found else say("{count:,} in all", count=len(rows))
        )
        return found

    def _to(self, part: str, page: int) -> str:
        said = (*self.said, ("part", part), ("page", str(page)))
        return f"?{urlencode(said)}"
