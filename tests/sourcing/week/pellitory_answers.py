"""The answers for Pellitory Yard's week as the worked table gives them (13.6), written by hand.

Kept apart from the placer, so that what is made of answers is tested by itself.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

from sourcing.week.plan import Answer, Day, Job, LineLoad, Placed, Reason, Shortage, Take, Week
from tests.sourcing.week.pellitory import MONDAY_0730, local, nov

UNTIL = nov(30)


def dec(day: int, hour: int = 0, minute: int = 0) -> datetime:
    return local(date(2026, 12, day), hour, minute)


@dataclass
class _Run:
    """Steps and takes of one run, written down one after the other."""

    code: str
    steps: list[Placed] = field(default_factory=list)
    takes: list[Take] = field(default_factory=list)

    def step(self, step: str, kind: str, where: str, start: datetime, end: datetime,
             hands_min: int, *, litres: int | str = 0, grams: int = 0, heat: str = "",
             load: int = 1, until: datetime | None = None) -> None:  # fmt: skip
        """`where` is vessel and ring, `heat` is start and goal in °C with minutes up and held."""
        vessel, _, ring = where.partition(" ")
        start_c, goal_c, heat_min, hold_min = map(int, heat.split()) if heat else (0, 0, 0, 0)
        self.steps.append(
            Placed(
                self.code, step, kind, load, 1, vessel, ring, start, end, until or end, hands_min,
                litres=Decimal(litres), weight_mg=grams * 1000, heat_min=heat_min,
                hold_min=hold_min, start_c=start_c if heat else None,
                goal_c=goal_c if heat else None,
            )
        )  # fmt: skip

    def take(self, source: str, what: str, amount: int, at: datetime, left_after: int,
             step: str = "", unit: str = "mg") -> None:  # fmt: skip
        self.takes.append(Take(self.code, source, what, amount, unit, at, left_after, step))


def blush() -> Answer:
    run = _Run("A")
    thursday = nov(26, 9)
    run.step("scour", "scour", "P1 R1", nov(23, 9), nov(23, 10, 48), 30,
             litres=36, grams=1200, heat="8 55 48 60")  # fmt: skip
    run.step("scour", "scour", "P2 R2", nov(23, 9), nov(23, 10, 37), 30,
             litres=24, grams=800, heat="8 55 37 60", load=2)  # fmt: skip
    run.step("hot alum", "mordant", "P1 R1", nov(23, 11, 20), nov(23, 13, 36), 30,
             litres=36, grams=1200, heat="8 82 76 60", until=nov(24, 9))  # fmt: skip
    run.step("hot alum", "mordant", "P2 R2", nov(23, 11, 20), nov(23, 13, 19), 30,
             litres=24, grams=800, heat="8 82 59 60", load=2, until=nov(24, 9))  # fmt: skip
    run.step("extract", "extract", "P1 R1", nov(24, 9), nov(24, 11, 22), 80,
             litres=40, heat="8 80 82 60")  # fmt: skip
    run.step("dye", "dye", "P1 R1", nov(24, 12, 15), nov(24, 13, 47), 45,
             litres=36, grams=1200, heat="49 80 32 60", until=thursday)  # fmt: skip
    run.step("dye", "dye", "P2 R2", nov(24, 12, 15), nov(24, 13, 40), 45,
             litres=24, grams=800, heat="49 80 25 60", load=2, until=thursday)  # fmt: skip
    run.step("rinse", "rinse", "", thursday, nov(26, 10), 60, grams=2000)
    run.take("W-88", "wool", 2_105_263, nov(23, 9), 294_737, "scour")
    run.take("alum", "alum", 240_000, nov(23, 11, 20), 660_000, "hot alum")
    run.take("AV-1116", "avocado stones", 1_180_000, nov(24, 9), 0, "extract")
    run.take("AV-0911", "avocado stones", 1_820_000, nov(24, 9), 80_000, "extract")
    job = Job("freeze AV-1116", date(2026, 11, 23), "freeze AV-1116 today", "A", 0,
              "put by", "AV-1116")  # fmt: skip
    return Answer("A", "Blush", "yes", nov(23, 9), nov(28, 10), tuple(run.steps),
                  tuple(run.takes), jobs=(job,), hung_at=nov(26, 10), line="line")  # fmt: skip


def slate() -> Answer:
    run = _Run("D")
    run.step("cold alum", "mordant", "B2", nov(23, 9), nov(24, 9), 30, litres=12, grams=400)
    run.step("dye", "dye", "P3 R2", nov(24, 9), nov(24, 11, 18), 85,
             litres=12, grams=400, heat="8 80 33 105", until=nov(24, 14, 18))  # fmt: skip
    run.step("iron", "after-bath", "P3", nov(24, 14, 18), nov(24, 15, 48), 30,
             litres=12, grams=400)  # fmt: skip
    run.step("rinse", "rinse", "", nov(24, 15, 48), nov(24, 16), 12, grams=400)
    run.take("S-12", "silk", 400_000, nov(23, 9), 0, "cold alum")
    run.take("alum", "alum", 48_000, nov(23, 9), 612_000, "cold alum")
    run.take("ON-0801", "onion skins", 200_000, nov(24, 9), 620_000, "dye")
    run.take("J2", "iron", 200_000, nov(24, 14, 18), 700_000, "iron", "µL")
    return Answer("D", "Slate", "yes", nov(23, 9), nov(26, 16), tuple(run.steps),
                  tuple(run.takes), hung_at=nov(24, 16), line="line")  # fmt: skip


def olive() -> Answer:
    run = _Run("C")
    run.step("soak", "soak", "B2", nov(24, 14), nov(26, 10), 10, litres=18, grams=600)
    run.step("extract", "extract", "P2 R2", nov(26, 10), nov(26, 11, 49), 40,
             litres=18, grams=600, heat="8 90 49 60")  # fmt: skip
    run.step("dye", "dye", "P2 R2", nov(26, 12, 30), nov(26, 13, 49), 45,
             litres=18, grams=600, heat="50 82 19 60", until=nov(27, 9))  # fmt: skip
    run.step("copper", "after-bath", "P2", nov(27, 9), nov(27, 10, 30), 30, litres=18, grams=600)
    run.step("rinse", "rinse", "", nov(27, 10, 30), nov(27, 10, 48), 18, grams=600)
    run.take("W-90", "wool", 600_000, nov(26, 12, 30), 0, "dye")
    run.take("PR-1003", "privet", 480_000, nov(24, 14), 80_000, "soak")
    run.take("J4", "copper", 210_000, nov(27, 9), 790_000, "copper", "µL")
    waits = Reason("pot", "P2", "P1 and P2 are held by Blush to Thu 26 Nov 10:00", nov(26, 10))
    return Answer("C", "Hedge Olive", "yes", nov(24, 14), nov(29, 11), tuple(run.steps),
                  tuple(run.takes), reasons=(waits,), hung_at=nov(27, 11), line="line")  # fmt: skip


def oak_grey() -> Answer:
    run = _Run("E")
    run.step("tannin", "tannin", "B1", nov(30, 13), dec(1, 9), 30, litres=36, grams=900)
    for load, hour in ((1, 9), (2, 11), (3, 13)):
        run.step("iron", "after-bath", "P3", dec(1, hour), dec(1, hour + 1, 30), 30,
                 litres=12, grams=300, load=load)  # fmt: skip
    run.step("rinse", "rinse", "", dec(1, 14, 30), dec(1, 14, 57), 27, grams=900)
    run.take("T-07", "lyocell", 900_000, nov(30, 13), 0, "tannin")
    run.take("tannin", "tannin", 90_000, nov(30, 13), 160_000, "tannin")
    run.take("J2", "iron", 450_000, dec(1, 9), 250_000, "iron", "µL")
    waits = Reason(
        "line", "line", "line over by 0.5 kg on Fri 27 Nov 11:00: 3.5 kg for 3 kg", nov(30, 9)
    )
    return Answer("E", "Oak Grey", "not yet", nov(30, 13), dec(3, 15), tuple(run.steps),
                  tuple(run.takes), (waits,), hung_at=dec(1, 15), line="line")  # fmt: skip


def old_rose() -> Answer:
    short = Shortage("dyestuff", "avocado stones", 2_034_000, "mg", 49,
                     "avocado stones short by 2,034 g = 49 stones")  # fmt: skip
    reading = Reason("reading", "light", "light card is on day 21 of 28, reading 3, 4 wanted: "
                     "look again Mon 30 Nov", nov(30))  # fmt: skip
    return Answer("B", "Old Rose", "no", None, None, waits_for=(reading,), short=(short,))


def group_day() -> Answer:
    run = _Run("F")
    run.step("group day", "dye", "", nov(28, 10), nov(28, 14), 0, grams=240)
    run.take("W-85", "wool", 240_000, nov(28, 10), 260_000, "group day")
    run.take("NE-0620", "nettle", 360_000, nov(27, 17, 15), 40_000, "group day")
    run.take("CB-1121", "red cabbage", 480_000, nov(28, 10), 720_000, "group day")
    jobs = (
        Job("make nettle bath", date(2026, 11, 27), "make 7.2 L of nettle bath Fri 27 Nov", "F",
            40, "make bath", "nettle bath"),
        Job("freeze CB-1121", date(2026, 11, 26), "freeze 480 g of CB-1121 Thu 26 Nov", "F",
            10, "put by", "CB-1121"),
    )  # fmt: skip
    return Answer("F", "Group day: nettle and cabbage", "yes", nov(28, 10), None,
                  tuple(run.steps), tuple(run.takes), jobs=jobs)  # fmt: skip


def reorder() -> Answer:
    short = Shortage("fibre", "wool", 3_916_000, "mg", None, "wool short by 3,916 g unscoured")
    return Answer("G", "Blush", "no", None, None, short=(short,))


NETTLE = Placed("F", "make nettle bath", "decoct", 1, 1, "P1", "R1", nov(27, 17, 15),
                nov(27, 17, 58), nov(27, 17, 58), 40, Decimal("7.2"), heat_min=18, hold_min=25,
                start_c=8, goal_c=95)  # fmt: skip
ANSWERS = (blush(), slate(), olive(), oak_grey(), old_rose(), group_day(), reorder())


def _day(day: int, hands: int, there: int, *line: tuple[datetime, int]) -> Day:
    loads = tuple(LineLoad(since, mg) for since, mg in line)
    return Day(date(2026, 11, day), hands, there, loads)


DAYS = (
    _day(23, 225, 360, (nov(23), 0)),
    _day(24, 312, 600, (nov(24), 0), (nov(24, 16), 400_000)),
    _day(25, 0, 0, (nov(25), 400_000)),
    _day(26, 200, 600, (nov(26), 400_000), (nov(26, 10), 2_400_000), (nov(26, 16), 2_000_000)),
    _day(27, 118, 360, (nov(27), 2_000_000), (nov(27, 11), 2_600_000)),
    _day(28, 240, 240, (nov(28), 2_600_000), (nov(28, 10), 600_000)),
    _day(29, 0, 0, (nov(29), 600_000), (nov(29, 11), 0)),
)
WEEK = Week("Pellitory Yard", MONDAY_0730, UNTIL, ANSWERS, (NETTLE,), (), DAYS)
