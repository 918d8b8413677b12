"""How long a recorded draw takes, in durable commits of one row on the same database."""

from __future__ import annotations

import uuid
from collections.abc import Callable, Iterator
from datetime import UTC, datetime

from tests.benchmarks.rounds import in_turn
from tests.benchmarks.rows import Row, ms, within
from tests.benchmarks.setting import Setting

BUDGET = 3.0
AT = datetime(2026, 11, 23, 9, tzinfo=UTC)
COUNTED = (
    "draw, {engine}: `ledger.draw` of 1 g from one lot, from the call to its durable commit; bare: "
    "one row inserted into a table of one column and committed as durably. In turn, lower quartile "
    "of {rounds} rounds after 20."
)


def draw(setting: Setting) -> Iterator[Row]:
    """One row."""
    setting.larders.use("draw")
    rounds = setting.rounds(400, 20)
    drawn, committed = in_turn(_draw(), _commit(), rounds=rounds, warm=20)
    yield Row(
        "a recorded draw", ms(drawn), f"{ms(committed)} a durable commit",
        counted=COUNTED.format(engine=setting.engine, rounds=rounds),
        **within(drawn / committed, BUDGET),  # type: ignore[arg-type]
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
