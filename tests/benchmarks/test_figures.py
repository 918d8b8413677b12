"""The command that prints the figures runs, and every row of it is a ratio; no time is judged."""

from __future__ import annotations

import os
import subprocess
import sys
from importlib import import_module

import pytest
from django.conf import settings

from api import suite
from tests.benchmarks import __main__ as figures
from tests.benchmarks.rows import HEADINGS, Row, table, within
from tests.inventory.scratch import ROOT


def run(*words: str) -> str:
    """What the command prints, on the engine that this round of the tests is about."""
    grown = "postgresql" in settings.DATABASES["default"]["ENGINE"]
    engine = "postgresql" if grown else "sqlite"
    environ = {name: value for name, value in os.environ.items() if name not in suite.OURS}
    done = subprocess.run(
        [sys.executable, "-m", "tests.benchmarks", "--engine", engine, *words],
        cwd=ROOT, env=environ, capture_output=True, text=True, check=False, timeout=300,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr[-4000:]
    return done.stdout


def test_the_command_prints_a_ratio_in_every_row_of_every_group(db: None) -> None:
    said = run("--quick")

    heading, *lines = [line for line in said.splitlines() if line]
    ratio, budget = heading.index("ratio"), heading.index("budget")
    groups = {line[2:].split(",")[0].split(":")[0] for line in lines if line.startswith("#")}
    rows = [line for line in lines if not line.startswith("#")][:-1]
    left_out = {"demo"} if suite.chromium() else {"demo", "seen"}  # the first takes minutes
    assert groups == {*figures.ON_A_DATABASE, *figures.ONCE} - left_out
    assert len(rows) >= 60
    for row in rows:
        assert float(row[ratio:budget].replace(",", "")) > 0, row
    assert lines[-1].endswith("budgets met.")


@pytest.mark.parametrize("name", [*figures.ON_A_DATABASE, *figures.ONCE, *figures.ASKED])
def test_a_group_has_its_own_file_and_says_what_is_counted(name: str) -> None:
    group = import_module(f"tests.benchmarks.{name}")

    assert callable(getattr(group, name))
    assert group.COUNTED.startswith((f"{name}:", f"{name}, {{engine}}:"))


def test_a_ratio_meets_its_budget_up_to_the_border_and_no_further() -> None:
    assert within(1.5, 1.5) == {"ratio": 1.5, "budget": "≤ 1.5", "met": True}
    assert within(1.501, 1.5)["met"] is False


def test_the_table_says_once_what_rows_have_in_common_and_tells_met_from_missed() -> None:
    rows = [
        Row("a page", "3 ms", "1 ms", 3.0, "≤ 2", met=False, counted="pages: whole"),
        Row("a list", "1 ms", "1 ms", 1.0, "≤ 2", met=True, counted="pages: whole"),
        Row("a draw", "2 ms", "1 ms", 2.0, counted="draw: whole"),
    ]

    said = table(rows)

    heading, *lines = [line for line in said.splitlines() if line]
    assert tuple(heading.split("  ")[0:1]) == HEADINGS[:1]
    assert [line.split()[0] for line in lines] == ["#", "a", "a", "#", "a"]
    assert lines[1].endswith("NOT MET")
    assert lines[2].endswith("≤ 2     met")
    assert lines[4].endswith("-")
