"""The runner beside the pages: serving processes killed, a mail server that hangs."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from tests.api.reminders.postbox import mail_server
from tests.faults.places import LONG, larder
from tests.faults.workers import (
    OPEN,
    SENT,
    crew,
    file_letters,
    free_port,
    surplus,
    until,
    with_mail,
)

LETTERS, KILLS = (500, 20) if LONG else (60, 3)
SERVER = ("manage.py", "runserver", "--noreload")
IN_HAND = "SELECT count(*) FROM api_outboxletter WHERE handed_at IS NOT NULL AND sent_at IS NULL"
pytestmark = pytest.mark.usefixtures("db")


@pytest.mark.needs_sqlite
def test_every_letter_goes_out_though_serving_processes_are_killed(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with larder(tmp_path / "yard", loaded=False) as empty, mail_server(tmp_path) as server:
        place = with_mail(empty, server)
        ids = file_letters(place, LETTERS, "slow")
        began = time.monotonic()
        with crew(place, tmp_path, *SERVER) as serving:
            serving.start(str(free_port()))
            for kill in range(KILLS):
                serving.start(str(free_port()))
                goal = (kill + 1) * LETTERS // (KILLS + 2)
                until(lambda goal=goal: place.value(SENT) >= goal)  # type: ignore[misc]
                serving.kill_oldest()
            until(lambda: place.value(OPEN) == 0)
        took_s = time.monotonic() - began
        twice, perhaps = surplus(place, server, ids)

    with capsys.disabled():
        print(
            f"\nrunner, {KILLS} kills, {len(ids)} letters in {took_s:.0f} s: "
            f"{perhaps} perhaps twice, {twice} of them twice"
        )
    assert len(ids) == LETTERS


def test_a_process_killed_between_yes_and_mark_repeats_the_letter_and_counts_it(
    tmp_path: Path,
) -> None:
    with larder(tmp_path / "yard", loaded=False) as empty, mail_server(tmp_path) as server:
        place = with_mail(empty, server, DYE_LARDER_MAIL_WAIT="4")
        (name,) = file_letters(place, 1, "late")
        with crew(place, tmp_path, *SERVER) as serving:
            serving.start(str(free_port()))
            until(lambda: place.value(IN_HAND) == 1 and server.taken()[name] == 1)
            serving.kill_oldest()
            assert (place.value(OPEN), place.value(IN_HAND)) == (1, 1)

            serving.start(str(free_port()))
            until(lambda: place.value(OPEN) == 0)

        assert surplus(place, server, {name}) == (1, 1)


@pytest.mark.needs_sqlite
def test_others_write_while_the_mail_server_says_nothing(tmp_path: Path) -> None:
    with larder(tmp_path / "yard", loaded=False) as empty, mail_server(tmp_path) as server:
        place = with_mail(empty, server, DYE_LARDER_MAIL_WAIT="30").waiting(1)
        file_letters(place, 1, "hang")
        with crew(place, tmp_path, *SERVER) as serving:
            serving.start(str(free_port()))
            until(lambda: place.value(IN_HAND) == 1)

            ids = file_letters(place, 5, "ask")

            assert len(ids) == 5
            assert place.value(IN_HAND) == 1
