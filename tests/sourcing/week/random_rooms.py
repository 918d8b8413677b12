"""Made-up studios with freezers, fridges and trays at one site or several, often too small."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, time, timedelta
from random import Random

from inventory.science.facts import ColdPlaceFacts, LotFacts, Stay
from sourcing.week.facts import PickUpExpected, WeekFacts
from tests.sourcing.week.random_studios import studio

HOLDS = (None, 500_000, 1_000_000, 3_000_000, 8_000_000)
COMES = ("avocado stones", "privet", "nettle", "red cabbage", "onion skins")


def roomy_studio(number: int) -> WeekFacts:
    """The studio of a number with rooms, with fresh lots on their way and lots on trays."""
    dice, facts = Random(number), studio(number)
    sites = dice.choice((("",), facts.sites, ("", *facts.sites)))
    places = tuple(
        ColdPlaceFacts(f"{kind} {n} {site}".strip(), kind, dice.choice(HOLDS), site=site)
        for kind in ("freezer", "fridge", "tray")
        for site in sorted(set(sites))
        for n in range(dice.choice((0, 1, 1, 2)))
    )
    first = facts.at.astimezone(facts.zone).date()

    def moment(day: int, hour: int) -> datetime:
        return datetime.combine(first + timedelta(day), time(hour), tzinfo=facts.zone)

    coming = tuple(
        LotFacts(
            f"C-{n}", dice.choice(COMES), (Stay(at, "fresh", kind, kind),),
            dice.choice((333_333, 900_000, 2_500_000)), source="teller", gathered_on=at.date(),
            arrives_at=at, site=dice.choice(("", *facts.sites)),
        )
        for n in range(dice.randint(0, 4))
        for at, kind in [(moment(dice.randint(0, 6), 18), dice.choice(("bench", "fridge")))]
    )  # fmt: skip
    trays = tuple(
        LotFacts(
            f"T-{n}", dice.choice(COMES),
            (Stay(moment(-dice.randint(1, 9), 9), state, "", "tray"),),
            dice.choice((200_000, 700_000)), site=dice.choice(("", *facts.sites)),
        )
        for n in range(dice.randint(0, 3))
        for state in [dice.choice(("fresh", "damp", "dried"))]
    )  # fmt: skip
    likely = tuple(
        PickUpExpected(f"source {n}", dice.choice(COMES), moment(dice.randint(0, 6), 19),
                       dice.choice((400_000, 2_100_000)), 0)
        for n in range(dice.randint(0, 4))
    )  # fmt: skip
    shelf = replace(facts.shelf, lots=(*facts.shelf.lots, *coming, *trays), cold_places=places)
    return replace(facts, shelf=shelf, pick_ups=(*facts.pick_ups, *likely))
