"""Which studio the demo shows, in which week, and at which address."""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Callable
from contextlib import closing
from datetime import date, datetime, time, timedelta
from itertools import count
from pathlib import Path

from django.core.management import call_command
from django.core.servers.basehttp import run
from django.core.wsgi import get_wsgi_application
from django.db import connection

from api.reminders import runner
from inventory.models import Studio
from sourcing.notebook.load import load
from sourcing.notebook.notebook import Notebook, files_of, read_notebook
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.shift import moved

NOTEBOOK = Path(__file__).resolve().parent.parent / "fixtures" / "pellitory-yard"
# The Monday that the notebook was written for, and the hour at which its dyer looks at the week.
WRITTEN_FOR = date(2026, 11, 23)
LOOKED_AT = time(7, 30)
WEEK = timedelta(weeks=1)

HOST = "127.0.0.1"
PORTS = range(8000, 8020)


class DemoFailed(Exception):
    """The demo cannot go on; the sentence says what to do."""


def read(*, now: datetime | None) -> tuple[Notebook, datetime]:
    """The demo's notebook and its Monday 07:30: of the week of `now`, or as written without one."""
    notebook, _ = read_notebook(files_of(NOTEBOOK)[0])
    zone = notebook.setting.zone
    weeks = weeks_later(now.astimezone(zone).date()) if now else 0
    at = datetime.combine(WRITTEN_FOR + WEEK * weeks, LOOKED_AT, tzinfo=zone)
    return (moved(notebook, weeks=weeks) if weeks else notebook), at


def weeks_later(day: date) -> int:
    """Whole weeks from the week of the notebook to the one that `day` falls in."""
    return (day - timedelta(days=day.weekday()) - WRITTEN_FOR) // WEEK


def keep(notebook: Notebook) -> str | None:
    """Load the notebook; where another week of it was kept, say where that was set aside."""
    call_command("migrate", verbosity=0)
    aside = None
    if _is_of_another_week(notebook):
        aside = _set_aside(notebook.name)
        call_command("migrate", verbosity=0)
    load(notebook)
    return aside


def _is_of_another_week(notebook: Notebook) -> bool:
    """What happened is not changed by loading, so a week that is kept refuses another one."""
    if not Studio.objects.filter(name=notebook.name).exists():
        return False
    try:
        load(notebook, dry_run=True)
    except NotebookRefused:
        return True
    return False


def _set_aside(name: str) -> str:
    """Give the file of an earlier demo another name, if nothing but the demo is in it."""
    alone = not Studio.objects.exclude(name=name).exists()
    if connection.vendor != "sqlite" or not alone:
        raise DemoFailed(
            f"{name} is kept here in another week, and what happened is not changed. Give the demo "
            "a larder of its own: name an empty folder in DYE_LARDER_STATE and call again."
        )
    file = Path(connection.settings_dict["NAME"])
    connection.close()
    _let_go(file)
    other = next(
        path
        for number in count(1)
        if not (path := file.with_name(f"{file.stem}-set-aside-{number}{file.suffix}")).exists()
    )
    file.rename(other)
    return f"An earlier week of {name} was kept here; it is now {other}."


def _let_go(file: Path) -> None:
    """Bring everything into the one file; SQLite refuses while anybody else has it open."""
    with closing(sqlite3.connect(file, timeout=1)) as alone:
        try:
            alone.execute("PRAGMA journal_mode=DELETE")
        except sqlite3.OperationalError as error:
            raise DemoFailed(f"{file} is open elsewhere; end that and call again.") from error


def serve(say: Callable[[str], None]) -> None:
    """Serve the pages to this machine until stopped, at the first port that is free."""
    pages = get_wsgi_application()
    runner.start()
    for port in PORTS:
        try:
            run(HOST, port, pages, threading=True, on_bind=lambda at: say(f"http://{HOST}:{at}/"))
        except OSError as error:
            if error.errno != errno.EADDRINUSE:
                raise
        else:
            return
    raise DemoFailed(
        f"Ports {PORTS.start} to {PORTS.stop - 1} are all taken; end what holds one and call again."
    )
