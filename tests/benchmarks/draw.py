"""How long a recorded draw takes, in durable commits of one row on the same database."""

from __future__ import annotations

import time
import uuid
from collections.abc import Callable, Iterator
from datetime import UTC, datetime

from tests.benchmarks.rounds import in_turn, mean_of_most
from tests.benchmarks.rows import Row, ms, within
from tests.benchmarks.setting import Setting

BUDGET = 3.0
AT = datetime(2026, 11, 23, 9, tzinfo=UTC)
COUNTED = (
    "draw, {engine}: `ledger.draw` of 1 g from one lot, from the call to its durable commit; bare: "
    "one row inserted into a table of one column and committed as durably. In turn, {rounds} "
    "rounds after 20; the mean of all but the slowest tenth, as a disk syncs now in 0.1 ms, now "
    "in 4. Own time: what this process works, without waiting for disk or server (lower "
    "quartile); the quicker the disk, the nearer the first ratio is to this one."
)


def draw(setting: Setting) -> Iterator[Row]:
    """The whole of it, then the arithmetic alone."""
    setting.larders.use("draw")
    rounds, pair = setting.rounds(400, 20), (_draw(), _commit())
    counted = COUNTED.format(engine=setting.engine, rounds=rounds)
    drawn, committed = in_turn(*pair, rounds=rounds, warm=20, of=mean_of_most)
    yield Row(
        "a recorded draw", ms(drawn), f"{ms(committed)} a durable commit", counted=counted,
        **within(drawn / committed, BUDGET),  # type: ignore[arg-type]
    )  # fmt: skip
    drawn, committed = in_turn(*pair, rounds=rounds, warm=0, clock=time.process_time)
    yield Row(
        "its own time", ms(drawn), f"{ms(committed)} of that commit", ratio=drawn / committed,
        counted=counted,
    )  # fmt: skip


def _draw() -> Callable[[], object]:
    from inventory import ledger
    from inventory.entries import NewLot, Place
    from inventory.models import Studio

    studio = Studio.objects.create(name="Pellitory Yard", zone="Europe/London")
    lot = NewLot("AV-1116", "avocado stones", state="fresh", place=Place("fridge"))
    ledger.receive(studio, entry=uuid.uuid4(), at=AT, lot=lot, amount=10**9)
    return lambda: ledger.draw(studio, entry=uuid.uuid4(), at=AT, takes=[("AV-1116", 1000)])


def _commit() -> Callable[[], object]:
    from django.db import connection, transaction

    with connection.cursor() as cursor:
        cursor.execute("CREATE TABLE one_row (n bigint NOT NULL)")

    def commit() -> None:
        with transaction.atomic(), connection.cursor() as cursor:
            cursor.execute("INSERT INTO one_row VALUES (1)")

    return commit
