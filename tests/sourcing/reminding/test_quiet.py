"""Quiet hours: over midnight, over both changes of the clocks, and what cannot wait."""

from __future__ import annotations

from datetime import UTC, datetime, time, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from sourcing.reminding.facts import Quiet
from sourcing.reminding.quiet import outside

LONDON = ZoneInfo("Europe/London")
NIGHT = Quiet(time(21), time(7))


def went(at: str, until: str, quiet: Quiet | None, zone: ZoneInfo = LONDON) -> tuple[str, str]:
    """When a letter goes and until when, on the wall."""
    found = outside(
        *(datetime.fromisoformat(text).replace(tzinfo=zone) for text in (at, until)),
        quiet,
        zone=zone,
    )
    since, till = (moment.astimezone(zone) for moment in found)
    return f"{since:%d %H:%M}", f"{till:%d %H:%M}"


@pytest.mark.parametrize(
    ("at", "goes"),
    [
        ("2026-11-23T20:59", "23 20:59"),
        ("2026-11-23T21:00", "24 07:00"),
        ("2026-11-24T00:00", "24 07:00"),
        ("2026-11-24T06:59", "24 07:00"),
        ("2026-11-24T07:00", "24 07:00"),
    ],
)
def test_quiet_hours_over_midnight_on_both_sides_of_both_ends(at: str, goes: str) -> None:
    assert went(at, "2026-11-24T12:00", NIGHT)[0] == goes


@pytest.mark.parametrize(
    ("at", "goes"),
    [("2026-11-23T11:59", "11:59"), ("2026-11-23T12:00", "14:00"), ("2026-11-23T14:00", "14:00")],
)
def test_quiet_hours_within_a_day(at: str, goes: str) -> None:
    assert went(at, "2026-11-23T18:00", Quiet(time(12), time(14)))[0] == f"23 {goes}"


def test_a_letter_is_not_sent_in_quiet_hours_that_come_later() -> None:
    assert went("2026-11-23T08:00", "2026-11-24T12:00", NIGHT) == ("23 08:00", "23 21:00")


def test_a_letter_without_quiet_hours_keeps_its_use() -> None:
    assert went("2026-11-23T08:00", "2026-11-24T12:00", None) == ("23 08:00", "24 12:00")


@pytest.mark.parametrize(
    ("until", "went_out"),
    [
        ("2026-11-24T07:01", ("24 07:00", "24 07:01")),
        ("2026-11-24T07:00", ("23 20:00", "23 21:00")),
    ],
)
def test_what_would_be_of_no_use_afterwards_goes_the_hour_before(
    until: str, went_out: tuple[str, str]
) -> None:
    assert went("2026-11-24T06:30", until, NIGHT) == went_out


def test_a_gap_shorter_than_an_hour_is_used_whole() -> None:
    nearly = Quiet(time(12), time(11, 30))

    assert went("2026-11-24T06:30", "2026-11-24T07:00", nearly) == ("23 11:30", "23 12:00")


@pytest.mark.parametrize(
    ("at", "goes"),
    [
        # In 2026 clocks go forward on 29 March at 01:00 and back on 25 October at 02:00.
        ("2026-03-28T23:00", "2026-03-29T06:00+00:00"),
        ("2026-10-24T23:00", "2026-10-25T07:00+00:00"),
    ],
)
def test_quiet_hours_end_by_the_wall_over_both_changes_of_the_clocks(at: str, goes: str) -> None:
    since = datetime.fromisoformat(at).replace(tzinfo=LONDON)

    found, _ = outside(since, since + timedelta(days=1), NIGHT, zone=LONDON)

    assert found == datetime.fromisoformat(goes)


def test_an_hour_that_the_clocks_skip_is_no_quiet_hour() -> None:
    skipped = Quiet(time(1), time(2))

    assert went("2026-03-29T00:30", "2026-03-29T05:00", skipped) == ("29 00:30", "29 05:00")


CLOCKS = st.integers(0, 24 * 60 - 1).map(lambda minute: time(minute // 60, minute % 60))


# A busy machine draws slowly, which is no fault of what is drawn.
@settings(deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(
    st.integers(0, 2 * 365 * 24 * 60),
    st.integers(1, 72 * 60),
    CLOCKS,
    CLOCKS,
    st.sampled_from(["Europe/London", "Australia/Lord_Howe", "America/St_Johns", "UTC"]),
)
def test_no_letter_goes_in_quiet_hours_and_each_has_time_to_go(
    after: int, minutes: int, since: time, until: time, name: str
) -> None:
    zone = ZoneInfo(name)
    if since == until:
        return
    begins = datetime(2026, 1, 1, tzinfo=UTC) + timedelta(minutes=after)
    found, over = outside(
        begins, begins + timedelta(minutes=minutes), Quiet(since, until), zone=zone
    )

    assert found < over
    assert over <= begins + timedelta(minutes=minutes)
    wall = found.astimezone(zone).time()
    inside = since <= wall < until if since < until else not until <= wall < since
    # In the night of a change the wall shows an hour twice or not at all.
    changed = (found - timedelta(days=1)).astimezone(zone).utcoffset() != (
        found + timedelta(days=1)
    ).astimezone(zone).utcoffset()
    assert not inside or changed
