"""A calendar as RFC 5545 writes it: lines of 75 octets, texts escaped, moments in UTC.

Written by hand, as it is three kinds of line: the usual library takes a tenth of a second and 6 MB
to load, and would still have to be told all of what is below. The tests read it with that library.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import UTC, date, datetime, timedelta
from hashlib import sha256

from api.tongue.speaking import aloud
from api.tongue.trade import trade
from inventory.science.saying import first_large
from sourcing.week.calendar import Dated

LONGEST_LINE = 75  # octets, without its end; RFC 5545, 3.1
AGAIN_AFTER = "PT1H"
MADE_BY = "-//Dye Larder//calendar of a studio//EN"
HOST = "dye-larder.invalid"  # behind the names of events; nobody can be asked there
ESCAPED = str.maketrans({"\\": "\\\\", ";": "\\;", ",": "\\,", "\n": "\\n"})
# A calendar must hold something (RFC 5545, 3.6): an empty one says at least its zone.
ZONE = (
    "BEGIN:VTIMEZONE", "TZID:Etc/UTC", "BEGIN:STANDARD", "DTSTART:19700101T000000",
    "TZOFFSETFROM:+0000", "TZOFFSETTO:+0000", "TZNAME:UTC", "END:STANDARD", "END:VTIMEZONE",
)  # fmt: skip


def calendar(studio: str, rows: Iterable[Dated], *, changed_at: datetime, revision: int) -> bytes:
    """The whole calendar of a studio.

    Parameters
    ----------
    changed_at : when it last became other than it was; unchanged, it has the same bytes
    revision : how often it did
    """
    lines = ["BEGIN:VCALENDAR", "VERSION:2.0", f"PRODID:{MADE_BY}", "CALSCALE:GREGORIAN"]
    # Both names: the older one is what most programs read.
    lines += [f"NAME:{_text(studio)}", f"X-WR-CALNAME:{_text(studio)}"]
    lines += [f"REFRESH-INTERVAL;VALUE=DURATION:{AGAIN_AFTER}"]
    events = [line for row in rows for line in _event(studio, row, changed_at, revision)]
    lines += [*(events or ZONE), "END:VCALENDAR"]
    return "".join(f"{_folded(line)}\r\n" for line in lines).encode()


def digest_of_rows(studio: str, rows: Iterable[Dated]) -> str:
    """A fingerprint of what a calendar says, whenever it is asked."""
    at = datetime(1970, 1, 1, tzinfo=UTC)
    return sha256(calendar(studio, rows, changed_at=at, revision=0)).hexdigest()


def _event(studio: str, row: Dated, changed_at: datetime, revision: int) -> Iterator[str]:
    yield "BEGIN:VEVENT"
    yield f"UID:{_name(studio, row)}"
    yield f"DTSTAMP:{_moment(changed_at)}"
    yield f"SEQUENCE:{revision}"
    yield from _when(row)
    yield f"SUMMARY:{_text(aloud(first_large(row.text)))}"
    if row.more:
        yield f"DESCRIPTION:{_text(aloud(first_large(row.more)))}"
    yield f"CATEGORIES:{_text(aloud(trade(row.kind)))}"
    yield f"STATUS:{'CONFIRMED' if row.sure else 'TENTATIVE'}"
    yield "END:VEVENT"


def _when(row: Dated) -> Iterator[str]:
    if row.day is not None:
        # Of a whole day nobody is kept from anything else.
        yield f"DTSTART;VALUE=DATE:{_day(row.day)}"
        yield f"DTEND;VALUE=DATE:{_day(row.day + timedelta(days=1))}"
        yield "TRANSP:TRANSPARENT"
        return
    assert row.since is not None, row
    yield f"DTSTART:{_moment(row.since)}"
    if row.until is not None and row.until > row.since:
        yield f"DTEND:{_moment(row.until)}"


def _name(studio: str, row: Dated) -> str:
    """The name of an event, the same for as long as it is the same thing."""
    said = "\n".join((studio, row.kind, *row.key))
    return f"{sha256(said.encode()).hexdigest()[:32]}@{HOST}"


def _day(day: date) -> str:
    return f"{day:%Y%m%d}"


def _moment(at: datetime) -> str:
    return f"{at.astimezone(UTC):%Y%m%dT%H%M%SZ}"


def _text(text: str) -> str:
    """A text as a value: escaped, and without signs that nobody sees."""
    plain = text.replace("\r\n", "\n").replace("\r", "\n")
    seen = "".join(sign for sign in plain if sign == "\n" or sign.isprintable())
    return seen.translate(ESCAPED)


def _folded(line: str) -> str:
    """A line in pieces of at most 75 octets, none of which cuts a letter in two."""
    pieces, room = [""], LONGEST_LINE
    for letter in line:
        octets = len(letter.encode())
        if octets > room:
            pieces.append(" ")
            room = LONGEST_LINE - 1
        pieces[-1] += letter
        room -= octets
    return "\r\n".join(pieces)
