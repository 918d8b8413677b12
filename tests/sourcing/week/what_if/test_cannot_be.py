"""Changes that do not fit the facts: each is named with its field, and what there is."""

from __future__ import annotations

from datetime import date, time
from decimal import Decimal

import pytest

from sourcing.week.what_if import CannotBe, Change, changed
from sourcing.week.what_if.figure import AnotherFigure
from sourcing.week.what_if.hours import SomebodyAway, SomebodyIn
from sourcing.week.what_if.room import LineRoom, OnePotMore, OneRingMore, PotAway, RingAway
from sourcing.week.what_if.runs import AnotherDueDate, AnotherWeight, OneRunMore, RunLeftOut
from sourcing.week.what_if.shelf import (
    AnotherBath,
    JarDipped,
    LotFoundBad,
    LotWeighed,
    MoreOfASupply,
)
from sourcing.week.what_if.visits import PickUpComes, PickUpMissed
from tests.sourcing.week.pellitory import FACTS, nov

CAFE, STONES = "Lantern Steps café", "avocado stones"
TUESDAY, WEDNESDAY = date(2026, 11, 24), date(2026, 11, 25)
THURSDAY, FRIDAY = date(2026, 11, 26), date(2026, 11, 27)
RUNS = "There are A, B, C, D, E, F and G."


def faults(*changes: Change) -> list[tuple[int, str, str]]:
    with pytest.raises(CannotBe) as refused:
        changed(FACTS, changes)
    return [(number, fault.field, fault.text) for number, fault in refused.value.faults]


@pytest.mark.parametrize(
    ("change", "field", "text"),
    [
        (AnotherDueDate("Q", None), "run", f"No run is called Q here. {RUNS}"),
        (AnotherWeight("Q", 1), "run", f"No run is called Q here. {RUNS}"),
        (RunLeftOut("Q"), "run", f"No run is called Q here. {RUNS}"),
        (
            OneRunMore("A", "slate", "silk", 1),
            "run",
            "There is a run called A already. Give this one another name.",
        ),
        (
            OneRunMore("Z", "slate", "wool", 1),
            "fibre",
            "Slate is worked out for silk, not wool. Say one of them.",
        ),
        (PotAway("P9"), "vessel",
         "No vessel is called P9 here. There are B1, B2, B3, P1, P2, P3 and P4."),
        (RingAway("R9"), "ring", "No ring is called R9 here. There are R1 and R2."),
        (OneRingMore("R1", 1), "ring",
         "There is a ring called R1 already. Give this one another name."),
        (
            OnePotMore("P1", "pot", 9_000),
            "vessel",
            "There is a vessel called P1 already. Give this one another name.",
        ),
        (
            LineRoom(-3_000_001, "line"),
            "less",
            "line holds 3 kg: 3 kg less is too much. Say that much at most.",
        ),
        (LineRoom(1, "loft"), "line", "No line is called loft here. There is line."),
        (
            PotAway("P1", nov(26), nov(26)),
            "until",
            "It ends before it begins. Say until after from.",
        ),
        (JarDipped("J9", 4), "jar", "No jar is called J9 here. There are J1, J2, J3, J4 and J5."),
        (
            MoreOfASupply("salt", 1),
            "supply",
            "No supply is called salt here. There are alum, soda ash, soda crystals and tannin.",
        ),
        (AnotherBath("J6", "nettle bath", 1), "bath",
         "There is a bath called J6 already. Give this one another name."),
        (LotFoundBad("AV-1123"), "lot",
         "AV-1123 is not here yet. Say that its pick-up is missed."),
        (
            PickUpMissed("Café", THURSDAY),
            "source",
            "No source that anything is expected from is called Café here. There is "
            "Lantern Steps café.",
        ),
        (
            PickUpMissed(CAFE, THURSDAY, "privet"),
            "gives",
            f"{CAFE} does not give privet. There is {STONES}.",
        ),
        (PickUpComes(CAFE, date(2026, 11, 22), STONES, mg=1), "on",
         "Sun 22 Nov 2026 is no day of the year from Mon 23 Nov 2026 on. Say one of them."),
        (SomebodyAway(WEDNESDAY), "day", "Nobody is in on Wed 25 Nov 2026 anyway."),
        (
            SomebodyAway(TUESDAY),
            "hands_min",
            "2 are in on Tue 24 Nov, with 600 min of hands between them. "
            "Say the hands of who is away.",
        ),
        (
            SomebodyAway(FRIDAY, time(12), time(13)),
            "from",
            "Only one is in that day, and would be away in the middle of it. Say from when till "
            "the end, or from the beginning until when.",
        ),
        (
            SomebodyIn(WEDNESDAY, time(9), time(10), 61),
            "hands_min",
            "From 09:00 until 10:00 are 60 min. Say that many minutes of hands at most.",
        ),
        (SomebodyIn(WEDNESDAY, time(10), time(10)), "until",
         "They leave before they come. Say until after from."),
        (
            AnotherFigure("wool", "scour_los_fraction", Decimal("0.1")),
            "rule",
            "No sum asks for a rule called scour los fraction. There is scour loss fraction.",
        ),
        (
            AnotherFigure("wool", "scour_loss_fraction", Decimal("1.1")),
            "value",
            "1.1 is out of all range: 0 to 0.9 can be worked with.",
        ),
    ],
)  # fmt: skip
def test_what_does_not_fit_is_said_with_what_there_is(
    change: Change, field: str, text: str
) -> None:
    assert faults(change) == [(0, field, text)]


def test_a_day_without_a_pick_up_names_those_that_are_expected() -> None:
    ((_, field, text),) = faults(PickUpMissed(CAFE, FRIDAY))

    assert field == "on"
    assert text.startswith(
        "No pick-up of Lantern Steps café is expected on Fri 27 Nov 2026. There are Mon 23 Nov, "
        "Thu 26 Nov, Mon 30 Nov, "
    )


def test_everything_wrong_with_all_changes_is_told_at_once() -> None:
    found = faults(RunLeftOut("Q"), LotWeighed("W-88", 1), OneRunMore("A", "x", "silk", 1))

    assert [(number, field) for number, field, _ in found] == [
        (0, "run"),
        (2, "run"),
        (2, "recipe"),
    ]


@pytest.mark.parametrize(
    ("one", "other"),
    [
        (AnotherDueDate("E", None), AnotherDueDate("E", nov(30))),
        (RunLeftOut("E"), AnotherWeight("E", 1)),
        (PickUpMissed(CAFE, THURSDAY), PickUpComes(CAFE, THURSDAY, STONES, mg=1)),
        (LineRoom(1), LineRoom(2, "line")),
        (SomebodyAway(FRIDAY), SomebodyIn(FRIDAY, time(9), time(10))),
        (OnePotMore("lent", "pot", 1_000), OnePotMore("lent", "tub", 1_000)),
    ],
)
def test_the_same_is_not_settled_twice(one: Change, other: Change) -> None:
    said = "Change 1 settles the same already. Leave one of the two out."

    assert faults(one, other) == [(1, "", said)]
    assert faults(other, one) == [(1, "", said)]


def test_changes_of_two_things_stand_side_by_side() -> None:
    there = changed(FACTS, [RunLeftOut("E"), AnotherWeight("D", 1_000)])

    assert [(run.code, run.weight_mg) for run in there.runs if run.code in "DE"] == [("D", 1_000)]


@pytest.mark.parametrize(
    ("most", "over", "field", "text"),
    [
        (
            AnotherWeight("A", 100_000_000),
            AnotherWeight("A", 100_001_000),
            "weight",
            "100.001 kg asked for; a run of 100 kg at most is worked out. Say less, or ask in "
            "several runs.",
        ),
        (
            OneRunMore("Z", "slate", "silk", 100_000_000),
            OneRunMore("Z", "slate", "silk", 200_000_000),
            "weight",
            "200 kg asked for; a run of 100 kg at most is worked out. Say less, or ask in "
            "several runs.",
        ),
        (
            OnePotMore("lent", "pot", 1_000),
            OnePotMore("lent", "pot", 900),
            "working",
            "0.9 L asked for; a pot, tub or bucket of 1 L to 1,000 L is worked out. Say another "
            "size.",
        ),
    ],
)
def test_nobody_waits_for_loads_without_end(
    most: Change, over: Change, field: str, text: str
) -> None:
    assert changed(FACTS, [most]) != FACTS
    assert faults(over) == [(0, field, text)]
