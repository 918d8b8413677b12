"""A larder from before there were accounts becomes one that has them, and loses nothing."""

from __future__ import annotations

from pathlib import Path

from tests.faults.places import YARD, Larder
from tests.inventory.scratch import python, scratch_database

# What a larder of then holds of the framework's own: a table of accounts that nobody used.
OLD_TABLE = """
from django.db import connection
with connection.cursor() as asked:
    asked.execute("CREATE TABLE auth_user (id integer PRIMARY KEY, username varchar(150))")
"""
WEEK = ("manage.py", "week", "--at", "2026-11-23T07:30")


def test_a_larder_from_before_accounts_takes_them_in_and_can_go_back(tmp_path: Path) -> None:
    with scratch_database(tmp_path, holding=YARD) as there:
        larder = Larder(there)
        shown = python(there, *WEEK)
        python(there, "manage.py", "migrate", "api", "0002", "--verbosity", "0")
        python(there, "manage.py", "migrate", "sessions", "zero", "--verbosity", "0")
        python(there, "manage.py", "shell", "-c", OLD_TABLE)
        before = larder.counts()

        python(there, "manage.py", "migrate", "--verbosity", "0")

        after = larder.counts()
        assert before.keys() <= after.keys()
        left = {"django_migrations", "django_content_type", "auth_permission", "sqlite_sequence"}
        assert {name: after[name] for name in before.keys() - left} == {
            name: before[name] for name in before.keys() - left
        }
        assert (after["api_account"], after["api_membership"]) == (0, 0)
        assert python(there, *WEEK) == shown
        assert larder.is_sound()
