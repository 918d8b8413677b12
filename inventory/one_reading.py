"""Many questions as of one moment: what others write meanwhile is not seen half."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import connection, transaction

from inventory.hindrance import said_in_words


@contextmanager
def one_reading() -> Iterator[None]:
    """Within it every question is answered from the same state; nobody waits for it.

    Inside a transaction that somebody has begun already, that one's view holds.

    Raises
    ------
    Busy, OutOfReach
        If the database could not.
    """
    with said_in_words():
        if connection.in_atomic_block:
            yield
        elif connection.vendor == "postgresql":
            with transaction.atomic(), connection.cursor() as cursor:
                cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
                yield
        else:
            # A transaction of the framework would take the write lock and hold up who records.
            with connection.cursor() as cursor:
                cursor.execute("BEGIN DEFERRED")
                try:
                    yield
                finally:
                    cursor.execute("ROLLBACK")
