"""The page of reminders and the command beside it."""

from __future__ import annotations

from datetime import timedelta
from io import StringIO
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.db import connection
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext

from api.environment import Mail
from api.models import OutboxLetter
from api.reminders.due import letters_due
from api.reminders.outbox import file_letters
from inventory.models import Studio
from sourcing.models import Reader
from sourcing.reminders import stop_reminders
from tests.api.reminders.readers import DYER, with_cafe, with_dyer, yard
from tests.api.web.pages import read, sound, words
from tests.api.web.yard import MONDAY, said
from tests.sourcing.week.pellitory import nov

pytestmark = pytest.mark.django_db
QUESTIONS = 8  # the studio, seven for all that lies there; readers and letters come with these


@pytest.fixture
def studio() -> Studio:
    return with_cafe(with_dyer(yard()))


def page(client: Client, **asked: str) -> HttpResponse:
    answer: HttpResponse = client.get("/reminders/", {"at": MONDAY, **asked})
    assert answer.status_code == 200
    return answer


def rows(client: Client, section: str) -> list[str]:
    """The rows of one table, as read."""
    tree = read(page(client))
    return [said(row) for row in tree.query(f"section[aria-labelledby={section}] tbody tr")]


def test_the_page_is_sound_with_readers_and_without(client: Client) -> None:
    studio = yard()
    bare = page(client)
    with_cafe(with_dyer(studio))
    full = page(client)

    assert (sound(bare), sound(full)) == ([], [])
    assert "Nobody is written to yet." in words(bare)
    assert "Nothing in 7 days." in words(bare)
    assert "No letter was written yet." in words(bare)


@pytest.mark.usefixtures("studio")
def test_what_goes_out_next_stands_in_order_with_reader_and_short_address(client: Client) -> None:
    found = rows(client, "next")

    assert found[0] == (
        "Mon 23 Nov 07:30 AV-1116 (avocado stones): last good day Mon 23 Nov "
        "the dyer d…@pellitory-yard.example Tue 24 Nov 00:00"
    )
    assert [row for row in found if "the café" in row] == [
        "Wed 25 Nov 16:00 Thu 26 Nov, 17:00: avocado stones for Pellitory Yard "
        "the café h…@lantern-steps.example Thu 26 Nov 17:00",
        "Sun 29 Nov 16:00 Mon 30 Nov, 17:00: avocado stones for Pellitory Yard "
        "the café h…@lantern-steps.example Mon 30 Nov 17:00",
    ]


@pytest.mark.usefixtures("studio")
def test_no_whole_address_stands_on_the_page(client: Client) -> None:
    text = page(client).content.decode()

    assert "dyer@" not in text
    assert "hello@" not in text


def test_a_reader_says_what_goes_out_and_what_is_stopped(client: Client, studio: Studio) -> None:
    stop_reminders(studio, reader=DYER, kind="dip", at=nov(23))
    tickets = [said(row) for row in read(page(client)).query("article")]

    assert tickets[1] == (
        "the dyer d…@pellitory-yard.example goes out morning sheet at 07:30 stopped dip "
        "goes out last good day goes out order-by day goes out light test since Sun 1 Nov 2026 "
        "Other letters: the dyer Another address: the dyer No more letters: the dyer "
        "Letters again: the dyer"
    )
    assert not [row for row in rows(client, "next") if "Dip" in row]


def test_nothing_is_sent_where_no_mail_is_set_up(
    client: Client, studio: Studio, settings: object
) -> None:
    settings.MAIL = None  # type: ignore[attr-defined]
    assert "Nothing is sent: nobody has said by which mail server." in words(page(client))
    settings.MAIL = Mail(sender="yard@mill.example", wait_s=5)  # type: ignore[attr-defined]
    assert "Letters go out from yard@mill.example." in words(page(client))


def test_what_became_of_letters_is_a_word_and_a_mark(client: Client, studio: Studio) -> None:
    letters = letters_due(studio, since=nov(23), until=nov(24, 8))
    file_letters(studio, letters, at=nov(24, 8), domain="mill.example")
    open_rows = OutboxLetter.objects.of(studio).order_by("due_at", "pk")
    keys = list(open_rows.values_list("pk", flat=True))
    sent, let_go, tried = (OutboxLetter.objects.of(studio).filter(pk=key) for key in keys[:3])
    sent.update(handed_at=nov(23, 7, 31), sent_at=nov(23, 7, 31), said="250 ok", tries=1)
    let_go.update(let_go_at=nov(23, 7, 31), let_go_why="stopped")
    tried.update(tries=2, next_at=nov(24, 8, 4))

    found = rows(client, "letters")[::-1]

    assert found[0].endswith("d…@pellitory-yard.example sent Mon 23 Nov 07:31")
    assert found[1].endswith("let go: stopped, or no longer true")
    assert found[2].endswith("tried 2×, again Tue 24 Nov 08:04")
    assert found[3].endswith("waits for Tue 24 Nov 07:30")
    assert sound(page(client)) == []


def test_a_hundred_readers_cost_no_more_questions_and_are_cut(
    client: Client, studio: Studio
) -> None:
    assert connection.features.supports_json_field  # asked once a connection
    asked = []
    for count in (0, 100):
        Reader.objects.of(studio).bulk_create(
            Reader(
                name=f"z reader {n:03}",
                address=f"reader-{n}@pellitory-yard.example",
                wants_last_good=True,
                since=nov(1).date(),
                mark=uuid4(),
            )
            for n in range(count)
        )
        with CaptureQueriesContext(connection) as queries:
            page(client)
        asked.append(len(queries))

    assert asked[0] == asked[1]
    assert asked[0] <= QUESTIONS
    assert len(rows(client, "next")) == 40
    assert "42 more not shown here." in words(page(client))


def test_an_unknown_word_in_the_address_is_refused(client: Client, studio: Studio) -> None:
    answer = client.get("/reminders/", {"colour": "rose"})

    assert answer.status_code == 400
    assert sound(answer) == []


# -- the command ---------------------------------------------------------------------------------


def command(*words: str) -> str:
    out = StringIO()
    call_command("readers", "--at", MONDAY, *words, stdout=out)
    return out.getvalue()


def test_the_command_says_who_is_told_what_and_what_goes_out(studio: Studio) -> None:
    stop_reminders(studio, reader=DYER, kind="light test", at=nov(23) - timedelta(days=1))
    text = command("--days", "1").splitlines()

    assert text == [
        "the café <hello@lantern-steps.example>, for Lantern Steps café, since Sun 1 Nov 2026",
        "  goes out  day before",
        "the dyer <dyer@pellitory-yard.example>, since Sun 1 Nov 2026",
        "  goes out  morning sheet at 07:30",
        "  goes out  dip",
        "  goes out  last good day",
        "  goes out  order-by day",
        "  stopped   light test",
        "In 1 day, as things stand now:",
        "  Mon 23 Nov 07:30  the dyer: AV-1116 (avocado stones): last good day Mon 23 Nov",
        "  Mon 23 Nov 07:30  the dyer: J6 (nettle bath): last good day Tue 24 Nov",
        "  Mon 23 Nov 07:30  the dyer: Pellitory Yard · Mon 23 Nov: the morning sheet",
    ]


def test_the_command_says_that_nobody_is_written_to() -> None:
    yard()

    assert command() == "Pellitory Yard writes to nobody yet.\n"
