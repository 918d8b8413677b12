"""Real workers and a real Redis: killed, stopped, mute, emptied; every letter goes out once.

A letter goes out twice only where a worker was killed between the mail server's yes and our mark,
and then it is counted. The Redis is away for five seconds in every build, for a minute with
DYE_LARDER_LONG=1.
"""

from __future__ import annotations

import time
import urllib.request
from pathlib import Path

import pytest

from tests.api.reminders.postbox import mail_server
from tests.faults.places import LONG, larder
from tests.faults.workers import (
    OPEN,
    SENT,
    WORKER,
    broker,
    crew,
    file_letters,
    free_port,
    surplus,
    until,
    with_mail,
)

LETTERS, KILLS = 500, 10
AWAY_S = 60 if LONG else 5
pytestmark = [pytest.mark.needs_redis, pytest.mark.needs_postgres, pytest.mark.usefixtures("db")]


def test_five_hundred_letters_go_out_though_workers_are_killed_ten_times(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with (
        larder(tmp_path / "yard", loaded=False) as empty,
        mail_server(tmp_path) as server,
        broker(tmp_path) as jobs,
    ):
        place = with_mail(empty, server, REDIS_URL=jobs.url)
        ids = file_letters(place, LETTERS, "slow")
        began = time.monotonic()
        with crew(place, tmp_path, *WORKER) as workers:
            for _ in range(2):
                workers.start()
            for kill in range(KILLS):
                workers.start()
                goal = (kill + 1) * LETTERS // (KILLS + 2)
                until(lambda goal=goal: place.value(SENT) >= goal)  # type: ignore[misc]
                workers.kill_oldest()
            until(lambda: place.value(OPEN) == 0)
        took_s = time.monotonic() - began
        twice, perhaps = surplus(place, server, ids)
        sent = place.value(SENT)

    with capsys.disabled():
        print(
            f"\nworkers, {KILLS} kills, {sent} letters in {took_s:.0f} s: "
            f"{perhaps} perhaps twice, {twice} of them twice"
        )
    assert (len(ids), sent) == (LETTERS, LETTERS)


def test_a_broker_that_is_away_mute_or_emptied_loses_and_doubles_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with (
        larder(tmp_path / "yard", loaded=True) as loaded,
        mail_server(tmp_path) as server,
        broker(tmp_path) as jobs,
    ):
        port = free_port()
        place = with_mail(loaded, server, REDIS_URL=jobs.url)
        pages = crew(place, tmp_path, "manage.py", "runserver", "--noreload", str(port))
        with crew(place, tmp_path, *WORKER) as workers, pages as serving:
            workers.start()
            serving.start()
            # So many that jobs are in hand when the broker goes.
            ids = file_letters(place, 60, "slow")
            until(lambda: place.value(SENT) > 0)

            jobs.end()
            away_s = _page_answers(port, for_s=AWAY_S)
            jobs.start()
            back_s = until(lambda: place.value(OPEN) == 0)

            jobs.mute(on=True)
            ids |= file_letters(place, 20, "early")
            mute_s = _page_answers(port, for_s=2)
            jobs.mute(on=False)
            until(lambda: place.value(OPEN) == 0)

            ids |= file_letters(place, 200, "slow-more")
            until(lambda: place.value(OPEN) < 200)
            lost = jobs.empty()
            until(lambda: place.value(OPEN) == 0)
            twice, perhaps = surplus(place, server, ids)

    with capsys.disabled():
        print(
            f"\nbroker away {AWAY_S} s, all out {back_s:.0f} s after; mute; emptied of {lost} "
            f"jobs: {len(ids)} letters, {perhaps} perhaps twice, {twice} of them twice; "
            f"slowest page meanwhile {max(away_s, mute_s):.2f} s"
        )
    assert len(ids) == 280


def _page_answers(port: int, *, for_s: float) -> float:
    """A page asked again and again; the longest that it took."""
    longest_s, ends = 0.0, time.monotonic() + for_s
    while time.monotonic() < ends:
        began = time.monotonic()
        with urllib.request.urlopen(f"http://127.0.0.1:{port}/", timeout=60) as answer:
            assert answer.status == 200
        longest_s = max(longest_s, time.monotonic() - began)
        time.sleep(0.2)
    return longest_s
