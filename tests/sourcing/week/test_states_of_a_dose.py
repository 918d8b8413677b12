"""A dose is written in one state of a plant; the studio's own factor turns another into it."""

from __future__ import annotations

from dataclasses import replace

from inventory.science.figures import Figures
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, LOTS, RULES, SHELF, lot, nov, own


def olive(facts: WeekFacts) -> Answer:
    """The worked week's run C: 480 g of dried privet, soaked on Tuesday."""
    return next(row for row in project(facts, days=7).answers if row.run == "C")


def with_fresh_privet(grams: int, dried: int, *, factor: str = "") -> WeekFacts:
    fresh = lot("PR-1122", "privet", grams, "fresh", "bench", nov(22, 9), foraged=True,
                permission="corner house, 1 Oct 2026")  # fmt: skip
    left = tuple(
        replace(row, left_mg=dried * 1000) if row.code == "PR-1003" else row for row in LOTS
    )
    rules = RULES
    if factor:
        rules = (*RULES, own("privet", "dried_per_fresh_fraction", factor))
    rules = (*rules, own("privet", "keeps_fresh_bench_days", "4"))
    return replace(FACTS, shelf=replace(SHELF, lots=(*left, fresh)), figures=Figures(rules))


def test_fresh_leaf_does_not_stand_for_dried_without_the_studios_own_factor() -> None:
    answer = olive(with_fresh_privet(2_000, 0))

    assert answer.answer == "no"
    assert [row.amount for row in answer.short] == [480_000]
    assert "PR-1122 is fresh, not dried (2,000 g not counted)" in [r.text for r in answer.reasons]


def test_the_studios_factor_turns_fresh_leaf_into_dried() -> None:
    answer = olive(with_fresh_privet(2_000, 0, factor="0.40"))

    # 480 g dried / 0.40 = 1,200 g fresh.
    assert answer.answer == "yes"
    assert [(t.source, t.amount) for t in answer.takes if t.what == "privet"] == [
        ("PR-1122", 1_200_000)
    ]


def test_one_gram_of_fresh_leaf_less_is_short_by_its_dried_part() -> None:
    answer = olive(with_fresh_privet(1_199, 0, factor="0.40"))

    # 1 g fresh x 0.40.
    assert answer.answer == "no"
    assert [row.amount for row in answer.short] == [400]


def test_the_lot_that_spoils_first_is_used_first_whatever_its_state() -> None:
    answer = olive(with_fresh_privet(500, 560, factor="0.40"))

    # 500 g fresh stand for 200 g; 280 g dried are left to take.
    assert [(t.source, t.amount) for t in answer.takes if t.what == "privet"] == [
        ("PR-1122", 500_000),
        ("PR-1003", 280_000),
    ]


def test_a_damp_lot_counts_nothing_even_when_nobody_set_it_aside() -> None:
    skins = tuple(
        replace(row, set_aside="") if row.code == "ON-1114" else row
        for row in LOTS
        if row.code != "ON-0801"
    )

    slate = next(
        row
        for row in project(replace(FACTS, shelf=replace(SHELF, lots=skins)), days=7).answers
        if row.run == "D"
    )

    assert slate.answer == "no"
    assert "ON-1114 is damp: dry it and weigh it again (300 g not counted)" in [
        row.text for row in slate.reasons
    ]
