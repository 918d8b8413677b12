"""How long an order takes: a supplier's working days, counted forward and back.

The day of ordering is not counted, the day of arrival is. An order that comes in on a closed day
is read on the next working day, so that day is then its day of ordering.
"""

from __future__ import annotations

from datetime import date, timedelta
from functools import lru_cache

from inventory.science.saying import joined, say
from inventory.science.unclear import OutOfRange
from sourcing.ordering.facts import Supplier

DAYS_AT_MOST = 1_200  # that are walked for one answer; 400 working days take 560
DAY = timedelta(days=1)
YEARS = (1970, 2099)  # for which public holidays are worked out


class NoWorkingDays(ValueError):
    """A supplier is closed for so long that no arrival can be counted."""

    def __init__(self, supplier: str, from_on: date) -> None:
        self.supplier, self.from_on = supplier, from_on
        super().__init__(
            say(
                "{supplier} has too few working days within {days_at_most} days of {from_on} "
                "to count a lead time. Check the shutdowns and the weekdays.",
                supplier=supplier,
                days_at_most=DAYS_AT_MOST,
                from_on=from_on.isoformat(),
            )
        )


class UnknownCountry(LookupError):
    """No public holidays are known for a country or a part of it."""

    def __init__(self, country: str, region: str, parts: tuple[str, ...]) -> None:
        self.country, self.region, self.parts = country, region, parts
        known = say("; its parts are {parts}", parts=joined(", ", parts)) if parts else ""
        what = say("{country}, {region}", country=country, region=region) if region else country
        super().__init__(
            say(
                "No public holidays are known for “{what}”{known}. Write two letters as in GB, "
                "or leave it empty and give the closed days as shutdowns.",
                what=what,
                known=known,
            )
        )


def is_working_day(supplier: Supplier, day: date) -> bool:
    """Whether a supplier works on a day: its weekday, no shutdown, no public holiday.

    Raises
    ------
    UnknownCountry
        If the supplier's country or region has no calendar.
    """
    if day.weekday() not in supplier.weekdays:
        return False
    if any(first <= day <= last for first, last in supplier.shutdowns):
        return False
    return day not in public_holidays(supplier.country, supplier.region, day.year)


def arrives_on(supplier: Supplier, *, ordered_on: date) -> date:
    """The day on which an order arrives.

    Parameters
    ----------
    ordered_on : any day; on a closed one the order waits for the next working day

    Returns
    -------
    arrival : a working day of the supplier

    Raises
    ------
    NoWorkingDays, UnknownCountry

    References
    ----------
    Way of counting: the project's design papers, 13.7, "Orders". Waiting on closed days: assumed,
    not measured; the safer of the two readings.

    Examples
    --------
    >>> mill = Supplier("far mill", 12)
    >>> arrives_on(mill, ordered_on=date(2026, 11, 23)).isoformat()
    '2026-12-09'
    """
    start = _first_working(supplier, ordered_on, DAY)
    return _walk(supplier, start, supplier.lead_days, DAY)


def order_by_day(supplier: Supplier, *, needed_by: date) -> date:
    """The last day on which an order still arrives by a day; both count as whole days.

    Returns
    -------
    order-by day : a working day of the supplier, the latest whose order arrives by `needed_by`

    Raises
    ------
    NoWorkingDays, UnknownCountry

    Examples
    --------
    >>> mill = Supplier("far mill", 12)
    >>> order_by_day(mill, needed_by=date(2026, 12, 7)).isoformat()
    '2026-11-19'
    """
    last = _first_working(supplier, needed_by, -DAY)
    return _walk(supplier, last, supplier.lead_days, -DAY)


def working_days_late(supplier: Supplier, *, order_by: date, on: date) -> int:
    """How many working days past its order-by day an order of a day would be; 0 when in time.

    Examples
    --------
    >>> late = working_days_late
    >>> late(Supplier("far mill", 12), order_by=date(2026, 11, 19), on=date(2026, 11, 23))
    2
    """
    days = (on - order_by).days
    if days > DAYS_AT_MOST:
        raise OutOfRange(
            say("days past the order-by day"),
            days,
            say("{days_at_most} at most", days_at_most=DAYS_AT_MOST),
        )
    return sum(is_working_day(supplier, order_by + DAY * n) for n in range(1, days + 1))


@lru_cache(maxsize=4096)
def public_holidays(country: str, region: str, year: int) -> frozenset[date]:
    """The public holidays of a country in a year, with the days given in lieu of weekends.

    Parameters
    ----------
    country : two letters (ISO 3166-1), any case; empty: none are counted
    region : a part of it (ISO 3166-2, without the country), any case; empty: the whole country
    year : 1970 to 2099

    Raises
    ------
    UnknownCountry
        If there is no calendar for it; the message names the parts of the country.
    OutOfRange
        If the year lies outside.

    References
    ----------
    The `holidays` package, as pinned. What a government proclaims later is not in it: give that
    day as a shutdown.
    """
    if not country:
        return frozenset()
    if not YEARS[0] <= year <= YEARS[1]:
        raise OutOfRange(
            say("year of public holidays"),
            year,
            say("{years} to {years_2}", years=YEARS[0], years_2=YEARS[1]),
        )
    import holidays  # takes a tenth of a second, so only for who asks

    parts = tuple(sorted(holidays.list_supported_countries().get(country.upper(), ())))
    try:
        days = holidays.country_holidays(
            country.upper(), subdiv=region.upper() or None, years=year, expand=False
        )
    except NotImplementedError:
        raise UnknownCountry(country, region, parts) from None
    return frozenset(days)


def _first_working(supplier: Supplier, day: date, step: timedelta) -> date:
    """The day itself where it is a working one, else the next in a direction."""
    return day if is_working_day(supplier, day) else _walk(supplier, day, 1, step)


def _walk(supplier: Supplier, day: date, working_days: int, step: timedelta) -> date:
    """So many working days further in a direction."""
    start = day
    for _ in range(DAYS_AT_MOST):
        if working_days == 0:
            return day
        day += step
        working_days -= is_working_day(supplier, day)
    raise NoWorkingDays(supplier.name, start)
