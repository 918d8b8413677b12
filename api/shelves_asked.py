"""Which part of the shelves an address asks for, and which page of it."""

from __future__ import annotations

import re
from dataclasses import dataclass

from django.http import QueryDict

from api.asked import Unreadable, shown
from inventory.science.saying import say
from sourcing.moved import MOVED_AT_MOST
from sourcing.week.words import listed

MORE = ("part", "page")
PARTS = ("jars", "baths", "lots", "totals", "fibre", "supplies", "pots", "moved")
# Which lots a part shows; the whole page shows all.
KINDS: dict[str, tuple[str, ...]] = {
    "jars": ("jar",),
    "baths": ("bath",),
    "lots": ("dyestuff",),
    "totals": ("dyestuff",),
    "fibre": ("fibre",),
    "supplies": ("supply",),
    "pots": (),
    "moved": (),
}
PAGES_AT_MOST = 10_000
PAGE = re.compile(r"[0-9]{1,6}")


class PartUnknown(Unreadable):
    """A part of the page that there is not, or a page number that cannot be read."""

    code = "part_unknown"


@dataclass(frozen=True, slots=True)
class Asked:
    """Which part, and which page of it."""

    part: str = ""
    page: int = 1

    @property
    def kinds(self) -> tuple[str, ...] | None:
        """The kinds of lots that are to be looked at; None: all."""
        return KINDS.get(self.part)

    @property
    def with_moved(self) -> bool:
        """Whether it shows what moved."""
        return self.part in ("", "moved")

    @property
    def with_places(self) -> bool:
        """Whether it shows pots and places."""
        return self.part in ("", "pots")

    @property
    def skip_moved(self) -> int:
        return (self.page - 1) * MOVED_AT_MOST if self.part == "moved" else 0


def asked_of(query: QueryDict) -> Asked:
    """The part and page that an address asks for."""
    part, text = query.get("part", ""), query.get("page", "1")
    if "part" in query and part not in PARTS:
        detail = say(
            "The shelves have no part {shown}. Ask for {parts}.",
            shown=shown(part),
            parts=listed(PARTS),
        )
        raise PartUnknown("part", part, detail)
    number = int(text) if PAGE.fullmatch(text) else 0
    if not 1 <= number <= PAGES_AT_MOST or ("page" in query and not part):
        detail = say(
            "{shown} is no page here. Ask for a part and a page from 1 on.", shown=shown(text)
        )
        raise PartUnknown("page", text, detail)
    return Asked(part, number)
