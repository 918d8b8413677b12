"""The worked week with other jars, strips and vinegar: each answer worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from decimal import Decimal

from inventory.science.facts import Dip
from tests.sourcing.week.pellitory import SLATE, local, nov
from tests.sourcing.week.worked import (
    ITS_HANDS,
    THE_WEEK,
    answer_for,
    brief,
    changed,
    hands,
    reason_texts,
    recipe_changed,
    starts,
    take_rows,
    told,
    week_of,
    without,
)


def strip(grade: int) -> tuple[Dip, ...]:
    return (Dip(nov(2, 9), grade),)


def test_jar_begun_three_days_earlier_still_wants_its_strip() -> None:
    # Begun Sat 14: day 9 without a strip, by the clock Sat 28. Answers assume no strip to come,
    # so Oak Grey stays with Iron 6; the dip is due today instead of Tuesday.
    week = week_of(changed("J1", "jars", begun_at=nov(14, 9)))

    assert brief(week) == THE_WEEK
    assert told(week, "E").moved == ("J2",)
    assert hands(week) == {**ITS_HANDS, "Mon 23": "230 of 360", "Tue 24": "307 of 600"}


def test_jar_begun_three_days_earlier_and_dipped_serves_as_pencilled() -> None:
    # Day 8 on Sun 22 with strip 4: usable, and pencilled. It goes on steeping till Tue 1 Dec, so at
    # most the 450 mL of strip 4 and at least the 360 mL of strip 5 are asked.
    facts = changed("J1", "jars", begun_at=nov(14, 9), dips=(Dip(nov(22, 9), 4),))
    week = week_of(facts)
    (iron,) = [take for take in answer_for(week, "E").takes if take.unit == "µL"]

    assert brief(week) == THE_WEEK
    assert told(week, "E").moved == ()
    assert iron.source == "J1"
    assert 360_000 <= iron.amount <= 450_000
    assert "J2 200 mL, 700 left" in take_rows(answer_for(week, "D"))


def test_strip_two_on_day_eight_is_no_pass() -> None:
    facts = changed("J1", "jars", begun_at=nov(14, 9), dips=(Dip(nov(22, 9), 2),))

    assert told(week_of(facts), "E").moved == ("J2",)


def test_strip_three_is_capped_at_the_silks_ceiling() -> None:
    # 50 x 1.3 = 65 mL, silk at most 51.8, rounded down 51: 4 x 51 = 204. Lyocell has no ceiling:
    # 9 x 65 = 585 of 696.
    week = week_of(changed("J2", "jars", dips=strip(3)))

    assert brief(week) == THE_WEEK
    assert "J2 204 mL, 696 left" in take_rows(answer_for(week, "D"))
    assert "J2 585 mL, 111 left" in take_rows(answer_for(week, "E"))


def test_strip_five_takes_less() -> None:
    # 50 x 0.8 = 40 mL: 4 x 40 = 160, 9 x 40 = 360.
    week = week_of(changed("J2", "jars", dips=strip(5)))

    assert brief(week) == THE_WEEK
    assert "J2 160 mL, 740 left" in take_rows(answer_for(week, "D"))
    assert "J2 360 mL, 380 left" in take_rows(answer_for(week, "E"))


def test_weaker_vinegar_raises_the_ceiling() -> None:
    # 4 %: 13.333 g/L / 60.052 / 2 x 278.01 = 30.86 g/L as ferrous sulphate; 2 g in 64.8 mL, so
    # 64: strip 3 asks 65, silk gets 4 x 64 = 256.
    week = week_of(changed("J2", "jars", acid_percent=Decimal(4), dips=strip(3)))

    assert "J2 256 mL, 644 left" in take_rows(answer_for(week, "D"))
    assert "J2 585 mL, 59 left" in take_rows(answer_for(week, "E"))


def test_stronger_vinegar_refuses_the_silks_dose() -> None:
    # 6 %: 2 g in 43.2 mL; the recipe's 50 would be up to 2.3 %. Oak Grey has no ceiling.
    week = week_of(changed("J2", "jars", acid_percent=Decimal(6)))

    assert brief(week) == {**THE_WEEK, "D": "no"}
    assert len(reason_texts(week, "D", "ceiling")) == 1
    assert "J2 450 mL, 450 left" in take_rows(answer_for(week, "E"))


def test_recipe_just_under_and_just_over_the_ceiling() -> None:
    def asking(ml: int) -> dict[str, str]:
        doses = tuple(
            replace(dose, ml_per_100g=Decimal(ml)) if dose.what == "iron" else dose
            for dose in SLATE.doses
        )
        return brief(week_of(recipe_changed("slate", doses=doses)), "D")

    assert asking(51) == {"D": THE_WEEK["D"]}
    assert asking(52) == {"D": "no"}


def test_silk_that_already_has_iron_leaves_room_for_less() -> None:
    # 2 - 1 = 1 %: 25.9 mL per 100 g, the recipe asks 50.
    assert brief(week_of(changed("S-12", "fibre", iron_percent=Decimal(1))), "D") == {"D": "no"}


def test_too_little_in_the_ready_jar_sends_oak_grey_to_the_younger_one() -> None:
    # 500 - 200 = 300 for 450. Iron 7 is usable by the clock on Tue 1 Dec, the day of the iron.
    week = week_of(changed("J2", "jars", left_ul=500_000))

    assert brief(week) == THE_WEEK
    assert "J2 200 mL, 300 left" in take_rows(answer_for(week, "D"))
    assert "J1 450 mL, 2550 left" in take_rows(answer_for(week, "E"))
    assert told(week, "E").moved == ()


def test_too_little_in_the_ready_jar_and_no_other_is_short() -> None:
    week = week_of(without("J1", "jars", changed("J2", "jars", left_ul=500_000)))
    oak = told(week, "E")

    assert brief(week) == {**THE_WEEK, "E": "no"}
    assert oak.short == ("liquor J2 150 mL",)


def old_strip(day: int) -> list[str]:
    """Jars that Slate and Oak Grey draw from when Iron 6 was dipped last on a day of August."""
    dips = (Dip(local(date(2026, 8, day), 9), 4),)
    begun = local(date(2026, 7, 1), 9)
    week = week_of(changed("J2", "jars", begun_at=begun, events=(), dips=dips))
    return [take.source for run in "DE" for take in answer_for(week, run).takes
            if take.unit == "µL"]  # fmt: skip


def test_strip_on_its_last_valid_day_serves_and_a_day_older_does_not() -> None:
    # Slate's iron is on Tue 24 Nov: 90 days after 26 Aug, 91 after 25 Aug. On Tue 1 Dec both are
    # too old, and Iron 7 is usable by the clock.
    assert old_strip(26) == ["J2", "J1"]
    assert old_strip(25) == ["J1", "J1"]


def test_copper_begun_on_thursday_holds_olive_back_to_noon() -> None:
    # Ready Fri 27 12:00 after 24 h: copper 12:00 to 13:30, rinsed 13:48, hung 14:00.
    week = week_of(changed("J4", "jars", begun_at=nov(26, 12)))

    assert starts(week, "C")["copper"] == "Fri 27 12:00"
    assert brief(week) == {**THE_WEEK, "C": "yes, Tue 24 14:00, Sun 29 14:00"}


def test_copper_short_by_ten_millilitres() -> None:
    # 35 x 6 = 210 mL. Without Olive the line takes Oak Grey on Friday.
    week = week_of(changed("J4", "jars", left_ul=200_000))

    assert brief(week) == {**THE_WEEK, "C": "no", "E": "yes, Thu 26 13:00, Sun 29 15:00"}
    assert told(week, "C").short == ("liquor J4 10 mL",)
