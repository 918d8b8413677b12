"""How big each run of Pellitory Yard's week could be, and what binds it, by hand."""

from __future__ import annotations

import pytest

from sourcing.week.how_big import how_big, how_big_of
from sourcing.week.project import project
from sourcing.week.what_if import CannotBe, week_if
from sourcing.week.what_if.runs import AnotherWeight, OneRunMore
from tests.sourcing.week.pellitory import FACTS

RECIPES = {run.code: run.recipe for run in FACTS.runs}


def test_oak_grey_fits_as_far_as_the_line_and_one_filling_of_the_iron_pot() -> None:
    # On Friday 2.0 + 0.6 kg hang: 0.4 kg are free of 3.0. At 40 L a kilo 16 L hold 400 g.
    big = how_big_of(FACTS, "E", days=7)

    assert big.mg == 400_000
    first = big.binds[0]
    assert (first.kind, first.what) == ("line", "line")
    assert first.text.startswith("line on Fri 27 Nov 12:45: 3.005 kg would hang on 3 kg")
    assert first.more == "0.005 kg more line room on Friday (12:45 to Sat 28 Nov 10:00)"


def test_the_reorder_is_bound_by_wool() -> None:
    # 2,400 - 2,105 = 295 g unscoured less 5 % are 280 g.
    big = how_big_of(FACTS, "G", days=7)

    assert big.mg == 280_000
    assert [(row.kind, row.what) for row in big.binds] == [("fibre", "wool")]


def test_what_must_be_allowed_first_binds_at_any_weight() -> None:
    big = how_big_of(FACTS, "B", days=7)

    assert (big.mg, big.answer) == (0, None)
    assert [row.kind for row in big.binds] == ["reading"]
    # Stones left by then 3,966 g at 200 % are enough for 1,983 g all the same.
    (stones,) = [row for row in big.reaches if row.kind == "dyestuff"]
    assert stones.mg == 1_983_000


@pytest.mark.parametrize("code", ["A", "C", "D", "E", "G"])
def test_a_run_of_that_weight_is_a_yes_and_a_step_more_is_none(code: str) -> None:
    big = how_big_of(FACTS, code, days=7)

    answers = [
        next(row.answer for row in week_if(FACTS, [AnotherWeight(code, mg)], days=7).answers
             if row.run == code)
        for mg in (big.mg, big.mg + big.step_mg)
    ]  # fmt: skip

    assert answers[0] == "yes"
    assert answers[1] != "yes"


def test_a_run_more_says_which_others_would_be_a_yes_no_more() -> None:
    run = OneRunMore("new", RECIPES["D"], "silk", 1, next(
        row.due for row in FACTS.runs if row.code == "A"), shade_card=True)  # fmt: skip
    big = how_big(FACTS, run, days=7)

    # Due before Slate it takes all the silk that there is.
    assert big.mg == 400_000
    assert big.loses == ("D",)


def test_a_fibre_that_nobody_dyes_so_is_refused() -> None:
    with pytest.raises(CannotBe, match="is worked out for"):
        how_big(FACTS, OneRunMore("new", RECIPES["D"], "linen", 1), days=7)


def test_asking_leaves_the_week_as_it_is() -> None:
    before = project(FACTS, days=7)

    how_big_of(FACTS, "A", days=7)

    assert project(FACTS, days=7) == before
