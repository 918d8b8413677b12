"""A studio's calendar behind a member's link: what stands in it, who reads it, when it changed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest
from django.db import connection, transaction
from django.test import Client
from django.test.utils import CaptureQueriesContext
from icalendar import Calendar

from api.calendar_links import end_calendar, make_calendar
from api.feeds import calendar as feed
from api.models import Account, CalendarLink, Membership
from api.rights import Right
from inventory import ledger
from inventory.models import Studio
from sourcing.models import PickUp, Source
from tests.api.members import member, signed_in
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import load

MONDAY = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)
LONDON = ZoneInfo("Europe/London")


@dataclass
class Clock:
    at: datetime = MONDAY

    def now(self) -> datetime:
        return self.at


@pytest.fixture(scope="module")
def loaded_once(django_db_setup: None, django_db_blocker: Any) -> Iterator[None]:
    """The studio in a transaction that is never committed."""
    with django_db_blocker.unblock(), transaction.atomic():
        load()
        yield
        transaction.set_rollback(True)


@pytest.fixture
def studio(loaded_once: None, db: None) -> Studio:
    return Studio.objects.get(name="Pellitory Yard")


@pytest.fixture
def ada(studio: Studio) -> Membership:
    return member(studio, Right.LOOKER_ON)


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    found = Clock()
    monkeypatch.setattr(feed, "timezone", found)
    return found


def link_for(who: Membership) -> str:
    return f"/calendar/{make_calendar(who, at=MONDAY)}.ics"


def events(answer: Any) -> dict[str, Any]:
    """The events of a calendar by what they say."""
    assert answer.status_code == 200, answer.content
    return {
        str(each["SUMMARY"]): each for each in Calendar.from_ical(answer.content).walk("VEVENT")
    }


def test_the_worked_week_stands_in_the_calendar(ada: Membership) -> None:
    answer = Client().get(link_for(ada))

    found = events(answer)
    assert answer["Content-Type"] == "text/calendar; charset=utf-8"
    assert found["Dip Iron 7 (J1)"]["DTSTART"].dt == date(2026, 11, 24)
    assert found["Dip Iron 3 (J3) again"]["DTSTART"].dt == date(2026, 11, 23)
    frozen = found["Freeze or use AV-1116 (avocado stones, 1,180 g): last good day"]
    assert frozen["DTSTART"].dt == date(2026, 11, 23)
    bath = found["Use J6 (nettle bath, 8 L) or tip it out: last good day"]
    assert bath["DTSTART"].dt == date(2026, 11, 24)
    scour = found["Blush (A): scour in P1, 36 L, on R1"]
    assert scour["DTSTART"].dt == MONDAY.replace(hour=9, minute=0)
    assert scour["DTEND"].dt == MONDAY.replace(hour=10, minute=48)
    assert scour["STATUS"] == "CONFIRMED"
    assert "Oak Grey (E): tannin in B1, 36 L" in found
    order = found["Last day to order wool from near shop"]
    assert order["DTSTART"].dt == date(2026, 11, 30)
    assert order["DESCRIPTION"] == "Needed by Mon 7 Dec (G)"


def test_pick_ups_stand_at_their_hour_with_how_sure_they_are(ada: Membership) -> None:
    answer = Client().get(link_for(ada))

    stones = "Pick-up at Lantern Steps café: avocado stones"
    visits = [
        each
        for each in Calendar.from_ical(answer.content).walk("VEVENT")
        if each["SUMMARY"] == stones
    ]
    assert [f"{each['DTSTART'].dt:%d %H:%M} {each['STATUS']}" for each in visits[:3]] == [
        "23 17:00 CONFIRMED", "26 17:00 TENTATIVE", "30 17:00 TENTATIVE",
    ]  # fmt: skip
    assert visits[0]["DTEND"].dt - visits[0]["DTSTART"].dt == timedelta(minutes=45)
    assert visits[0]["DESCRIPTION"] == "Told of: avocado stones"
    assert visits[1]["DESCRIPTION"] == "Nobody has told of it yet"
    crates = "Pick-up at Three Crates greengrocer: onion skins and red cabbage"
    assert events(answer)[crates]["DTSTART"].dt.weekday() == 5
    assert len(visits) == 8  # two a week over four weeks


def test_four_weeks_are_ahead_and_not_a_day_more(ada: Membership) -> None:
    found = Calendar.from_ical(Client().get(link_for(ada)).content).walk("VEVENT")

    days = {each["DTSTART"].to_ical()[:8].decode() for each in found}
    assert min(days) == "20261123"
    assert "20261220" >= max(days) >= "20261217"


def test_an_unchanged_week_has_the_same_bytes_and_is_answered_with_304(
    ada: Membership, clock: Clock
) -> None:
    address = link_for(ada)
    first = Client().get(address)
    clock.at += timedelta(minutes=4, seconds=3)

    second = Client().get(address)

    assert second.content == first.content
    assert (second["ETag"], second["Last-Modified"]) == (first["ETag"], first["Last-Modified"])
    for asked in (
        {"If-None-Match": first["ETag"]},
        {"If-Modified-Since": first["Last-Modified"]},
    ):
        again = Client().get(address, headers=asked)
        assert (again.status_code, again.content) == (304, b"")
        assert again["ETag"] == first["ETag"]
    assert Client().head(address).status_code == 200


def test_a_changed_week_is_a_later_revision_of_the_same_events(
    ada: Membership, studio: Studio, clock: Clock
) -> None:
    address, before = (
        link_for(ada),
        "Freeze or use AV-1116 (avocado stones, 1,180 g): last good day",
    )
    first = Client().get(address)
    ledger.draw(studio, entry=uuid4(), at=MONDAY, takes=[("AV-1116", 80_000)])
    clock.at += timedelta(minutes=3)

    second = Client().get(address, headers={"If-None-Match": first["ETag"]})

    old, new = events(first)[before], events(second)[before.replace("1,180", "1,100")]
    assert new["UID"] == old["UID"]
    assert (old["SEQUENCE"], new["SEQUENCE"]) == (1, 2)
    assert new["DTSTAMP"].dt == clock.at.replace(microsecond=0)
    assert second["Last-Modified"] != first["Last-Modified"]


@pytest.mark.parametrize("year", [2026, 2027])
@pytest.mark.parametrize(("month", "day"), [(3, 20), (10, 16)])
def test_a_pick_up_stays_at_five_when_the_clocks_change(
    ada: Membership, clock: Clock, year: int, month: int, day: int
) -> None:
    clock.at = datetime(year, month, day, 12, 0, tzinfo=UTC)

    found = Calendar.from_ical(Client().get(link_for(ada)).content).walk("VEVENT")

    visits = [each["DTSTART"].dt for each in found if "Lantern Steps" in each["SUMMARY"]]
    assert {at.astimezone(LONDON).hour for at in visits} == {17}
    assert {at.astimezone(UTC).hour for at in visits} == {16, 17}


def test_a_link_that_opens_nothing_is_answered_alike(ada: Membership, studio: Studio) -> None:
    ben = member(studio, Right.DYER, "ben@yard.example")
    cara = member(studio, Right.DYER, "cara@yard.example")
    ended, left, closed = link_for(ada), link_for(ben), link_for(cara)
    end_calendar(ada, at=MONDAY)
    Membership.objects.of(studio).filter(pk=ben.pk).update(ended_at=MONDAY)
    Account.objects.filter(pk=cara.account_id).update(is_active=False)
    never, long = "/calendar/never.ics", f"/calendar/{'x' * 101}.ics"

    answers = [Client().get(each) for each in (ended, left, closed, never, long)]

    assert {answer.status_code for answer in answers} == {404}
    assert len({answer.content for answer in answers}) == 1
    assert "Pellitory" not in words(answers[0])
    assert sound(answers[0]) == []


def test_a_new_link_ends_the_one_before_and_only_digests_are_kept(
    ada: Membership, studio: Studio
) -> None:
    ben = member(studio, Right.OWNER, "ben@yard.example")
    first, his = link_for(ada), link_for(ben)

    second = link_for(ada)

    found = [Client().get(each).status_code for each in (first, second, his)]
    assert found == [404, 200, 200]
    kept = str(list(CalendarLink.everywhere().values()))
    assert second.split("/")[2].removesuffix(".ics") not in kept


def test_the_calendar_is_not_for_searches_and_asked_again_each_time(ada: Membership) -> None:
    answer = Client().get(link_for(ada))

    assert answer["Cache-Control"] == "private, no-cache"
    assert answer["X-Robots-Tag"] == "noindex"
    assert answer["Referrer-Policy"] == "no-referrer"
    assert Client().post(link_for(ada)).status_code == 405


def test_it_asks_no_more_of_a_hundred_times_the_data(ada: Membership, studio: Studio) -> None:
    address = link_for(ada)

    def asked() -> int:
        with CaptureQueriesContext(connection) as queries:
            assert Client().get(address).status_code == 200
        return len(queries)

    before = asked()
    cafe = Source.objects.of(studio).get(name="Lantern Steps café")
    PickUp.objects.of(studio).bulk_create(
        PickUp(studio=studio, source=cafe, gives="avocado stones", how="made", weight_mg=1_000,
               at=MONDAY - timedelta(days=n, hours=1))
        for n in range(1, 600)
    )  # fmt: skip

    assert asked() <= before <= 8


def test_a_member_makes_and_ends_a_link_on_their_account(ada: Membership) -> None:
    client = signed_in(ada)
    assert "Make a link" in words(client.get("/account/"))

    page = client.post("/account/", {"do": "make-calendar"})

    assert sound(page) == []
    (secret,) = read(page).query("code.account-secret")
    address = secret.to_text().strip()
    assert address.startswith("http://testserver/calendar/")
    assert Client().get(address).status_code == 200
    again = client.get("/account/")
    assert sound(again) == []
    assert "last used: Mon 23 Nov" in words(again)
    assert address not in again.content.decode()

    assert client.post("/account/", {"do": "end-calendar"}).status_code == 303

    assert Client().get(address).status_code == 404
    assert "last used" not in words(client.get("/account/"))
