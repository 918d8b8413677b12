"""Pellitory Yard's week: what turns its three noes into a yes (JOB 12.33, 13.6, 13.7)."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal
from functools import cache

from inventory.science.facts import Dip
from inventory.science.figures import Figures
from sourcing.week.facts import Chore, Dose, Hanging, Promised, WeekFacts
from sourcing.week.kept import Kept
from sourcing.week.plan import Change, Unlock, Week
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, nov, own


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


# -- another run moved, another's claim, a later day, two together ------------------------------


def test_oak_grey_also_fits_where_hedge_olive_makes_way() -> None:
    # Friday 2.0 + 0.9 = 2.9 of 3.0 kg. Olive then finds the line full until Sat 10:00 and nobody
    # free before Mon 30: hung at 11:00, dry Wed 2 Dec 11:00, due Tue 1 Dec 18:00.
    unlock = unlocks_of("E")[2]

    assert [sized(change) for change in unlock.changes] == [("moved", 1, "run")]
    assert unlock.text == (
        "C Hedge Olive moved, if its asker agrees (dry Wed 2 Dec 11:00 instead of Sun 29 Nov "
        "11:00, late by 17 h)"
    )
    assert unlock.dry_at == unlocks_of("E")[0].dry_at


def test_nobody_is_asked_before_what_the_studio_can_do() -> None:
    assert [unlock.changes[0].kind for unlock in unlocks_of("E")] == ["line", "hands", "moved"]


def test_a_run_that_was_begun_is_never_moved() -> None:
    olive = next(row for row in FACTS.runs if row.code == "C")
    answer = next(row for row in the_week().answers if row.run == "C")
    assert answer.first_step_at is not None
    kept = Kept(answer.first_step_at, answer.steps, answer.takes, answer.hangs)
    begun = replace(olive, begun=True, kept=kept)
    facts = replace(FACTS, runs=tuple(begun if row is olive else row for row in FACTS.runs))

    week = project(facts, days=7, unlocks=True)

    (oak,) = [row for row in week.answers if row.run == "E"]
    moved = [change.what for unlock in oak.unlocks for change in unlock.changes
             if change.kind == "moved"]  # fmt: skip
    assert oak.unlocks
    assert "C" not in moved


def test_what_another_run_has_claimed_is_named_with_how_much_of_it() -> None:
    # Slate takes 200 mL; of the 900 in Iron 6 the reorder has 800. No other jar is there.
    jars = tuple(row for row in FACTS.shelf.jars if row.code == "J2")
    facts = replace(
        FACTS,
        shelf=replace(FACTS.shelf, jars=jars),
        promised=(Promised("G", "J2", 800_000),),
        runs=tuple(row for row in FACTS.runs if row.code in ("A", "D", "G")),
    )

    (slate,) = [row for row in project(facts, days=7, unlocks=True).answers if row.run == "D"]

    assert slate.answer == "no"
    (claim,) = [row for row in slate.unlocks if row.changes[0].kind == "claim"]
    assert [sized(change) for change in claim.changes] == [("claim", 100_000, "µL")]
    assert claim.text == "100 mL of Iron 6 that G has claimed"
    assert claim.changes[0].until is not None


def test_a_day_later_is_said_with_both_days() -> None:
    # Blush is dry Sat 28 Nov 10:00 at the earliest.
    blush = next(row for row in FACTS.runs if row.code == "A")
    due = replace(blush, due=nov(27, 18))
    facts = replace(FACTS, runs=tuple(due if row is blush else row for row in FACTS.runs))

    (answer,) = [row for row in project(facts, days=7, unlocks=True).answers if row.run == "A"]

    (later,) = [row for row in answer.unlocks if row.changes[0].kind == "due"]
    assert later.text == "leave for it to be dry Sat 28 Nov 10:00 instead of Fri 27 Nov 18:00"
    assert sized(later.changes[0]) == ("due", 16 * 60, "min")


def the_line_and_five_minutes() -> WeekFacts:
    """Blush and Olive hang already; on Friday 190 minutes are there, 78 of them spoken for."""
    hung = (
        Hanging("line", nov(26, 10), nov(28, 10), 2_000_000, "Blush"),
        Hanging("line", nov(27, 11), nov(29, 11), 600_000, "Olive"),
    )
    friday = date(2026, 11, 27)
    return replace(
        FACTS,
        runs=tuple(row for row in FACTS.runs if row.code in ("D", "E")),
        hanging=tuple(replace(row, line=FACTS.shelf.lines[0].code) for row in hung),
        chores=(*FACTS.chores, Chore(friday, "copper and rinse of Olive", 48)),
        hours=tuple(
            replace(row, hands_min=190) if row.day == friday else row for row in FACTS.hours
        ),
    )


def test_where_nothing_does_alone_the_pair_of_least_trouble_is_named() -> None:
    # Fri line 2.0 + 0.6 + 0.9 = 3.5 of 3.0 kg; hands 3 x 30 + 27 = 117 of 190 - 30 - 48 = 112.
    week = project(the_line_and_five_minutes(), days=6, unlocks=True)

    (oak,) = [row for row in week.answers if row.run == "E"]

    (unlock,) = oak.unlocks
    assert sorted(sized(change) for change in unlock.changes) == [
        ("hands", 5, "min"),
        ("line", 500_000, "mg"),
    ]
    assert unlock.text.startswith("both together: ")


def test_neither_half_of_a_pair_does_alone_nor_a_little_less_of_it() -> None:
    facts = the_line_and_five_minutes()
    friday = date(2026, 11, 27)

    def answer(line_g: int, hands_min: int) -> str:
        lines = tuple(replace(row, holds_mg=line_g * 1_000) for row in facts.shelf.lines)
        hours = tuple(
            replace(row, hands_min=hands_min) if row.day == friday else row for row in facts.hours
        )
        then = replace(facts, hours=hours, shelf=replace(facts.shelf, lines=lines))
        return next(row.answer for row in project(then, days=6).answers if row.run == "E")

    assert answer(3_500, 195) == "yes"
    assert answer(3_500, 190) == answer(3_000, 195) == "not yet"
    assert answer(3_499, 195) == answer(3_500, 194) == "not yet"


def test_jars_that_only_need_their_strip_are_named() -> None:
    """Without Iron 6: Iron 3 stood long, its strip is 166 days old; Iron 7 is in its sixth day."""
    jars = tuple(row for row in FACTS.shelf.jars if row.code != "J2")
    slate = next(row for row in FACTS.runs if row.code == "D")
    facts = replace(FACTS, shelf=replace(FACTS.shelf, jars=jars),
                    runs=(replace(slate, due=nov(28, 18)),))  # fmt: skip

    (answer,) = project(facts, days=7, unlocks=True).answers

    # By the clock Iron 7 is ready Tue 1 Dec, too late. From strip 3 on a jar may be used, Iron 7
    # from Tue 24 Nov, its seventh day.
    assert answer.late
    strips = [unlock for unlock in answer.unlocks if unlock.changes[0].kind == "strip"]
    assert [(row.changes[0].what, row.text) for row in strips] == [
        ("J1", "a strip of 3 on Iron 7"),
        ("J3", "a strip of 3 on Iron 3"),
    ]
    assert all(row.dry_at is not None and row.dry_at <= nov(28, 18) for row in strips)


def test_moving_a_pencilled_jar_is_no_unlock() -> None:
    """Oak Grey is pencilled to Iron 7, which is not ready; it takes Iron 6 and is told so."""
    (oak,) = [row for row in the_week().answers if row.run == "E"]

    assert any(row.kind == "jar moved" for row in oak.reasons)
    assert all(change.kind not in ("claim", "strip") for unlock in oak.unlocks
               for change in unlock.changes)  # fmt: skip


def test_of_two_ways_for_each_thing_the_least_trouble_stand_together() -> None:
    """Skins without a label and a jar past its strip: neither is bought where both are there."""
    slate = next(row for row in FACTS.runs if row.code == "D")
    lots = tuple(
        replace(row, labelled=False) if row.code == "ON-0801" else row for row in FACTS.shelf.lots
    )
    jars = tuple(row for row in FACTS.shelf.jars if row.code == "J3")
    facts = replace(FACTS, shelf=replace(FACTS.shelf, lots=lots, jars=jars), runs=(slate,))

    (answer,) = project(facts, days=7, unlocks=True).answers

    assert answer.answer == "no"
    kinds = [{change.kind for change in unlock.changes} for unlock in answer.unlocks]
    assert {"strip", "label"} in kinds
    (unlock,) = [row for row in answer.unlocks
                 if {change.kind for change in row.changes} == {"strip", "label"}]  # fmt: skip
    assert unlock.text == (
        "both together: ON-0801 known for certain and labelled and a strip of 3 on Iron 3"
    )


def test_a_jar_that_another_run_took_is_free_where_that_one_finds_another() -> None:
    # Iron 6 has 450 mL and Iron 3, freshly graded 4, has 300. Slate comes first and takes 200 of
    # Iron 6; Oak Grey wants 450 of one jar. With Slate on Iron 3 both are dyed.
    now = Dip(FACTS.at, grade=4)
    jars = tuple(
        replace(row, left_ul=450_000) if row.code == "J2"
        else replace(row, left_ul=300_000, dips=(*row.dips, now))
        for row in FACTS.shelf.jars if row.code in ("J2", "J3")
    )  # fmt: skip
    slate, oak = (next(row for row in FACTS.runs if row.code == code) for code in "DE")
    runs = (replace(slate, due=nov(30, 18)), replace(oak, due=None))
    facts = replace(FACTS, shelf=replace(FACTS.shelf, jars=jars), runs=runs)

    (_, answer) = project(facts, days=14, unlocks=True).answers

    assert [row.text for row in answer.short] == [
        "Iron 3 short by 150 mL: 450 mL wanted, 300 mL left"
    ]
    (moved,) = [row for row in answer.unlocks if row.changes[0].kind == "moved"]
    assert moved.text == (
        "D Slate moved, if its asker agrees (dry Thu 26 Nov 16:00 as before, still in time)"
    )
