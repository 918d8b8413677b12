"""A clock that is days off is flagged and not believed."""

from __future__ import annotations

from datetime import UTC, datetime, timedelta

import pytest
from django.test import Client
from hypothesis import given
from hypothesis import strategies as st

from api.entries.clock import FAR_OFF, Clock, happened
from tests.api.entries.larder import enter

NOW = datetime(2026, 11, 27, 9, 0, tzinfo=UTC)
SECONDS = st.integers(min_value=-20 * 86_400, max_value=20 * 86_400)


def test_a_clock_three_days_ahead_is_put_right_by_as_much() -> None:
    ahead = timedelta(days=3)

    found = happened(NOW + ahead - timedelta(minutes=10), Clock(NOW, NOW + ahead))

    assert found.at == NOW - timedelta(minutes=10)
    assert found.off_s == 3 * 86_400


def test_a_clock_days_behind_is_put_right_too() -> None:
    found = happened(NOW - timedelta(days=9), Clock(NOW, NOW - timedelta(days=8)))

    assert (found.at, found.off_s) == (NOW - timedelta(days=1), -8 * 86_400)


def test_up_to_two_minutes_off_a_clock_is_believed_and_no_longer() -> None:
    said = NOW - timedelta(hours=1)

    assert happened(said, Clock(NOW, NOW + FAR_OFF)).off_s is None
    assert happened(said, Clock(NOW, NOW + FAR_OFF + timedelta(seconds=1))).off_s == 121


def test_without_a_clock_only_what_lies_ahead_is_not_believed() -> None:
    late, ahead = happened(NOW - timedelta(days=40), Clock(NOW)), NOW + timedelta(minutes=3)

    assert (late.at, late.off_s) == (NOW - timedelta(days=40), None)
    assert happened(ahead, Clock(NOW)).at == NOW
    assert happened(ahead, Clock(NOW)).off_s == 180


@given(said=SECONDS, off=SECONDS)
def test_nothing_has_happened_after_now_but_by_what_a_request_takes(said: int, off: int) -> None:
    clock = Clock(NOW, NOW + timedelta(seconds=off))

    found = happened(NOW + timedelta(seconds=said), clock)

    assert found.at <= NOW + FAR_OFF


@pytest.mark.usefixtures("yard")
def test_the_answer_says_how_far_the_clock_is_off(client: Client) -> None:
    said = enter(client, "dip", jar="J2", grade=4, occurred_at="2036-01-01T00:00+00:00").json()

    assert said["clock_off_s"] > 8 * 365 * 86_400
    assert said["said_at"].startswith("2036-01-01")
    assert said["occurred_at"] < "2036"
