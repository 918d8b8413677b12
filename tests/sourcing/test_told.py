"""What a source may tell of, and the code and place of what it promises."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest

from inventory.models import Studio
from sourcing.models import Agreement, PickUp
from sourcing.pickups import miss_pickup, report_pickup
from sourcing.sources_seen import GiftFacts, source_at
from sourcing.told import moments_to_offer, where_it_goes
from tests.api.web.yard import load

CAFE, STONES, HEDGE = "Lantern Steps café", "avocado stones", "Hedge at the corner house"
MONDAY = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)
THURSDAY = datetime(2026, 11, 26, 17, tzinfo=UTC)


@pytest.fixture
def yard(db: None) -> Studio:
    load()
    return Studio.objects.get(name="Pellitory Yard")


def gift(studio: Studio, gives: str, at: datetime = MONDAY) -> GiftFacts:
    key = Agreement.objects.of(studio).get(gives=gives).source_id
    (found,) = source_at(studio, at=at, key=key).sources[0].gifts
    return found


def offered(studio: Studio, gives: str, at: datetime = MONDAY) -> list[str]:
    local = at.astimezone(ZoneInfo(studio.zone))
    moments = moments_to_offer(gift(studio, gives, at), at=local)
    return [f"{moment:%d %H:%M}" for moment in moments]


def test_agreed_days_are_offered_and_without_any_the_next_seven(yard: Studio) -> None:
    assert offered(yard, STONES) == ["23 17:00", "26 17:00", "30 17:00"]
    assert offered(yard, "privet") == ["27 09:00"]

    after = datetime(2026, 11, 27, 9, 1, tzinfo=UTC)

    assert offered(yard, "privet", after) == [f"{day:02} 09:00" for day in (28, 29, 30, 1, 2, 3, 4)]
    before = after - timedelta(minutes=1)
    assert offered(yard, "privet", before) == ["27 09:00"]


def test_no_day_is_offered_on_which_nothing_may_be_fetched(yard: Studio) -> None:
    last = datetime(2027, 2, 27, 12, 0, tzinfo=UTC)

    assert offered(yard, "privet", last) == ["28 09:00"]
    assert offered(yard, "privet", last + timedelta(days=1)) == []


def test_a_promise_has_a_code_of_its_day_and_goes_where_the_last_one_went(yard: Studio) -> None:
    goes = where_it_goes(yard, source=CAFE, gives=STONES, at=THURSDAY)

    assert (goes.lot, goes.place.kind, goes.place.code) == ("AV-1126", "fridge", "")
    privet = where_it_goes(yard, source=HEDGE, gives="privet", at=THURSDAY)
    assert (privet.lot, privet.place.kind) == ("PR-1126", "bench")
    weld = where_it_goes(yard, source=HEDGE, gives="weld", at=THURSDAY)
    assert weld.lot == "WE-1126"


def test_a_code_that_is_taken_gets_a_letter_and_a_promise_keeps_its_own(yard: Studio) -> None:
    place = where_it_goes(yard, source=CAFE, gives=STONES, at=THURSDAY).place
    report_pickup(yard, at=THURSDAY, source=HEDGE, gives="privet", lot="AV-1126", place=place,
                  weight_mg=1_000_000)  # fmt: skip
    goes = where_it_goes(yard, source=CAFE, gives=STONES, at=THURSDAY)
    assert goes.lot == "AV-1126a"

    report_pickup(yard, at=THURSDAY, source=CAFE, gives=STONES, lot=goes.lot, place=place,
                  pieces=58)  # fmt: skip

    assert where_it_goes(yard, source=CAFE, gives=STONES, at=THURSDAY).lot == "AV-1126a"


def test_a_note_stays_until_another_is_said(yard: Studio) -> None:
    place = where_it_goes(yard, source=CAFE, gives=STONES, at=THURSDAY).place
    promise = {"at": THURSDAY, "source": CAFE, "gives": STONES, "lot": "AV-1126", "place": place}

    report_pickup(yard, **promise, pieces=58, note="back door")
    report_pickup(yard, **promise, pieces=60)
    kept = PickUp.objects.of(yard).get(at=THURSDAY)
    assert (kept.pieces, kept.note) == (60, "back door")
    miss_pickup(yard, at=THURSDAY, source=CAFE, gives=STONES, note="")

    kept.refresh_from_db()
    assert (kept.how, kept.note) == ("missed", "")
