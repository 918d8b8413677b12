"""What a source may tell of, and where that goes which it promises: things it need not know."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from string import ascii_lowercase
from zoneinfo import ZoneInfo

from inventory.entries import Place
from inventory.models import Lot, Studio
from sourcing.arrivals import why_closed
from sourcing.models import PickUp
from sourcing.sources_seen import GiftFacts

DAYS_OFFERED = 7  # where no day is agreed
NOWHERE_YET = Place("bench")
LONGEST_INITIALS = 4


@dataclass(frozen=True, slots=True)
class Goes:
    """The code of the lot that a promised hand-over becomes, and where it is kept."""

    lot: str
    place: Place


def moments_to_offer(gift: GiftFacts, *, at: datetime) -> tuple[datetime, ...]:
    """When one thing can be fetched next: the agreed days, else any of the next seven.

    Parameters
    ----------
    at : aware, on the studio's clock
    """
    agreed = tuple(row.at for row in gift.coming if row.how != "closed")
    if agreed or gift.coming:
        return agreed
    days = (at.date() + timedelta(days=n) for n in range(DAYS_OFFERED + 1))
    hours = (datetime.combine(day, gift.promise.at, tzinfo=at.tzinfo) for day in days)
    return tuple(hour for hour in hours if hour > at and _is_open(gift, hour))[:DAYS_OFFERED]


def _is_open(gift: GiftFacts, at: datetime) -> bool:
    foraged = frozenset((gift.promise.gives,)) if gift.foraged else frozenset[str]()
    nesting = gift.nesting is not None and gift.nesting.holds(at.date())
    return not nesting and not why_closed(gift.promise, at.date(), foraged)


def where_it_goes(studio: Studio, *, source: str, gives: str, at: datetime) -> Goes:
    """A code that no lot has, and the place where the last of it was put.

    What was promised for that day before keeps the code that it has.
    """
    day = at.astimezone(ZoneInfo(studio.zone)).date()
    begins = datetime.combine(day, datetime.min.time(), tzinfo=ZoneInfo(studio.zone))
    rows = PickUp.objects.of(studio).filter(source__name=source, gives=gives)
    last = rows.exclude(lot_code="").exclude(place_kind="").order_by("-at", "-pk").first()
    place = NOWHERE_YET if last is None else _place(last)
    of_the_day = rows.filter(at__gte=begins, at__lt=begins + timedelta(days=1))
    told = of_the_day.exclude(lot_code="").exclude(how="made").first()
    if told is not None:
        return Goes(told.lot_code, place)
    return Goes(_free(studio, f"{_prefix(studio, gives)}-{day:%m%d}"), place)


def _prefix(studio: Studio, gives: str) -> str:
    """What the code of the last lot of it begins with."""
    last = Lot.objects.of(studio).filter(what=gives, kind="dyestuff").order_by("-pk").first()
    return (last.code.rpartition("-")[0] if last is not None else "") or _initials(gives)


def _place(row: PickUp) -> Place:
    return Place(row.place_kind, "" if row.place == row.place_kind else row.place)


def _initials(gives: str) -> str:
    """The letters that a dyestuff's words begin with.

    >>> _initials("avocado stones"), _initials("weld")
    ('AS', 'WE')
    """
    words = gives.upper().split()
    letters = "".join(word[0] for word in words) if len(words) > 1 else gives.upper()[:2]
    return letters[:LONGEST_INITIALS]


def _free(studio: Studio, code: str) -> str:
    """A code, with a letter behind it where others have it."""
    lots = Lot.objects.of(studio).filter(code__startswith=code).values_list("code", flat=True)
    told = PickUp.objects.of(studio).filter(lot_code__startswith=code)
    taken = {*lots, *told.values_list("lot_code", flat=True)}
    free = (each for each in (code, *(f"{code}{letter}" for letter in ascii_lowercase)))
    return next((each for each in free if each not in taken), code)
