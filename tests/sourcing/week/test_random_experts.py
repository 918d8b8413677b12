"""Studios with an expert's pieces: the order in which things are listed changes nothing said."""

from __future__ import annotations

from typing import Any

from sourcing.week.plan import Week
from sourcing.week.project import project
from tests.sourcing.week.expert_weeks import expert_weeks
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
    for number, (facts, week) in enumerate(expert_weeks()[:60]):
        warned += sum(bool(row.warnings) for row in week.answers)
        if said(project(shuffled(facts, number), days=7)) != said(week):
            changed.append(number)

    assert changed == []
    assert warned > 10
