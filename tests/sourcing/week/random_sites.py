"""Studios made up by chance, spread over two or three sites with ways between them.

The same number gives the same studio on every machine.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from random import Random
from typing import TypeVar

from inventory.science.facts import LineFacts, RingFacts, Shelf, VesselFacts
from inventory.science.figures import Figure, Figures
from sourcing.week.facts import DayHours, Water, WeekFacts
from tests.sourcing.week.random_studios import studio

SITES = ("north", "south", "east")
Thing = TypeVar("Thing")


def spread(number: int) -> WeekFacts:
    """The studio of a number with its things at several sites; each has pots, rings and a line."""
    dice, facts = Random(number + 40_000), studio(number)
    sites = SITES[: dice.choice((2, 3))]
    shelf = facts.shelf

    def somewhere(things: tuple[Thing, ...], *, sure: float) -> tuple[Thing, ...]:
        return tuple(
            replace(thing, site=dice.choice(sites) if dice.random() < sure else "")  # type: ignore[type-var]
            for thing in things
        )

    return replace(
        facts,
        sites=sites,
        figures=_figures(facts.figures, sites, dice),
        hours=_hours(facts, sites, dice),
        waters=_water(sites, dice),
        shelf=Shelf(
            somewhere(shelf.lots, sure=0.9),
            somewhere(shelf.supplies, sure=0.8),
            somewhere(shelf.jars, sure=0.9),
            somewhere(shelf.baths, sure=0.9),
            somewhere(shelf.fibre, sure=0.9),
            (*somewhere(shelf.vessels, sure=1.0), *_pots(sites)),
            (
                *somewhere(shelf.rings, sure=1.0),
                *(RingFacts(f"R-{s}", 3000, site=s) for s in sites),
            ),
            tuple(LineFacts(f"line {site}", 3_000_000, site=site) for site in sites),
            shelf.cold_places,
        ),
        hanging=(),
    )


def _pots(sites: tuple[str, ...]) -> tuple[VesselFacts, ...]:
    """A pot, an iron pot and a tub of some size at each site, so that each can dye something."""
    rows = []
    for number, site in enumerate(sites):
        litres = (40_000, 25_000, 60_000)[number]
        rows += [
            VesselFacts(f"P-{site}", "pot", "stainless", litres * 5 // 4, litres, site=site),
            VesselFacts(f"I-{site}", "pot", "stainless", litres * 5 // 4, litres, iron_pot=True,
                        site=site),
            VesselFacts(f"B-{site}", "bucket", "plastic", litres * 5 // 4, litres, site=site),
        ]  # fmt: skip
    return tuple(rows)


def _water(sites: tuple[str, ...], dice: Random) -> tuple[Water, ...]:
    return tuple(Water(f"water {s}", Decimal("7.4"), dice.randint(5, 16), s) for s in sites)


def _figures(figures: Figures, sites: tuple[str, ...], dice: Random) -> Figures:
    """Ways of lengths of their own between some of the sites, some another one back."""
    rows = [Figure("studio", "carry_min", Decimal(dice.choice((20, 45, 90))), own=True)]
    for site in sites:
        for other in sites:
            if site != other and dice.random() < 0.4:
                minutes = Decimal(dice.choice((10, 30, 75)))
                rows.append(Figure(f"{site} to {other}", "carry_min", minutes, own=True))
    return replace(figures, rows=(*figures.rows, *rows))


def _hours(facts: WeekFacts, sites: tuple[str, ...], dice: Random) -> tuple[DayHours, ...]:
    """People of no site, or some at each."""
    first = facts.sites[0]
    rows = [row for row in facts.hours if row.site == first]
    if dice.random() < 0.4:
        return tuple(replace(row, site="") for row in rows)
    return tuple(
        replace(row, site=site, hands_min=row.hands_min // dice.choice((1, 1, 2)))
        for row in rows
        for site in sites
    )
