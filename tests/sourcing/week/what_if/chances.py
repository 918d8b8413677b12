"""Changes made up by chance that fit a studio's facts, of every kind that it has things for."""

from __future__ import annotations

from collections.abc import Callable
from datetime import time, timedelta
from decimal import Decimal
from random import Random

from inventory.science.days import local_day
from sourcing.week.facts import WeekFacts
from sourcing.week.ripple import pick_ups_of
from sourcing.week.what_if import CannotBe, Change, check
from sourcing.week.what_if.change import today_of
from sourcing.week.what_if.figure import AnotherFigure
from sourcing.week.what_if.hours import SomebodyAway, SomebodyIn
from sourcing.week.what_if.room import LineRoom, OnePotMore, OneRingMore, PotAway, RingAway
from sourcing.week.what_if.runs import AnotherDueDate, AnotherWeight, OneRunMore, RunLeftOut
from sourcing.week.what_if.shelf import (
    AnotherBath,
    JarDipped,
    JarGone,
    JarHolds,
    LotFoundBad,
    LotWeighed,
    MoreOfASupply,
)
from sourcing.week.what_if.visits import PickUpComes, PickUpMissed

RULES = (
    ("studio", "drying_h", "24"),
    ("wool", "scour_loss_fraction", "0.2"),
    ("studio", "pause_between_runs_min", "0"),
    ("studio", "ring_efficiency_fraction", "0.5"),
    ("avocado stones", "keeps_fresh_fridge_days", "2"),
)
GRAM, LITRE = 1_000, 1_000_000


def some_changes(facts: WeekFacts, number: int, *, most: int = 6) -> tuple[Change, ...]:
    """Up to so many changes that fit together, always the same for a number."""
    chance = Random(number)
    found: list[Change] = []
    for make in chance.choices(KINDS, k=most):
        try:
            change = make(facts, chance)
            check(facts, [*found, change])
        except (IndexError, CannotBe):  # nothing of the sort is there, or it is settled already
            continue
        found.append(change)
    return tuple(found)


def _missed(facts: WeekFacts, chance: Random) -> Change:
    row = chance.choice([row for row in facts.pick_ups if row.at > facts.at])
    gives = chance.choice(["", row.dyestuff])
    assert pick_ups_of(facts, source=row.source) or row.missed
    return PickUpMissed(row.source, local_day(row.at, zone=facts.zone), gives)


def _comes(facts: WeekFacts, chance: Random) -> Change:
    row = chance.choice([row for row in facts.pick_ups if row.at > facts.at])
    on = local_day(row.at, zone=facts.zone) + timedelta(chance.choice([0, 0, 1]))
    return PickUpComes(row.source, on, row.dyestuff, mg=chance.randrange(5_000) * GRAM)


def _stretch(facts: WeekFacts, chance: Random) -> dict[str, object]:
    first = facts.at + timedelta(hours=chance.randrange(72))
    last = first + timedelta(hours=chance.randrange(1, 96))
    return chance.choice([{}, {"since": first}, {"until": last}, {"since": first, "until": last}])


def _line(facts: WeekFacts, chance: Random) -> Change:
    line = chance.choice(facts.shelf.lines)
    mg = chance.choice([500, 900, -200, -400]) * GRAM
    return LineRoom(mg, line.code, **_stretch(facts, chance))  # type: ignore[arg-type]


def _pot_away(facts: WeekFacts, chance: Random) -> Change:
    vessel = chance.choice(facts.shelf.vessels)
    return PotAway(vessel.code, **_stretch(facts, chance))  # type: ignore[arg-type]


def _ring_away(facts: WeekFacts, chance: Random) -> Change:
    ring = chance.choice(facts.shelf.rings)
    return RingAway(ring.code, **_stretch(facts, chance))  # type: ignore[arg-type]


def _pot(facts: WeekFacts, chance: Random) -> Change:
    kind = chance.choice(["pot", "iron pot", "tub", "bucket"])
    return OnePotMore(f"lent {kind}", kind, chance.choice([9_600, 40_000]), facts.sites[0])


def _ring(facts: WeekFacts, chance: Random) -> Change:
    return OneRingMore("camping ring", chance.choice([1_500, 4_000]), facts.sites[0])


def _in(facts: WeekFacts, chance: Random) -> Change:
    day = today_of(facts) + timedelta(chance.randrange(10))
    return SomebodyIn(day, time(9), time(17), chance.choice([None, 120]))


def _away(facts: WeekFacts, chance: Random) -> Change:
    # A main site that is closed while another is open: the second opinion has fixed work done at
    # the other, the week has nobody do it. Told elsewhere; here such days are left out.
    sites = facts.sites[1:] if len(facts.sites) > 1 else ("", *facts.sites)
    rows = [row for row in facts.hours if row.hands_min > 0 and row.site in sites]
    row = chance.choice(rows[:10])
    if row.people > 1:
        return SomebodyAway(row.day, hands_min=row.hands_min // 2, site=row.site)
    return SomebodyAway(row.day, until=chance.choice([None, time(12)]), site=row.site)


def _due(facts: WeekFacts, chance: Random) -> Change:
    due = chance.choice([None, facts.at + timedelta(days=chance.randrange(2, 30))])
    return AnotherDueDate(chance.choice(facts.runs).code, due)


def _weight(facts: WeekFacts, chance: Random) -> Change:
    return AnotherWeight(chance.choice(facts.runs).code, chance.choice([1, 120, 2_500]) * GRAM)


def _out(facts: WeekFacts, chance: Random) -> Change:
    return RunLeftOut(chance.choice(facts.runs).code)


def _run(facts: WeekFacts, chance: Random) -> Change:
    recipe = chance.choice(facts.recipes)
    due = facts.at + timedelta(days=chance.randrange(2, 20))
    return OneRunMore("ZZ", recipe.code, chance.choice(recipe.fibres), 300 * GRAM, due,
                      shade_card=chance.choice([None, True]))  # fmt: skip


def _strip(facts: WeekFacts, chance: Random) -> Change:
    return JarDipped(chance.choice(facts.shelf.jars).code, chance.randrange(1, 6))


def _jar(facts: WeekFacts, chance: Random) -> Change:
    return JarHolds(chance.choice(facts.shelf.jars).code, chance.choice([0, 3 * LITRE]))


def _gone(facts: WeekFacts, chance: Random) -> Change:
    return JarGone(chance.choice(facts.shelf.jars).code)


def _bath(facts: WeekFacts, chance: Random) -> Change:
    what = chance.choice([row.what for row in facts.shelf.baths])
    return AnotherBath("a new bath", what, 8 * LITRE, facts.sites[0])


def _weighed(facts: WeekFacts, chance: Random) -> Change:
    rows = [row.code for row in facts.shelf.lots] + [row.code for row in facts.shelf.fibre]
    return LotWeighed(chance.choice(rows), chance.choice([0, 700, 4_000]) * GRAM)


def _bad(facts: WeekFacts, chance: Random) -> Change:
    rows = [row.code for row in facts.shelf.lots] + [row.code for row in facts.shelf.fibre]
    return LotFoundBad(chance.choice(rows))


def _supply(facts: WeekFacts, chance: Random) -> Change:
    return MoreOfASupply(chance.choice(facts.shelf.supplies).what, 500 * GRAM)


def _figure(facts: WeekFacts, chance: Random) -> Change:
    item, rule, value = chance.choice(RULES)
    return AnotherFigure(item, rule, Decimal(value))


KINDS: tuple[Callable[[WeekFacts, Random], Change], ...] = (
    _missed, _comes, _line, _pot_away, _ring_away, _pot, _ring, _in, _away, _due, _weight, _out,
    _run, _strip, _jar, _gone, _bath, _weighed, _bad, _supply, _figure,
)  # fmt: skip
