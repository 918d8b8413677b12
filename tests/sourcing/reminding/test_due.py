"""What is due when in the worked week (the project's design papers, 13.4 to 13.7)."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from itertools import pairwise
from uuid import UUID

import pytest

from inventory.science.facts import Dip, LotFacts, Shelf
from sourcing.ordering.facts import Coming, Stuff
from sourcing.reminding.due import reminders_between, still_wanted
from sourcing.reminding.facts import DipDue, Kind, Quiet
from sourcing.week.facts import Meeting, WeekFacts
from tests.sourcing.reminding.yard import CAFE, DYER, TOLD, buying, due, facts, wanting
from tests.sourcing.week.pellitory import FACTS, nov, own


def with_lot(code: str, **new: object) -> WeekFacts:
    """The worked week with one lot changed."""
    lots = tuple(replace(lot, **new) if lot.code == code else lot for lot in FACTS.shelf.lots)
    return shelf(lots=lots)


def with_jar(code: str, **new: object) -> WeekFacts:
    """The worked week with one jar changed."""
    jars = tuple(replace(jar, **new) if jar.code == code else jar for jar in FACTS.shelf.jars)
    return shelf(jars=jars)


def shelf(**new: object) -> WeekFacts:
    return replace(FACTS, shelf=replace(FACTS.shelf, **new))


def test_the_mornings_of_the_worked_week() -> None:
    # By hand from the papers: AV-1116 ends Mon 23, the nettle bath J6 Tue 24, the cabbage Thu 26,
    # the stones that come on Monday, in the fridge, seven days later; Iron 7 is dipped on Tue 24;
    # the light card of B is out on Mon 30. G needs its wool by Mon 7 Dec: near shop, five working
    # days, can be asked until Mon 30, which is told three days before and on the day; the far
    # mill's last day was Thu 19.
    found = due(facts(at=nov(23, 18)), nov(23), nov(30, 12))

    assert [row for row in found if row[0] != "morning sheet"] == [
        ("last good day", "AV-1116", "Mon 23 07:30"),
        ("last good day", "J6", "Mon 23 07:30"),
        ("dip", "J1", "Tue 24 07:30"),
        ("last good day", "J6", "Tue 24 07:30"),
        ("last good day", "CB-1121", "Wed 25 07:30"),
        ("day before", "", "Wed 25 16:00"),
        ("last good day", "CB-1121", "Thu 26 07:30"),
        ("order-by day", "G/near shop", "Fri 27 07:30"),
        ("last good day", "AV-1123", "Sun 29 07:30"),
        ("last good day", "AV-1123", "Mon 30 07:30"),
        ("light test", "B", "Mon 30 07:30"),
        ("order-by day", "G/near shop", "Mon 30 07:30"),
    ]


def test_a_morning_sheet_goes_each_day_at_the_readers_hour() -> None:
    found = due(facts(wanting("morning sheet", at=time(6, 45))), nov(23), nov(26))

    assert found == [
        ("morning sheet", "", f"{day} 06:45") for day in ("Mon 23", "Tue 24", "Wed 25")
    ]


def test_the_end_of_a_period_is_not_in_it_and_its_beginning_is() -> None:
    known = facts(wanting("morning sheet"))

    assert due(known, nov(23, 7, 30), nov(24, 7, 30)) == [("morning sheet", "", "Mon 23 07:30")]
    later = nov(23, 7, 30) + timedelta(microseconds=1)
    assert due(known, later, nov(24, 7, 30)) == []


@pytest.mark.parametrize(
    ("day", "moment"),
    [
        (date(2026, 10, 24), "2026-10-24T06:30+00:00"),
        (date(2026, 10, 25), "2026-10-25T07:30+00:00"),  # clocks went back at 02:00 summer time
        (date(2027, 3, 27), "2027-03-27T07:30+00:00"),
        (date(2027, 3, 28), "2027-03-28T06:30+00:00"),  # clocks went forward at 01:00
    ],
)
def test_the_sheet_keeps_its_hour_on_the_wall_over_both_clock_changes(
    day: date, moment: str
) -> None:
    wish = replace(wanting("morning sheet"), since=date(2026, 1, 1))
    begins = datetime.combine(day, time(0), tzinfo=UTC)
    known = facts(wish, at=begins)

    (row,) = reminders_between(known, since=begins, until=begins + timedelta(days=1))

    assert row.at.isoformat(timespec="minutes") == moment


def test_an_hour_that_comes_twice_or_never_is_one_sheet_a_day() -> None:
    wish = replace(wanting("morning sheet", at=time(1, 30)), since=date(2026, 1, 1))
    for day in (date(2026, 10, 25), date(2027, 3, 28)):
        begins = datetime.combine(day, time(0), tzinfo=UTC) - timedelta(days=1)
        known = facts(wish, at=begins)
        rows = reminders_between(known, since=begins, until=begins + timedelta(days=3))

        assert len({row.key for row in rows}) == len(rows) == 3


def test_nothing_is_due_before_the_readers_first_day() -> None:
    wish = replace(wanting("morning sheet"), since=date(2026, 11, 25))

    assert due(facts(wish), nov(23), nov(26)) == [("morning sheet", "", "Wed 25 07:30")]


def test_what_was_stopped_is_not_due_and_the_rest_is() -> None:
    wish = replace(wanting("dip", "last good day"), stopped=frozenset[Kind]({"dip"}))

    assert due(facts(wish), nov(24), nov(25)) == [("last good day", "J6", "Tue 24 07:30")]


def test_without_an_hour_of_the_sheet_the_studios_hour_holds() -> None:
    known = facts(wanting("dip", at=None))
    own_hour = replace(
        FACTS,
        figures=replace(
            FACTS.figures, rows=(*FACTS.figures.rows, own("studio", "morning_reminder_h", "6.25"))
        ),
    )

    assert due(known, nov(24), nov(25)) == [("dip", "J1", "Tue 24 07:30")]
    early = facts(wanting("dip", at=None), week=own_hour)
    assert due(early, nov(24), nov(25)) == [("dip", "J1", "Tue 24 06:15")]


# -- dips ------------------------------------------------------------------------------------


def test_a_jar_that_waits_on_is_told_once_and_not_every_day() -> None:
    known = facts(wanting("dip"), at=nov(26, 9))

    assert due(known, nov(22), nov(30)) == [("dip", "J1", "Tue 24 07:30")]
    (row,) = reminders_between(known, since=nov(22), until=nov(30))
    assert isinstance(row.what.thing, DipDue)
    assert (row.what.thing.jar, row.what.thing.age_days) == ("Iron 7 (J1)", 7)


def test_a_jar_dipped_meanwhile_is_not_told() -> None:
    dipped = with_jar("J1", dips=(Dip(nov(24, 7), 3),))

    assert due(facts(wanting("dip"), week=dipped, at=nov(24, 7, 15)), nov(24), nov(25)) == []
    assert due(facts(wanting("dip"), at=nov(24, 7, 15)), nov(24), nov(25)) != []


def test_a_jar_used_up_meanwhile_is_not_told() -> None:
    empty = with_jar("J1", left_ul=0)

    assert due(facts(wanting("dip"), week=empty), nov(24), nov(25)) == []


def test_a_strip_that_grows_too_old_is_told_on_the_first_day() -> None:
    # Iron 6 was dipped on 2 November; a strip counts for 90 days, so its 91st is 1 February.
    known = facts(wanting("dip"))
    since, until = datetime(2027, 1, 30, tzinfo=UTC), datetime(2027, 2, 4, tzinfo=UTC)

    assert due(known, since, until) == [("dip", "J2", "Mon 01 07:30")]


def test_a_dip_may_still_be_told_two_days_later() -> None:
    (row,) = reminders_between(facts(wanting("dip")), since=nov(24), until=nov(25))

    assert row.until == nov(27)


# -- last good days --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("new", "told"),
    [({}, 2), ({"left_mg": 0}, 0), ({"set_aside": "furry"}, 0), ({"labelled": False}, 0)],
)
def test_a_lot_that_is_no_longer_used_is_not_told(new: dict[str, object], told: int) -> None:
    known = facts(wanting("last good day"), week=with_lot("CB-1121", **new))

    assert len([row for row in due(known, nov(25), nov(27)) if row[1] == "CB-1121"]) == told


def test_a_lot_that_is_not_here_yet_is_not_told() -> None:
    known = facts(wanting("last good day"), at=nov(23, 16, 59))

    assert [row for row in due(known, nov(29), nov(30, 12)) if row[1] == "AV-1123"] == []


def test_the_word_of_the_day_before_is_of_no_use_on_the_day() -> None:
    known = facts(wanting("last good day"))
    rows = reminders_between(known, since=nov(25), until=nov(27))

    assert [(row.at, row.until) for row in rows] == [
        (nov(25, 7, 30), nov(26)),
        (nov(26, 7, 30), nov(27)),
    ]


# -- the day before a pick-up ----------------------------------------------------------------


def test_a_source_hears_of_its_own_pick_ups_alone() -> None:
    others = replace(TOLD, source="Three Crates greengrocer")

    assert due(facts(TOLD), nov(23), nov(27)) == [("day before", "", "Wed 25 16:00")]
    assert due(facts(others), nov(23), nov(27)) == []


def test_a_source_is_told_until_the_hour_of_the_pick_up() -> None:
    (row,) = reminders_between(facts(TOLD), since=nov(25), until=nov(26))

    assert row.until == nov(26, 17)


def test_two_things_of_one_day_are_one_word() -> None:
    meeting = Meeting(CAFE, nov(26, 17), ("avocado stones", "onion skins"))

    assert len(due(facts(TOLD, meetings=(meeting,)), nov(25), nov(26))) == 1


# -- order-by days and light tests -----------------------------------------------------------


def test_an_order_by_day_is_told_three_days_before_and_on_the_day() -> None:
    # The worked week, run G, needed by Mon 7 Dec: the far mill's last day was Thu 19 Nov; the near
    # shop takes five working days, so its last is Mon 30 Nov.
    known = facts(wanting("order-by day"), week=buying(at=nov(16)))

    assert due(known, nov(15), nov(30, 12)) == [
        ("order-by day", "G/far mill", "Mon 16 07:30"),
        ("order-by day", "G/far mill", "Thu 19 07:30"),
        ("order-by day", "G/near shop", "Fri 27 07:30"),
        ("order-by day", "G/near shop", "Mon 30 07:30"),
    ]


def test_nothing_is_told_of_fibre_that_was_ordered_or_cannot_be_had() -> None:
    week = buying(at=nov(16))
    coming = Coming(
        code="order 2026-001",
        label="2026-001",
        supplier="near shop",
        state="confirmed",
        stuff=Stuff("wool", "yarn"),
        left_mg=4_000_000,
        scoured=True,
        scour_loss=Fraction(0),
        arrives_on=date(2026, 12, 1),
        confirmed=True,
    )
    none_left = tuple(replace(offer, most_packs=0) for offer in week.offers)
    late = replace(week, at=datetime(2026, 12, 7, 8, tzinfo=UTC))

    for other in (replace(week, coming=(coming,)), replace(week, offers=none_left), late):
        known = facts(wanting("order-by day"), week=other)
        assert due(known, nov(15), datetime(2026, 12, 9, tzinfo=UTC)) == []


def test_a_light_test_accepted_in_writing_is_not_told() -> None:
    runs = tuple(
        replace(run, wishes=tuple(replace(wish, accepted_in_writing=True) for wish in run.wishes))
        for run in FACTS.runs
    )

    known = facts(wanting("light test"), week=replace(FACTS, runs=runs))

    assert due(known, nov(30), nov(30, 12)) == []


# -- quiet hours, keys, and the moment of sending ---------------------------------------------


def test_what_falls_into_quiet_hours_waits_for_their_end() -> None:
    wish = wanting("dip", quiet=Quiet(time(21), time(8, 15)))

    assert due(facts(wish), nov(24), nov(25)) == [("dip", "J1", "Tue 24 08:15")]


def test_a_sheet_that_would_be_stale_goes_before_quiet_hours() -> None:
    wish = wanting("morning sheet", quiet=Quiet(time(21), time(13)))
    (row,) = reminders_between(facts(wish), since=nov(22, 12), until=nov(23, 12))

    assert (row.at, row.until) == (nov(22, 20), nov(22, 21))
    assert (row.wanted_at, row.what.day) == (nov(23, 7, 30), date(2026, 11, 23))


def test_a_key_is_the_same_whenever_it_is_asked_and_fits_the_outbox() -> None:
    keys = [
        {row.key for row in reminders_between(facts(at=at), since=nov(22), until=nov(28))}
        for at in (nov(23, 18), nov(23, 19))
    ]

    assert keys[0] == keys[1]
    assert all(len(key) <= 200 for key in keys[0])


def test_no_two_readers_share_a_key() -> None:
    other = replace(DYER, mark=UUID(int=3), reader="the assistant")
    rows = reminders_between(facts(DYER, other), since=nov(23), until=nov(30, 12))

    assert len({row.key for row in rows}) == len(rows) > 20


def test_the_pieces_of_a_period_hold_what_the_whole_holds() -> None:
    known = facts(at=nov(23, 18))
    hours = [nov(23) + timedelta(hours=n) for n in range(0, 24 * 7, 5)]
    whole = reminders_between(known, since=hours[0], until=hours[-1])
    pieces = [
        row
        for since, until in pairwise(hours)
        for row in reminders_between(known, since=since, until=until)
    ]

    assert pieces == list(whole)


@pytest.mark.parametrize(
    ("change", "wanted"),
    [
        ({}, True),
        ({"week": with_jar("J1", dips=(Dip(nov(24, 7), 3),))}, False),
        ({"week": with_jar("J1", left_ul=0)}, False),
        ({"wishes": (replace(DYER, stopped=frozenset[Kind]({"dip"})),)}, False),
        ({"wishes": (replace(DYER, kinds=("morning sheet",)),)}, False),
        ({"wishes": ()}, False),
        ({"wishes": (replace(DYER, quiet=Quiet(time(21), time(10))),)}, True),
    ],
)
def test_at_the_moment_of_sending_the_facts_decide_again(
    change: dict[str, object], wanted: bool
) -> None:
    known = facts(wanting("dip"))
    (row,) = reminders_between(known, since=nov(24), until=nov(25))
    changed = replace(known, **change)  # type: ignore[arg-type]
    later = replace(changed, week=replace(changed.week, at=nov(24, 7, 40)))

    assert still_wanted(later, row.key, at=row.at) is wanted


def test_a_pick_up_reported_meanwhile_is_not_told_of() -> None:
    (row,) = reminders_between(facts(TOLD), since=nov(25), until=nov(26))

    assert still_wanted(facts(TOLD, at=nov(25, 16, 5)), row.key, at=row.at)
    assert not still_wanted(facts(TOLD, at=nov(25, 16, 5), meetings=()), row.key, at=row.at)


def test_lots_without_number_are_bounded() -> None:
    cabbage = next(lot for lot in FACTS.shelf.lots if lot.code == "CB-1121")
    lots: tuple[LotFacts, ...] = tuple(replace(cabbage, code=f"CB-{n}") for n in range(2_100))
    many: Shelf = replace(FACTS.shelf, lots=lots)
    known = facts(wanting("last good day"), week=replace(FACTS, shelf=many))

    assert len(reminders_between(known, since=nov(25), until=nov(26))) == 2_000
