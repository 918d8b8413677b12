"""What every door asks of buying: searches bounded in time, whose answers are kept.

A page may not search for minutes, nor search again for the same facts; who wants longer work calls
the command.
"""

from __future__ import annotations

from datetime import date
from functools import lru_cache

from sourcing.buying import Buying
from sourcing.ordering.facts import Need, Offer, Supplier
from sourcing.ordering.shopping import ToBuy, Together, stuffs_needed, to_buy, together
from sourcing.ordering.solve import Effort

SECONDS = 2.0  # that a page searches at most
FIBRES_AT_MOST = 24  # set side by side; the cheapest order counts all of them
KEPT = 32  # answers

Market = tuple[tuple[Supplier, ...], tuple[Offer, ...]]


def shopping_of(buying: Buying) -> tuple[ToBuy, ...]:
    """What has to be bought, fibre by fibre, the first needed in front."""
    terms, offers = market_of(buying)
    effort = Effort(seconds=SECONDS / FIBRES_AT_MOST)
    return tuple(
        to_buy(stuff, buying.needs, terms, offers, on=buying.today, effort=effort)
        for stuff in stuffs_needed(buying.needs)[:FIBRES_AT_MOST]
    )


def cheapest_of(buying: Buying) -> Together:
    """The cheapest order that two seconds of searching find."""
    return _cheapest(buying.needs, *market_of(buying), buying.today)


def keep_nothing() -> None:
    """Forget the answers that were kept."""
    _cheapest.cache_clear()


def market_of(buying: Buying) -> Market:
    """Who sells, and what, as the sums take it."""
    terms = tuple(row.terms for row in buying.suppliers)
    return terms, tuple(row.offer for row in buying.offers)


@lru_cache(maxsize=KEPT)
def _cheapest(
    needs: tuple[Need, ...], terms: tuple[Supplier, ...], offers: tuple[Offer, ...], on: date
) -> Together:
    return together(needs, terms, offers, on=on, effort=Effort(seconds=SECONDS))
