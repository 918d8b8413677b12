"""Damp fibre that ends before its bath: hung up where a line has room, it is a way to a yes.

The worked week a day on: W-85 was scoured again on Monday and lies damp, the group comes Saturday.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sourcing.week.checking import check
from sourcing.week.facts import Hanging, WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.project import project
from sourcing.week.unlocking.hanging_up import hung
from tests.sourcing.week.pellitory import FACTS, nov
from tests.sourcing.week.under_way import later

NINE, DRY = nov(24, 9), nov(26, 9)


def scoured_again(**fibre: object) -> WeekFacts:
    given = {"scoured": True, "since": date(2026, 11, 23), **fibre}
    rows = tuple(
        replace(row, **given) if row.code == "W-85" else row  # type: ignore[arg-type]
        for row in FACTS.shelf.fibre
    )
    facts = replace(FACTS, shelf=replace(FACTS.shelf, fibre=rows))
    return later(facts, nov(24, 8))


def group(facts: WeekFacts) -> Answer:
    return next(row for row in project(facts, days=7, unlocks=True).answers if row.run == "F")


def on_the_line(since: object, until: object, grams: int) -> Hanging:
    return Hanging("line", since, until, grams * 1000, "sheets")  # type: ignore[arg-type]


def hangs(answer: Answer) -> list[tuple[object, ...]]:
    found = [u.changes for u in answer.unlocks if [c.kind for c in u.changes] == ["hang"]]
    return [(c.what, c.since, c.until, c.text) for (c,) in found]


def test_damp_fibre_is_hung_up_in_the_first_hour_in_which_somebody_is_in() -> None:
    found = group(scoured_again())

    assert found.answer == "no"
    assert hangs(found) == [
        ("W-85", NINE, DRY, "W-85 hung up Tue 24 Nov 09:00, dry Thu 26 Nov 09:00")
    ]


def test_with_it_on_the_line_the_run_is_a_yes_and_no_rule_is_broken() -> None:
    facts = hung(scoured_again(), "W-85", ("line", NINE, DRY))
    week = project(facts, days=7)

    assert next(row.answer for row in week.answers if row.run == "F") == "yes"
    assert check(facts, week) == []


def test_it_waits_for_room_on_the_line() -> None:
    # 3,000 g: 2,600 g hang until 14:00, so its 500 g fit from then on.
    facts = scoured_again()
    full = replace(facts, hanging=(on_the_line(nov(23, 9), nov(24, 14), 2_600),))

    assert [row[1:3] for row in hangs(group(full))] == [(nov(24, 14), nov(26, 14))]
    just = replace(facts, hanging=(on_the_line(nov(23, 9), nov(24, 14), 2_100),))
    assert [row[1] for row in hangs(group(just))] == [NINE]


def test_where_the_line_stays_full_it_is_no_way() -> None:
    facts = scoured_again()
    full = replace(facts, hanging=(on_the_line(nov(23, 9), nov(29, 9), 2_600),))

    assert hangs(group(full)) == []


def test_what_may_be_mouldy_is_looked_over_first() -> None:
    found = group(scoured_again(since=date(2026, 11, 17)))

    assert hangs(found) == []
    assert [row.kind for row in found.barred] == ["fibre state"]


def test_dry_fibre_needs_no_line() -> None:
    found = group(scoured_again(damp=False))

    assert found.answer == "yes"
