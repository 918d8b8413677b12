"""What may come: agreements unrolled, amounts from the last six, reported ones as lots."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from zoneinfo import ZoneInfo

import pytest

from inventory.science.facts import Stay
from inventory.science.figures import Figure, Figures
from sourcing.arrivals import Arrivals, HandOver, Promise, permission_in_words
from sourcing.week.facts import PickUpExpected

LONDON = ZoneInfo("Europe/London")
MONDAY = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)
STONES = Promise("café", "avocado stones", (0, 3), time(17), carrying_note="kept", hands_min=45)
PIECES = Figures((Figure("avocado stones", "piece_mass_g", Decimal(42)),))


def past(*counts: int, gives: str = "avocado stones") -> list[HandOver]:
    """Pick-ups of the days before Monday, oldest first; 0 is a missed one."""
    days = [MONDAY - timedelta(days=len(counts) - n) for n in range(len(counts))]
    return [
        HandOver("café", gives, day, "made" if count else "missed", pieces=count or None)
        for day, count in zip(days, counts, strict=True)
    ]


def coming(
    *hand_overs: HandOver, promise: Promise = STONES, days: int = 7, at: datetime = MONDAY
) -> tuple[PickUpExpected, ...]:
    return arrivals(hand_overs, promise=promise, at=at).expected(days=days)


def arrivals(
    hand_overs: Sequence[HandOver],
    *,
    promise: Promise = STONES,
    at: datetime = MONDAY,
    foraged: frozenset[str] = frozenset(),
) -> Arrivals:
    return Arrivals(at, LONDON, (promise,), hand_overs, PIECES, foraged)


def test_likely_is_the_mean_and_worst_the_least_of_the_last_six() -> None:
    # The café of the worked week: 62, 55, 70, 48, 0, 65 stones → mean 50 = 2,100 g, worst 0.
    monday, thursday = coming(*past(65, 0, 48, 70, 55, 62))

    assert (monday.at, thursday.at) == (
        datetime(2026, 11, 23, 17, tzinfo=UTC),
        datetime(2026, 11, 26, 17, tzinfo=UTC),
    )
    assert (monday.likely_mg, monday.worst_mg, monday.piece_mg) == (2_100_000, 0, 42_000)
    assert (monday.hands_min, monday.in_window, monday.confirmed_mg) == (45, True, None)


def test_a_seventh_pick_up_back_no_longer_counts() -> None:
    (monday, _) = coming(*past(0, 60, 60, 60, 60, 60, 60))

    assert (monday.likely_mg, monday.worst_mg) == (2_520_000, 2_520_000)


def test_weights_are_taken_as_they_are() -> None:
    grams = [210, 180, 0, 240, 190, 200]  # skins of the worked week: likely 170 g, worst 0
    rows = [
        replace(row, gives="onion skins", pieces=None, weight_mg=gram * 1000 or None)
        for row, gram in zip(past(*grams), grams, strict=True)
    ]

    (saturday,) = coming(*rows, promise=replace(STONES, gives="onion skins", days=(5,)))

    assert (saturday.likely_mg, saturday.worst_mg, saturday.piece_mg) == (170_000, 0, None)


def test_a_new_source_is_taken_at_its_word_for_likely_and_at_nothing_for_worst() -> None:
    (monday, _) = coming(promise=replace(STONES, likely_mg=2_000_000))
    (counted, _) = coming(promise=replace(STONES, likely_pieces=10))

    assert (monday.likely_mg, monday.worst_mg) == (2_000_000, 0)
    assert (counted.likely_mg, counted.piece_mg) == (420_000, 42_000)


def test_a_source_that_nobody_knows_anything_of_brings_nothing() -> None:
    assert coming() == ()


def test_a_meeting_needs_no_amount_and_nobodys_word() -> None:
    def days(*hand_overs: HandOver, promise: Promise = STONES) -> list[int]:
        found = arrivals(hand_overs, promise=promise).meetings(days=7)
        return [row.at.day for row in found]

    thursday = datetime(2026, 11, 26, 17, tzinfo=UTC)
    said = {"lot": "AV-1126", "pieces": 40}

    assert days() == [23, 26]
    assert days(HandOver("café", "avocado stones", thursday, "missed")) == [23]
    assert days(HandOver("café", "avocado stones", thursday, "reported", **said)) == [23]
    assert days(promise=replace(STONES, closed=((date(2026, 11, 20), date(2026, 11, 23)),))) == [26]
    assert days(promise=replace(STONES, carrying_note="")) == []


def test_a_meeting_is_one_a_source_and_day_and_over_at_its_minute() -> None:
    skins = replace(STONES, gives="onion skins", at=time(16))

    def found(at: datetime) -> list[tuple[int, int, tuple[str, ...]]]:
        both = Arrivals(at, LONDON, (STONES, skins), (), PIECES)
        return [(row.at.day, row.at.hour, row.gives) for row in both.meetings(days=1)]

    at = datetime(2026, 11, 23, 16, tzinfo=UTC)
    assert found(at) == [(23, 16, ("avocado stones", "onion skins"))]
    assert found(at + timedelta(minutes=1)) == []


def test_a_pick_up_counts_from_its_minute_on() -> None:
    at = datetime(2026, 11, 23, 17, tzinfo=UTC)

    assert len(coming(*past(50), at=at)) == 2
    assert len(coming(*past(50), at=at + timedelta(minutes=1))) == 1


def test_a_reported_pick_up_is_confirmed_at_its_own_hour_and_becomes_a_lot() -> None:
    at = datetime(2026, 11, 23, 16, 40, tzinfo=UTC)
    said = HandOver(
        "café", "avocado stones", at, "reported", None, 58, "AV-1123", "fridge", "fridge"
    )
    found = arrivals([*past(50), said])

    (monday, thursday) = found.expected(days=7)
    (lot,) = found.lots()

    assert (monday.at, monday.confirmed_mg, thursday.confirmed_mg) == (at, 2_436_000, None)
    assert (lot.code, lot.left_mg, lot.arrives_at, lot.source) == (
        "AV-1123",
        2_436_000,
        at,
        "café",
    )
    assert lot.stays == (Stay(at, "fresh", "fridge", "fridge"),)
    assert lot.gathered_on == date(2026, 11, 23)


def test_a_reported_pick_up_on_no_agreed_day_is_expected_too() -> None:
    at = datetime(2026, 11, 24, 12, tzinfo=UTC)
    said = HandOver("café", "avocado stones", at, "reported", 500_000, lot="AV-1124")

    found = coming(*past(50), said)

    assert [(row.at.day, row.confirmed_mg) for row in found] == [
        (23, None),
        (24, 500_000),
        (26, None),
    ]


def test_a_pick_up_said_to_be_missed_is_marked() -> None:
    missed = HandOver("café", "avocado stones", datetime(2026, 11, 26, 17, tzinfo=UTC), "missed")

    assert [row.missed for row in coming(*past(50), missed)] == [False, True]


def test_a_pick_up_that_was_made_today_is_not_expected_again() -> None:
    made = HandOver(
        "café", "avocado stones", datetime(2026, 11, 23, 7, tzinfo=UTC), "made", pieces=50
    )

    assert [row.at.day for row in coming(*past(50), made)] == [26]


def test_what_was_noted_for_later_is_not_known_yet() -> None:
    made = HandOver(
        "café", "avocado stones", datetime(2026, 11, 23, 17, tzinfo=UTC), "made", pieces=500
    )

    (monday, _) = coming(*past(50), made)

    assert monday.likely_mg == 2_100_000


@pytest.mark.parametrize(
    ("promise", "why_not"),
    [
        (replace(STONES, since=date(2026, 11, 23)), ""),
        (replace(STONES, since=date(2026, 11, 24)), "window opens 24 November 2026"),
        (replace(STONES, last_on=date(2026, 11, 23)), ""),
        (replace(STONES, last_on=date(2026, 11, 22)), "window closed 22 November 2026"),
        (
            replace(STONES, closed=((date(2026, 11, 20), date(2026, 11, 23)),)),
            "closed till 23 November 2026",
        ),
        (replace(STONES, closed=((date(2026, 11, 20), date(2026, 11, 22)),)), ""),
        (replace(STONES, carrying_note=""), "no carrying note on record"),
    ],
)
def test_a_closed_window_says_why(promise: Promise, why_not: str) -> None:
    (monday, *_) = coming(*past(50), promise=promise)

    assert (monday.why_not, monday.in_window) == (why_not, not why_not)


def test_foraged_matter_needs_leave_and_no_carrying_note() -> None:
    hedge = replace(STONES, gives="privet", carrying_note="", likely_mg=2_000_000)
    foraged = frozenset({"privet"})

    (asked, *_) = arrivals([], promise=hedge, foraged=foraged).expected(days=7)
    leave = replace(hedge, permission="corner house, 1 Oct 2026")
    (given, *_) = arrivals([], promise=leave, foraged=foraged).expected(days=7)

    assert (asked.in_window, asked.why_not) == (False, "no permission on record")
    assert given.in_window


def test_a_reported_lot_of_foraged_matter_carries_its_leave() -> None:
    leave = replace(STONES, gives="privet", permission="corner house, 1 Oct 2026")
    said = HandOver("café", "privet", MONDAY, "reported", 1_000_000, lot="PR-1123")

    (lot,) = arrivals([said], promise=leave, foraged=frozenset({"privet"})).lots()

    assert (lot.foraged, lot.permission) == (True, "corner house, 1 Oct 2026")


def test_a_report_that_was_never_followed_is_forgotten_after_a_day() -> None:
    said = HandOver("café", "avocado stones", MONDAY, "reported", 1_000_000, lot="AV-1123")

    assert len(arrivals([said], at=MONDAY + timedelta(days=1)).lots()) == 1
    assert arrivals([said], at=MONDAY + timedelta(days=1, minutes=1)).lots() == ()


def test_permission_is_said_with_its_day_where_there_is_one() -> None:
    assert permission_in_words("the owner", date(2026, 10, 1)) == "the owner, 1 Oct 2026"
    assert permission_in_words("the owner", None) == "the owner"
    assert permission_in_words("", None) == ""


def test_a_stream_holds_what_was_agreed_and_each_day_once() -> None:
    tonight = HandOver("café", "avocado stones", MONDAY, "reported", pieces=58, lot="AV-1123")
    (stream,) = arrivals([*past(62, 0), tonight]).streams()

    assert (stream.source, stream.gives, stream.days) == ("café", "avocado stones", (0, 3))
    assert [(visit.on.day, visit.how, visit.pieces) for visit in stream.visits] == [
        (21, "made", 62),
        (22, "missed", None),
        (23, "made", 58),
    ]


def test_a_pick_up_made_after_the_moment_is_not_known_to_a_stream() -> None:
    later = HandOver("café", "avocado stones", MONDAY + timedelta(hours=9), "made", pieces=58)
    (stream,) = arrivals([later]).streams()

    assert stream.visits == ()


@pytest.mark.parametrize("foraged", [frozenset(), frozenset({"avocado stones"})])
def test_what_may_not_be_fetched_is_no_stream(foraged: frozenset[str]) -> None:
    no_leave = replace(STONES, carrying_note="", permission="")

    assert arrivals([], promise=no_leave, foraged=foraged).streams() == ()
