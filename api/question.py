"""What an address asks: whose studio, seen from which moment, over how many days.

Every page and every answer that shows a studio reads its address here, so all understand the same.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlencode
from zoneinfo import ZoneInfo

from django.http import QueryDict
from django.utils import timezone

from api.asked import days_asked, moment_asked
from api.rest.errors import UnknownParameter
from api.visitor import Asking, Right, visitor_of
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.week.words import listed

PARAMETERS = ("at", "days", "studio")
LONGEST_NAME_SHOWN = 40


@dataclass(frozen=True)
class Question:
    """A studio, a moment on its clock and a number of days; and the words that asked for them."""

    studio: Studio
    at: datetime  # in the studio's zone
    days: int
    said: tuple[tuple[str, str], ...]  # what the address named of PARAMETERS, as written
    who: str = ""  # asks; empty: nobody has an account
    account: int | None = None  # key of who asks
    right: Right = Right.LOOKER_ON

    @property
    def carried(self) -> str:
        """`?at=…&studio=…`, to go on asking the same at another address; empty for now and here."""
        return f"?{urlencode(self.said)}" if self.said else ""


def question_of(
    request: Asking, *, what: str = "The week", more: Iterable[str] = (), many: Iterable[str] = ()
) -> Question:
    """The question of an address; the clock stands in for a moment that it does not name.

    Parameters
    ----------
    request : of somebody who may look at the studio that it names
    what : begins the sentence that refuses an unknown word
    more : words that this page knows beside `PARAMETERS`
    many : words that may stand several times
    """
    query = request.GET
    check_words(query, (*PARAMETERS, *more), what=what, many=tuple(many))
    days = days_asked(query.get("days"))
    visitor = visitor_of(request)
    studio = visitor.studio
    zone = ZoneInfo(studio.zone)
    text = query.get("at")
    at = seen_now().astimezone(zone) if text is None else moment_asked(text, zone)
    said = tuple((name, found) for name in PARAMETERS if (found := query.get(name)) is not None)
    return Question(studio, at, days, said, visitor.name, visitor.account, visitor.right)


def moment_now() -> datetime:
    """This minute."""
    return timezone.now().replace(second=0, microsecond=0)


def seen_now() -> datetime:
    """This minute up to its last second, for whoever looks: what was just recorded is seen.

    It stays the same for the whole minute, so that an answer that did not change is not sent again.
    """
    return timezone.now().replace(second=59, microsecond=0)


def check_words(
    query: QueryDict, known: Iterable[str], *, what: str, many: tuple[str, ...] = ()
) -> None:
    """Refuse a word that a page does not know, and one that stands twice but for `many`."""
    names = (*known, *many)
    for name, values in query.lists():
        if name not in names:
            shown = name[:LONGEST_NAME_SHOWN]
            detail = say(
                "{what} is asked for with {names}; not with “{shown}”.",
                what=what,
                names=listed(names),
                shown=shown,
            )
            raise UnknownParameter(shown, "", detail)
        if len(values) > 1 and name not in many:
            raise UnknownParameter(
                name, "", say("{name} stands twice in the address; write it once.", name=name)
            )
