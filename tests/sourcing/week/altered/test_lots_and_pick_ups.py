"""The worked week with other lots, pick-ups, fibre and supplies: each answer worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week
from tests.sourcing.week.pellitory import FACTS, lot, nov
from tests.sourcing.week.worked import (
    ITS_HANDS,
    THE_WEEK,
    answer_for,
    brief,
    changed,
    hands,
    reason_texts,
    run_changed,
    short_rows,
    take_rows,
    told,
    week_of,
    with_figure,
    without,
)


def with_pick_up(day: int, **new: object) -> WeekFacts:
    rows = tuple(
        replace(row, **new) if row.at.date() == date(2026, 11, day) else row  # type: ignore[arg-type]
        for row in FACTS.pick_ups
    )
    return replace(FACTS, pick_ups=rows)


def cabbage_gathered(day: int) -> WeekFacts:
    older = lot("CB-1121", "red cabbage", 1200, "fresh", "fridge", nov(day, 9))
    return changed("CB-1121", "lots", stays=older.stays, gathered_on=older.gathered_on)


def freezer_of(holds_mg: int | None, facts: WeekFacts = FACTS) -> WeekFacts:
    return changed("freezer", "cold_places", facts, holds_mg=holds_mg)


def grams_short(week: Week, run: str) -> list[tuple[str, int]]:
    """What a run is short of and by how many whole grams."""
    return [(row.what, row.amount // 1000) for row in answer_for(week, run).short]


# -- pick-ups --------------------------------------------------------------------------------


def test_thursdays_pick_up_missed_changes_the_hope_not_the_shortage() -> None:
    # The answer counted 0 g for it anyway: still 2,034 g = 49 stones short. Mon 30 likely brings
    # 2,100, 66 over, usable Tue 1 Dec. Thursday's 45 min are saved: 200 - 45.
    week = week_of(with_pick_up(26, missed=True))

    assert brief(week) == THE_WEEK
    assert short_rows(answer_for(week, "B")) == ["dyestuff avocado stones 2034 g, 49 pieces"]
    assert "pick-up avocado stones Tue 01 09:00" in told(week, "B").waits
    assert hands(week) == {**ITS_HANDS, "Thu 26": "155 of 600"}


def test_todays_pick_up_not_coming_makes_the_shortage_deeper() -> None:
    # 1,900 + 1,450 + 1,180 - 3,000 = 1,530 left: 6,000 - 1,530 = 4,470 g = 106.4, 107 stones.
    # Likely 2,100 on Thu 26, Mon 30, Thu 3: 6,300 covers it, usable Fri 4 Dec.
    week = week_of(without("AV-1123", "lots", with_pick_up(23, missed=True, confirmed_mg=None)))

    assert brief(week) == THE_WEEK
    assert short_rows(answer_for(week, "B")) == ["dyestuff avocado stones 4470 g, 107 pieces"]
    assert "pick-up avocado stones Fri 04 09:00" in told(week, "B").waits
    assert hands(week) == {**ITS_HANDS, "Mon 23": "180 of 360"}


def test_enough_stones_reported_today_leave_old_rose_with_its_reading_alone() -> None:
    # 120 stones x 42 = 5,040 g: 1,900 + 1,450 + 1,180 + 5,040 - 3,000 = 6,570 >= 6,000.
    # They keep to Mon 30, so the freezer has to take them: it has no limit here.
    week = week_of(freezer_of(None, changed("AV-1123", "lots", left_mg=5_040_000)))
    rose = told(week, "B")

    assert (rose.answer, rose.short) == ("no", ())
    assert rose.waits == ("reading light Mon 30 00:00", "arrival AV-1123 Tue 24 09:00")


# -- lots ------------------------------------------------------------------------------------


def test_a_lot_half_the_size_opens_the_next_one() -> None:
    # 3,000 - 1,180 - 950 = 870 of AV-1030, 580 left; then 580 + 2,436 = 3,016 for 6,000:
    # 2,984 short = 71.05, 72 stones.
    week = week_of(changed("AV-0911", "lots", left_mg=950_000))

    assert brief(week) == THE_WEEK
    assert take_rows(answer_for(week, "A"))[2:] == [
        "AV-1116 1180 g, 0 left",
        "AV-0911 950 g, 0 left",
        "AV-1030 870 g, 580 left",
    ]
    assert short_rows(answer_for(week, "B")) == ["dyestuff avocado stones 2984 g, 72 pieces"]


def test_stones_set_aside_do_not_count() -> None:
    # 3,966 - 1,450 = 2,516: 3,484 short = 82.95, 83 stones.
    week = week_of(changed("AV-1030", "lots", set_aside="smells"))

    assert brief(week) == THE_WEEK
    assert short_rows(answer_for(week, "B")) == ["dyestuff avocado stones 3484 g, 83 pieces"]


def test_onion_skins_set_aside_stop_slate_alone() -> None:
    # 50 % of 400 g = 200 g; ON-1114 is damp, ON-0801 out. The iron that Slate leaves: 900 - 450.
    week = week_of(changed("ON-0801", "lots", set_aside="mouldy"))

    assert brief(week) == {**THE_WEEK, "D": "no"}
    assert grams_short(week, "D") == [("onion skins", 200)]
    assert "J2 450 mL, 450 left" in take_rows(answer_for(week, "E"))


def test_just_enough_onion_skins_and_one_gram_less() -> None:
    enough = week_of(changed("ON-0801", "lots", left_mg=200_000))
    short = week_of(changed("ON-0801", "lots", left_mg=199_000))

    assert brief(enough) == THE_WEEK
    assert grams_short(short, "D") == [("onion skins", 1)]


def test_no_leave_for_the_hedge_stops_olive_and_lets_oak_grey_in() -> None:
    # Without Olive Friday's line holds 2.0 + 0.9 = 2.9 of 3.0 kg: tannin Thu 13:00, iron Fri
    # 09:00, 11:00, 13:00, rinsed 14:57, hung 15:00. Thursday: 60 + 45 + 10 + 30, Friday:
    # 3 x 30 + 27 + 40 + 30.
    week = week_of(changed("PR-1003", "lots", permission=""))

    assert brief(week) == {**THE_WEEK, "C": "no", "E": "yes, Thu 26 13:00, Sun 29 15:00"}
    assert short_rows(answer_for(week, "C")) == ["dyestuff privet 480 g"]
    assert hands(week) == {
        **ITS_HANDS,
        "Tue 24": "302 of 600",
        "Thu 26": "145 of 600",
        "Fri 27": "187 of 360",
    }


def test_no_leave_is_needed_for_cloth_that_is_nobodys_order() -> None:
    facts = run_changed("C", changed("PR-1003", "lots", permission=""), client=False)

    assert brief(week_of(facts)) == THE_WEEK


# -- the group's cabbage and nettle ----------------------------------------------------------


def test_cabbage_a_day_older_is_frozen_on_tuesday() -> None:
    # Gathered Fri 20 + 5 days: Wed 25, and nobody is in on Wednesday: 10 min go to Tuesday.
    week = week_of(cabbage_gathered(20))

    assert brief(week) == THE_WEEK
    assert told(week, "F").jobs[0] == "freeze CB-1121, Tue 24, 10 min"
    assert hands(week) == {**ITS_HANDS, "Tue 24": "322 of 600", "Thu 26": "190 of 600"}


def test_cabbage_three_days_older_is_frozen_today() -> None:
    # Gathered Wed 18 + 5 days: today.
    week = week_of(cabbage_gathered(18))

    assert told(week, "F").jobs[0] == "freeze CB-1121, Mon 23, 10 min"
    assert hands(week) == {**ITS_HANDS, "Mon 23": "235 of 360", "Thu 26": "190 of 600"}


def test_cabbage_four_days_older_is_past() -> None:
    # Gathered Tue 17 + 5 days: yesterday. No group day, so no jobs: Thu 190, Fri 118 - 40.
    week = week_of(cabbage_gathered(17))

    assert brief(week) == {**THE_WEEK, "F": "no"}
    assert grams_short(week, "F") == [("red cabbage", 480)]
    assert hands(week) == {**ITS_HANDS, "Thu 26": "190 of 600", "Fri 27": "78 of 360"}


def test_nettle_bath_made_today_serves_saturday() -> None:
    # Mon 23 + 5 days = Sat 28: 7.2 of 8 L, 800 mL left, nothing to make.
    week = week_of(changed("J6", "baths", made_at=nov(23, 7)))

    assert brief(week) == THE_WEEK
    assert "J6 7200 mL, 800 left" in take_rows(answer_for(week, "F"))
    assert told(week, "F").jobs == ("freeze CB-1121, Thu 26, 10 min",)
    assert hands(week) == {**ITS_HANDS, "Fri 27": "78 of 360"}


def test_nettle_bath_made_yesterday_ends_a_day_too_soon() -> None:
    week = week_of(changed("J6", "baths", made_at=nov(22, 7)))

    assert reason_texts(week, "F", "bath") == ["J6 ends Fri 27 Nov, before Sat 28 Nov"]
    assert len(told(week, "F").jobs) == 2


def test_one_guest_more_is_the_last_that_the_nettle_serves() -> None:
    # 13 x 20 = 260 g: 7.8 L x 50 = 390 of 400 g. 14 x 20 = 280 g: 8.4 L x 50 = 420, 20 short.
    thirteen = week_of(run_changed("F", weight_mg=260_000, people=13))
    fourteen = week_of(run_changed("F", weight_mg=280_000, people=14))

    assert take_rows(answer_for(thirteen, "F"))[1:] == [
        "NE-0620 390 g, 10 left", "CB-1121 520 g, 680 left"]  # fmt: skip
    assert short_rows(answer_for(fourteen, "F")) == ["dyestuff nettle 20 g"]


# -- the freezer -----------------------------------------------------------------------------


def test_a_full_freezer_takes_blush_to_the_frozen_stones() -> None:
    # 1,900 + 1,450 fill 3,350: AV-1116 cannot be frozen and is past on Tuesday. Blush takes
    # AV-0911 whole and 1,100 of AV-1030, no job.
    week = week_of(freezer_of(3_350_000))

    assert brief(week, "A", "C", "D", "E") == {run: THE_WEEK[run] for run in ("A", "C", "D", "E")}
    assert take_rows(answer_for(week, "A"))[2:] == [
        "AV-0911 1900 g, 0 left", "AV-1030 1100 g, 350 left"]  # fmt: skip
    assert told(week, "A").jobs == ()


# -- fibre and supplies ----------------------------------------------------------------------


def test_wool_for_blush_to_the_milligram() -> None:
    # 2,000 / 0.95 = 2,105.263 g raw.
    enough = week_of(changed("W-88", "fibre", left_mg=2_105_263))
    short = week_of(changed("W-88", "fibre", left_mg=2_105_262))

    assert brief(enough) == THE_WEEK
    assert short_rows(answer_for(short, "A")) == ["fibre wool 0.001 g"]


def test_damp_wool_without_the_look_for_mould_is_no_wool() -> None:
    # W-85 lies damp for 6 days, limit 3. Its 30 min are gone too.
    chores = tuple(row for row in FACTS.chores if row.clears != "W-85")
    week = week_of(replace(FACTS, chores=chores))

    assert brief(week) == {**THE_WEEK, "F": "no"}
    assert short_rows(answer_for(week, "F")) == ["fibre wool 240 g"]
    assert hands(week) == {
        **ITS_HANDS,
        "Mon 23": "195 of 360",
        "Thu 26": "190 of 600",
        "Fri 27": "78 of 360",
    }


def test_tannin_to_the_gram() -> None:
    enough = week_of(changed("tannin", "supplies", left_mg=90_000))
    short = week_of(changed("tannin", "supplies", left_mg=80_000))

    assert brief(enough) == THE_WEEK
    assert brief(short) == {**THE_WEEK, "E": "no"}
    assert short_rows(answer_for(short, "E")) == ["supply tannin 10 g"]


def test_alum_short_by_eight_grams_stops_slate_and_not_blush() -> None:
    # 280 - 240 = 40 for 48. Slate claims nothing: Iron 6 keeps 900 - 450.
    week = week_of(changed("alum", "supplies", left_mg=280_000))

    assert brief(week) == {**THE_WEEK, "D": "no"}
    assert short_rows(answer_for(week, "D")) == ["supply alum 8 g"]
    assert "J2 450 mL, 450 left" in take_rows(answer_for(week, "E"))


def test_alum_enough_for_the_dated_runs_leaves_none_for_old_rose() -> None:
    # 288 - 240 - 48 = 0; Old Rose 450.
    week = week_of(changed("alum", "supplies", left_mg=288_000))

    assert brief(week) == THE_WEEK
    assert "alum 48 g, 0 left" in take_rows(answer_for(week, "D"))
    assert "supply alum 450 g" in short_rows(answer_for(week, "B"))


def test_scour_loss_of_the_studios_own_moves_the_raw_wool() -> None:
    # 2,000 / 0.80 = 2,500 g raw > 2,400: 100 short.
    week = week_of(with_figure("wool", "scour_loss_fraction", "0.2"))

    assert brief(week, "A") == {"A": "no"}
    assert short_rows(answer_for(week, "A")) == ["fibre wool 100 g"]


def test_stones_that_keep_a_day_longer_need_no_freezing() -> None:
    # Mon 16 + 8 days = Tue 24, the day of the extract.
    week = week_of(with_figure("avocado stones", "keeps_fresh_fridge_days", "8"))

    assert brief(week) == THE_WEEK
    assert told(week, "A").jobs == ()
    assert take_rows(answer_for(week, "A"))[2] == "AV-1116 1180 g, 0 left"


def test_cloth_that_comes_a_week_later_is_late() -> None:
    # Tue 1 Dec 12:00: Wed 2 nobody is in, so a tannin of 12 to 24 h begins Thu 3 at 13:00; iron
    # Fri 4 to 14:30, hung 15:00, dry Sun 6: due Fri 4.
    comes = nov(26, 12) + timedelta(days=5)
    week = week_of(changed("T-07", "fibre", arrives_at=comes))

    assert brief(week) == {**THE_WEEK, "E": "not yet, Thu 03 13:00, Sun 06 15:00"}
    assert answer_for(week, "E").late
