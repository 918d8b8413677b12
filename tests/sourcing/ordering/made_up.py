"""Suppliers, offers and needs made up by chance, in the sizes and prices of a dyer's trade."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta
from fractions import Fraction
from random import Random

from sourcing.ordering.facts import Need, Offer, Stuff, Supplier, Tier

ON = date(2026, 11, 23)  # Monday; the day of ordering
GRAMS = 1_000


@dataclass(frozen=True)
class Market:
    """Who sells what, and what is needed."""

    needs: tuple[Need, ...]
    suppliers: tuple[Supplier, ...]
    offers: tuple[Offer, ...]


def market(seed: int, *, fibres: int, suppliers: int, days: int = 1) -> Market:
    """Needs of 300 g to 12 kg on `days` days; four suppliers in five sell a fibre, in one or two
    packs of 100 g to 1 kg, cheaper from 2.5 and from 6 kg; carriage, least values and lines."""
    chance = Random(seed)
    sellers = tuple(_supplier(chance, f"supplier {n}") for n in range(suppliers))
    stuffs = [Stuff(f"fibre {n:02}", "yarn") for n in range(fibres)]
    offers = [offer for stuff in stuffs for offer in _offers(chance, stuff, sellers)]
    needs = [need for stuff in stuffs for need in _needs(chance, stuff, days)]
    return Market(tuple(needs), sellers, tuple(offers))


def _supplier(chance: Random, name: str) -> Supplier:
    return Supplier(
        name,
        chance.choice([3, 5, 8, 12]),
        carriage_minor=chance.choice([450, 695, 950, 1500]),
        carriage_free_from_minor=chance.choice([None, 15_000, 30_000]),
        least_minor=chance.choice([0, 5_000, 10_000, 20_000]),
    )


def _offers(chance: Random, stuff: Stuff, sellers: tuple[Supplier, ...]) -> list[Offer]:
    per_kg, loss = chance.randrange(1_200, 6_000), Fraction(chance.randrange(0, 13), 100)
    selling = [row for row in sellers if chance.random() < 0.8] or [chance.choice(sellers)]
    return [
        _offer(chance, stuff, row, pack, per_kg, loss)
        for row in selling
        for pack in chance.sample([100, 250, 500, 1_000], chance.choice([1, 2]))
    ]


def _offer(
    chance: Random, stuff: Stuff, supplier: Supplier, pack: int, per_kg: int, loss: Fraction
) -> Offer:
    price = round(per_kg * pack / 1_000 * chance.uniform(0.85, 1.2) * (1.1 if pack < 300 else 1))
    tiers = (Tier(0, price), Tier(2_500 * GRAMS, round(price * 0.95)),
             Tier(6_000 * GRAMS, round(price * 0.9)))  # fmt: skip
    least = chance.choice([0, 0, 0, 500, 2_000]) * GRAMS
    return Offer(supplier.name, stuff, pack * GRAMS, tiers, least, loss)


def _needs(chance: Random, stuff: Stuff, days: int) -> list[Need]:
    """The first need leaves every supplier time, the others follow by the fortnight."""
    first = ON + timedelta(days=21)
    return [
        Need(
            stuff, first + timedelta(days=14 * n), Fraction(chance.randrange(3, 120) * 100 * GRAMS)
        )
        for n in range(days)
    ]
