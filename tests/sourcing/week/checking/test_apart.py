"""The checker shares nothing with the placer, and passes the placer's plans of the worked week."""

from __future__ import annotations

import ast
from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

import sourcing.week.checking as checking
from sourcing.week.checking import check
from sourcing.week.facts import DayHours, WeekFacts
from sourcing.week.project import project
from tests.sourcing.week.checking.breaking import FACTS, on_shelf
from tests.sourcing.week.pellitory import nov

ALLOWED = ("sourcing.week.checking", "sourcing.week.facts", "sourcing.week.plan")
HOUSE = Path(checking.__file__).parent


@pytest.mark.parametrize("file", sorted(HOUSE.glob("*.py")), ids=lambda path: path.name)
def test_checker_imports_nothing_of_the_placer(file: Path) -> None:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    names = [node.module or "" for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)]
    names += [
        alias.name
        for node in ast.walk(tree)
        if isinstance(node, ast.Import)
        for alias in node.names
    ]

    assert [name for name in names if name.startswith("sourcing") if name not in ALLOWED
            and not name.startswith("sourcing.week.checking.")] == []  # fmt: skip


def _with_wednesday() -> WeekFacts:
    """Six hours on Wednesday, as at the end of 13.7."""
    row = DayHours(date(2026, 11, 25), nov(25, 9), nov(25, 18), 360)
    return replace(FACTS, hours=(*FACTS.hours[:2], row, *FACTS.hours[2:]))


@pytest.mark.parametrize(
    "facts",
    [FACTS, on_shelf("lines", "line", holds_mg=3_500_000), _with_wednesday()],
    ids=["as written", "half a kilo more line", "six hours on Wednesday"],
)
def test_placers_plans_of_the_worked_week_keep_every_rule(facts: WeekFacts) -> None:
    assert check(facts, project(facts, days=7)) == []
