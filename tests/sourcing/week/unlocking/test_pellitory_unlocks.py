"""Pellitory Yard's week: what turns its three noes into a yes (JOB 12.33, 13.6, 13.7)."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from functools import cache

from inventory.science.figures import Figures
from sourcing.week.facts import Dose
from sourcing.week.plan import Change, Unlock, Week
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, own


@cache
def the_week() -> Week:
    return project(FACTS, days=7, unlocks=True)


def unlocks_of(code: str) -> tuple[Unlock, ...]:
    return next(answer.unlocks for answer in the_week().answers if answer.run == code)


def sized(change: Change) -> tuple[str, int, str]:
    return change.kind, change.amount, change.unit


def test_oak_grey_lacks_half_a_kilo_of_line_on_friday() -> None:
    # 13.6: Fri line 2.0 + 0.6 + 0.9 = 3.5 of 3.0 kg. Blush comes off on Sat 10:00.
    unlock = unlocks_of("E")[0]

    assert unlock.text == "0.5 kg more line room on Friday (15:00 to Sat 28 Nov 10:00)"
    assert [sized(change) for change in unlock.changes] == [("line", 500_000, "mg")]
    assert not unlock.together


def test_with_the_line_room_oak_grey_runs_as_worked_by_hand() -> None:
    # 13.7: tannin Thu 26 13:00, iron Fri 27, dry Sun 29 15:00.
    unlock = unlocks_of("E")[0]

    assert unlock.first_step_at is not None
    assert unlock.dry_at is not None
    assert f"{unlock.first_step_at:%a %d %H:%M}" == "Thu 26 13:00"
    assert f"{unlock.dry_at:%a %d %H:%M}" == "Sun 29 15:00"


def test_old_rose_lacks_three_things_that_only_do_together() -> None:
    # 13.6: short 2,034 g = 49 stones; card on day 21 of 28; reading 3 of 4.
    unlock = unlocks_of("B")[0]

    assert unlock.together
    assert [sized(change) for change in unlock.changes] == [
        ("card days", 7, "day"),
        ("reading", 8, "half grade"),
        ("dyestuff", 2_034_000, "mg"),
    ]
    assert unlock.changes[2].pieces == 49
    assert unlock.text.startswith(
        "all three together: 7 days more for the light card (to Mon 30 Nov), a light reading "
        "of 4 and 2,034 g (49 stones) more avocado stones by "
    )


def test_what_the_client_must_allow_stands_behind_what_the_studio_can_do() -> None:
    kinds = [[change.kind for change in unlock.changes] for unlock in unlocks_of("B")]

    assert kinds == [["card days", "reading", "dyestuff"], ["leave", "dyestuff"]]


def test_the_reorder_lacks_wool_and_stones() -> None:
    # 13.6: raw 4,211 - 295 = 3,916 g of wool; stones 6,000 - 3,966 = 2,034 g.
    unlock = unlocks_of("G")[0]

    assert [sized(change) for change in unlock.changes] == [
        ("fibre", 3_916_000, "mg"),
        ("dyestuff", 2_034_000, "mg"),
    ]
    assert unlock.text.startswith("both together: 3,916 g more unscoured wool by ")


def test_a_yes_is_not_unlocked() -> None:
    assert [unlocks_of(code) for code in "ACDF"] == [(), (), (), ()]


def test_looking_for_unlocks_leaves_every_answer_as_it_was() -> None:
    plain = project(FACTS, days=7)
    bare = tuple(replace(row, unlocks=(), sought=False) for row in the_week().answers)

    assert replace(the_week(), answers=bare) == plain


def test_a_plant_for_a_bath_is_fetched_in_the_state_that_the_bath_is_made_of() -> None:
    # 12 L at 50 g dried a litre are 600 g; the group has 360 of 400 g, so 560 g are lacking.
    slate = next(row for row in FACTS.runs if row.code == "D")
    bath = Dose("nettle bath", "bath", "dye", l_per_kg=Decimal(30))
    recipes = tuple(
        replace(row, doses=(*row.doses, bath)) if row.code == slate.recipe else row
        for row in FACTS.recipes
    )
    # Frozen it would keep longer here, and count nothing for the bath.
    figures = Figures((*FACTS.figures.rows, own("nettle", "keeps_frozen_months", "60")))
    facts = replace(FACTS, recipes=recipes, figures=figures)
    week = project(facts, days=7, unlocks=True)

    unlock = next(row.unlocks[0] for row in week.answers if row.run == "D")

    assert [sized(change) for change in unlock.changes] == [("dyestuff", 560_000, "mg")]
    assert unlock.text.startswith("560 g more nettle by ")
