"""A copy is whole, proved, and never half there."""

from __future__ import annotations

import sqlite3
import subprocess
from contextlib import closing
from pathlib import Path

import pytest
from django.contrib.contenttypes.models import ContentType
from django.core.management import CommandError, call_command
from django.db import connection

from api import backup

pytestmark = pytest.mark.django_db(transaction=True)


@pytest.mark.needs_sqlite
def test_a_copy_on_sqlite_holds_what_was_recorded(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    ContentType.objects.create(app_label="larder", model="kept")

    call_command("backup", str(tmp_path / "copy.sqlite3"))

    with closing(sqlite3.connect(tmp_path / "copy.sqlite3")) as copy:
        kept = copy.execute("SELECT model FROM django_content_type WHERE app_label = 'larder'")
        assert kept.fetchall() == [("kept",)]
    said = capsys.readouterr().out
    assert said.startswith(f"{tmp_path / 'copy.sqlite3'}: ")
    assert "bytes, opened again and sound, " in said


@pytest.mark.needs_postgres
def test_a_copy_on_postgres_holds_what_was_recorded(tmp_path: Path) -> None:
    ContentType.objects.create(app_label="larder", model="kept")

    call_command("backup", str(tmp_path / "copy.dump"))

    rows = subprocess.run(
        ["pg_restore", "--data-only", "--table=django_content_type", tmp_path / "copy.dump", "-f-"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert "larder\tkept\n" in rows.stdout


def test_the_copy_is_for_its_owner_only_and_alone(tmp_path: Path) -> None:
    backup.back_up(connection, tmp_path / "copy")

    assert (tmp_path / "copy").stat().st_mode & 0o077 == 0
    assert [file.name for file in tmp_path.iterdir()] == ["copy"]


def test_a_file_that_is_there_is_never_written_over(tmp_path: Path) -> None:
    (tmp_path / "copy").write_text("mine", encoding="utf-8")

    with pytest.raises(CommandError) as caught:
        call_command("backup", str(tmp_path / "copy"))

    assert str(caught.value) == f"{tmp_path / 'copy'} is there already; name a new file."
    assert (tmp_path / "copy").read_text(encoding="utf-8") == "mine"


def test_a_folder_that_is_missing_is_named(tmp_path: Path) -> None:
    with pytest.raises(CommandError) as caught:
        call_command("backup", str(tmp_path / "none" / "copy"))

    assert str(caught.value) == (
        f"The folder {tmp_path / 'none'} is not there; make it or name another."
    )


@pytest.mark.needs_postgres
def test_a_missing_tool_is_named_and_nothing_is_left(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))

    with pytest.raises(CommandError) as caught:
        call_command("backup", str(tmp_path / "copy"))

    assert str(caught.value) == "pg_dump is not here: install postgresql-client and call again."
    assert list(tmp_path.iterdir()) == []


@pytest.mark.needs_sqlite
def test_a_copy_that_does_not_prove_sound_is_not_kept(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def spoil(file: Path) -> None:
        raise backup.BackupFailed("The copy is not sound.")

    monkeypatch.setattr(backup, "_to_disk", spoil)

    with pytest.raises(CommandError):
        call_command("backup", str(tmp_path / "copy"))

    assert list(tmp_path.iterdir()) == []
