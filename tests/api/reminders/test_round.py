"""One round, by hand or by the runner beside the pages: one at a time, nothing written idly."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from io import StringIO
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest
from django.core.management import CommandError, call_command
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from api.environment import Mail
from api.management.door import TRY_AGAIN
from api.models import OutboxLetter
from api.reminders import outbox, runner
from api.reminders.round import TURN, Round, one_round
from api.reminders.sweep import sweep
from api.reminders.turns import end_turn, take_turn
from inventory.models import Studio
from tests.api.reminders import what_is_due
from tests.api.reminders.postbox import AT, DOMAIN, HOUR, SENDER, letter
from tests.inventory.scratch import ROOT

MINUTE = timedelta(minutes=1)


@pytest.fixture(autouse=True)
def _due(settings: Any) -> Iterator[None]:
    settings.REMINDERS = "tests.api.reminders.what_is_due"
    yield
    what_is_due.LETTERS.clear()
    what_is_due.UNWANTED.clear()


@pytest.fixture
def mail(tmp_path: Path) -> Mail:
    return Mail(sender=SENDER, wait_s=5, folder=tmp_path / "out")


def rounded(mail: Mail, at: datetime = AT) -> Round:
    done = one_round(mail=mail, clock=lambda: at)
    assert done is not None
    return done


def test_a_round_files_what_fell_due_and_brings_it_out(studio: Studio, mail: Mail) -> None:
    rounded(mail, AT - HOUR)
    what_is_due.LETTERS += [letter("one"), letter("two"), letter("later", at=AT + HOUR)]
    what_is_due.UNWANTED.add("two")

    done = rounded(mail)

    assert (done.studios, done.filed) == (1, 2)
    assert done.became == {"sent": 1, "stopped": 1}
    assert mail.folder is not None
    assert len(list(mail.folder.iterdir())) == 1


def test_a_round_with_nothing_to_do_asks_thrice_and_writes_nothing(
    studio: Studio, mail: Mail
) -> None:
    rounded(mail)

    with CaptureQueriesContext(
        connection,
    ) as asked:
        rounded(mail, AT + MINUTE)

    assert [query["sql"].split()[0] for query in asked] == ["SELECT"] * 3


def test_a_round_is_left_to_whoever_has_the_turn(studio: Studio, mail: Mail) -> None:
    other = uuid4()
    take_turn(TURN, holder=other, at=AT, hold=MINUTE)

    assert one_round(mail=mail, clock=lambda: AT) is None
    assert rounded(mail, AT + MINUTE).studios == 1


def test_a_turn_is_kept_by_renewing_and_ends_when_it_is_ended(db: None) -> None:
    mine, other = uuid4(), uuid4()
    assert take_turn("x", holder=mine, at=AT, hold=MINUTE)
    assert take_turn("x", holder=mine, at=AT + MINUTE / 2, hold=MINUTE)

    assert not take_turn("x", holder=other, at=AT + MINUTE, hold=MINUTE)
    end_turn("x", holder=other, at=AT + MINUTE)
    assert not take_turn("x", holder=other, at=AT + MINUTE, hold=MINUTE)
    end_turn("x", holder=mine, at=AT + MINUTE)
    assert take_turn("x", holder=other, at=AT + MINUTE, hold=MINUTE)


def test_a_round_that_is_told_to_stop_takes_no_further_letter(studio: Studio, mail: Mail) -> None:
    outbox.file_letters(studio, [letter("one"), letter("two")], at=AT, domain=DOMAIN)
    goes_on = iter([True, True, True, False])  # its turn, the studio, the first letter

    done = one_round(mail=mail, clock=lambda: AT, goes_on=lambda: next(goes_on))

    assert done is not None
    assert done.became == {"sent": 1}


def test_one_studio_at_fault_does_not_keep_the_others_in(
    studio: Studio,
    other: Studio,
    mail: Mail,
    monkeypatch: pytest.MonkeyPatch,
    caplog: pytest.LogCaptureFixture,
) -> None:
    rounded(mail, AT - HOUR)

    def due(studio: Studio, *, since: datetime, until: datetime) -> Any:
        if studio.name == "Quillet Barn":
            raise ArithmeticError
        return (letter("one"),)

    monkeypatch.setattr(what_is_due, "letters_due", due)

    done = rounded(mail)

    assert (done.failed, done.filed, done.became) == (1, 1, {"sent": 1})
    assert "Reminders of Quillet Barn could not be worked out." in caplog.text


def test_one_letter_at_fault_is_put_by_and_the_next_goes_out(
    studio: Studio, mail: Mail, monkeypatch: pytest.MonkeyPatch
) -> None:
    outbox.file_letters(studio, [letter("bad"), letter("good")], at=AT, domain=DOMAIN)

    def wanted(studio: Studio, one: Any, *, at: datetime) -> bool:
        if one.key == "bad":
            raise ArithmeticError
        return True

    monkeypatch.setattr(what_is_due, "still_wanted", wanted)

    done = rounded(mail)

    assert (done.failed, done.became) == (1, {"put off": 1, "sent": 1})
    assert OutboxLetter.objects.of(studio).get(key="bad").said == (
        "a fault of ours, told in the log"
    )


def called() -> str:
    out = StringIO()
    call_command("remind", stdout=out)
    return out.getvalue()


def test_the_command_says_what_it_did(studio: Studio, mail: Mail, settings: Any) -> None:
    now = timezone.now()
    settings.MAIL = mail
    sweep(studio, at=now - 9 * MINUTE, due=what_is_due.letters_due, domain=DOMAIN)
    mine = letter(at=now - MINUTE, until=now + HOUR)
    what_is_due.LETTERS += [replace(mine, key="one"), replace(mine, key="bad", subject="\n")]

    assert called() == (
        f"Mail goes to {mail.folder} from larder@yard.example.\n"
        "Studios looked at: 1. Letters filed: 1, passed over as too late: 0, unfit: 1.\n"
        "Letters brought out: sent 1.\n"
        "In the outbox: 0 to go out, 1 sent, 0 let go; 0 perhaps sent twice.\n"
    )
    assert "Letters brought out: none.\n" in called()


def test_the_command_leaves_it_to_whoever_has_the_turn(
    studio: Studio, mail: Mail, settings: Any
) -> None:
    settings.MAIL = mail
    take_turn(TURN, holder=uuid4(), at=timezone.now(), hold=MINUTE)

    with pytest.raises(CommandError, match="Another process brings reminders out") as refused:
        called()

    assert refused.value.returncode == TRY_AGAIN


def test_without_mail_the_command_says_so_and_nothing_runs(db: None, settings: Any) -> None:
    assert settings.MAIL is None
    runner.start()

    with pytest.raises(CommandError) as refused:
        called()

    assert str(refused.value).startswith("No mail is set up here, so no reminder goes out.")
    assert runner._running is None


def test_where_workers_listen_the_pages_bring_nothing_out(mail: Mail, settings: Any) -> None:
    settings.MAIL, settings.CELERY_BROKER_URL = mail, "redis://127.0.0.1:1/0"

    runner.start()

    assert runner._running is None


FORKED = """
import os, sys, threading, time, warnings
warnings.simplefilter("ignore")
import api.wsgi
from api.reminders import runner
first = runner._running
assert first._thread.is_alive()
if os.fork() == 0:
    assert runner._running is not first and runner._running._thread.is_alive()
    os.write(1, b"child runs\\n")
    os._exit(0)
os.wait()
first._thread.join(60)
os.write(1, b"parent rests\\n" if not first._thread.is_alive() else b"both run\\n")
"""


def test_a_server_that_forks_leaves_it_to_its_children(tmp_path: Path) -> None:
    environment = {
        "DJANGO_SETTINGS_MODULE": "api.settings",
        "DYE_LARDER_STATE": str(tmp_path),
        "DYE_LARDER_MAIL": f"file://{tmp_path}/out",
        "DYE_LARDER_MAIL_FROM": SENDER,
    }

    done = subprocess.run(
        [sys.executable, "-c", FORKED],
        cwd=ROOT, env=environment, capture_output=True, text=True, check=False, timeout=180,
    )  # fmt: skip

    assert (done.returncode, done.stdout) == (0, "child runs\nparent rests\n"), done.stderr


def test_no_page_knows_the_broker() -> None:
    """What serves never loads the package that talks to it."""
    code = (
        "import django, sys; django.setup(); import api.urls, api.wsgi; "
        "print([name for name in sys.modules if name.split('.')[0] in ('celery', 'kombu')])"
    )

    done = subprocess.run(
        [sys.executable, "-c", code],
        cwd=ROOT,
        capture_output=True,
        text=True,
        check=False,
        env={"DJANGO_SETTINGS_MODULE": "api.settings", "REDIS_URL": "redis://127.0.0.1:1/0"},
    )

    assert (done.returncode, done.stdout.strip()) == (0, "[]"), done.stderr
