"""Haze in the second bath of Dusk, by hand: K is Dusk, 400 g, L is Haze, 300 g, at 40 % of it.

As `sharing.py` has them, 30:1 in one pot, each by itself. Dusk dyes 12 L on Tue from 09:00, 29 + 60
min: its cloth is out at 10:29. As much cloth takes half its shade from that bath, so Haze wants
30 x 0.4 / 0.5 = 24 L a kilo, 7.2 L of the 12, topped up with 1.8 L to its own 9. In a shed at 8 °C
the bath is good for seven days.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from fractions import Fraction

from inventory.science.facts import BathFacts
from inventory.science.figures import Figures
from sourcing.week.facts import Recipe, WeekFacts
from sourcing.week.plan import Answer, Week
from sourcing.week.project import project
from tests.sourcing.week.little import ZONE, own
from tests.sourcing.week.sharing import DAYS, shade, studio

FULL = studio()
HAZE = replace(
    shade("haze", "Haze"),
    depth=2,
    doses=tuple(dose for dose in FULL.recipes[0].doses if dose.kind == "supply"),
    may_share=(),
    second_of="dusk",
    strength=Fraction(2, 5),
)
K, L = FULL.runs[0], replace(FULL.runs[1], shade="Haze", recipe="haze")
TWO = replace(FULL, recipes=(FULL.recipes[0], HAZE), runs=(K, L))
ALONE = replace(TWO, runs=(L,))


def kept(**fields: object) -> BathFacts:
    """A bath of Dusk that stands on the shelf since Sunday."""
    made = datetime(2027, 1, 31, 12, tzinfo=ZONE)
    bath = BathFacts("DB-1", "dyebath", made, 8_000_000, 8, 1, "Dusk", 3)
    return replace(bath, **fields)  # type: ignore[arg-type]


def with_bath(facts: WeekFacts = ALONE, **fields: object) -> WeekFacts:
    return replace(facts, shelf=replace(facts.shelf, baths=(kept(**fields),)))


def haze(facts: WeekFacts = TWO, **fields: object) -> WeekFacts:
    """The studio with Haze altered."""
    return altered(facts, "haze", **fields)


def altered(facts: WeekFacts, code: str, **fields: object) -> WeekFacts:
    return replace(facts, recipes=tuple(
        replace(row, **fields) if row.code == code else row  # type: ignore[arg-type]
        for row in facts.recipes))  # fmt: skip


def figure(item: str, name: str, value: str, facts: WeekFacts = TWO) -> WeekFacts:
    """The studio with a figure of its own."""
    return replace(facts, figures=Figures((own(item, name, value), *facts.figures.rows)))


def third(facts: WeekFacts = TWO) -> WeekFacts:
    """With Mist, 100 g, in the bath that Haze leaves, and skins that give three baths."""
    mist: Recipe = replace(
        HAZE, code="mist", shade="Mist", depth=1, second_of="haze", strength=None
    )
    run = replace(L, code="M", shade="Mist", recipe="mist", weight_mg=100_000, due=None)
    facts = figure("onion skins", "exhaust_baths", "3", facts)
    return replace(facts, recipes=(*facts.recipes, mist), runs=(*facts.runs, run))


def answers(facts: WeekFacts) -> dict[str, Answer]:
    return {answer.run: answer for answer in week_of(facts).answers}


def week_of(facts: WeekFacts) -> Week:
    return project(facts, days=DAYS, unlocks=False)


def of_bath(answer: Answer) -> list[tuple[str, int, int]]:
    """What an answer takes of a bath, in mL, and what it leaves."""
    return [(row.source, row.amount // 1000, row.left_after // 1000)
            for row in answer.takes if row.what == "dyebath"]  # fmt: skip
