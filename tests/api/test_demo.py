"""The demo shows the week that it is now, and never changes what another week recorded."""

from __future__ import annotations

import os
import shutil
import socket
import sqlite3
import subprocess
import sys
from contextlib import closing
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest
from django.core.management import CommandError, call_command
from django.db import transaction

from api import demo
from inventory.models import Lot, Studio
from sourcing.outlook import week_at
from tests.inventory.firsts import FILE, first_file

ROOT = Path(__file__).resolve().parents[2]


@pytest.mark.parametrize(
    ("day", "weeks"),
    [
        (date(2026, 11, 22), -1),
        (date(2026, 11, 23), 0),
        (date(2026, 11, 29), 0),
        (date(2026, 11, 30), 1),
        (date(2027, 11, 22), 52),
    ],
)
def test_the_demo_moves_by_the_weeks_between_mondays(day: date, weeks: int) -> None:
    assert demo.weeks_later(day) == weeks


def test_sunday_night_elsewhere_is_monday_at_the_studio_only_by_its_own_clock() -> None:
    """23:30 in UTC on a summer Sunday is Monday 00:30 in the studio's zone."""
    summer = demo.read(now=datetime(2027, 6, 6, 23, 30, tzinfo=UTC))[1]
    winter = demo.read(now=datetime(2027, 1, 10, 23, 30, tzinfo=UTC))[1]

    assert summer.isoformat() == "2027-06-07T07:30:00+01:00"
    assert winter.isoformat() == "2027-01-04T07:30:00+00:00"


def test_as_written_keeps_the_day_and_the_codes() -> None:
    notebook, at = demo.read(now=None)

    assert at.isoformat() == "2026-11-23T07:30:00+00:00"
    assert "AV-1116" in notebook.named("lots").values()


def test_a_week_later_the_codes_carry_the_new_days() -> None:
    notebook, _ = demo.read(now=datetime(2026, 12, 2, 12, tzinfo=UTC))

    codes = set(notebook.named("lots").values())
    assert {"AV-1116", "AV-1123"} <= codes
    assert "AV-1109" not in codes


@pytest.mark.django_db
def test_the_same_week_twice_changes_nothing() -> None:
    notebook, _ = demo.read(now=None)
    assert demo.keep(notebook) is None
    lots = Lot.objects.of(Studio.objects.get()).count()

    assert demo.keep(notebook) is None
    assert Lot.objects.of(Studio.objects.get()).count() == lots


@pytest.mark.django_db
def test_another_week_is_not_set_aside_when_other_studios_share_the_larder() -> None:
    Studio.objects.create(name="Elsewhere", zone="Europe/London")
    demo.keep(demo.read(now=None)[0])

    with pytest.raises(demo.DemoFailed) as caught:
        demo.keep(demo.read(now=datetime(2026, 12, 2, 12, tzinfo=UTC))[0])

    assert str(caught.value) == (
        "Pellitory Yard is kept here in another week, and what happened is not changed. Give the "
        "demo a larder of its own: name an empty folder in DYE_LARDER_STATE and call again."
    )


SCRIPT = """
import datetime, django
django.setup()
from api import demo
for day in ({days}):
    notebook = demo.read(now=datetime.datetime.fromisoformat(day))[0]
    try:
        print(demo.keep(notebook))
    except demo.DemoFailed as error:
        print(error)
"""


@pytest.fixture
def with_tables(tmp_path: Path) -> Path:
    """A state folder whose larder has its tables."""
    shutil.copy2(first_file(), tmp_path / FILE)
    return tmp_path


def _keep(state: Path, *days: str) -> list[str]:
    """Keep the demo of several days in one file, in a Python of its own."""
    listed = "".join(f"'{day}T12:00+00:00'," for day in days)
    kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT.format(days=listed)],
        cwd=ROOT,
        env={**kept, "DYE_LARDER_STATE": str(state), "DJANGO_SETTINGS_MODULE": "api.settings"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    return done.stdout.splitlines()


def _codes(file: Path) -> set[str]:
    with closing(sqlite3.connect(file)) as larder:
        return {code for (code,) in larder.execute("SELECT code FROM inventory_lot")}


def test_an_earlier_week_is_set_aside_whole_and_named(with_tables: Path) -> None:
    first, second = (with_tables / f"larder-set-aside-{number}.sqlite3" for number in (1, 2))
    first.write_bytes(b"of a week before")

    said = _keep(with_tables, "2026-11-25", "2026-12-02")

    name = "An earlier week of Pellitory Yard was kept here; it is now"
    assert said == ["None", f"{name} {second}."]
    assert first.read_bytes() == b"of a week before"
    assert "AV-1116" in _codes(second)
    assert "AV-1123" in _codes(with_tables / FILE)


def test_a_larder_that_is_open_elsewhere_is_not_set_aside(with_tables: Path) -> None:
    _keep(with_tables, "2026-11-25")
    with closing(sqlite3.connect(with_tables / FILE)) as other:
        other.execute("SELECT count(*) FROM inventory_lot").fetchone()

        said = _keep(with_tables, "2026-12-02")

    assert said == [f"{with_tables / FILE} is open elsewhere; end that and call again."]
    assert "AV-1116" in _codes(with_tables / FILE)


def test_the_next_free_port_is_taken(monkeypatch: pytest.MonkeyPatch) -> None:
    said: list[str] = []

    def bind(host: str, port: int, pages: object, **how: Any) -> None:
        """Bind as the server does, but do not stay."""
        with socket.socket() as listening:
            listening.bind((host, port))
        how["on_bind"](port)

    with socket.socket() as taken:
        taken.bind((demo.HOST, 0))
        taken.listen()
        port = taken.getsockname()[1]
        monkeypatch.setattr(demo, "PORTS", range(port, port + 20))
        monkeypatch.setattr(demo, "run", bind)
        demo.serve(said.append)

    assert len(said) == 1
    assert said[0] != f"http://127.0.0.1:{port}/"


def test_when_every_port_is_taken_it_is_said(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(demo, "PORTS", range(8000, 8000))

    with pytest.raises(demo.DemoFailed, match="are all taken; end what holds one and call again"):
        demo.serve(lambda address: None)


def test_a_demo_that_cannot_go_on_says_why_in_one_sentence(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    def fail(notebook: object) -> None:
        raise demo.DemoFailed("No room.")

    monkeypatch.setattr(demo, "keep", fail)

    with pytest.raises(CommandError, match=r"^No room\.$"):
        call_command("demo", no_serve=True)


@pytest.mark.django_db
@pytest.mark.parametrize("later", [6, 31])
def test_the_answers_of_a_moved_week_are_those_of_the_week_as_written(later: int) -> None:
    """By hours from Monday 07:30, in winter and in summer; no clock changes in these weeks."""
    assert _answers(None) == _answers(datetime(2026, 11, 25, tzinfo=UTC) + demo.WEEK * later)


def _answers(now: datetime | None) -> list[tuple[object, ...]]:
    notebook, at = demo.read(now=now)
    with transaction.atomic():
        demo.keep(notebook)
        week = week_at(Studio.objects.get(), at=at, days=7)
        transaction.set_rollback(True)
    return [
        (each.run, each.answer, *(when and when - at for when in (each.first_step_at, each.dry_at)))
        for each in week.answers
    ]
