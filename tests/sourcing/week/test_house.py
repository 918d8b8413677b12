"""The studio's own rules of working, else the shipped ones."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from fractions import Fraction

from inventory.science.figures import Figure, Figures
from sourcing.week.house import house_on
from tests.sourcing.week.little import MONDAY, RULES, own


def test_a_rule_of_the_studios_own_goes_before_the_shipped_one() -> None:
    shipped = house_on(Figures(), on=MONDAY)
    mine = house_on(Figures((own("studio", "pause_between_runs_min", "45"),)), on=MONDAY)

    assert (shipped.between_runs, mine.between_runs) == (60, 45)
    assert mine.between_steps == shipped.between_steps == 30


def test_a_rule_holds_from_its_day_on() -> None:
    row = Figure("studio", "drying_h", Decimal(24), own=True, since=date(2027, 2, 1))

    assert house_on(Figures((row,)), on=date(2027, 1, 31)).drying == 48 * 60
    assert house_on(Figures((row,)), on=date(2027, 2, 1)).drying == 24 * 60


def test_hours_become_minutes_and_fractions_stay_exact() -> None:
    house = house_on(Figures((*RULES, own("studio", "hold_kwh", "0.8"))), on=MONDAY)

    assert (house.night_ends, house.drying) == (540, 2_880)
    assert (house.efficiency, house.hold_kwh) == (Fraction(7, 10), Fraction(4, 5))


def test_cloth_stands_more_nights_in_a_cool_shed_than_in_a_warm_one() -> None:
    house = house_on(Figures(RULES), on=MONDAY)

    assert replace(house, shed_c=10).nights == 3
    assert replace(house, shed_c=10.1).nights == 1
