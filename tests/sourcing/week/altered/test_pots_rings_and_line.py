"""The worked week with other pots, rings, line, water and holds: each answer worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from inventory.science.facts import LineFacts, VesselFacts
from sourcing.week.facts import Heat, Water, WeekFacts
from tests.sourcing.week.pellitory import FACTS, nov
from tests.sourcing.week.worked import (
    THE_WEEK,
    all_steps,
    answer_for,
    brief,
    changed,
    hands,
    line,
    pots,
    recipe_changed,
    said,
    starts,
    step_changed,
    told,
    week_of,
    with_figure,
    with_hours,
    without,
    without_run,
)


def line_of(grams: int) -> WeekFacts:
    lines = (LineFacts("line", grams * 1000),)
    return replace(FACTS, shelf=replace(FACTS.shelf, lines=lines))


def with_vessel(vessel: VesselFacts, facts: WeekFacts = FACTS) -> WeekFacts:
    shelf = replace(facts.shelf, vessels=(*facts.shelf.vessels, vessel))
    return replace(facts, shelf=shelf)


SECOND_IRON_POT = VesselFacts("P5", "pot", "stainless", 20_000, 16_000, iron_pot=True,
                              iron_on=date(2026, 11, 9))  # fmt: skip


# -- pots ------------------------------------------------------------------------------------


def test_second_iron_pot_saves_oak_grey_a_round_but_not_the_week() -> None:
    # 36 L over 16 + 16 = 32: two rounds of 18 L, 9 + 9. Tue 1 Dec 09:00 and 11:00, rinsed 12:57,
    # hung 13:00; tannin at most 24 h before 11:00. On Friday the line still is over.
    week = week_of(with_vessel(SECOND_IRON_POT))

    assert brief(week) == {**THE_WEEK, "E": "not yet, Mon 30 11:00, Thu 03 13:00"}
    assert pots(week, "E", "iron") == ["P3 9", "P5 9", "P3 9", "P5 9"]


def test_iron_pot_for_all_of_oak_grey_takes_one_load() -> None:
    # 36 L in 36 L: Tue 1 Dec 09:00 to 10:30, rinsed 10:57, hung 11:00; tannin from Mon 09:00.
    week = week_of(changed("P3", "vessels", brim_ml=45_000, working_ml=36_000))

    assert brief(week) == {**THE_WEEK, "E": "not yet, Mon 30 09:00, Thu 03 11:00"}
    assert pots(week, "E", "iron") == ["P3 36"]


def test_second_iron_pot_with_a_longer_saturday_and_a_person_more() -> None:
    # Two rounds fit Sat 10:00 and 12:00, rinsed 13:57, hung 14:00 with Blush off at 10:00:
    # 0.6 + 0.9 kg. Tannin from Fri 12:00. Hands: 240 + 4 x 30 + 27 = 387 of 540.
    week = week_of(with_hours(nov(28), 540, with_vessel(SECOND_IRON_POT), opens=10, closes=15))

    assert brief(week) == {**THE_WEEK, "E": "yes, Fri 27 12:00, Mon 30 14:00"}
    assert hands(week)["Sat 28"] == "387 of 540"
    assert hands(week)["Fri 27"] == "148 of 360"


def test_no_metal_while_the_group_is_about_takes_that_saturday_away() -> None:
    facts = with_hours(nov(28), 540, with_vessel(SECOND_IRON_POT), opens=10, closes=15)
    blocks = tuple(replace(block, no_iron=True) for block in facts.blocks)
    week = week_of(replace(facts, blocks=blocks))

    assert brief(week) == {**THE_WEEK, "E": "not yet, Mon 30 11:00, Thu 03 13:00"}


def test_clean_swatch_gone_from_the_small_pot_sends_olive_to_the_big_one() -> None:
    # P2 had iron on 20 Nov, after its blank of 16 Nov. Without Blush, P1 is free for Olive on R1:
    # 18 L x 4.186 x 82 / 147 = 42.03: 42 + 60 min; dye 16.4: 16 + 60.
    facts = without_run("A", changed("P2", "vessels", iron_on=date(2026, 11, 20)))
    week = week_of(facts)

    assert pots(week, "C", "extract") == ["P1 18"]
    assert starts(week, "C") == {
        "soak": "Mon 23 14:00",
        "extract": "Tue 24 09:00",
        "dye": "Tue 24 11:25",
        "copper": "Thu 26 09:00",
        "rinse": "Thu 26 10:30",
    }


# -- rings -----------------------------------------------------------------------------------


def test_blush_withdrawn_lets_everything_move_up() -> None:
    # Olive: P2 on R2 Tue 09:00 to 10:49, strained 11:29, dye 11:30, copper Thu 09:00, hung 11:00.
    # Slate: R2 is lit for Olive, so R1: 24.6 = 25 + 3.4 = 3 + 105 = 133 min: 11:13, iron 14:13,
    # rinsed 15:55, hung 16:00. Oak Grey: Friday's line has room.
    week = week_of(without_run("A"))
    rest = {run: said_ for run, said_ in THE_WEEK.items() if run != "A"}

    assert brief(week) == {
        **rest,
        "C": "yes, Mon 23 14:00, Sat 28 11:00",
        "E": "yes, Thu 26 13:00, Sun 29 15:00",
    }
    assert starts(week, "C")["dye"] == "Tue 24 11:30"
    assert starts(week, "D")["iron"] == "Tue 24 14:13"


def test_broken_ring_makes_slate_wait_for_olive() -> None:
    # Only R1: Olive 09:00 to 10:42 and 11:25 to 12:41; Slate's 133 min would begin 12:45 and end
    # its iron 19:28. So Thursday: 09:00 to 11:13, iron 14:13 to 15:43, hung 16:00.
    facts = without("R2", "rings", without_run("A"))
    blocks = tuple(replace(block, rings=("R1",)) for block in facts.blocks)
    week = week_of(replace(facts, blocks=blocks))

    assert brief(week, "C", "D", "E") == {
        "C": "yes, Mon 23 14:00, Sat 28 11:00",
        "D": "yes, Mon 23 09:00, Sat 28 16:00",
        "E": "yes, Thu 26 13:00, Sun 29 15:00",
    }
    assert starts(week, "D")["dye"] == "Thu 26 09:00"
    assert {step.ring for step in all_steps(week)} == {"", "R1"}


def test_no_ring_at_all_leaves_only_what_is_cold() -> None:
    shelf = replace(FACTS.shelf, rings=())
    blocks = tuple(replace(block, rings=()) for block in FACTS.blocks)
    week = week_of(replace(FACTS, shelf=shelf, blocks=blocks))

    assert brief(week, "A", "C", "D") == {"A": "no", "C": "no", "D": "no"}
    assert brief(week, "E") == {"E": "yes, Thu 26 13:00, Sun 29 15:00"}


# -- the line --------------------------------------------------------------------------------


def test_line_that_just_takes_blush_and_olive_changes_nothing() -> None:
    assert brief(week_of(line_of(2600))) == THE_WEEK


def test_line_a_gram_shorter_sends_olive_to_monday_and_past_its_day() -> None:
    # Sat no hands, Sun nobody: dyed Fri, three nights in its bath, copper Mon 30 09:00, rinsed
    # 10:48, hung 11:00, dry Wed 2 Dec 11:00; due Tue 1 Dec 18:00. Soak Thu 14:00: 19 h.
    week = week_of(line_of(2599))

    assert brief(week) == {**THE_WEEK, "C": "not yet, Thu 26 14:00, Wed 02 11:00"}
    assert answer_for(week, "C").late
    assert starts(week, "C")["copper"] == "Mon 30 09:00"


def test_line_too_short_for_blush_is_a_no() -> None:
    # A run's cloth is hung together: 2.0 kg never fit on 1.9.
    week = week_of(line_of(1900))

    assert told(week, "A").answer == "no"
    assert told(week, "D").answer == "yes"


def test_drying_in_a_day_frees_friday_for_oak_grey() -> None:
    # Blush Fri 10:00, Olive Sat 11:00, Slate Wed 16:00; Fri 15:00: 0.6 + 0.9 kg.
    week = week_of(with_figure("studio", "drying_h", "24"))

    assert brief(week) == {
        **THE_WEEK,
        "A": "yes, Mon 23 09:00, Fri 27 10:00",
        "C": "yes, Tue 24 14:00, Sat 28 11:00",
        "D": "yes, Mon 23 09:00, Wed 25 16:00",
        "E": "yes, Thu 26 13:00, Sat 28 15:00",
    }
    assert line(week) == [
        "Mon 23 00:00 0",
        "Tue 24 16:00 0.4",
        "Wed 25 16:00 0",
        "Thu 26 10:00 2",
        "Fri 27 10:00 0",
        "Fri 27 11:00 0.6",
        "Fri 27 15:00 1.5",
        "Sat 28 11:00 0.9",
        "Sat 28 15:00 0",
    ]


# -- water and holds -------------------------------------------------------------------------


def test_warmer_water_saves_minutes_and_no_day() -> None:
    # 15 °C on R1: 36 L by 40 = 41.0, by 67 = 68.7, 40 L by 65 = 74.0; mix (40 x 70 + 20 x 15) / 60
    # = 51.7, so 52, 36 L by 28 = 28.7. On R2: 24 L by 40 = 31.9, by 67 = 53.4, by 28 = 22.3.
    week = week_of(replace(FACTS, waters=(Water("town water", None, 15),)))
    heats = [(row.step, row.vessel, said(row.start), row.heat_min)
             for row in answer_for(week, "A").steps if row.ring]  # fmt: skip

    assert brief(week) == THE_WEEK
    assert heats == [
        ("scour", "P1", "Mon 23 09:00", 41),
        ("scour", "P2", "Mon 23 09:00", 32),
        ("hot alum", "P1", "Mon 23 11:15", 69),
        ("hot alum", "P2", "Mon 23 11:15", 53),
        ("extract", "P1", "Tue 24 09:00", 74),
        ("dye", "P1", "Tue 24 12:05", 29),
        ("dye", "P2", "Tue 24 12:05", 22),
    ]


def test_warmer_water_lets_the_nettle_simmer_in_the_smaller_pot() -> None:
    # 7.2 L by 80 on R2: 19.1 + 25 = 44 min, over by 18:00 when begun 17:15, as in P1 on R1.
    week = week_of(replace(FACTS, waters=(Water("town water", None, 15),)))
    (nettle,) = [row for row in all_steps(week) if row.run == "F"]

    assert (nettle.vessel, nettle.ring, said(nettle.start)) == ("P2", "R2", "Fri 27 17:15")


def test_longest_dye_hold_that_ends_by_closing() -> None:
    # From 12:15: 32 + 313 min = 18:00.
    week = week_of(step_changed("blush", "dye", heats=(Heat(80, 313),)))

    assert brief(week) == THE_WEEK


def test_a_minute_less_on_tuesday_is_the_other_plan() -> None:
    # The same hold, and Tuesday closes 17:59: Blush extracts and dyes Thu till 18:00, hung Fri
    # 10:00, dry Sun. Olive has P2 from Tue 10:00 to Thu 10:30, an hour before Blush's dye at 12:15:
    # hung Thu 11:00. Friday still would hold 2.0 + 0.6 + 0.9.
    facts = step_changed("blush", "dye", heats=(Heat(80, 313),))
    hours = tuple(
        replace(row, closes=nov(24, 17, 59)) if row.day == nov(24).date() else row
        for row in facts.hours
    )
    week = week_of(replace(facts, hours=hours))

    assert brief(week) == {
        **THE_WEEK,
        "A": "yes, Mon 23 09:00, Sun 29 10:00",
        "C": "yes, Mon 23 14:00, Sat 28 11:00",
    }
    assert starts(week, "A")["dye"] == "Thu 26 12:15"
    assert starts(week, "C")["extract"] == "Tue 24 10:00"


def test_dye_hold_longer_than_any_day_fits_nowhere() -> None:
    # 12:15 + 32 + 314 = 18:01 on every day.
    week = week_of(step_changed("blush", "dye", heats=(Heat(80, 314),)))

    assert told(week, "A").answer == "no"
    assert told(week, "A").short == ()


def test_warm_shed_allows_one_night_in_the_bath() -> None:
    # 20 °C: a dyebath stands one night. Blush's Tue dye would stand two, so Thu to Fri, dry Sun.
    # Olive's dye: Tue to Thu is two, Thu no clean pot, Fri to Mon three, Mon 30 its soak has not
    # stood; Tue 1 to Thu two: Thu 3, copper Fri 4, dry Sun 6. Oak Grey: Friday 2.0 + 0.9.
    week = week_of(with_figure("studio", "shed_c", "20"))

    assert brief(week) == {
        **THE_WEEK,
        "A": "yes, Mon 23 09:00, Sun 29 10:00",
        "C": "not yet, Tue 01 14:00, Sun 06 11:00",
        "E": "yes, Thu 26 13:00, Sun 29 15:00",
    }
    assert answer_for(week, "C").late


def test_ratio_of_the_recipe_moves_litres_and_pots() -> None:
    # 24 L/kg x 2 kg = 48 L: one load in P1. P2 is free for Olive: soak Mon 14:00, extract Tue.
    # Monday: 225 - 2 x 30 + 10.
    week = week_of(recipe_changed("blush", l_per_kg=Decimal(24)))

    assert pots(week, "A", "scour") == ["P1 48"]
    assert pots(week, "A", "dye") == ["P1 48"]
    assert starts(week, "C")["extract"] == "Tue 24 09:00"
    assert hands(week)["Mon 23"] == "175 of 360"
