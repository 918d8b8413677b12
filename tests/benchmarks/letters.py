"""How long a letter takes on its way out, in plain talks with the same mail server."""

from __future__ import annotations

import smtplib
import tempfile
import uuid
from collections.abc import Callable, Iterator
from datetime import timedelta
from pathlib import Path

from tests.api.reminders.postbox import AT, DOMAIN, SENDER, MailServer, letter, mail_server
from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, ms
from tests.benchmarks.setting import Setting

COUNTED = (
    "letters, {engine}: one letter of the outbox brought to a mail server on this machine and "
    "marked, three durable commits on the way; bare: the same message handed to the same server by "
    "`smtplib` alone, and three commits of one row as durable. A round that finds nothing to do; "
    "bare: one row read by its key. In turn, {rounds} rounds after 2, lower quartile."
)


def letters(setting: Setting) -> Iterator[Row]:
    """A letter brought out, and a round that finds nothing."""
    setting.larders.use("letters")
    rounds = setting.rounds(100)
    counted = COUNTED.format(engine=setting.engine, rounds=rounds)
    with (
        tempfile.TemporaryDirectory(prefix="dye-larder-letters-") as folder,
        mail_server(Path(folder)) as server,
    ):
        brought, handed = in_turn(_brought(server), _handed(server), rounds=rounds)
        nothing, read = in_turn(_nothing(server), _read(), rounds=rounds)
    yield Row(
        "a letter brought out", ms(brought), f"{ms(handed)} talk and commits", brought / handed,
        counted=counted,
    )  # fmt: skip
    yield Row(
        "a round with nothing to do", ms(nothing), f"{ms(read)} a row read", nothing / read,
        counted=counted,
    )  # fmt: skip


def _brought(server: MailServer) -> Callable[[], object]:
    from api.models import OutboxLetter
    from api.reminders import outbox
    from api.reminders.deliver import SENT, deliver
    from inventory.models import Studio

    studio = Studio.objects.create(name="Pellitory Yard", zone="Europe/London")
    many = [letter(f"one/{n}") for n in range(200)]
    outbox.file_letters(studio, many, at=AT, domain=DOMAIN)
    waiting = iter(OutboxLetter.objects.of(studio).values_list("pk", flat=True))

    def bring() -> None:
        became = deliver(
            next(waiting), mail=server.mail, clock=lambda: AT, wanted=lambda *_, **__: True
        )
        assert became == SENT

    return bring


def _handed(server: MailServer) -> Callable[[], object]:
    from django.db import connection, transaction

    from api.reminders.message import message_of
    from api.reminders.outbox import InHand
    from inventory.models import Studio

    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE one_row (n bigint NOT NULL)")
    studio = Studio.objects.get()
    one = InHand(1, uuid.uuid4(), studio, letter(), "<bare@yard.example>", AT, 1)
    message = message_of(one, server.mail)

    def hand() -> None:
        for _ in range(3):
            with transaction.atomic(), connection.cursor() as cursor:
                cursor.execute("INSERT INTO one_row VALUES (1)")
        with smtplib.SMTP("127.0.0.1", server.port) as line:
            line.sendmail(SENDER, [one.letter.to], message)

    return hand


def _nothing(server: MailServer) -> Callable[[], object]:
    """Every letter is out or let go by then, and the studio was looked at just now."""
    from api.models import OutboxLetter
    from api.reminders.round import one_round
    from api.reminders.sweep import sweep
    from inventory.models import Studio

    studio, late = Studio.objects.get(), AT + timedelta(days=1)
    OutboxLetter.objects.of(studio).filter(sent_at=None).delete()
    sweep(studio, at=late, due=lambda *_, **__: (), domain=DOMAIN)
    return lambda: one_round(mail=server.mail, clock=lambda: late)


def _read() -> Callable[[], object]:
    from inventory.models import Studio

    key = Studio.objects.get().pk
    return lambda: Studio.objects.get(pk=key)
