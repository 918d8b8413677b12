"""Counts become mass through the studio's own mean, which every later weighing teaches."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.amounts import read_amount
from inventory.science.pieces import (
    PieceMass,
    Weighing,
    as_mass,
    known_mass,
    learnt,
    pieces_for,
    pieces_in,
)
from inventory.science.unclear import OtherKind, OutOfRange, UnknownPiece

STONE = known_mass(42_000, 38_000, 48_000)
weighings = st.builds(Weighing, st.integers(1, 500), st.integers(1, 10**8))


def test_58_stones_come_to_2436_g_with_a_range() -> None:
    found = as_mass(read_amount("58 stones"), {"stone": STONE})

    assert (found.mg, found.low_mg, found.high_mg) == (2_436_000, 2_204_000, 2_784_000)
    assert found.understood == "58 stones at 42 g = 2,436 g"


def test_half_a_bucket_comes_to_half_its_mass() -> None:
    found = as_mass(read_amount("half a bucket"), {"bucket": known_mass(9_001_001)})

    assert found.mg == 4_500_500  # 4,500,500.5, rounded once to the even side
    assert found.understood == "½ bucket at 9,001 g = 4,500 g"


def test_a_weight_is_left_as_it_is() -> None:
    found = as_mass(read_amount("2 lb 3 oz"), {})

    assert (found.mg, found.low_mg, found.high_mg) == (992_233, 992_233, 992_233)
    assert found.understood == "2 lb 3 oz = 992 g"


def test_a_piece_that_nobody_weighed_is_refused() -> None:
    with pytest.raises(UnknownPiece) as refused:
        as_mass(read_amount("3 bags"), {"stone": STONE})

    assert str(refused.value) == (
        "“3 bags”: no weight is known for one bag. "
        "Weigh it, or write what one bag weighs in the studio's rules."
    )


def test_a_volume_is_no_mass() -> None:
    with pytest.raises(OtherKind):
        as_mass(read_amount("750 mL"), {})


def test_weighing_58_stones_replaces_the_figure_of_the_tables() -> None:
    after = learnt(STONE, [Weighing(58, 2_410_000)])

    assert after.mean_mg == Fraction(2_410_000, 58)  # 41.55 g
    assert after.pieces == 58
    assert (after.low_mg, after.high_mg) == (38_000, 48_000)


def test_the_mean_is_weighted_by_count() -> None:
    # (10 x 40 + 90 x 50) / 100 = 49 g, not the 45 g between them.
    after = learnt(STONE, [Weighing(10, 400_000), Weighing(90, 4_500_000)])

    assert after.mean_mg == 49_000
    assert (after.low_mg, after.high_mg) == (38_000, 50_000)


def test_a_count_that_was_never_weighed_teaches_nothing() -> None:
    assert learnt(STONE, []) is STONE


@given(st.lists(weighings, min_size=2, max_size=6))
def test_weighings_teach_the_same_in_any_order_and_one_by_one(rows: list[Weighing]) -> None:
    known = STONE
    for row in reversed(rows):
        known = learnt(known, [row])

    assert known == learnt(STONE, rows)
    assert known.mean_mg == Fraction(sum(row.mg for row in rows), sum(row.pieces for row in rows))


@given(st.lists(weighings, min_size=1, max_size=6))
def test_the_mean_stays_within_a_range_that_only_widens(rows: list[Weighing]) -> None:
    after = learnt(STONE, rows)

    assert after.low_mg <= after.mean_mg <= after.high_mg
    assert after.low_mg <= STONE.low_mg
    assert after.high_mg >= STONE.high_mg


@pytest.mark.parametrize(
    ("short_g", "stones"), [(2034, 49), (1734, 42), (2058, 49), (2059, 50), (0, 0), (1, 1)]
)
def test_a_shortage_is_rounded_up_to_stones(short_g: int, stones: int) -> None:
    # 2,034 / 42 = 48.4 and 1,734 / 42 = 41.3: the demo studio's shortages.
    assert pieces_for(short_g * 1000, 42_000) == stones


@pytest.mark.parametrize(("spare_g", "stones"), [(366, 8), (66, 1), (84, 2), (83, 1), (0, 0)])
def test_a_spare_is_rounded_down_to_stones(spare_g: int, stones: int) -> None:
    assert pieces_in(spare_g * 1000, 42_000) == stones


def test_impossible_weighings_and_masses_are_refused() -> None:
    with pytest.raises(OutOfRange) as refused:
        Weighing(0, 5)
    assert str(refused.value) == "weighing is 0 pieces, 5 mg; it must be both above 0."

    with pytest.raises(OutOfRange):
        known_mass(42_000, 43_000, 48_000)
    with pytest.raises(OutOfRange):
        PieceMass(Fraction(5), Fraction(4), Fraction(6), pieces=-1)
    with pytest.raises(OutOfRange):
        pieces_for(-1, 42_000)
    with pytest.raises(OutOfRange):
        pieces_in(1, 0)
