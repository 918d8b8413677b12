"""What another week changes, in words, on the worked week."""

from __future__ import annotations

from dataclasses import replace

from sourcing.week.differences import Difference, differences, spoiling_lots
from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import Floor, Guidance
from sourcing.week.moments import minute_of
from sourcing.week.plan import Week
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, nov

DAYS = 7


def guided(guidance: Guidance, facts: WeekFacts = FACTS) -> Week:
    return project(replace(facts, guidance=guidance), days=DAYS)


def told(guidance: Guidance) -> list[tuple[str, str, str]]:
    found = differences(FACTS, project(FACTS, days=DAYS), guided(guidance))
    return [(row.kind, row.what, str(row.text)) for row in found]


def test_the_same_week_differs_in_nothing() -> None:
    assert told(Guidance()) == []
    assert told(Guidance(order=("F", "A", "C", "D", "E"))) == []


def test_a_run_that_goes_first_takes_the_place_of_another() -> None:
    """Oak Grey before Blush: the line holds 3 kg, so the kilo and a half of Blush hangs later."""
    found = told(Guidance(order=("E",)))

    kinds = {what: kind for kind, what, _ in found}
    assert kinds["E"] == "better"
    assert any(kind == "worse" for kind in kinds.values())
    assert any("Oak Grey (E) fits: first step" in text for _, _, text in found)


def test_gains_stand_before_losses_and_losses_before_moves() -> None:
    found = [kind for kind, what, _ in told(Guidance(order=("E",))) if what]

    order = ["better", "worse", "otherwise"]
    assert found == sorted(found, key=order.index)


def test_a_run_put_off_says_by_how_many_days_or_till_when() -> None:
    """C begun a day later misses the line before the weekend's cloth is dry."""
    waits = Guidance(floors=(Floor("C", "soak", minute_of(nov(25, 14))),))
    put_off = Guidance(floors=(Floor("A", "extract", minute_of(nov(26, 9))),))

    first = [text for kind, what, text in told(waits) if (kind, what) == ("worse", "C")]
    second = [text for kind, what, text in told(put_off) if (kind, what) == ("worse", "A")]

    assert first == ["Hedge Olive (C) waits till Thu 26 Nov 14:00, dry Wed 2 Dec 11:00."]
    assert second == ["Blush (A) is dry 1 day later: Sun 29 Nov 10:00."]


def test_what_of_a_lot_spoils_is_told_in_grams() -> None:
    """AV-1116 is at its last good day: without Blush nobody takes its 1,180 g."""
    week = project(FACTS, days=DAYS)
    none = replace(
        week,
        answers=tuple(replace(row, answer="no", takes=()) if row.run == "A" else row
                      for row in week.answers),
    )  # fmt: skip

    found = differences(FACTS, week, none)

    assert "AV-1116" in spoiling_lots(FACTS, week)
    text = "1,180 g of AV-1116 (avocado stones) spoils that would have been used."
    assert Difference("worse", "AV-1116", text) in found  # type: ignore[arg-type]
