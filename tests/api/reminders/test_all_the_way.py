"""From the studio's facts to the letter on its way, and from its last line to no more letters."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from email import message_from_bytes, policy
from email.message import EmailMessage
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from django.test import Client

from api.environment import Mail
from api.models import OutboxLetter
from api.reminders.round import one_round
from inventory.models import Studio
from sourcing.pickups import miss_pickup
from tests.api.reminders.readers import CAFE, TOLDS, with_cafe, yard
from tests.sourcing.week.pellitory import nov

ADDRESS = "https://larder.example"


@pytest.fixture
def studio(db: None) -> Studio:
    return with_cafe(yard())


@pytest.fixture
def mail(tmp_path: Path) -> Mail:
    folder = tmp_path / "out"
    return Mail(sender="yard@pellitory-yard.example", wait_s=5, folder=folder, address=ADDRESS)


def clock_strikes(mail: Mail, at: datetime) -> None:
    assert one_round(mail=mail, clock=lambda: at) is not None


def letters(mail: Mail) -> Iterator[EmailMessage]:
    """What went out, in the order of its moment."""
    assert mail.folder is not None
    for file in sorted(mail.folder.glob("*.eml"), key=lambda file: file.stat().st_mtime_ns):
        message = message_from_bytes(file.read_bytes(), policy=policy.default)
        assert isinstance(message, EmailMessage)
        yield message


def test_the_cafe_gets_its_word_once_and_stops_it_with_one_click(
    studio: Studio, mail: Mail, client: Client
) -> None:
    # The first look sets the mark; the café is told at 16:00 on the day before.
    for at in (nov(25, 15, 50), nov(25, 16), nov(25, 16, 5), nov(25, 17), nov(26, 9)):
        clock_strikes(mail, at)

    (letter,) = letters(mail)
    assert (letter["To"], letter["Subject"]) == (
        TOLDS,
        "Thu 26 Nov, 17:00: avocado stones for Pellitory Yard",
    )
    assert "bring a clean tub. Thank you: 300 avocado stones" in letter.get_content().replace(
        "\n", " "
    )
    assert letter["List-Unsubscribe-Post"] == "List-Unsubscribe=One-Click"

    link = letter["List-Unsubscribe"].strip("<>")
    assert link.startswith(f"{ADDRESS}/stop/")
    assert link in letter.get_content()
    client.post(urlsplit(link).path, {"List-Unsubscribe": "One-Click"})
    for at in (nov(29, 15, 50), nov(29, 16), nov(29, 17)):
        clock_strikes(mail, at)
    assert len(list(letters(mail))) == 1


def test_a_pick_up_struck_between_filing_and_sending_is_let_go(studio: Studio, mail: Mail) -> None:
    clock_strikes(mail, nov(25, 15, 50))
    assert mail.folder is not None
    mail.folder.parent.joinpath("out").write_text("in the way", encoding="utf-8")
    clock_strikes(mail, nov(25, 16))  # filed, and cannot be put into the folder
    mail.folder.unlink()
    miss_pickup(studio, at=nov(26, 17), source=CAFE, gives="avocado stones")
    clock_strikes(mail, nov(25, 18))

    (row,) = OutboxLetter.objects.of(studio)
    assert (row.sent_at, row.let_go_why) == (None, "stopped")
    assert not list(letters(mail))
