"""From the studio's facts to the mail server: a morning, a reader who stops, a letter once."""

from __future__ import annotations

import email
from datetime import datetime
from email.message import EmailMessage
from email.policy import default
from pathlib import Path
from typing import cast

import pytest

from api.environment import Mail
from api.reminders import outbox
from api.reminders.round import Round, one_round
from inventory.models import Studio
from sourcing.reminders import stop_reminders
from tests.api.reminders.postbox import SENDER
from tests.api.reminders.readers import DYER, DYERS, with_dyer, yard
from tests.sourcing.week.pellitory import nov

README = Path(__file__).parents[3] / "README.md"
ADDRESS = "https://larder.example"


@pytest.fixture
def studio(db: None) -> Studio:
    """The demo studio, whose dyer wants the sheet at half past seven."""
    return with_dyer(yard(), kinds=("morning sheet",))


@pytest.fixture
def mail(tmp_path: Path) -> Mail:
    return Mail(sender=SENDER, wait_s=5, folder=tmp_path / "out", address=ADDRESS)


def rounded(mail: Mail, at: datetime) -> Round:
    done = one_round(mail=mail, clock=lambda: at)
    assert done is not None
    return done


def test_the_morning_sheet_goes_out_at_its_hour_and_once(studio: Studio, mail: Mail) -> None:
    early = [rounded(mail, nov(23, 7)), rounded(mail, nov(23, 7, 29))]
    due = rounded(mail, nov(23, 7, 30))
    later = [rounded(mail, nov(23, 7, 35)), rounded(mail, nov(23, 8)), rounded(mail, nov(23, 9))]

    assert [one.filed for one in (*early, due, *later)] == [0, 0, 1, 0, 0, 0]
    assert due.became == {"sent": 1}
    assert mail.folder is not None
    (file,) = mail.folder.iterdir()
    message = cast(EmailMessage, email.message_from_bytes(file.read_bytes(), policy=default))
    assert (message["To"], message["Subject"]) == (
        DYERS,
        "Pellitory Yard · Mon 23 Nov: the morning sheet",
    )
    sheet, _, ending = message.get_content().replace("\r\n", "\n").partition("\n-- \n")
    assert f"```text\n{sheet}```\n" in README.read_text(encoding="utf-8")
    link = ending.strip().removeprefix("To get no more letters of this kind: ")
    assert link.startswith(f"{ADDRESS}/stop/")
    assert message["List-Unsubscribe"] == f"<{link}>"


def test_a_reader_who_stops_meanwhile_gets_no_letter(studio: Studio, mail: Mail) -> None:
    rounded(mail, nov(23, 7))
    mute = Mail(sender=SENDER, wait_s=1, host="127.0.0.1", port=1)
    assert rounded(mute, nov(23, 7, 30)).became == {"put off": 1}

    stop_reminders(studio, reader=DYER, kind="morning sheet", at=nov(23, 7, 31))

    assert rounded(mail, nov(23, 7, 31)).became == {"stopped": 1}
    (one,) = outbox.listed(studio, most=5)
    assert (one.let_go_why, one.is_open) == ("stopped", False)
