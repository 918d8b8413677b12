"""Steps: all there, none too many, in order, with their nights, standings and coolings."""

from __future__ import annotations

from datetime import time, timedelta
from decimal import Decimal

from sourcing.week.plan import Week
from tests.sourcing.week.checking.breaking import (
    answer_of,
    hung,
    in_recipe,
    kinds,
    later,
    on_shelf,
    open_on,
    texts,
    with_answer,
    with_day,
    with_figure,
    with_step,
    without_step,
)
from tests.sourcing.week.pellitory import nov


def test_mordant_that_the_fibre_needs_is_missed() -> None:
    week = without_step("D", "cold alum")
    week = with_day(0, with_answer("D", week, first_step_at=nov(24, 9)), hands_on_min=195)

    assert texts("missing step", week=week) == ["cold alum is not in the plan"]
    assert kinds(week=week) == {"missing step", "take moment"}


def test_mordant_that_the_fibre_has_is_not_given_again() -> None:
    mordanted = on_shelf("fibre", "S-12", mordant="alum", mordant_percent=Decimal(12))

    assert texts("needless step", mordanted) == ["cold alum was done before"]
    assert kinds(mordanted) == {"needless step", "dose"}


def test_weaker_mordant_is_given_again() -> None:
    assert kinds(on_shelf("fibre", "S-12", mordant="alum", mordant_percent=Decimal(11))) == set()


def test_scour_is_not_done_twice() -> None:
    facts = on_shelf("fibre", "W-88", scoured=True)

    assert kinds(facts) == {"needless step", "fibre"}


def test_rinse_before_the_after_bath_is_over_is_out_of_order() -> None:
    week = with_step("C", "rinse", start=nov(27, 9), end=nov(27, 9, 18), held_until=nov(27, 9, 18))

    assert kinds(week=hung("C", nov(27, 9, 30), week)) == {"order"}


def test_cloth_is_not_lifted_before_the_night_is_over() -> None:
    early = open_on(2, opens=nov(26, 8))
    week = with_step("A", "rinse", start=nov(26, 8, 30), end=nov(26, 9, 30))

    assert texts("night", early, hung("A", nov(26, 9, 30), week)) == [
        "rinse after dye may begin at Thu 26 09:00 at the earliest"
    ]
    assert kinds(early, hung("A", nov(26, 9, 30), week)) == {"night"}


def test_night_lasts_till_the_next_open_day() -> None:
    wednesday = with_step("A", "rinse", start=nov(25, 9), end=nov(25, 10), held_until=nov(25, 10))
    week = hung("A", nov(25, 10), wednesday)

    assert "night" in kinds(week=week)


def test_two_nights_in_the_bath_are_too_many_where_one_is_allowed() -> None:
    assert kinds(with_figure("studio", "nights_in_bath_at_most", "2")) == set()
    assert kinds(with_figure("studio", "nights_in_bath_at_most", "1")) == {"nights"}


def test_warm_shed_allows_one_night() -> None:
    assert kinds(with_figure("studio", "shed_c", "10")) == set()
    assert kinds(with_figure("studio", "shed_c", "11")) == {"nights"}


def test_cold_alum_stands_its_hours() -> None:
    week = later("D", "cold alum", 30)
    week = with_step("D", "cold alum", week, held_until=nov(24, 9, 30))

    assert kinds(week=with_answer("D", week, first_step_at=nov(23, 9, 30))) == {"standing"}


def test_tannin_stands_no_longer_than_it_may_till_the_last_load() -> None:
    assert kinds(in_recipe("oak-grey", "tannin", stand_max=1440)) == set()
    assert texts("standing", in_recipe("oak-grey", "tannin", stand_max=1435)) == [
        "tannin stands 1440 min until the last load of iron, at most 1435"
    ]


def test_soak_is_not_begun_before_its_hour() -> None:
    assert kinds(in_recipe("hedge-olive", "soak", from_time=time(14, 5))) == {"from time"}


def test_dye_waits_till_the_extract_is_strained() -> None:
    week = with_step("C", "extract", later("C", "dye", -5), held_until=nov(26, 12, 25))

    assert texts("straining", week=week) == [
        "dye after extract may begin at Thu 26 12:29 at the earliest"
    ]
    assert kinds(week=week) == {"straining", "held"}


def test_iron_waits_till_the_bath_has_cooled() -> None:
    assert kinds(in_recipe("slate", "dye", cool_min=181)) == {"cooling", "held"}


def test_rinse_follows_the_after_bath_at_once() -> None:
    week = with_step("C", "copper", later("C", "rinse", 5), held_until=nov(27, 10, 35))

    assert texts("at once", week=week) == ["rinse after copper follows at once, at Fri 27 10:30"]
    assert kinds(week=week) == {"at once"}


def test_after_bath_in_the_same_pot_stays_there() -> None:
    assert kinds(week=with_step("C", "copper", vessel="P1")) == {"same pot"}


def test_loads_of_a_round_begin_together() -> None:
    week = with_step("A", "scour", load=2, start=nov(23, 9, 5), end=nov(23, 10, 42))

    assert "together" in kinds(week=week)


def test_cloth_lifted_from_the_mordant_does_not_lie_damp_too_long() -> None:
    """Old alum of Monday, dyed on Friday: lifted on Tuesday, three days damp; Saturday is four."""
    friday = _dyed_on(27)

    assert "damp" not in kinds(week=friday)
    assert texts("damp", week=_dyed_on(28))[0] == (
        "cloth lifted from hot alum on Tue 24 lies damp for 4 days, at most 3"
    )


def _dyed_on(day: int) -> Week:
    start = nov(day, 10)
    return with_step(
        "A",
        "extract",
        start=start,
        end=start + timedelta(minutes=142),
        held_until=start + timedelta(minutes=192),
    )


def test_wool_that_meets_cold_water_hot_is_warned_of_and_no_other() -> None:
    assert kinds(week=with_answer("A", warnings=())) == {"felting"}
    assert kinds(week=with_answer("D", warnings=answer_of("A").warnings)) == {"felting"}
    assert texts("felting", week=with_answer("D", warnings=answer_of("A").warnings)) == [
        "silk does not felt"
    ]
