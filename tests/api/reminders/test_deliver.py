"""One letter brought out, with a mail server that says yes, later, never, nothing."""

from __future__ import annotations

import email
import socket
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from datetime import datetime, timedelta
from email.policy import default
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from api.environment import Mail
from api.models import OutboxLetter
from api.reminders import deliver as door
from api.reminders import outbox
from inventory.errors import Busy
from inventory.models import Studio
from tests.api.reminders.postbox import AT, DOMAIN, HOUR, SENDER, MailServer, letter

MINUTE = timedelta(minutes=1)


def filed(studio: Studio, **other: Any) -> int:
    key = uuid4().hex  # one server serves all tests
    outbox.file_letters(studio, [letter(key, **other)], at=AT, domain=DOMAIN)
    return int(OutboxLetter.objects.of(studio).get(key=key).pk)


def brought(pk: int, mail: Mail, at: datetime = AT, *, wanted: bool = True) -> str:
    return door.deliver(pk, mail=mail, clock=lambda: at, wanted=lambda *_, **__: wanted)


def row(pk: int) -> OutboxLetter:
    return OutboxLetter._base_manager.get(pk=pk)


def test_a_letter_that_is_taken_is_marked_and_never_handed_over_again(
    studio: Studio, server: MailServer
) -> None:
    pk = filed(studio)

    assert [brought(pk, server.mail), brought(pk, server.mail)] == ["sent", "not to be had"]
    assert server.taken()[row(pk).message_id] == 1
    assert (row(pk).sent_at, row(pk).handed_at, row(pk).said) == (AT, AT, "250 2.0.0 taken")


def test_a_letter_put_off_goes_out_later(studio: Studio, server: MailServer) -> None:
    pk = filed(studio, to="later-2-a@b.example")

    assert brought(pk, server.mail) == "put off"
    assert row(pk).said == "451 4.2.1 come back later"
    assert brought(pk, server.mail, AT + MINUTE / 2) == "not to be had"
    assert brought(pk, server.mail, AT + MINUTE) == "put off"
    assert brought(pk, server.mail, AT + 3 * MINUTE) == "sent"
    assert (row(pk).tries, row(pk).repeats) == (3, 0)
    assert server.taken()[row(pk).message_id] == 1


@pytest.mark.parametrize(
    ("reader", "said"),
    [("never", "550 5.1.1 nobody of that name"), ("refuse", "554 5.6.0 not such a text")],
)
def test_a_letter_refused_for_good_is_let_go(
    studio: Studio, server: MailServer, reader: str, said: str
) -> None:
    pk = filed(studio, to=f"{reader}-a@b.example")

    assert brought(pk, server.mail) == "refused"
    assert (row(pk).let_go_why, row(pk).said, row(pk).handed_at) == ("refused", said, None)
    assert outbox.due(at=AT + HOUR, most=9) == []


def test_a_server_that_hangs_up_after_the_text_is_a_possible_repeat(
    studio: Studio, server: MailServer
) -> None:
    pk = filed(studio, to="drop-a@b.example")

    assert brought(pk, server.mail) == "put off"
    assert row(pk).handed_at == AT
    assert brought(pk, server.mail, AT + MINUTE) == "sent"
    assert (server.taken()[row(pk).message_id], row(pk).repeats) == (2, 1)


def test_a_server_that_falls_silent_after_the_text_is_given_up_in_time(
    studio: Studio, server: MailServer
) -> None:
    pk = filed(studio, to="hang-a@b.example")
    began = time.monotonic()

    assert brought(pk, replace(server.mail, wait_s=1)) == "put off"
    assert time.monotonic() - began < 15  # and not the thirty that a letter may take otherwise
    assert (row(pk).handed_at, row(pk).next_at) == (AT, AT + MINUTE)


@contextmanager
def strange_server(*, word: bytes, every_s: float) -> Iterator[int]:
    """A server that goes on saying a bit of something, or nothing at all; its port."""
    ended = threading.Event()

    def talk() -> None:
        line, _ = listening.accept()
        with line:
            while not ended.wait(every_s):
                line.sendall(word)

    with socket.create_server(("127.0.0.1", 0)) as listening:
        thread = threading.Thread(target=talk)
        thread.start()
        try:
            yield listening.getsockname()[1]
        finally:
            ended.set()
            thread.join()


@pytest.mark.parametrize("word", [b"", b"2"])
def test_a_server_that_never_comes_to_the_point_is_given_up_in_time(
    studio: Studio, word: bytes
) -> None:
    pk = filed(studio)
    began = time.monotonic()

    with strange_server(word=word, every_s=0.1) as port:
        mail = Mail(sender=SENDER, wait_s=1, host="127.0.0.1", port=port)
        assert brought(pk, mail) == "put off"
        took_s = time.monotonic() - began

    assert took_s < 15
    assert row(pk).handed_at is None


def test_a_server_that_is_not_there_is_tried_again(studio: Studio) -> None:
    pk = filed(studio)
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]

    assert brought(pk, Mail(sender=SENDER, wait_s=1, host="127.0.0.1", port=port)) == "put off"
    assert row(pk).said == f"127.0.0.1:{port}: [Errno 111] Connection refused"


def test_a_password_is_not_said_in_the_open_and_not_kept(
    studio: Studio, server: MailServer
) -> None:
    pk = filed(studio)
    mail = replace(server.mail, user="mara", password="indigo-and-weld")

    assert brought(pk, mail) == "put off"
    assert row(pk).said == "the server offers no TLS, and the password is not said in the open"
    assert "indigo" not in repr(mail)


def test_a_letter_no_longer_wanted_is_let_go(studio: Studio, server: MailServer) -> None:
    pk = filed(studio)

    assert brought(pk, server.mail, wanted=False) == "stopped"
    assert row(pk).let_go_why == "stopped"
    assert server.taken()[row(pk).message_id] == 0


def test_a_letter_too_late_is_let_go_unasked(studio: Studio, server: MailServer) -> None:
    pk = filed(studio)

    assert brought(pk, server.mail, AT + 5 * HOUR, wanted=False) == "too late"


def test_a_yes_is_marked_though_the_larder_was_busy_for_a_while(
    studio: Studio, server: MailServer, monkeypatch: pytest.MonkeyPatch
) -> None:
    pk, marked, busy = filed(studio), outbox.mark_sent, [Busy(1), Busy(1)]

    def mark(*words: Any, **more: Any) -> None:
        if busy:
            raise busy.pop()
        marked(*words, **more)

    monkeypatch.setattr(outbox, "mark_sent", mark)

    assert brought(pk, server.mail) == "sent"
    assert row(pk).sent_at == AT


def test_letters_go_into_a_folder_one_file_a_key(studio: Studio, tmp_path: Path) -> None:
    pk = filed(studio, subject="Jar “Fe” – dip", stop="/stop/abc/")
    mail = Mail(sender=SENDER, wait_s=1, folder=tmp_path / "out", address="https://larder.example")

    assert brought(pk, mail) == "sent"

    (file,) = (tmp_path / "out").iterdir()
    message = email.message_from_bytes(file.read_bytes(), policy=default)
    assert message["Message-ID"] == row(pk).message_id
    assert message["Subject"] == "Jar “Fe” – dip"
    assert message["From"] == "Pellitory Yard <larder@yard.example>"
    assert message["Auto-Submitted"] == "auto-generated"
    assert message["List-Unsubscribe"] == "<https://larder.example/stop/abc/>"
    assert message["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"
    assert message.get_content().replace("\r\n", "\n") == (
        "Jar FE-1102 is ready for a strip today.\n\n-- \n"
        "To get no more letters of this kind: https://larder.example/stop/abc/\n"
    )


def test_a_folder_that_cannot_be_written_is_tried_again(studio: Studio, tmp_path: Path) -> None:
    pk = filed(studio)
    (tmp_path / "out").write_text("a file", encoding="utf-8")

    assert brought(pk, Mail(sender=SENDER, wait_s=1, folder=tmp_path / "out")) == "put off"
    assert row(pk).said.endswith("cannot be written: File exists")
