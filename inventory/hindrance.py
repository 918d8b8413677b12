"""What keeps the larder from answering though nothing asked was wrong: busy, full or out of reach.

Databases say it in codes of their own; here each code becomes one of our errors.
"""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from django.db.utils import Error, InterfaceError, OperationalError

from inventory.errors import Busy, NoRoom, NoTables, NotNow, OutOfReach

# https://www.sqlite.org/rescode.html; the lower eight bits of an extended code are the code.
BUSY_FILE = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
FULL_FILE = (sqlite3.SQLITE_FULL, sqlite3.SQLITE_IOERR)
LOST_FILE = (sqlite3.SQLITE_CANTOPEN, sqlite3.SQLITE_READONLY)
# https://www.postgresql.org/docs/current/errcodes-appendix.html
# lock_not_available, query_canceled, serialization_failure, deadlock_detected and
# too_many_connections.
BUSY_SERVER = ("55P03", "57014", "40001", "40P01", "53300")
NO_TABLE, NO_TABLE_ON_SERVER = "no such table", "42P01"
FULL_SERVER = ("53100",)  # disk_full
LOST_SERVER = ("57P01", "57P02", "57P03", "57P05", "25P03")  # shut down, crashed, starting, idle
CONNECTION = "08"  # the class of connection exceptions


@contextmanager
def said_in_words() -> Iterator[None]:
    """Within it a database that is busy, full or out of reach raises an error of ours.

    Raises
    ------
    Busy, NoRoom, OutOfReach
        With a sentence; what the database said is its cause.
    """
    try:
        yield
    except Error as trouble:
        hindrance = hindrance_of(trouble)
        if hindrance is None:
            raise
        raise hindrance from trouble


def hindrance_of(trouble: Error) -> NotNow | None:
    """What a database's error means to those who asked; None where it is a fault of ours."""
    cause = trouble.__cause__
    if isinstance(cause, sqlite3.Error):
        # A table that is not there has no code of its own.
        return NoTables() if NO_TABLE in str(cause) else _of_file(_code(cause) & 0xFF)
    state = getattr(cause, "sqlstate", None)
    if state is not None:
        return _of_server(str(state))
    if "locked" in str(trouble):
        return Busy(1)
    # Without a code nobody answered: the server is gone, or the line to it.
    return OutOfReach() if isinstance(trouble, OperationalError | InterfaceError) else None


def waited_in_vain(trouble: Error) -> bool:
    """Whether the database itself has waited for others as long as it may."""
    cause = trouble.__cause__
    if isinstance(cause, sqlite3.Error):
        return _code(cause) == sqlite3.SQLITE_BUSY
    return getattr(cause, "sqlstate", None) in ("55P03", "57014")


def _code(cause: sqlite3.Error) -> int:
    return int(getattr(cause, "sqlite_errorcode", 0))


def _of_file(code: int) -> NotNow | None:
    if code in BUSY_FILE:
        return Busy(1)
    if code in FULL_FILE:
        return NoRoom()
    return OutOfReach() if code in LOST_FILE else None


def _of_server(state: str) -> NotNow | None:
    if state in BUSY_SERVER:
        return Busy(1)
    if state in FULL_SERVER:
        return NoRoom()
    if state == NO_TABLE_ON_SERVER:
        return NoTables()
    return OutOfReach() if state in LOST_SERVER or state.startswith(CONNECTION) else None
