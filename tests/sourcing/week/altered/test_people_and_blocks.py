"""The worked week with other hours, people, blocks and group days: each answer worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from sourcing.week.facts import Block, WeekFacts
from tests.sourcing.week.pellitory import FACTS, local, nov
from tests.sourcing.week.worked import (
    ITS_HANDS,
    THE_WEEK,
    all_steps,
    answer_for,
    brief,
    hands,
    run_changed,
    said,
    told,
    week_of,
    with_hours,
)


def group_on(day: date, facts: WeekFacts = FACTS) -> WeekFacts:
    """The group day moved, its run with it."""
    blocks = tuple(
        replace(block, since=local(day, 10), until=local(day, 14)) if block.group else block
        for block in facts.blocks
    )
    return run_changed("F", replace(facts, blocks=blocks), due=local(day, 10))


def test_assistant_on_wednesday_brings_everything_a_day_forward() -> None:
    # Four hours do: Blush's rinse 60 + Olive's 85 = 145 of 240.
    week = week_of(with_hours(nov(25), 240))

    assert brief(week) == {
        **THE_WEEK,
        "A": "yes, Mon 23 09:00, Fri 27 10:00",
        "C": "yes, Mon 23 14:00, Sat 28 11:00",
        "E": "yes, Thu 26 13:00, Sun 29 15:00",
    }
    assert hands(week)["Wed 25"] == "145 of 240"


def test_assistant_on_friday_does_not_make_the_line_longer() -> None:
    week = week_of(with_hours(nov(27), 600))

    assert brief(week) == THE_WEEK
    assert hands(week) == {**ITS_HANDS, "Fri 27": "118 of 600"}


def test_person_more_on_saturday_has_too_few_hours_for_three_loads() -> None:
    # 10:00, 12:00, and the third would begin at 14:00, when the door shuts.
    week = week_of(with_hours(nov(28), 480, opens=10, closes=14))

    assert brief(week) == THE_WEEK


def test_just_enough_hands_on_tuesday() -> None:
    assert brief(week_of(with_hours(nov(24), 312))) == THE_WEEK


def test_thursday_closed_leaves_blush_three_nights_and_olive_late() -> None:
    # Blush: Tue, Wed, Thu night, lifted Fri 09:00, hung 10:00. Olive: P2 from Fri 10:00, but a soak
    # of Tue has stood 68 h by then, one of Fri 67 h by Mon: soak Mon 30 14:00, dye Tue, Wed closed,
    # copper Thu 3 Dec, hung 11:00. Cabbage: frozen Tue 24. Tue 312 - 10 + 10.
    week = week_of(with_hours(nov(26), 0))

    assert brief(week) == {
        **THE_WEEK,
        "A": "yes, Mon 23 09:00, Sun 29 10:00",
        "C": "not yet, Mon 30 14:00, Sat 05 11:00",
    }
    assert answer_for(week, "C").late
    assert told(week, "F").jobs[0] == "freeze CB-1121, Tue 24, 10 min"
    assert hands(week)["Tue 24"] == "312 of 600"
    assert hands(week)["Fri 27"] == "130 of 360"


def test_rings_off_on_tuesday_afternoon() -> None:
    # No dye at 12:15, so Blush extracts and dyes Thu: dry Sun 10:00. Olive: its dye of Tue 12:30
    # has no ring, Thu has no pot, Fri 10:00 to Mon 30 is three nights: dry Wed 2 Dec, late.
    # Slate's flame is out by 11:18. Oak Grey: Friday 2.0 + 0.9.
    cut = Block("cut", "power cut", nov(24, 12), nov(24, 18), ("R1", "R2"))
    week = week_of(replace(FACTS, blocks=(*FACTS.blocks, cut)))

    assert brief(week) == {
        **THE_WEEK,
        "A": "yes, Mon 23 09:00, Sun 29 10:00",
        "C": "not yet, Thu 26 14:00, Wed 02 11:00",
        "E": "yes, Thu 26 13:00, Sun 29 15:00",
    }
    assert answer_for(week, "C").late
    # Blush 60, Olive 85, Oak Grey 117, nettle 40, prep 30.
    assert hands(week)["Fri 27"] == "332 of 360"


def test_group_day_on_friday_has_its_bath_made_that_morning() -> None:
    # 43 min on R1, over by 10:00 when begun 09:15. Friday: 240 + copper 30 + rinse 18 + prep 30 +
    # nettle 40 = 358. Cabbage ends Thu: still frozen then.
    week = week_of(group_on(date(2026, 11, 27)))
    (nettle,) = [row for row in all_steps(week) if row.run == "F"]

    assert brief(week) == {**THE_WEEK, "F": "yes, Fri 27 10:00"}
    assert (nettle.vessel, nettle.ring, said(nettle.start)) == ("P1", "R1", "Fri 27 09:15")
    assert hands(week) == {**ITS_HANDS, "Fri 27": "358 of 360", "Sat 28": "0 of 240"}


def test_group_day_a_week_later_is_not_this_week() -> None:
    # Its bath is made Fri 4 Dec; the cabbage still ends Thu 26.
    week = week_of(group_on(date(2026, 12, 5)))

    assert brief(week) == {**THE_WEEK, "F": "not yet, Sat 05 10:00"}
    assert told(week, "F").jobs == (
        "freeze CB-1121, Thu 26, 10 min",
        "make nettle bath, Fri 04, 40 min",
    )
    assert hands(week) == {**ITS_HANDS, "Fri 27": "78 of 360", "Sat 28": "0 of 240"}


def test_group_day_with_line_of_its_own_leaves_less_for_the_cloth() -> None:
    # Sat 10:00 to 14:00 the group hangs 2.5 kg: with Olive's 0.6 over 3.0, so Olive goes to Monday.
    # Dyed Fri, three nights, copper Mon 30, hung 11:00, dry Wed 2 Dec: late. Fri 15:00 then has
    # 2.0 + 0.9, but Sat 0.9 + 2.5 are over too.
    blocks = tuple(replace(block, line_mg=2_500_000) for block in FACTS.blocks)
    week = week_of(replace(FACTS, blocks=blocks))

    assert brief(week) == {**THE_WEEK, "C": "not yet, Thu 26 14:00, Wed 02 11:00"}


def test_tub_lent_out_leaves_no_room_for_the_tannin() -> None:
    # B1 is the only vessel for 36 L of tannin; buckets take 24 each, 24 + 24 = 48 hold it in two.
    lent = Block("lent", "tub lent out", nov(23), local(date(2026, 12, 2)), vessels=("B1",))
    week = week_of(replace(FACTS, blocks=(*FACTS.blocks, lent)))

    assert brief(week) == THE_WEEK
    assert [row.vessel for row in answer_for(week, "E").steps if row.step == "tannin"] == [
        "B2", "B3"]  # fmt: skip
