"""The worked week with other runs wanted, due dates and recipes: each answer worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sourcing.week.facts import Heat, ShadeCard, Step
from tests.sourcing.week.pellitory import FACTS, SLATE, local, nov
from tests.sourcing.week.worked import (
    ITS_HANDS,
    THE_WEEK,
    answer_for,
    brief,
    changed,
    hands,
    pots,
    recipe_changed,
    run_changed,
    short_rows,
    starts,
    take_rows,
    told,
    week_of,
    with_figure,
    without_run,
)

WITHOUT_BLUSH = {
    "C": "yes, Mon 23 14:00, Sat 28 11:00",
    "E": "yes, Thu 26 13:00, Sun 29 15:00",
}


def test_blush_of_half_the_size_leaves_a_pot_for_olive() -> None:
    # 30 L in P2 on R2: scour 46.8 = 47 + 60; alum 11:20, 73.8 = 74 + 60; extract 20 L 47.8 = 48 +
    # 60 to 10:48, strained 40: dye 11:30, 49 to 80 in 30.9 = 31. Lifted Thu 09:00, rinse 30, hung
    # 09:30. Olive has P1 on R1 Tue 09:00. Slate: neither ring is free for it on Tue, so Thu.
    # Friday's line: 1.0 + 0.6 + 0.4 + 0.9 = 2.9.
    week = week_of(run_changed("A", weight_mg=1_000_000))

    assert brief(week) == {
        **THE_WEEK,
        **WITHOUT_BLUSH,
        "A": "yes, Mon 23 09:00, Sat 28 09:30",
        "D": "yes, Mon 23 09:00, Sat 28 16:00",
    }
    assert pots(week, "A", "dye") == ["P2 30"]
    assert pots(week, "C", "dye") == ["P1 18"]
    assert starts(week, "A")["dye"] == "Tue 24 11:30"


def test_blush_of_half_the_size_leaves_more_on_the_shelf() -> None:
    # Stones 6,966 - 1,500 = 5,466: 534 short = 12.7, 13. Wool 4,210.526 - (2,400 - 1,052.632).
    week = week_of(run_changed("A", weight_mg=1_000_000))

    assert take_rows(answer_for(week, "A")) == [
        "W-88 1052.632 g, 1347.368 left",
        "alum 120 g, 780 left",
        "AV-1116 1180 g, 0 left",
        "AV-0911 320 g, 1580 left",
    ]
    assert short_rows(answer_for(week, "B")) == ["dyestuff avocado stones 534 g, 13 pieces"]
    assert short_rows(answer_for(week, "G"))[0] == "fibre wool 2863.158 g"


def test_blush_doubled_is_short_of_wool_and_claims_nothing() -> None:
    # 4,210.526 - 2,400 = 1,810.526 raw; the stones would do: 6,000 of 6,966.
    week = week_of(run_changed("A", weight_mg=4_000_000))

    assert brief(week) == {**THE_WEEK, **WITHOUT_BLUSH, "A": "no"}
    assert short_rows(answer_for(week, "A")) == ["fibre wool 1810.526 g"]
    assert short_rows(answer_for(week, "G")) == ["fibre wool 1810.526 g"]


def test_blush_due_too_early_is_not_yet_and_keeps_its_place() -> None:
    # Dry Sat 28 10:00; wanted Fri 27 18:00.
    week = week_of(run_changed("A", due=nov(27, 18)))

    assert brief(week) == {**THE_WEEK, "A": "not yet, Mon 23 09:00, Sat 28 10:00"}
    assert answer_for(week, "A").late


def test_blush_due_the_minute_it_is_dry_and_a_minute_before() -> None:
    # Before the group's Sat 10:00 by code, after it by hour: nothing else changes.
    on_time = week_of(run_changed("A", due=nov(28, 10)))
    too_soon = week_of(run_changed("A", due=nov(28, 9, 59)))

    assert brief(on_time) == THE_WEEK
    assert brief(too_soon) == {**THE_WEEK, "A": "not yet, Mon 23 09:00, Sat 28 10:00"}


def test_undated_olive_is_placed_last() -> None:
    # Oak Grey has Friday's line first: 2.0 + 0.9. Olive's 0.6 more is over from 15:00, Sat no
    # hands, so dyed Fri, three nights, copper Mon 30, hung 11:00. Soak Thu 14:00.
    week = week_of(run_changed("C", due=None))

    assert brief(week) == {
        **THE_WEEK,
        "C": "yes, Thu 26 14:00, Wed 02 11:00",
        "E": "yes, Thu 26 13:00, Sun 29 15:00",
    }
    assert not answer_for(week, "C").late


def test_two_runs_due_the_same_day_go_by_code() -> None:
    # Oak Grey under a code before Slate's claims Iron 6 first: 900 - 450 = 450, then 250.
    week = week_of(run_changed("E", code="CE"))

    assert brief(week, "CE", "D") == {"CE": THE_WEEK["E"], "D": THE_WEEK["D"]}
    assert "J2 450 mL, 450 left" in take_rows(answer_for(week, "CE"))
    assert "J2 200 mL, 250 left" in take_rows(answer_for(week, "D"))


def test_oak_grey_wanted_before_olive_takes_fridays_line() -> None:
    # Due Mon 30: after Blush, before Olive: as with Olive undated, but Olive now is late.
    week = week_of(run_changed("E", due=local(date(2026, 11, 30), 18)))

    assert brief(week) == {
        **THE_WEEK,
        "C": "not yet, Thu 26 14:00, Wed 02 11:00",
        "E": "yes, Thu 26 13:00, Sun 29 15:00",
    }
    assert answer_for(week, "C").late


def test_slate_withdrawn_and_cloth_here_puts_oak_grey_on_tuesday() -> None:
    # Tannin Mon 13:00, iron Tue 09:00, 11:00, 13:00, hung 15:00; Thu 10:00: 0.9 + 2.0.
    # Mon 225 - 30 + 30; Tue 80 + 90 + 5 + 10 + 117 = 302.
    week = week_of(changed("T-07", "fibre", without_run("D"), arrives_at=None))
    rest = {run: text for run, text in THE_WEEK.items() if run != "D"}

    assert brief(week) == {**rest, "E": "yes, Mon 23 13:00, Thu 26 15:00"}
    assert hands(week) == {**ITS_HANDS, "Tue 24": "302 of 600"}


def test_shade_card_not_approved_stops_the_run() -> None:
    week = week_of(run_changed("C", shade_card=ShadeCard(approved=False)))

    assert brief(week) == {**THE_WEEK, "C": "no", "E": WITHOUT_BLUSH["E"]}


def test_reading_accepted_in_writing_leaves_the_stones() -> None:
    (old_rose,) = [run for run in FACTS.runs if run.code == "B"]
    wishes = tuple(replace(wish, accepted_in_writing=True) for wish in old_rose.wishes)
    rose = told(week_of(run_changed("B", wishes=wishes)), "B")

    assert (rose.answer, rose.short) == ("no", ("dyestuff avocado stones 2034 g, 49 pieces",))
    assert rose.waits == ("pick-up avocado stones Fri 27 09:00",)


def test_fading_dye_in_a_clients_run_is_a_no() -> None:
    week = week_of(run_changed("F", client=True))

    assert brief(week)["F"] == "no"


def test_unscoured_silk_without_a_scour_in_the_recipe_is_no_yes() -> None:
    assert told(week_of(changed("S-12", "fibre", scoured=False)), "D").answer == "no"


def test_unscoured_silk_is_scoured_when_a_pot_is_free() -> None:
    # 400 / 0.75 = 533.333 of 600 g. P2 is Blush's, then Olive's; P1 from Thu 10:00 on R1: 12 L by
    # 47 = 16.1 = 16 + 60 to 11:16. Alum Thu 11:20 to Fri 11:20; the iron would end Fri 18:08, so
    # Mon 30: 09:00, iron 14:18, hung 16:00.
    scour = Step("scour", "scour", ("pot",), heats=(Heat(55, 60),), hands_min=30)
    facts = recipe_changed("slate", steps=(scour, *SLATE.steps))
    facts = with_figure("silk", "scour_loss_fraction", "0.25", facts)
    week = week_of(changed("S-12", "fibre", facts, scoured=False, left_mg=600_000))

    assert brief(week) == {**THE_WEEK, "D": "yes, Thu 26 10:00, Wed 02 16:00"}
    assert take_rows(answer_for(week, "D"))[0] == "S-12 533.333 g, 66.667 left"
    assert pots(week, "D", "scour") == ["P1 12"]
