"""Drying: hung on the quarter hour, dry when its hours are over, the line never over."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sourcing.week.facts import Block, Hanging, Weather
from sourcing.week.plan import LineLoad
from tests.sourcing.week.checking.breaking import (
    FACTS,
    hung,
    kinds,
    on_shelf,
    texts,
    with_answer,
    with_day,
    with_figure,
)
from tests.sourcing.week.pellitory import nov


def test_line_carries_no_more_than_it_takes() -> None:
    """On Friday 2.0 kg of Blush and 0.6 kg of Olive hang together."""
    assert kinds(on_shelf("lines", "line", holds_mg=2_600_000)) == set()
    assert texts("line over", on_shelf("lines", "line", holds_mg=2_590_000)) == [
        "line carries 2.6 kg, it takes 2.59 kg"
    ]


def test_cloth_that_hangs_already_counts() -> None:
    throw = Hanging("line", nov(22, 12), nov(24, 16, 5), 2_700_000)
    line = (LineLoad(nov(23), 2_700_000),)

    facts = replace(FACTS, hanging=(throw,))

    assert "line over" in kinds(facts, with_day(0, line=line))
    assert "line over" not in kinds(replace(FACTS, hanging=(replace(throw, until=nov(24, 16)),)))


def test_block_takes_its_kilos_of_the_line() -> None:
    fair = Block("fair", "open day", nov(26, 12), nov(26, 18), line_mg=1_100_000)

    facts = replace(FACTS, blocks=(*FACTS.blocks, fair))

    assert "line row" in kinds(facts)
    assert "line over" not in kinds(facts)


def test_cloth_is_hung_at_the_next_quarter_hour() -> None:
    assert kinds(week=with_answer("C", hung_at=nov(27, 10, 48))) == {"hanging"}


def test_cloth_is_dry_when_its_hours_are_over() -> None:
    assert kinds(week=with_answer("C", dry_at=nov(29, 10, 45))) == {"dry"}
    assert kinds(with_figure("studio", "drying_h", "47")) >= {"dry"}


def test_run_hangs_on_a_line_that_is_there() -> None:
    assert "line" in kinds(week=with_answer("C", line="rail"))


@pytest.mark.parametrize(("day", "found"), [(23, set()), (24, {"frost"}), (26, {"frost"})])
def test_frost_bars_an_outdoor_line_as_long_as_cloth_hangs(day: int, found: set[str]) -> None:
    outdoors = on_shelf("lines", "line", outdoors=True)

    assert kinds(replace(outdoors, weather=(Weather(nov(day).date(), frost=True),))) == found


def test_frost_does_not_matter_indoors() -> None:
    assert kinds(replace(FACTS, weather=(Weather(nov(26).date(), frost=True),))) == set()


def test_day_row_says_what_hangs() -> None:
    row = (LineLoad(nov(27), 2_000_000), LineLoad(nov(27, 11), 2_500_000))

    assert texts("line row", week=with_day(4, line=row)) == [
        "2.5 kg on the line by the day's row, 2.6 kg hang there"
    ]


def test_cloth_hung_late_is_said_so() -> None:
    assert kinds(week=hung("C", nov(27, 11, 15))) == {"hanging", "dry"}
