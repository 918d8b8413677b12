"""Whether the database has its tables, for the commands that need them.

Embedded, a studio calls `load` before anything else: the tables are made on the way. Grown, the
one who runs the server decides when a migration runs, so the sentence says what to call.
"""

from __future__ import annotations

from django.core.management import CommandError, call_command
from django.db import DEFAULT_DB_ALIAS, connections
from django.db.migrations.executor import MigrationExecutor
from django.db.utils import OperationalError

from api.management.door import TRY_AGAIN
from inventory.errors import OutOfReach
from inventory.hindrance import hindrance_of


def make_ready() -> None:
    """Make or bring up to date the tables of an embedded larder.

    Raises
    ------
    CommandError
        If the database does not answer, or is a server's and lacks migrations.
    """
    connection = connections[DEFAULT_DB_ALIAS]
    try:
        executor = MigrationExecutor(connection)
        missing = executor.migration_plan(executor.loader.graph.leaf_nodes())
    except OperationalError as error:
        if not isinstance(hindrance_of(error), OutOfReach):
            raise  # It is there, but busy or full: the door says so.
        sentence = f"The database does not answer: {error}".strip()
        raise CommandError(sentence, returncode=TRY_AGAIN) from error
    if not missing:
        return
    if connection.vendor != "sqlite":
        raise CommandError(
            f"The database lacks {len(missing)} migrations. Call: python3 manage.py migrate"
        )
    call_command("migrate", verbosity=0)
