"""Two wools for one pot, by hand: Dusk (K) 400 g and Dawn (L) 300 g, 30:1, one pot, one ring.

Water 8 °C, 3 kW at 0.7: minutes are L x 4.186 x rise / 126. Each alone: 12 L and 9 L; together
21 L: 33 min to 55 °C, 52 min to 82 °C. Mon: scour 09:00, 33 + 60 min to 10:33, 30 min pause, alum
11:05, 52 + 60 min to 12:57, then the night. Tue: Dusk dyes 12 L 29 + 60 min, 09:00 to 10:29, the
pot is cleaned for 60 min, Dawn dyes 9 L 22 + 60 min, 11:30 to 12:52.
"""

from __future__ import annotations

from dataclasses import replace

from sourcing.week.facts import Heat, Recipe, ShadeCard, Step, WeekFacts
from sourcing.week.guidance import Guidance, Together
from sourcing.week.plan import Answer, Week
from sourcing.week.project import as_week, worked_out
from tests.sourcing.week.little import DUSK, LITTLE, RUN, WOOL, feb

DAYS = 7
SHARED = Guidance(together=(Together("K", "L", "hot alum"),))


def shade(code: str, name: str) -> Recipe:
    """A shade on alum wool whose scour and mordant may be shared."""
    return replace(
        DUSK,
        code=code,
        shade=name,
        steps=(
            Step("scour", "scour", ("pot",), heats=(Heat(55, 60),), hands_min=30),
            Step("hot alum", "mordant", ("pot",), heats=(Heat(82, 60),), night=True, hands_min=30),
            Step("dye", "dye", ("pot",), heats=(Heat(80, 60),), hands_min=45),
            Step("rinse", "rinse", hands_min=30, hands_per="kg"),
        ),
        doses=tuple(dose for dose in DUSK.doses if dose.kind != "liquor"),
        may_share=("scour", "mordant"),
    )


def studio() -> WeekFacts:
    """Small Loft with a pot of 30 L and two runs of wool, more skins and more alum."""
    shelf = LITTLE.shelf
    card = ShadeCard(approved=True)
    return replace(
        LITTLE,
        recipes=(shade("dusk", "Dusk"), shade("dawn", "Dawn")),
        runs=(
            replace(RUN, weight_mg=400_000, shade_card=card),
            replace(RUN, code="L", shade="Dawn", recipe="dawn", weight_mg=300_000, due=feb(5, 13),
                    shade_card=card),
        ),
        hours=tuple(replace(row, hands_min=180) for row in LITTLE.hours),
        shelf=replace(
            shelf,
            lots=(replace(shelf.lots[0], left_mg=900_000),),
            supplies=(replace(shelf.supplies[0], left_mg=200_000),),
            fibre=(replace(WOOL, left_mg=2_000_000),),
            vessels=(replace(shelf.vessels[0], brim_ml=37_500, working_ml=30_000, iron_pot=False),),
            lines=(replace(shelf.lines[0], holds_mg=2_000_000),),
        ),
    )  # fmt: skip


def week_of(facts: WeekFacts, guidance: Guidance = SHARED) -> Week:
    desk, found, _ = worked_out(facts, DAYS, turns=False, guidance=guidance)
    return as_week(desk, found)


def answers(facts: WeekFacts, guidance: Guidance = SHARED) -> dict[str, Answer]:
    return {answer.run: answer for answer in week_of(facts, guidance).answers}


def shares(week: Week) -> bool:
    """Whether any pot is shared."""
    return any(row.shared_with for answer in week.answers for row in answer.steps)


def other(facts: WeekFacts, code: str, **fields: object) -> WeekFacts:
    """The studio with a recipe altered."""
    return replace(facts, recipes=tuple(
        replace(row, **fields) if row.code == code else row  # type: ignore[arg-type]
        for row in facts.recipes))  # fmt: skip


def other_run(facts: WeekFacts, code: str, **fields: object) -> WeekFacts:
    """The studio with a run altered."""
    return replace(facts, runs=tuple(
        replace(row, **fields) if row.code == code else row  # type: ignore[arg-type]
        for row in facts.runs))  # fmt: skip


def other_step(facts: WeekFacts, code: str, name: str, **fields: object) -> WeekFacts:
    """The studio with a step of a recipe altered."""
    recipe = next(row for row in facts.recipes if row.code == code)
    steps = tuple(replace(row, **fields) if row.name == name else row  # type: ignore[arg-type]
                  for row in recipe.steps)  # fmt: skip
    return other(facts, code, steps=steps)
