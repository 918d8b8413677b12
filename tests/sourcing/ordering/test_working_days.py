"""Lead times in working days: forward to the arrival, back to the order-by day."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.science.unclear import OutOfRange
from sourcing.ordering.facts import Supplier
from sourcing.ordering.working_days import (
    NoWorkingDays,
    UnknownCountry,
    arrives_on,
    is_working_day,
    order_by_day,
    public_holidays,
    working_days_late,
)

DAY = timedelta(days=1)
FAR = Supplier("far mill", 12, "GB", "ENG")
# Bank holidays of England and Wales as the government's own list prints them (gov.uk).
BANK_HOLIDAYS = {
    2026: ["01-01", "04-03", "04-06", "05-04", "05-25", "08-31", "12-25", "12-28"],
    2027: ["01-01", "03-26", "03-29", "05-03", "05-31", "08-30", "12-27", "12-28"],
}
SUPPLIERS = st.builds(
    Supplier,
    st.just("mill"),
    st.integers(0, 30),
    st.sampled_from(["", "GB"]),
    st.just(""),
    st.lists(
        st.tuples(st.integers(0, 300), st.integers(0, 20)).map(
            lambda row: (date(2026, 1, 1) + DAY * row[0], date(2026, 1, 1) + DAY * sum(row))
        ),
        max_size=3,
    ).map(tuple),
    st.sets(st.integers(0, 6), min_size=1).map(lambda days: tuple(sorted(days))),
)
DAYS = st.dates(date(2026, 1, 1), date(2026, 12, 31))


def test_an_order_arrives_on_the_last_of_its_working_days_the_day_of_ordering_not_counted() -> None:
    assert arrives_on(FAR, ordered_on=date(2026, 11, 23)) == date(2026, 12, 9)
    assert arrives_on(Supplier("near shop", 5), ordered_on=date(2026, 11, 23)) == date(2026, 11, 30)
    assert arrives_on(Supplier("counter", 0), ordered_on=date(2026, 11, 23)) == date(2026, 11, 23)


def test_an_order_one_day_after_its_order_by_day_comes_too_late() -> None:
    day = order_by_day(FAR, needed_by=date(2026, 12, 7))

    assert day == date(2026, 11, 19)
    assert arrives_on(FAR, ordered_on=day) == date(2026, 12, 7)
    assert arrives_on(FAR, ordered_on=day + DAY) == date(2026, 12, 8)


def test_an_order_that_falls_on_a_closed_day_is_read_on_the_next_working_day() -> None:
    one = Supplier("shop", 1)
    friday, saturday, monday = (date(2026, 11, day) for day in (20, 21, 23))

    assert arrives_on(one, ordered_on=friday) == monday
    assert arrives_on(one, ordered_on=saturday) == monday + DAY
    assert order_by_day(one, needed_by=monday) == friday


@pytest.mark.parametrize("year", BANK_HOLIDAYS)
def test_the_holidays_of_england_are_those_that_the_government_prints(year: int) -> None:
    printed = {date.fromisoformat(f"{year}-{day}") for day in BANK_HOLIDAYS[year]}
    on_weekdays = {day for day in public_holidays("GB", "ENG", year) if day.weekday() < 5}

    assert on_weekdays == printed


def test_christmas_and_new_year_are_not_counted_and_a_region_has_days_of_its_own() -> None:
    three = Supplier("shop", 3, "gb", "eng")
    scottish = Supplier("shop", 3, "GB", "SCT")

    assert arrives_on(three, ordered_on=date(2026, 12, 24)) == date(2026, 12, 31)
    assert arrives_on(Supplier("shop", 3), ordered_on=date(2026, 12, 24)) == date(2026, 12, 29)
    assert is_working_day(three, date(2026, 11, 30))
    assert not is_working_day(scottish, date(2026, 11, 30))  # Saint Andrew's day


def test_a_shutdown_is_closed_on_its_first_and_last_day_and_open_around_them() -> None:
    mill = Supplier("mill", 1, shutdowns=((date(2026, 12, 21), date(2027, 1, 4)),))

    assert [is_working_day(mill, day) for day in (date(2026, 12, 18), date(2026, 12, 21))] == [
        True,
        False,
    ]
    assert [is_working_day(mill, day) for day in (date(2027, 1, 4), date(2027, 1, 5))] == [
        False,
        True,
    ]
    assert arrives_on(mill, ordered_on=date(2026, 12, 18)) == date(2027, 1, 5)
    assert order_by_day(mill, needed_by=date(2027, 1, 4)) == date(2026, 12, 17)


def test_lateness_is_counted_in_working_days_and_is_nothing_on_the_order_by_day() -> None:
    last = date(2026, 11, 19)

    assert working_days_late(FAR, order_by=last, on=date(2026, 11, 23)) == 2
    assert working_days_late(FAR, order_by=last, on=last) == 0
    assert working_days_late(FAR, order_by=last, on=last - DAY) == 0


@settings(max_examples=60, deadline=None)
@given(SUPPLIERS, DAYS)
def test_the_order_by_day_is_the_last_working_day_that_is_in_time(
    supplier: Supplier, needed_by: date
) -> None:
    last = order_by_day(supplier, needed_by=needed_by)
    later = last + DAY
    while not is_working_day(supplier, later):
        later += DAY

    assert is_working_day(supplier, last)
    assert arrives_on(supplier, ordered_on=last) <= needed_by
    assert arrives_on(supplier, ordered_on=later) > needed_by


@settings(max_examples=60, deadline=None)
@given(SUPPLIERS, DAYS)
def test_whoever_orders_later_never_has_it_sooner(supplier: Supplier, day: date) -> None:
    sooner, later = (arrives_on(supplier, ordered_on=each) for each in (day, day + DAY))

    assert sooner <= later
    assert is_working_day(supplier, sooner)


def test_an_unknown_country_or_part_is_named_with_what_there_is() -> None:
    with pytest.raises(UnknownCountry, match=r"known for “QQ”\. Write two letters as in GB"):
        public_holidays("QQ", "", 2026)
    with pytest.raises(UnknownCountry, match=r"“GB, XY”; its parts are ENG, .*SCT"):
        public_holidays("GB", "XY", 2026)


def test_a_supplier_who_never_opens_is_named_instead_of_counted_for_ever() -> None:
    shut = Supplier("mill", 2, shutdowns=((date(2020, 1, 1), date(2099, 12, 30)),))

    with pytest.raises(NoWorkingDays, match="mill has too few working days within 1200 days"):
        arrives_on(shut, ordered_on=date(2026, 11, 23))


@pytest.mark.parametrize("lead", [-1, 401])
def test_a_lead_time_out_of_its_range_is_refused(lead: int) -> None:
    with pytest.raises(OutOfRange, match=r"lead time is .*; it must be 0 to 400 working days"):
        Supplier("mill", lead)
