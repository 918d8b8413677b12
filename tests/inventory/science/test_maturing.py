"""When a jar is ready: the worked week's jars, both sides of every border, and the model's days."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

import pytest

from inventory.science.days import NaiveMoment
from inventory.science.facts import Dip, JarEvent, JarFacts
from inventory.science.figures import Figure, Figures
from inventory.science.maturing import has_matured, ready_by_rule, state_of

LONDON = ZoneInfo("Europe/London")
NONE = Figures()


def own(item: str, name: str, value: str) -> Figure:
    return Figure(item, name, Decimal(value), basis="measured here", own=True)


# The studio's own day rule: JOB 13.1 and 13.7.
RULES = Figures(
    (
        own("studio", "shed_c", "8"),
        own("iron liquor", "usable_from_days", "7"),
        own("iron liquor", "least_strip_grade", "3"),
        own("iron liquor", "by_clock_days", "14"),
        own("iron liquor", "strip_valid_days", "90"),
        own("copper liquor", "ready_after_h", "24"),
    )
)


def nov(day: int, hour: int = 9, minute: int = 0) -> datetime:
    return datetime(2026, 11, day, hour, minute, tzinfo=LONDON)


def dec(day: int, hour: int = 9) -> datetime:
    return datetime(2026, 12, day, hour, tzinfo=LONDON)


MONDAY_0730 = nov(23, 7, 30)
TUE_17, SUN_22_1600 = nov(17), nov(22, 16)


def iron(begun: datetime | None = TUE_17, *dips: Dip, **more: object) -> JarFacts:
    return replace(
        JarFacts(
            code="J1",
            name="Iron 7",
            metal="iron",
            vinegar_parts=Fraction(1),
            water_parts=Fraction(2),
            acid_percent=Decimal(5),
            begun_at=begun,
            begun_volume_ul=3_000_000,
            left_ul=3_000_000,
            temperature_c=8,
            dips=dips,
        ),
        **more,  # type: ignore[arg-type]
    )


def copper(begun: datetime | None = SUN_22_1600, **more: object) -> JarFacts:
    return iron(begun, metal="copper", water_parts=Fraction(1), **more)


def word(jar: JarFacts, at: datetime, figures: Figures = RULES) -> str:
    state = state_of(jar, figures, at=at, zone=LONDON)
    assert state.usable == (state.word == "matured")
    return state.word


# --- the worked week -------------------------------------------------------------------------


def test_iron_7_on_monday_is_on_day_six_and_dipped_on_tuesday() -> None:
    state = state_of(iron(), RULES, at=MONDAY_0730, zone=LONDON)

    assert state.word == "steeping"
    assert state.age_days == 6
    assert state.next_dip == date(2026, 11, 24)
    assert state.usable_from == dec(1, 0)
    assert state.figure is not None
    assert (state.figure.name, state.figure.own) == ("usable_from_days", True)


def test_iron_6_with_its_strip_of_21_days_ago_is_ready() -> None:
    begun = datetime(2026, 9, 30, 9, tzinfo=LONDON)
    strained = JarEvent(nov(1), "strained")
    jar = iron(begun, Dip(nov(2), 4), events=(strained,), left_ul=900_000)
    state = state_of(jar, RULES, at=MONDAY_0730, zone=LONDON)

    assert state.word == "matured"
    assert (state.grade, state.strip_age_days) == (4, 21)
    assert state.since == nov(2)
    assert state.strip_good_to == date(2027, 1, 31)


def test_iron_3_with_its_strip_of_166_days_ago_is_dipped_again() -> None:
    begun = datetime(2026, 5, 20, 9, tzinfo=LONDON)
    jar = iron(begun, Dip(datetime(2026, 6, 10, 9, tzinfo=LONDON), 4))
    state = state_of(jar, RULES, at=MONDAY_0730, zone=LONDON)

    assert (state.word, state.usable) == ("retest", False)
    assert state.strip_age_days == 166
    assert state.next_dip == date(2026, 11, 23)
    assert state.usable_from is None
    assert state.figure is not None
    assert state.figure.name == "strip_valid_days"


def test_copper_4_is_ready_on_monday_at_four() -> None:
    state = state_of(copper(), RULES, at=MONDAY_0730, zone=LONDON)

    assert state.word == "steeping"
    assert state.usable_from == nov(23, 16)
    assert word(copper(), nov(23, 15, 59)) == "steeping"
    assert word(copper(), nov(23, 16)) == "matured"


def test_the_jar_without_a_label_is_set_aside() -> None:
    unlabelled = iron(None, labelled=False, metal="", looks="orange")

    assert word(unlabelled, MONDAY_0730) == "set aside"
    assert word(iron(set_aside="smells"), MONDAY_0730) == "set aside"
    assert word(iron(metal="tin"), MONDAY_0730) == "set aside"


# --- borders of the day rule -----------------------------------------------------------------


def test_an_undipped_iron_jar_through_its_days() -> None:
    assert word(iron(), nov(23, 23, 59)) == "steeping"
    assert word(iron(), nov(24, 0)) == "ready to dip"
    assert word(iron(), dec(1, 0) - timedelta(minutes=1)) == "ready to dip"
    assert word(iron(), dec(1, 0)) == "matured"


@pytest.mark.parametrize(("grade", "found"), [(2, "steeping"), (3, "matured"), (5, "matured")])
def test_a_strip_on_day_seven_decides(grade: int, found: str) -> None:
    dip = Dip(nov(24, 9), grade)

    assert word(iron(nov(17), dip), nov(24, 9)) == found
    assert word(iron(nov(17), dip), nov(24, 8)) == "ready to dip"


def test_a_strip_that_passes_early_counts_from_day_seven() -> None:
    jar = iron(nov(17), Dip(nov(22), 3))
    state = state_of(jar, RULES, at=nov(23, 12), zone=LONDON)

    assert state.word == "steeping"
    assert state.usable_from == nov(24, 0)
    assert word(jar, nov(24, 0)) == "matured"


def test_a_failed_strip_is_repeated_and_the_clock_still_runs() -> None:
    jar = iron(nov(17), Dip(nov(24), 2))
    state = state_of(jar, RULES, at=nov(24, 10), zone=LONDON)

    # Shipped: dipped again after two days.
    assert state.next_dip == date(2026, 11, 26)
    assert state.usable_from == dec(1, 0)
    assert word(jar, nov(26)) == "ready to dip"
    assert word(jar, dec(1, 0)) == "matured"


def test_a_strip_that_fails_after_the_clock_bars_the_jar() -> None:
    jar = iron(nov(17), Dip(dec(1, 9), 2))

    assert word(jar, dec(1, 8)) == "matured"
    assert word(jar, dec(1, 9)) == "steeping"
    assert state_of(jar, RULES, at=dec(1, 9), zone=LONDON).usable_from is None


def test_a_strained_jar_that_fails_its_strip_is_spent() -> None:
    jar = iron(nov(2), Dip(nov(20), 2), events=(JarEvent(nov(19), "strained"),))

    assert word(jar, nov(20)) == "spent"
    assert word(iron(left_ul=0), nov(20)) == "spent"


def test_a_strip_counts_on_its_ninetieth_day_and_not_on_the_next() -> None:
    jar = iron(datetime(2026, 8, 1, 9, tzinfo=LONDON), Dip(nov(1), 4))
    last = date(2026, 11, 1) + timedelta(days=90)

    assert word(jar, datetime(last.year, last.month, last.day, 23, tzinfo=LONDON)) == "matured"
    assert word(jar, datetime(2027, 1, 31, 0, tzinfo=LONDON)) == "retest"


def test_the_clock_counts_as_long_as_a_strip_would() -> None:
    begun = datetime(2026, 8, 1, 9, tzinfo=LONDON)  # by clock 15 Aug; 90 days on: 13 Nov

    assert word(iron(begun), nov(13)) == "matured"
    assert word(iron(begun), nov(14)) == "retest"


def test_the_last_strip_counts() -> None:
    jar = iron(nov(2), Dip(nov(10), 4), Dip(nov(20), 2))

    assert word(jar, nov(19)) == "matured"
    assert word(jar, nov(21)) == "steeping"


def test_a_reading_counts_as_the_grade_it_reaches() -> None:
    # Shipped: strip 3 stands for 0.90 / 1.3 of 0.1388 mol/L: 0.0961 mol/L, 5,365 mg/L of iron.
    def grade(mg_per_l: float) -> int | None:
        jar = iron(nov(2), Dip(nov(20), metal_mg_per_l=mg_per_l))
        return state_of(jar, RULES, at=nov(21), zone=LONDON).grade

    assert (grade(5_360), grade(5_370), grade(10)) == (2, 3, 0)


def test_a_jar_without_a_date_waits_for_a_strip_and_then_rests_on_it() -> None:
    assert word(iron(None), nov(20)) == "ready to dip"
    assert word(iron(None, Dip(nov(20), 3)), nov(20)) == "matured"
    assert word(copper(None), nov(20)) == "set aside"


def test_iron_days_are_the_studios_dates_also_when_the_clocks_change() -> None:
    begun = datetime(2026, 10, 18, 23, 30, tzinfo=LONDON)  # the clocks go back on the 25th

    assert word(iron(begun), datetime(2026, 10, 24, 23, 59, tzinfo=LONDON)) == "steeping"
    assert word(iron(begun), datetime(2026, 10, 25, 0, tzinfo=LONDON)) == "ready to dip"


def test_copper_hours_are_elapsed_hours_also_when_the_clocks_change() -> None:
    begun = datetime(2026, 10, 24, 16, tzinfo=LONDON)
    ready = state_of(copper(begun), RULES, at=begun, zone=LONDON).usable_from

    assert ready is not None
    # A day of 25 hours: 24 of them are over at 15:00 by the wall clock.
    assert ready == datetime(2026, 10, 25, 15, tzinfo=ZoneInfo("UTC"))
    assert word(copper(begun), datetime(2026, 10, 25, 14, 59, tzinfo=LONDON)) == "steeping"
    assert word(copper(begun), datetime(2026, 10, 25, 15, 0, tzinfo=LONDON)) == "matured"


def test_warmth_moves_no_day_of_the_studios_own_rule() -> None:
    for c in (0, 8, 30):
        assert state_of(iron(temperature_c=c), RULES, at=MONDAY_0730, zone=LONDON) == state_of(
            iron(), RULES, at=MONDAY_0730, zone=LONDON
        )


def test_a_naive_moment_is_refused() -> None:
    with pytest.raises(NaiveMoment):
        state_of(iron(), RULES, at=datetime(2026, 11, 23, 7, 30), zone=LONDON)  # noqa: DTZ001


# --- without a rule of the studio's own ------------------------------------------------------


def test_without_an_own_rule_the_model_decides_at_20_c() -> None:
    # Common practice: dipped from day 7, by the clock about day 14 (0.90 at 13.8 days).
    jar = iron(nov(2), temperature_c=20)

    assert word(jar, nov(9) - timedelta(minutes=1), NONE) == "steeping"
    assert word(jar, nov(9), NONE) == "ready to dip"
    assert word(jar, nov(15, 9), NONE) == "ready to dip"
    assert word(jar, nov(16, 9), NONE) == "matured"


def test_without_an_own_rule_a_cold_shed_takes_longer() -> None:
    jar = iron(nov(2), temperature_c=8)
    state = state_of(jar, NONE, at=nov(9), zone=LONDON)

    # 7 days × 2 ** 1.2 = 16.1 days: Wed 18 Nov.
    assert state.word == "steeping"
    assert state.next_dip == date(2026, 11, 18)
    assert state.figure is not None
    assert state.figure.name == "usable_fraction"


def test_without_an_own_rule_a_strip_that_passes_is_enough() -> None:
    jar = iron(nov(2), Dip(nov(10), 3), temperature_c=8)

    assert word(jar, nov(10, 8), NONE) == "steeping"
    assert word(jar, nov(10), NONE) == "matured"


def test_without_an_own_rule_copper_follows_its_warmth() -> None:
    assert word(copper(temperature_c=20), nov(23, 16), NONE) == "matured"
    # 24 h × 2 ** 1.2 = 55.1 h.
    assert word(copper(temperature_c=8), nov(24, 23), NONE) == "steeping"
    assert word(copper(temperature_c=8), nov(25, 0), NONE) == "matured"


def test_has_matured_says_whether_it_may_be_dyed_from() -> None:
    assert not has_matured(copper(), RULES, at=nov(23, 15), zone=LONDON)
    assert has_matured(copper(), RULES, at=nov(23, 16), zone=LONDON)


def test_copper_strained_too_soon_never_gets_there_by_the_model() -> None:
    strained = copper(events=(JarEvent(nov(22, 18), "strained"),), temperature_c=20)

    assert word(strained, nov(25), NONE) == "spent"
    # The studio's own hours count all the same.
    assert word(strained, nov(25), RULES) == "matured"


def test_a_failed_strip_on_a_jar_without_a_date_is_repeated() -> None:
    jar = iron(None, Dip(nov(20), 2))

    assert word(jar, nov(21)) == "steeping"
    assert word(jar, nov(22)) == "ready to dip"
    assert word(iron(None, Dip(nov(20), 2)), nov(22), NONE) == "ready to dip"
    assert word(iron(None, Dip(nov(20), 3)), nov(20), NONE) == "matured"


def test_the_moment_of_readiness_without_a_strip() -> None:
    assert ready_by_rule(copper(), RULES, at=MONDAY_0730, zone=LONDON) == nov(23, 16)
    assert ready_by_rule(iron(), RULES, at=MONDAY_0730, zone=LONDON) == dec(1, 0)
    assert ready_by_rule(iron(None), RULES, at=MONDAY_0730, zone=LONDON) is None


def test_copper_of_unknown_acid_goes_by_the_trades_hours() -> None:
    unknown = copper(acid_percent=Decimal(0), temperature_c=8)

    assert word(unknown, nov(23, 15), NONE) == "steeping"
    assert word(unknown, nov(23, 16), NONE) == "matured"
