"""Moments and days as people ask for them; the hours at which clocks change stand on both sides."""

from __future__ import annotations

from zoneinfo import ZoneInfo

import pytest

from api.asked import (
    DaysUnreadable,
    MomentSkipped,
    MomentTwice,
    MomentUnreadable,
    days_asked,
    moment_asked,
)

LONDON = ZoneInfo("Europe/London")


@pytest.mark.parametrize(
    ("text", "moment"),
    [
        ("2026-11-23T07:30", "2026-11-23T07:30:00+00:00"),
        ("2026-11-23 07:30", "2026-11-23T07:30:00+00:00"),
        (" 2026-11-23T07:30:15 ", "2026-11-23T07:30:15+00:00"),
        ("2026-07-06T07:30", "2026-07-06T07:30:00+01:00"),
        ("2026-07-06T07:30Z", "2026-07-06T08:30:00+01:00"),
        ("2026-07-06T07:30+02:00", "2026-07-06T06:30:00+01:00"),
        ("2026-07-06T07:30 02:00", "2026-07-06T06:30:00+01:00"),  # + unescaped in an address
        ("2028-02-29T12:00", "2028-02-29T12:00:00+00:00"),
    ],
)
def test_a_moment_without_offset_is_the_studios_local_time(text: str, moment: str) -> None:
    assert moment_asked(text, LONDON).isoformat() == moment


@pytest.mark.parametrize(
    "text",
    [
        "", "now", "2026-11-23", "07:30", "2026-11-23T7:30", "2026-11-23T24:00", "2026-02-29T12:00",
        "2026-11-23T07:30+99:00", "23 Nov 2026 07:30", "1899-12-31T12:00", "2200-01-01T12:00",
        "2026-11-23T07:30\x00", "٢٠٢٦-11-23T07:30", "9" * 5000,
    ],
)  # fmt: skip
def test_what_is_no_moment_is_answered_with_the_form_to_write(text: str) -> None:
    with pytest.raises(MomentUnreadable) as refused:
        moment_asked(text, LONDON)

    assert str(refused.value).endswith(
        " is no moment. Write day and time such as 2026-11-23T07:30, by the studio's clock, or "
        "with an offset such as 2026-11-23T07:30+00:00."
    )
    assert len(str(refused.value)) < 250


@pytest.mark.parametrize(("text", "offset_h"), [("2026-03-29T00:59", 0), ("2026-03-29T02:00", 1)])
def test_the_hours_beside_the_skipped_one_are_read(text: str, offset_h: int) -> None:
    moment = moment_asked(text, LONDON)

    offset = moment.utcoffset()
    assert offset is not None
    assert offset.total_seconds() == offset_h * 3600


@pytest.mark.parametrize("clock", ["01:00", "01:59"])
def test_the_skipped_hour_is_answered_with_a_sentence(clock: str) -> None:
    with pytest.raises(MomentSkipped) as refused:
        moment_asked(f"2026-03-29T{clock}", LONDON)

    assert str(refused.value) == (
        f"There is no {clock} on Sun 29 Mar 2026 in Europe/London: the clocks go forward over it. "
        "Give an earlier or a later time."
    )


def test_the_doubled_hour_is_answered_with_both_offsets() -> None:
    with pytest.raises(MomentTwice) as refused:
        moment_asked("2026-10-25T01:30", LONDON)

    assert str(refused.value) == (
        "01:30 on Sun 25 Oct 2026 comes twice in Europe/London: the clocks go back. Say which "
        "with its offset: 2026-10-25T01:30+01:00 or 2026-10-25T01:30+00:00."
    )


def test_the_doubled_hour_is_read_with_an_offset() -> None:
    first = moment_asked("2026-10-25T01:30+01:00", LONDON)
    second = moment_asked("2026-10-25T01:30+00:00", LONDON)

    assert (second.timestamp() - first.timestamp()) == 3600
    assert {f"{each:%d %H:%M}" for each in (first, second)} == {"25 01:30"}


@pytest.mark.parametrize("text", ["2026-10-25T00:59", "2026-10-25T02:00"])
def test_the_hours_beside_the_doubled_one_are_read(text: str) -> None:
    assert moment_asked(text, LONDON).isoformat(timespec="minutes")[:16] == text


@pytest.mark.parametrize(("text", "days"), [(None, 7), ("1", 1), ("28", 28), (" 3 ", 3)])
def test_days_are_one_to_twenty_eight_and_a_week_unasked(text: str | None, days: int) -> None:
    assert days_asked(text) == days


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("0", "0 days asked for; a period has 1 to 28 days."),
        ("29", "29 days asked for; a period has 1 to 28 days."),
        ("", "“” is no number of days. Write a whole number, 1 to 28."),
        ("-1", "“-1” is no number of days. Write a whole number, 1 to 28."),
        ("7.5", "“7.5” is no number of days. Write a whole number, 1 to 28."),
        ("٣", "“٣” is no number of days. Write a whole number, 1 to 28."),
        ("1e1", "“1e1” is no number of days. Write a whole number, 1 to 28."),
    ],
)
def test_other_days_are_refused_with_the_range(text: str, sentence: str) -> None:
    with pytest.raises(DaysUnreadable) as refused:
        days_asked(text)

    assert str(refused.value) == sentence
