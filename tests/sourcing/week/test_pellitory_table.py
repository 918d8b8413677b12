"""Pellitory Yard's week, row by row as the worked table gives it (13.6, with the rules of 13.7).

Every literal is the table's own or follows from it by the arithmetic beside it.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from inventory.science.facts import LineFacts
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week
from tests.sourcing.week.pellitory import FACTS, SHELF, nov
from tests.sourcing.week.worked import (
    ITS_HANDS,
    THE_WEEK,
    Told,
    all_steps,
    answer_for,
    brief,
    hands,
    held,
    line,
    pots,
    reason_texts,
    rings,
    told,
    week_of,
    with_hours,
)


@cache
def the_week() -> Week:
    return week_of()


# -- the seven runs --------------------------------------------------------------------------


def test_answers_of_the_week_are_those_of_the_table() -> None:
    assert brief(the_week()) == THE_WEEK


def test_blush_is_a_yes_with_one_job_in_two_pots() -> None:
    # 2,000 g x 30 L/kg = 60 L > 48 L: P1 + P2 share 48 : 32, so 1,200 g in 36 L and 800 g in 24 L.
    # Wool 2,000 / 0.95 = 2,105.263 g raw; stones 150 % = 3,000 g; alum 12 % = 240 g.
    assert told(the_week(), "A") == Told(
        "yes",
        "Mon 23 09:00",
        "Sat 28 10:00",
        hung="Thu 26 10:00",
        steps=(
            "scour 1 | P1 R1 | Mon 23 09:00 to Mon 23 10:48 | 30 min | 36 L | 1200 g"
            " | 8 to 55 °C, 48 + 60 min",
            "scour 2 | P2 R2 | Mon 23 09:00 to Mon 23 10:37 | 30 min | 24 L | 800 g"
            " | 8 to 55 °C, 37 + 60 min",
            "hot alum 1 | P1 R1 | Mon 23 11:20 to Mon 23 13:36 | 30 min | 36 L | 1200 g"
            " | 8 to 82 °C, 76 + 60 min",
            "hot alum 2 | P2 R2 | Mon 23 11:20 to Mon 23 13:19 | 30 min | 24 L | 800 g"
            " | 8 to 82 °C, 59 + 60 min",
            "extract 1 | P1 R1 | Tue 24 09:00 to Tue 24 11:22 | 80 min | 40 L | 2000 g"
            " | 8 to 80 °C, 82 + 60 min",
            "dye 1 | P1 R1 | Tue 24 12:15 to Tue 24 13:47 | 45 min | 36 L | 1200 g"
            " | 49 to 80 °C, 32 + 60 min",
            "dye 2 | P2 R2 | Tue 24 12:15 to Tue 24 13:40 | 45 min | 24 L | 800 g"
            " | 49 to 80 °C, 25 + 60 min",
            "rinse 1 | Thu 26 09:00 to Thu 26 10:00 | 60 min | 2000 g",
        ),
        takes=(
            "W-88 2105.263 g, 294.737 left",
            "alum 240 g, 660 left",
            "AV-1116 1180 g, 0 left",
            "AV-0911 1820 g, 80 left",
        ),
        jobs=("freeze AV-1116, Mon 23, 0 min",),
    )


def test_slate_begins_beside_it_in_a_bucket_and_the_iron_pot() -> None:
    # 400 g x 30 L/kg = 12 L <= 16 L. Onion 50 % = 200 g of 820; Iron 6 50 mL x 4 = 200 of 900 mL.
    assert told(the_week(), "D") == Told(
        "yes",
        "Mon 23 09:00",
        "Thu 26 16:00",
        hung="Tue 24 16:00",
        steps=(
            "cold alum 1 | B2 | Mon 23 09:00 to Tue 24 09:00 | 30 min | 12 L | 400 g",
            "dye 1 | P3 R2 | Tue 24 09:00 to Tue 24 11:18 | 85 min | 12 L | 400 g"
            " | 8 to 80 °C, 33 + 105 min",
            "iron 1 | P3 | Tue 24 14:18 to Tue 24 15:48 | 30 min | 12 L | 400 g",
            "rinse 1 | Tue 24 15:48 to Tue 24 16:00 | 12 min | 400 g",
        ),
        takes=(
            "S-12 400 g, 0 left",
            "alum 48 g, 612 left",
            "ON-0801 200 g, 620 left",
            "J2 200 mL, 700 left",
        ),
    )


def test_hedge_olive_waits_for_a_clean_pot_till_thursday() -> None:
    # 600 g x 30 L/kg = 18 L. Privet 80 % = 480 of 560 g; Copper 4 35 mL x 6 = 210 mL.
    assert told(the_week(), "C") == Told(
        "yes",
        "Tue 24 14:00",
        "Sun 29 11:00",
        hung="Fri 27 11:00",
        steps=(
            "soak 1 | B2 | Tue 24 14:00 to Wed 25 02:00 | 10 min | 18 L | 600 g",
            "extract 1 | P2 R2 | Thu 26 10:00 to Thu 26 11:49 | 40 min | 18 L | 600 g"
            " | 8 to 90 °C, 49 + 60 min",
            "dye 1 | P2 R2 | Thu 26 12:30 to Thu 26 13:49 | 45 min | 18 L | 600 g"
            " | 50 to 82 °C, 19 + 60 min",
            "copper 1 | P2 | Fri 27 09:00 to Fri 27 10:30 | 30 min | 18 L | 600 g",
            "rinse 1 | Fri 27 10:30 to Fri 27 10:48 | 18 min | 600 g",
        ),
        takes=("W-90 600 g, 0 left", "PR-1003 480 g, 80 left", "J4 210 mL, 790 left"),
    )


def test_hedge_olive_names_the_pot_that_blush_holds() -> None:
    assert reason_texts(the_week(), "C", "vessel") == [
        "P2 is held by Blush; free for extract Thu 26 Nov 10:00"
    ]


def test_oak_grey_waits_for_monday_and_still_is_in_time() -> None:
    # 900 g x 40 L/kg = 36 L in the 16 L iron pot: three loads of 300 g in 12 L.
    # J1 is unready; J2 has 700 mL, 450 are wanted, 250 stay.
    assert told(the_week(), "E") == Told(
        "not yet",
        "Mon 30 13:00",
        "Thu 03 15:00",
        hung="Tue 01 15:00",
        steps=(
            "tannin 1 | B1 | Mon 30 13:00 to Tue 01 01:00 | 30 min | 36 L | 900 g",
            "iron 1 | P3 | Tue 01 09:00 to Tue 01 10:30 | 30 min | 12 L | 300 g",
            "iron 2 | P3 | Tue 01 11:00 to Tue 01 12:30 | 30 min | 12 L | 300 g",
            "iron 3 | P3 | Tue 01 13:00 to Tue 01 14:30 | 30 min | 12 L | 300 g",
            "rinse 1 | Tue 01 14:30 to Tue 01 14:57 | 27 min | 900 g",
        ),
        takes=("T-07 900 g, 0 left", "tannin 90 g, 160 left", "J2 450 mL, 250 left"),
        waits=("arrival T-07 Thu 26 12:00", "line line Sat 28 10:00", "hands Mon 30 09:00"),
        moved=("J2",),
    )
    assert not answer_for(the_week(), "E").late


def test_oak_grey_says_by_how_much_fridays_line_is_over() -> None:
    # 2.0 + 0.6 + 0.9 = 3.5 kg for 3.0 kg.
    assert reason_texts(the_week(), "E", "line") == [
        "line on Fri 27 Nov 15:00: 3.5 kg would hang on 3 kg, 0.5 kg over; "
        "room from Sat 28 Nov 10:00"
    ]


def test_oak_grey_moves_its_claim_from_the_unready_jar() -> None:
    assert reason_texts(the_week(), "E", "jar moved") == [
        "Iron 7 is not ready; the claim moves to Iron 6, 250 mL left after it"
    ]


def test_old_rose_is_short_of_stones_and_of_a_reading() -> None:
    # 6,000 - 3,966 = 2,034 g; / 42 g = 48.4, so 49 stones.
    assert told(the_week(), "B") == Told(
        "no",
        "",
        "",
        short=("dyestuff avocado stones 2034 g, 49 pieces",),
        waits=("reading light Mon 30 00:00", "pick-up avocado stones Fri 27 09:00"),
    )


def test_old_rose_says_what_thursday_may_bring_and_what_the_card_shows() -> None:
    # 2,100 - 2,034 = 66 g, one stone; the worst of the last six is 0.
    assert reason_texts(the_week(), "B", "pick-up") == [
        "avocado stones: pick-ups up to Thu 26 Nov likely bring 2,100 g (66 g, 1 stone over), "
        "at worst 0 g"
    ]
    assert reason_texts(the_week(), "B", "reading") == [
        "light card is on day 21 of 28, reading 3, 4 wanted: look again Mon 30 Nov"
    ]
    assert answer_for(the_week(), "B").notes == (
        "120 L against 80 L in P1 + P2: 2 rounds of 1.5 kg",
        "earliest Mon 30 Nov if pick-ups bring at least 49 stones and the light reading is "
        "good enough",
    )


def test_group_day_is_a_yes_with_two_jobs() -> None:
    # 12 x 20 g = 240 g; cabbage 200 % = 480 g; 7.2 L of nettle bath x 50 g = 360 g of 400.
    found = told(the_week(), "F")

    assert (found.answer, found.first) == ("yes", "Sat 28 10:00")
    assert found.takes == ("W-85 240 g, 260 left", "NE-0620 360 g, 40 left",
                           "CB-1121 480 g, 720 left")  # fmt: skip
    assert found.jobs == ("freeze CB-1121, Thu 26, 10 min", "make nettle bath, Fri 27, 40 min")
    assert (found.short, found.waits, found.moved) == ((), (), ())


def test_group_day_says_which_bath_is_dead_and_what_fades() -> None:
    assert reason_texts(the_week(), "F", "bath") == ["J6 ends Tue 24 Nov, before Sat 28 Nov"]
    assert answer_for(the_week(), "F").notes == (
        "slip must say that red cabbage is fugitive: it fades in days to weeks",
    )


def test_nettle_bath_is_made_as_late_as_it_fits() -> None:
    # 7.2 L x 4.186 x 87 / (3.5 x 0.7 x 60) = 17.8, so 18 min, and 25 min simmer: 43 min on R1,
    # over by 18:00 when begun at 17:15. P2 on R2 would take 21 + 25 = 46 min: 17:10 at the latest.
    (step,) = [row for row in all_steps(the_week()) if row.run == "F"]

    assert (step.vessel, step.ring, step.start, step.end) == (
        "P1", "R1", nov(27, 17, 15), nov(27, 17, 58))  # fmt: skip
    assert (step.heat_min, step.hold_min, step.goal_c, step.hands_min) == (18, 25, 95, 40)
    assert f"{step.litres}" == "7.2"


def test_blush_reorder_is_short_of_wool() -> None:
    # 4,000 / 0.95 = 4,210.526 g raw; 294.737 left of W-88: 3,915.789 short.
    assert told(the_week(), "G") == Told(
        "no",
        "",
        "",
        short=("fibre wool 3915.789 g", "dyestuff avocado stones 2034 g, 49 pieces"),
        waits=("pick-up avocado stones Fri 27 09:00",),
    )


# -- days, rings, line -----------------------------------------------------------------------


def test_hands_by_day() -> None:
    # Mon scour 60 + mordant 60 + Slate alum 30 + pick-up 45 + W-85 30; Tue extract 80 + dye 90 +
    # Slate 127 + dip 5 + soak 10; Thu rinse 60 + Olive 85 + pick-up 45 + cabbage 10;
    # Fri copper 30 + rinse 18 + nettle 40 + prep 30.
    assert hands(the_week()) == ITS_HANDS


def test_first_ring_is_lit_for_the_big_pot_only() -> None:
    assert rings(the_week(), "R1") == [
        "A scour P1 Mon 23 09:00 to Mon 23 10:48",
        "A hot alum P1 Mon 23 11:20 to Mon 23 13:36",
        "A extract P1 Tue 24 09:00 to Tue 24 11:22",
        "A dye P1 Tue 24 12:15 to Tue 24 13:47",
        "F make nettle bath P1 Fri 27 17:15 to Fri 27 17:58",
    ]


def test_second_ring_goes_from_pot_to_pot() -> None:
    assert rings(the_week(), "R2") == [
        "A scour P2 Mon 23 09:00 to Mon 23 10:37",
        "A hot alum P2 Mon 23 11:20 to Mon 23 13:19",
        "D dye P3 Tue 24 09:00 to Tue 24 11:18",
        "A dye P2 Tue 24 12:15 to Tue 24 13:40",
        "C extract P2 Thu 26 10:00 to Thu 26 11:49",
        "C dye P2 Thu 26 12:30 to Thu 26 13:49",
    ]


def test_line_by_the_hour() -> None:
    assert line(the_week()) == [
        "Mon 23 00:00 0",
        "Tue 24 16:00 0.4",
        "Thu 26 10:00 2.4",
        "Thu 26 16:00 2",
        "Fri 27 11:00 2.6",
        "Sat 28 10:00 0.6",
        "Sun 29 11:00 0",
    ]


def test_pots_and_buckets_are_held_through_nights_and_standing() -> None:
    assert held(the_week(), "A", "hot alum") == ["P1 Tue 24 09:00", "P2 Tue 24 09:00"]
    assert held(the_week(), "A", "dye") == ["P1 Thu 26 09:00", "P2 Thu 26 09:00"]
    assert held(the_week(), "C", "soak") == ["B2 Thu 26 10:00"]
    assert held(the_week(), "C", "dye") == ["P2 Fri 27 09:00"]
    assert held(the_week(), "D", "cold alum") == ["B2 Tue 24 09:00"]
    assert held(the_week(), "E", "tannin") == ["B1 Tue 01 13:00"]


def test_heat_up_minutes() -> None:
    # L x 4.186 x rise / (3.5 x 0.7 x 60): 36 L by 47 = 48.2, by 74 = 75.9; 40 L by 72 = 82.0.
    # Mix 40 L at 70 and 20 L at 8: (2,800 + 160) / 60 = 49.3, so 49 °C.
    found = {
        (step.step, step.vessel): (step.start_c, step.goal_c, step.heat_min)
        for step in answer_for(the_week(), "A").steps
        if step.vessel == "P1"
    }

    assert found["scour", "P1"] == (8, 55, 48)
    assert found["hot alum", "P1"] == (8, 82, 76)
    assert found["extract", "P1"] == (8, 80, 82)
    assert found["dye", "P1"] == (49, 80, 32)


# -- the two variants ------------------------------------------------------------------------


def roomier_line() -> WeekFacts:
    return replace(FACTS, shelf=replace(SHELF, lines=(LineFacts("line", 3_500_000),)))


def test_half_a_kilo_more_line_turns_oak_grey_into_a_yes() -> None:
    week = week_of(roomier_line())

    assert brief(week) == {
        **THE_WEEK,
        "E": "yes, Thu 26 13:00, Sun 29 15:00",
    }
    assert told(week, "E").steps[0].startswith("tannin 1 | B1 | Thu 26 13:00")
    assert pots(week, "E", "iron") == ["P3 12", "P3 12", "P3 12"]
    assert told(week, "E").hung == "Fri 27 15:00"


def test_half_a_kilo_more_line_costs_hands_on_thursday_and_friday() -> None:
    # Thu 200 + tannin 30; Fri 118 + three loads of 30 + rinse 27 = 235.
    assert hands(week_of(roomier_line())) == {
        **ITS_HANDS,
        "Thu 26": "230 of 600",
        "Fri 27": "235 of 360",
    }


def test_six_hours_on_wednesday_bring_everything_a_day_forward() -> None:
    # Blush is lifted Wed 09:00, hung 10:00; Olive has P2 from Wed 10:00, hung Thu 11:00; Blush is
    # off the line Fri 10:00, so Oak Grey hangs Fri 15:00 beside Olive: 0.6 + 0.9 kg.
    assert brief(week_of(with_hours(nov(25), 360))) == {
        **THE_WEEK,
        "A": "yes, Mon 23 09:00, Fri 27 10:00",
        "C": "yes, Mon 23 14:00, Sat 28 11:00",
        "E": "yes, Thu 26 13:00, Sun 29 15:00",
    }
