"""What the settings promise on PostgreSQL."""

from __future__ import annotations

import pytest
from django.db import connection, transaction

pytestmark = [pytest.mark.needs_postgres, pytest.mark.django_db(transaction=True)]


def _value(sql: str) -> object:
    with connection.cursor() as cursor:
        cursor.execute(sql)
        row = cursor.fetchone()
    return row[0] if row else None


def test_a_commit_is_on_disk_before_it_is_acknowledged() -> None:
    assert _value("SHOW synchronous_commit") == "on"
    assert _value("SHOW fsync") == "on"


def test_a_connection_that_the_server_dropped_is_replaced_unseen() -> None:
    first = _value("SELECT pg_backend_pid()")
    with transaction.atomic():
        _value("SELECT 1")
    assert connection.settings_dict["CONN_HEALTH_CHECKS"] is True

    _end(first)
    # What Django does at the start of each request.
    connection.close_if_unusable_or_obsolete()

    assert _value("SELECT pg_backend_pid()") != first


def _end(backend: object) -> None:
    """End a server process from a second connection, as a restart of the server would."""
    other = connection.copy()
    try:
        with other.cursor() as cursor:
            cursor.execute("SELECT pg_terminate_backend(%s)", [backend])
    finally:
        other.close()
