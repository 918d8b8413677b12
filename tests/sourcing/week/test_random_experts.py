"""Studios with an expert's pieces: the order in which things are listed changes nothing said."""

from __future__ import annotations

from typing import Any

from sourcing.week.plan import Week
from sourcing.week.project import project
from tests.sourcing.week.random_extras import expert_studio
from tests.sourcing.week.test_random_studios import gist, shuffled


def said(week: Week) -> dict[str, Any]:
    """What is promised, and what is said beside it."""
    beside = {
        row.run: (row.top_up_ml, {warning.text for warning in row.warnings}, set(row.notes))
        for row in week.answers
    }
    return {"promised": gist(week), "beside": beside}


def test_order_in_which_things_are_listed_changes_neither_promise_nor_warning() -> None:
    changed, warned = [], 0
    for number in range(60):
        facts = expert_studio(number)
        week = project(facts, days=7)
        warned += sum(bool(row.warnings) for row in week.answers)
        if said(project(shuffled(facts, number), days=7)) != said(week):
            changed.append(number)

    assert changed == []
    assert warned > 10
