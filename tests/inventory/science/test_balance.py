"""Acid at work between two events: first-order cases printed in textbooks, and each event alone."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from math import log
from zoneinfo import ZoneInfo

import pytest

from inventory.science.balance import (
    Contents,
    Pace,
    changed,
    days_until,
    reachable,
    reset,
    worked,
)
from inventory.science.facts import Dip, JarEvent

BEGUN = datetime(2026, 3, 2, 9, tzinfo=UTC)
ACID = Fraction(1, 2)


def pace(per_day: float, **more: object) -> Pace:
    plain = Pace(
        per_day=per_day,
        q10_above=2.0,
        q10_below=3.0,
        acid_g_per_mol=Fraction("60.052"),
        metal_g_per_mol=Fraction("55.845"),
        soluble_mol_per_l=None,
        strip_mol_per_l={3: 0.1, 4: 0.12},
        reading_factor=1.0,
    )
    return replace(plain, **more)  # type: ignore[arg-type]


FRESH = Contents(BEGUN, Fraction(2), ACID, 0.0, None, 0.0, 20.0)


def after(days: float, contents: Contents = FRESH, speed: float = 0.1) -> Contents:
    return worked(contents, BEGUN + timedelta(days=days), pace(speed))


def test_acid_falls_to_a_sixty_fourth_in_six_half_lives() -> None:
    # OpenStax, Chemistry 2e (2019), section 12.4, exercise: half-life 42 d, 1/64 after 252 days.
    left = after(252, speed=log(2) / 42).free_mol_per_l

    assert left == pytest.approx(float(ACID) / 64)


def test_metal_approaches_its_limit_as_a_mixing_tank_does() -> None:
    # OpenStax, Calculus Volume 2, Separable Equations: u(t) = 30 - 27 exp(-2t/25); t = 25.
    share = after(25, speed=2 / 25).metal_mol_per_l / float(ACID / 2)

    assert 30 - 27 * (1 - share) == pytest.approx(26.345947, abs=1e-6)


def test_days_until_is_the_reverse_of_the_work() -> None:
    goal = after(9).metal_mol_per_l

    assert days_until(FRESH, goal, pace(0.1)) == pytest.approx(9)
    assert days_until(after(9), goal, pace(0.1)) == 0
    assert days_until(FRESH, float(ACID / 2), pace(0.1)) is None
    assert days_until(replace(FRESH, scrap_mol=0.1), 0.06, pace(0.1)) is None
    assert days_until(replace(FRESH, scrap_mol=0.1), 0.04, pace(0.1)) is not None


def test_warmth_uses_the_q10_of_its_side() -> None:
    one = pace(0.1)

    assert one.at(30) == pytest.approx(0.2)
    assert one.at(10) == pytest.approx(0.1 / 3)
    assert one.at(20) == pytest.approx(0.1)


def test_time_is_elapsed_time_where_the_clocks_change() -> None:
    london = ZoneInfo("Europe/London")
    begun = replace(FRESH, at=datetime(2026, 10, 24, 12, tzinfo=london))
    next_noon = worked(begun, datetime(2026, 10, 25, 12, tzinfo=london), pace(0.1))

    assert next_noon.metal_mol_per_l == pytest.approx(after(25 / 24).metal_mol_per_l)


def test_nothing_works_without_scrap_liquor_or_time() -> None:
    assert after(9, replace(FRESH, scrap_mol=0.0)).metal_mol_per_l == 0
    assert after(9, replace(FRESH, volume_l=Fraction(0))).metal_mol_per_l == 0
    assert after(-9) == FRESH


def test_scrap_bounds_the_metal_and_is_used_up() -> None:
    done = after(400, replace(FRESH, scrap_mol=0.1))

    assert done.metal_mol_per_l == pytest.approx(0.05)
    assert done.scrap_mol == pytest.approx(0)
    assert reachable(done) == pytest.approx(0.05)
    assert reachable(FRESH) == 0.25


def event(kind: str, volume_ul: int = 0, **more: object) -> JarEvent:
    return JarEvent(BEGUN, kind, volume_ul, **more)  # type: ignore[arg-type]


def test_drawing_more_than_there_is_leaves_an_empty_jar() -> None:
    empty = changed(FRESH, event("drawn", 3_000_000), pace(0.1))

    assert empty.volume_l == 0
    assert after(9, empty).metal_mol_per_l == 0
    assert changed(empty, event("topped up"), pace(0.1)) == empty
    refilled = changed(empty, event("topped up", 1_000_000), pace(0.1))
    assert (refilled.volume_l, refilled.acid_mol_per_l) == (1, 0)


def test_evaporating_all_of_a_jar_changes_nothing() -> None:
    assert changed(FRESH, event("evaporated", 2_000_000), pace(0.1)) == FRESH


def test_topping_up_mixes_by_volume() -> None:
    fed = changed(
        FRESH,
        event("topped up", 2_000_000, vinegar_parts=Fraction(1), acid_percent=Decimal(5)),
        pace(0.1),
    )

    # 5 % w/v is 0.8326 mol/L: OpenStax, Chemistry 2e, Molarity, 50 g over 60.052 g/mol.
    assert float(fed.acid_mol_per_l) == pytest.approx((0.5 + 0.832612) / 2, abs=1e-4)
    assert fed.volume_l == 4


def test_an_unknown_happening_and_a_warmth_not_read_change_nothing() -> None:
    assert changed(FRESH, event("looked at"), pace(0.1)) == FRESH
    assert changed(FRESH, event("kept at"), pace(0.1)) == FRESH
    assert changed(FRESH, event("kept at", temperature_c=5.0), pace(0.1)).temperature_c == 5


def test_a_dip_resets_the_metal_and_its_gas() -> None:
    ten = after(10)
    dipped = reset(ten, Dip(BEGUN, grade=3), pace(0.1))

    assert dipped.metal_mol_per_l == 0.1
    assert dipped.dissolved_mol == pytest.approx(0.2)
    assert reset(ten, Dip(BEGUN, grade=1), pace(0.1)) == ten
    assert reset(ten, Dip(BEGUN), pace(0.1)) == ten
    read = reset(ten, Dip(BEGUN, metal_mg_per_l=5584.5), pace(0.1, reading_factor=0.5))
    assert read.metal_mol_per_l == pytest.approx(0.05)
    scrap = reset(replace(ten, scrap_mol=0.01), Dip(BEGUN, grade=4), pace(0.1))
    assert scrap.scrap_mol == pytest.approx(max(0.01 - (0.12 - ten.metal_mol_per_l) * 2, 0))
