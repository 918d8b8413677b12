"""A calendar as it is written: lines, texts and moments, read by a parser that is not ours."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime
from typing import Any
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from icalendar import Calendar

from api.feeds.ics import calendar, digest_of_rows
from sourcing.week.calendar import Dated

CHANGED = datetime(2026, 11, 23, 7, 30, 5, tzinfo=UTC)
DIP = Dated("dip", ("J1",), "dip Iron 7 (J1)", date(2026, 11, 24))
LONDON = ZoneInfo("Europe/London")


def events(said: bytes) -> list[Any]:
    return Calendar.from_ical(said).walk("VEVENT")


def one(row: Dated) -> Any:
    (found,) = events(calendar("Pellitory Yard", [row], changed_at=CHANGED, revision=3))
    return found


def test_a_day_is_a_whole_day_on_which_nobody_is_kept_from_anything() -> None:
    event = one(DIP)

    assert (event["SUMMARY"], event["CATEGORIES"].to_ical()) == ("Dip Iron 7 (J1)", b"dip")
    assert (event["DTSTART"].dt, event["DTEND"].dt) == (date(2026, 11, 24), date(2026, 11, 25))
    assert (event["DTSTAMP"].dt, event["SEQUENCE"]) == (CHANGED, 3)
    assert (event["STATUS"], event["TRANSP"]) == ("CONFIRMED", "TRANSPARENT")


@pytest.mark.parametrize(
    ("local", "utc"),
    [
        (datetime(2026, 3, 28, 17, 0, tzinfo=LONDON), "20260328T170000Z"),
        (datetime(2026, 3, 29, 17, 0, tzinfo=LONDON), "20260329T160000Z"),
        (datetime(2026, 10, 24, 17, 0, tzinfo=LONDON), "20261024T160000Z"),
        (datetime(2026, 10, 25, 17, 0, tzinfo=LONDON), "20261025T170000Z"),
        (datetime(2026, 10, 25, 1, 30, tzinfo=LONDON), "20261025T003000Z"),
        (datetime(2026, 10, 25, 1, 30, tzinfo=LONDON, fold=1), "20261025T013000Z"),
        (datetime(2027, 3, 27, 17, 0, tzinfo=LONDON), "20270327T170000Z"),
        (datetime(2027, 3, 28, 17, 0, tzinfo=LONDON), "20270328T160000Z"),
        (datetime(2027, 10, 30, 17, 0, tzinfo=LONDON), "20271030T160000Z"),
        (datetime(2027, 10, 31, 17, 0, tzinfo=LONDON), "20271031T170000Z"),
    ],
)
def test_an_hour_stays_the_hour_of_the_studio_whatever_its_clocks_do(
    local: datetime, utc: str
) -> None:
    event = one(Dated("pick-up", ("café",), "pick-up", since=local))

    assert event["DTSTART"].to_ical() == utc.encode()
    assert f"{event['DTSTART'].dt.astimezone(LONDON):%d %H:%M}" == f"{local:%d %H:%M}"
    assert "DTEND" not in event


def test_a_step_that_is_not_sure_says_so() -> None:
    at = CHANGED.replace(second=0)
    step = Dated("step", ("E",), "tannin", since=at, until=at.replace(hour=9), sure=False)

    event = one(step)

    assert (event["DTEND"].dt, event["STATUS"]) == (at.replace(hour=9), "TENTATIVE")
    assert "TRANSP" not in event


def test_no_line_is_longer_than_75_octets_and_each_ends_as_it_should() -> None:
    long = replace(DIP, text="é🜁" * 200 + "a" * 300, more="ü" * 75)

    said = calendar("Käthes Färberei; Küche, Hof\\" * 5, [long], changed_at=CHANGED, revision=0)

    assert said.endswith(b"END:VCALENDAR\r\n")
    assert b"\n" not in said.replace(b"\r\n", b"")
    lines = said.split(b"\r\n")
    assert max(len(line) for line in lines) == 75
    assert all(line.decode() for line in lines[:-1])
    (event,) = events(said)
    assert event["SUMMARY"] == "É🜁" + "é🜁" * 199 + "a" * 300
    assert event["DESCRIPTION"] == "Ü" + "ü" * 74


@given(
    st.text(st.characters(codec="utf-8", categories=("L", "M", "N", "P", "S", "Zs")), min_size=1)
)
def test_whatever_a_text_says_is_read_again(text: str) -> None:
    event = one(replace(DIP, text=f"x {text}\nand; more, of \\ it"))

    shown = "".join(sign for sign in text if sign.isprintable())
    assert event["SUMMARY"] == f"X {shown}\nand; more, of \\ it"


def test_signs_that_steer_are_left_out() -> None:
    assert one(replace(DIP, text="dip\x07 it\r\nEND:VEVENT"))["SUMMARY"] == "Dip it\nEND:VEVENT"


def test_a_calendar_without_anything_is_still_one() -> None:
    said = calendar("Pellitory Yard", [], changed_at=CHANGED, revision=0)

    found = Calendar.from_ical(said)
    assert found.walk("VEVENT") == []
    assert len(found.subcomponents) == 1
    assert found["X-WR-CALNAME"] == found["NAME"] == "Pellitory Yard"


def test_what_is_moved_keeps_its_name_and_another_thing_has_another() -> None:
    later = replace(DIP, day=date(2026, 11, 25), text="dip Iron 7 (J1) again")

    names = [one(row)["UID"] for row in (DIP, later, replace(DIP, key=("J2",)))]

    assert names[0] == names[1] != names[2]


def test_the_fingerprint_is_of_what_is_said_and_not_of_when() -> None:
    same = [digest_of_rows("Yard", [DIP]) for _ in range(2)]

    assert same[0] == same[1] != digest_of_rows("Yard", [replace(DIP, text="dip J2")])
    assert same[0] != digest_of_rows("Loft", [DIP])
