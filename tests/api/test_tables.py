"""Commands on a machine where nothing was called before."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest
from django.core.management import CommandError

from api import tables

ROOT = Path(__file__).resolve().parents[2]


def called(state: Path, *words: str) -> subprocess.CompletedProcess[str]:
    environment = {**os.environ, "DATABASE_URL": "", "DYE_LARDER_STATE": str(state)}
    return subprocess.run(
        [sys.executable, "manage.py", *words],
        cwd=ROOT,
        env=environment,
        capture_output=True,
        text=True,
        timeout=120,
        check=False,
    )


def test_a_week_asked_of_nothing_says_what_to_load(tmp_path: Path) -> None:
    answer = called(tmp_path, "week")

    assert answer.returncode == 1
    assert answer.stderr.strip() == (
        "CommandError: No studio is written down yet. "
        "Load a notebook: python3 manage.py load FOLDER"
    )


def test_a_notebook_loads_before_anything_else_was_called(tmp_path: Path) -> None:
    answer = called(tmp_path, "load", "fixtures/pellitory-yard")

    assert answer.returncode == 0, answer.stderr
    assert answer.stdout.startswith("Pellitory Yard: new: 1 of studio")


@pytest.mark.django_db
def test_a_server_without_its_migrations_is_told_to_migrate(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    class Behind:
        def __init__(self, connection: object) -> None:
            self.loader = self
            self.graph = self

        def leaf_nodes(self) -> list[object]:
            return []

        def migration_plan(self, targets: list[object]) -> list[object]:
            return [object(), object()]

    monkeypatch.setattr(tables, "MigrationExecutor", Behind)
    monkeypatch.setattr(
        tables, "connections", {"default": type("Server", (), {"vendor": "postgresql"})()}
    )

    with pytest.raises(CommandError) as refused:
        tables.make_ready()

    assert str(refused.value) == (
        "The database lacks 2 migrations. Call: python3 manage.py migrate"
    )
