"""Published cases, built with the functions that the week is built with, reach their proved optima.

`DYE_LARDER_LONG=1` adds the ten by ten job shop, which takes minutes.
"""

from __future__ import annotations

import json
import os
from pathlib import Path
from typing import Any

import pytest

from sourcing.week.solving import (
    Goal,
    Model,
    Sum,
    Timed,
    Work,
    at_most,
    at_most_by_size,
    chain,
    follows,
    in_order,
    is_late,
    last_of,
    late_by,
    one_at_a_time,
    one_of,
    step,
)

CASES = Path(__file__).parent / "cases"
LONG = os.environ.get("DYE_LARDER_LONG") == "1"
WORK = Work(counted=600 if LONG else 20, seconds=1_200 if LONG else 60)


def case(name: str) -> Any:
    return json.loads((CASES / f"{name}.json").read_text(encoding="utf-8"))


def least(model: Model, of: Sum) -> int:
    """The least that a sum can be, proved."""
    solved = in_order(model, [Goal("least", of)], WORK)
    assert solved.possible
    assert solved.outcomes[0].proved
    assert solved.outcomes[0].gap == 0
    assert solved.outcomes[0].value is not None
    return solved.outcomes[0].value


@pytest.mark.parametrize("name", ["ft06", "la01", "la05", *(["ft10"] if LONG else [])])
def test_job_shops(name: str) -> None:
    known = case(name)
    model = Model(sum(minutes for job in known["operations"] for _, minutes in job))
    on_machine: dict[int, list[Timed]] = {}
    ends = []
    for number, job in enumerate(known["operations"]):
        rows = []
        for place, (machine, minutes) in enumerate(job):
            rows.append(step(model, f"{number}.{place}", minutes=minutes))
            on_machine.setdefault(machine, []).append(rows[-1])
        chain(model, rows)
        ends.append(rows[-1])
    for rows in on_machine.values():
        one_at_a_time(model, rows)

    assert least(model, last_of(model, "end", ends)) == known["optimum"]


def test_flexible_job_shop() -> None:
    """Each step on any of the machines listed for it, as a bath in any of the pots allowed."""
    known = case("mk01")
    model = Model(sum(max(m for _, m in ways) for job in known["operations"] for ways in job))
    on_machine: dict[int, list[Timed]] = {}
    ends = []
    for number, job in enumerate(known["operations"]):
        rows = []
        for place, ways in enumerate(job):
            whole, single = one_of(model, f"{number}.{place}", [minutes for _, minutes in ways])
            for (machine, _), row in zip(ways, single, strict=True):
                on_machine.setdefault(machine, []).append(row)
            rows.append(whole)
        chain(model, rows)
        ends.append(rows[-1])
    for rows in on_machine.values():
        one_at_a_time(model, rows)

    assert least(model, last_of(model, "end", ends)) == known["optimum"] == 40


@pytest.mark.parametrize("name", ["j30_1_1", "j30_1_4"])
def test_projects_with_things_of_limited_number(name: str) -> None:
    known = case(name)
    rows = known["activities"]
    model = Model(sum(row["duration"] for row in rows))
    steps = {row["id"]: step(model, str(row["id"]), minutes=row["duration"]) for row in rows}
    for row in rows:
        for after in row["successors"]:
            follows(model, steps[row["id"]], steps[after])
    for kind, there in enumerate(known["capacities"]):
        at_most(model, [(steps[row["id"]], row["demand"][kind]) for row in rows], there)

    assert least(model, last_of(model, "end", steps.values())) == known["optimum"]


def of_one_machine(name: str) -> tuple[Model, list[tuple[Timed, int]], Any]:
    known = next(row for row in case("sequencing_rules") if row["id"] == name)
    jobs = known["jobs"]
    model = Model(sum(job["processing"] for job in jobs.values()))
    rows = [(step(model, code, minutes=job["processing"]), job["due"])
            for code, job in jobs.items()]  # fmt: skip
    one_at_a_time(model, [row for row, _ in rows])
    return model, rows, known["optimal"]


@pytest.mark.parametrize("name", ["SQ1", "SQ2"])
def test_one_machine_by_four_goals(name: str) -> None:
    model, rows, known = of_one_machine(name)
    assert least(model, sum(row.end for row, _ in rows)) == known["min_total_flow"]

    model, rows, known = of_one_machine(name)
    most = model.number("most")
    for row, due in rows:
        model.cp.add(most >= late_by(model, row, due))
    assert least(model, most) == known["min_max_late"]

    model, rows, known = of_one_machine(name)
    assert (
        least(model, sum(is_late(model, row, due) for row, due in rows)) == known["min_late_jobs"]
    )

    model, rows, known = of_one_machine(name)
    assert (
        least(model, sum(late_by(model, row, due) for row, due in rows)) == known["min_total_late"]
    )


@pytest.mark.parametrize(("name", "rule"), [("SQ1", "EDD"), ("SQ2", "EDD"), ("SQ1", "SPT")])
def test_goals_in_order_end_where_the_rule_ends(name: str, rule: str) -> None:
    """The least most-late first, then the least sum: no worse than the rule in either goal."""
    model, rows, _ = of_one_machine(name)
    known = next(row for row in case("sequencing_rules") if row["id"] == name)
    most = model.number("most")
    for row, due in rows:
        model.cp.add(most >= late_by(model, row, due))

    solved = in_order(
        model, [Goal("most late", most), Goal("flow", sum(row.end for row, _ in rows))], WORK
    )
    late, flow = (row.value for row in solved.outcomes)

    assert late == known["optimal"]["min_max_late"]
    assert flow is not None
    assert known["optimal"]["min_total_flow"] <= flow
    if known["rules"][rule]["max_late"] == late:
        assert flow <= known["rules"][rule]["total_flow"]


def test_two_machines_one_after_the_other() -> None:
    known = next(row for row in case("sequencing_rules") if row["id"] == "JR1")
    model = Model(sum(map(sum, known["two_machine_jobs"].values())))
    first, second = [], []
    for code, (one, other) in known["two_machine_jobs"].items():
        first.append(step(model, f"{code} first", minutes=one))
        second.append(step(model, f"{code} second", minutes=other))
        chain(model, [first[-1], second[-1]])
    one_at_a_time(model, first)
    one_at_a_time(model, second)

    assert least(model, last_of(model, "end", second)) == known["makespan"] == 35


def test_two_equal_machines_as_one_class() -> None:
    known = next(row for row in case("sequencing_rules") if row["id"] == "PM1")
    model = Model(sum(known["processing"]))
    rows = [step(model, str(n), minutes=m) for n, m in enumerate(known["processing"])]
    at_most_by_size(model, [(row, 1) for row in rows], [1] * known["machines"])

    assert least(model, last_of(model, "end", rows)) == known["optimum"] == 6
