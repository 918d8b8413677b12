"""What the workers do, without a worker: who is told of what, and when the broker is away."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from types import SimpleNamespace
from typing import Any
from uuid import uuid4

import pytest
from django.utils import timezone
from kombu.exceptions import OperationalError

from api import tasks
from api.environment import Mail
from api.models import OutboxLetter
from api.reminders import clock, outbox
from api.reminders.round import TURN
from api.reminders.turns import take_turn
from inventory.models import Studio
from tests.api.reminders.postbox import DOMAIN, HOUR, SENDER, letter

AWAY = OperationalError("nobody answers")


@pytest.fixture
def mail(settings: Any, tmp_path: Path) -> Mail:
    settings.MAIL = Mail(sender=SENDER, wait_s=5, folder=tmp_path / "out")
    settings.REMINDERS = "tests.api.reminders.what_is_due"
    found: Mail = settings.MAIL
    return found


@pytest.fixture
def told(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """The rows of which the workers were told."""
    rows: list[int] = []
    monkeypatch.setattr(
        tasks.bring_one, "apply_async", lambda words, **_: rows.append(words[0]), raising=False
    )
    return rows


def filed(studio: Studio, many: int) -> list[int]:
    now = timezone.now()
    letters = [letter(str(n), at=now - HOUR, until=now + HOUR) for n in range(many)]
    outbox.file_letters(studio, letters, at=now, domain=DOMAIN)
    return list(OutboxLetter.objects.of(studio).order_by("pk").values_list("pk", flat=True))


def test_the_workers_are_told_of_every_letter_and_not_again_at_once(
    studio: Studio, mail: Mail, told: list[int]
) -> None:
    pks = filed(studio, tasks.TOLD_AT_ONCE + 1)

    tasks.look_round()
    tasks.look_round()

    assert sorted(told) == pks


def test_no_more_are_told_in_one_round_than_a_bounded_number(
    studio: Studio, mail: Mail, told: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tasks, "TOLD_AT_ONCE", 2)
    filed(studio, 2 * tasks.MOST_TIMES + 1)

    tasks.look_round()

    assert len(told) == 2 * tasks.MOST_TIMES


def test_a_broker_that_is_away_in_the_middle_leaves_the_rest_to_the_next_round(
    studio: Studio,
    mail: Mail,
    told: list[int],
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    first, second, third = filed(studio, 3)

    def sent(words: tuple[int], **_: Any) -> None:
        if words[0] == second:
            raise AWAY
        told.append(words[0])

    with monkeypatch.context() as away:
        away.setattr(tasks.bring_one, "apply_async", sent, raising=False)
        tasks.look_round()
    assert told == [first]
    assert "The broker does not answer; the workers are told later" in caplog.text

    tasks.look_round()

    assert told == [first, second, third]


def test_one_worker_looks_at_a_time(studio: Studio, mail: Mail, told: list[int]) -> None:
    filed(studio, 1)
    take_turn(TURN, holder=uuid4(), at=timezone.now(), hold=timedelta(minutes=1))

    tasks.look_round()

    assert told == []


def test_a_job_brings_its_letter_out_and_done_again_does_nothing(
    studio: Studio, mail: Mail
) -> None:
    (pk,) = filed(studio, 1)

    tasks.bring_letter(pk)
    sent_at = OutboxLetter.objects.of(studio).get().sent_at
    tasks.bring_letter(pk)

    assert sent_at is not None
    assert OutboxLetter.objects.of(studio).get().sent_at == sent_at


def test_without_mail_a_worker_does_nothing_and_says_so(
    studio: Studio, told: list[int], settings: Any, caplog: pytest.LogCaptureFixture
) -> None:
    settings.MAIL = None
    (pk,) = filed(studio, 1)

    tasks.look_round()
    tasks.bring_letter(pk)
    clock.start()

    assert told == []
    assert OutboxLetter.objects.of(studio).get().tries == 0
    assert "No mail is set up here, so no reminder goes out." in caplog.messages


@pytest.fixture
def ticking(mail: Mail) -> Iterator[None]:
    yield
    clock.stop()
    for thread in threading.enumerate():
        if thread.name == "clock":
            thread.join(60)


@pytest.mark.usefixtures("ticking")
def test_the_clock_goes_on_while_the_broker_is_away_and_says_so_once(
    monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    struck: list[float] = []

    def sent(**options: Any) -> None:
        struck.append(options["expires"])
        raise AWAY

    # The job itself is another one in each thread: a shared task goes by the thread's own app.
    monkeypatch.setattr(tasks, "look_now", SimpleNamespace(apply_async=sent))
    monkeypatch.setattr(tasks, "ROUND_EVERY_S", 0.01)

    clock.start()
    ends = time.monotonic() + 10
    while len(struck) < 3 and time.monotonic() < ends:
        time.sleep(0.01)

    assert len(struck) >= 3
    assert caplog.messages == ["The broker does not answer; the clock goes on: nobody answers"]
