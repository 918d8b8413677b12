"""The week of Pellitory Yard as a plan, written down by hand from the worked table (13.6, 13.7).

No placer has made it: it is what the checker is held against, and what mutations break.
"""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal

from sourcing.week.plan import (
    Answer,
    Day,
    Job,
    LineLoad,
    Placed,
    Reason,
    Shortage,
    Take,
    Week,
)
from tests.sourcing.week.pellitory import MONDAY_0730, local, nov

DECEMBER = date(2026, 12, 1)


def at(day: int, clock: str) -> datetime:
    """A moment of the week; days from 31 on are December's (31 is the 1st)."""
    hour, minute = map(int, clock.split(":"))
    if day > 30:
        return local(date(2026, 12, day - 30), hour, minute)
    return nov(day, hour, minute)


def step(
    run: str,
    name: str,
    kind: str,
    where: str,
    since: str,
    until: str,
    held: str,
    *,
    load: int = 1,
    round_: int = 1,
    hands: int = 0,
    litres: str = "0",
    grams: int = 0,
    heat: tuple[int, int] = (0, 0),
) -> Placed:
    """One row of the table: `where` is pot and ring, moments are "day hour:minute"."""
    vessel, _, ring = where.partition(" ")
    moments = [at(int(text.split()[0]), text.split()[1]) for text in (since, until, held)]
    return Placed(
        run,
        name,
        kind,
        load,
        round_,
        vessel,
        ring,
        *moments,
        hands_min=hands,
        litres=Decimal(litres),
        weight_mg=grams * 1000,
        attended_until=moments[1],
        heat_min=heat[0],
        hold_min=heat[1],
    )


def take(
    run: str, source: str, what: str, amount: int, left: int, when: str, name: str = ""
) -> Take:
    """An amount in mg or µL; a jar or bath when `what` says so."""
    unit = "µL" if what.endswith(("liquor", "bath")) else "mg"
    day, clock = when.split()
    return Take(run, source, what, amount, unit, at(int(day), clock), left, name)


BLUSH = Answer(
    "A", "Blush", "yes", at(23, "09:00"), at(28, "10:00"), hung_at=at(26, "10:00"), line="line",
    steps=(
        step("A", "scour", "scour", "P1 R1", "23 09:00", "23 10:48", "23 10:48", hands=30,
             litres="36", grams=1200, heat=(48, 60)),
        step("A", "scour", "scour", "P2 R2", "23 09:00", "23 10:37", "23 10:48", load=2, hands=30,
             litres="24", grams=800, heat=(37, 60)),
        step("A", "hot alum", "mordant", "P1 R1", "23 11:20", "23 13:36", "24 09:00", hands=30,
             litres="36", grams=1200, heat=(76, 60)),
        step("A", "hot alum", "mordant", "P2 R2", "23 11:20", "23 13:19", "24 09:00", load=2,
             hands=30, litres="24", grams=800, heat=(59, 60)),
        step("A", "extract", "extract", "P1 R1", "24 09:00", "24 11:22", "24 12:12", hands=80,
             litres="40", grams=2000, heat=(82, 60)),
        step("A", "dye", "dye", "P1 R1", "24 12:15", "24 13:47", "26 09:00", hands=45,
             litres="36", grams=1200, heat=(32, 60)),
        step("A", "dye", "dye", "P2 R2", "24 12:15", "24 13:40", "26 09:00", load=2, hands=45,
             litres="24", grams=800, heat=(25, 60)),
        step("A", "rinse", "rinse", "", "26 09:00", "26 10:00", "26 10:00", hands=60, grams=2000),
    ),
    takes=(
        take("A", "W-88", "wool", 2_105_263, 294_737, "23 09:00"),
        take("A", "alum", "alum", 240_000, 660_000, "23 11:20", "hot alum"),
        take("A", "AV-1116", "avocado stones", 1_180_000, 0, "24 09:00", "extract"),
        take("A", "AV-0911", "avocado stones", 1_820_000, 80_000, "24 09:00", "extract"),
    ),
    jobs=(Job("freeze AV-1116", date(2026, 11, 23), "freeze AV-1116 today", "A", 0, "put by",
              "AV-1116"),),
    warnings=(Reason("felting", "wool", "wool leaves scour at 55 °C, hot alum is at 8 °C"),),
)  # fmt: skip
OLIVE = Answer(
    "C", "Hedge Olive", "yes", at(24, "14:00"), at(29, "11:00"), hung_at=at(27, "11:00"),
    line="line",
    steps=(
        step("C", "soak", "soak", "B2", "24 14:00", "25 02:00", "26 10:00", hands=10,
             litres="18", grams=600),
        step("C", "extract", "extract", "P2 R2", "26 10:00", "26 11:49", "26 12:30", hands=40,
             litres="18", grams=600, heat=(49, 60)),
        step("C", "dye", "dye", "P2 R2", "26 12:30", "26 13:49", "27 09:00", hands=45,
             litres="18", grams=600, heat=(19, 60)),
        step("C", "copper", "after-bath", "P2", "27 09:00", "27 10:30", "27 10:30", hands=30,
             litres="18", grams=600),
        step("C", "rinse", "rinse", "", "27 10:30", "27 10:48", "27 10:48", hands=18, grams=600),
    ),
    takes=(
        take("C", "W-90", "wool", 600_000, 0, "24 14:00"),
        take("C", "PR-1003", "privet", 480_000, 80_000, "24 14:00", "soak"),
        take("C", "J4", "copper liquor", 210_000, 790_000, "27 09:00", "copper"),
    ),
)  # fmt: skip
SLATE = Answer(
    "D", "Slate", "yes", at(23, "09:00"), at(26, "16:00"), hung_at=at(24, "16:00"), line="line",
    steps=(
        step("D", "cold alum", "mordant", "B2", "23 09:00", "24 09:00", "24 09:00", hands=30,
             litres="12", grams=400),
        step("D", "dye", "dye", "P3 R2", "24 09:00", "24 11:18", "24 14:18", hands=85,
             litres="12", grams=400, heat=(33, 105)),
        step("D", "iron", "after-bath", "P3", "24 14:18", "24 15:48", "24 15:48", hands=30,
             litres="12", grams=400),
        step("D", "rinse", "rinse", "", "24 15:48", "24 16:00", "24 16:00", hands=12, grams=400),
    ),
    takes=(
        take("D", "S-12", "silk", 400_000, 0, "23 09:00"),
        take("D", "alum", "alum", 48_000, 612_000, "23 09:00", "cold alum"),
        take("D", "ON-0801", "onion skins", 200_000, 620_000, "24 09:00", "dye"),
        take("D", "J2", "iron liquor", 200_000, 700_000, "24 14:18", "iron"),
    ),
)  # fmt: skip
OAK_GREY = Answer(
    "E", "Oak Grey", "not yet", at(30, "13:00"), at(33, "15:00"), hung_at=at(31, "15:00"),
    line="line",
    steps=(
        step("E", "tannin", "tannin", "B1", "30 13:00", "31 01:00", "31 13:00", hands=30,
             litres="36", grams=900),
        step("E", "iron", "after-bath", "P3", "31 09:00", "31 10:30", "31 10:30", hands=30,
             litres="12", grams=300),
        step("E", "iron", "after-bath", "P3", "31 11:00", "31 12:30", "31 12:30", load=2,
             round_=2, hands=30, litres="12", grams=300),
        step("E", "iron", "after-bath", "P3", "31 13:00", "31 14:30", "31 14:30", load=3,
             round_=3, hands=30, litres="12", grams=300),
        step("E", "rinse", "rinse", "", "31 14:30", "31 14:57", "31 14:57", hands=27, grams=900),
    ),
    takes=(
        take("E", "T-07", "lyocell", 900_000, 0, "30 13:00"),
        take("E", "tannin", "tannin", 90_000, 160_000, "30 13:00", "tannin"),
        take("E", "J2", "iron liquor", 450_000, 250_000, "31 09:00", "iron"),
    ),
    waits_for=(Reason("line", "line", "3.5 kg on 3.0 kg on Friday 27"),),
)  # fmt: skip
GROUP = Answer(
    "F", "Group day: nettle and cabbage", "yes", at(28, "10:00"), None,
    steps=(
        step("F", "make nettle bath", "decoct", "P1 R1", "27 17:15", "27 17:58", "27 17:58",
             hands=40, litres="7.2", heat=(18, 25)),
    ),
    takes=(
        take("F", "W-85", "wool", 240_000, 260_000, "28 10:00"),
        take("F", "NE-0620", "nettle", 360_000, 40_000, "28 10:00", "group day"),
        take("F", "CB-1121", "red cabbage", 480_000, 720_000, "28 10:00", "group day"),
    ),
    jobs=(
        Job("freeze CB-1121", date(2026, 11, 26), "freeze 480 g of CB-1121", "F", 10, "put by",
            "CB-1121"),
        Job("make nettle bath", date(2026, 11, 27), "make 7.2 L of nettle bath", "F", 40,
            "make bath", "nettle bath"),
    ),
)  # fmt: skip
OLD_ROSE = Answer(
    "B", "Old Rose", "no", None, None,
    short=(Shortage("dyestuff", "avocado stones", 2_034_000, "mg", 49, "short by 2,034 g"),),
)  # fmt: skip
REORDER = Answer(
    "G", "Blush", "no", None, None,
    short=(Shortage("fibre", "wool", 3_915_789, "mg", None, "short by 3,916 g"),),
)  # fmt: skip


def _day(day: int, hands: int, there: int, *line: tuple[str, int]) -> Day:
    return Day(
        date(2026, 11, day),
        hands,
        there,
        tuple(LineLoad(at(day, clock), grams * 1000) for clock, grams in line),
    )


WEEK = Week(
    "Pellitory Yard",
    MONDAY_0730,
    nov(30),
    (GROUP, BLUSH, OLIVE, SLATE, OAK_GREY, REORDER, OLD_ROSE),
    days=(
        _day(23, 225, 360, ("00:00", 0)),
        _day(24, 312, 600, ("00:00", 0), ("16:00", 400)),
        _day(25, 0, 0, ("00:00", 400)),
        _day(26, 200, 600, ("00:00", 400), ("10:00", 2400), ("16:00", 2000)),
        _day(27, 118, 360, ("00:00", 2000), ("11:00", 2600)),
        _day(28, 240, 240, ("00:00", 2600), ("10:00", 600)),
        _day(29, 0, 0, ("00:00", 600), ("11:00", 0)),
    ),
)


def answer_steps(run: str, name: str) -> tuple[Placed, ...]:
    """The loads of one step of one run."""
    answer = next(answer for answer in WEEK.answers if answer.run == run)
    return tuple(placed for placed in answer.steps if placed.step == name)
