"""The last day on which each supplier could still bring the fibre that a run is short of."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from fractions import Fraction
from math import ceil

from inventory.science.days import local_day
from sourcing.ordering.facts import Stuff, Supplier
from sourcing.ordering.working_days import NoWorkingDays, UnknownCountry, order_by_day
from sourcing.reminding.facts import OrderBy
from sourcing.week.facts import WeekFacts
from sourcing.week.fibre_to_buy import fibre_wanted


def order_by_days(week: WeekFacts) -> Iterator[OrderBy]:
    """One for each run that is short of fibre and each supplier that sells it.

    What was needed by today or before has no such day any more: the sheet says so.
    """
    today = local_day(week.at, zone=week.zone)
    suppliers = {row.name: row for row in week.suppliers}
    for row in fibre_wanted(week):
        if row.by is None or row.by <= today or row.short_mg <= 0:
            continue
        for name, loss in _sellers(week, row.stuff):
            day = _last_day(suppliers[name], row.by) if name in suppliers else None
            if day is not None:
                # What has to be weighed out, rounded up: a gram less would not do.
                short_mg = ceil(row.short_mg / (1 - loss))
                yield OrderBy(row.run, row.stuff.fibre, day, short_mg, name, row.by, loss > 0)


def _sellers(week: WeekFacts, stuff: Stuff) -> list[tuple[str, Fraction]]:
    """Who sells a fibre, with the least that scouring takes off it, by name."""
    found: dict[str, Fraction] = {}
    for offer in week.offers:
        if offer.stuff == stuff and offer.most_packs != 0:
            found[offer.supplier] = min(offer.scour_loss, found.get(offer.supplier, Fraction(1)))
    return sorted(found.items())


def _last_day(supplier: Supplier, by: date) -> date | None:
    try:
        return order_by_day(supplier, needed_by=by)
    except (NoWorkingDays, UnknownCountry):
        return None  # the page of orders says what is wrong with the supplier
