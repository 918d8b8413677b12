"""Last good days: the worked week's lots, every border, and properties over many lots."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.facts import BathFacts, FibreFacts, LotFacts, Stay, Verdict
from inventory.science.figures import Figure, Figures, NoFigure
from inventory.science.keeping import (
    bath_last_good_day,
    fibre_last_good_day,
    if_put_by,
    is_past,
    last_good_day,
    pick,
    use_first,
)

LONDON = ZoneInfo("Europe/London")
MONDAY_0730 = datetime(2026, 11, 23, 7, 30, tzinfo=LONDON)
MONDAY = date(2026, 11, 23)
CASES = Path(__file__).parent / "cases"


def own(item: str, name: str, value: str, since: date | None = None) -> Figure:
    return Figure(item, name, Decimal(value), basis="measured here", own=True, since=since)


# JOB, rules of the worked week: bench 3 d, fridge 7 d, frozen 12 months, cabbage fridge 5 d.
RULES = Figures(
    (
        own("avocado stones", "keeps_fresh_bench_days", "3"),
        own("avocado stones", "keeps_fresh_fridge_days", "7"),
        own("avocado stones", "keeps_frozen_months", "12"),
        own("red cabbage", "keeps_fresh_fridge_days", "5"),
        own("nettle bath", "keeps_days", "5"),
        own("nettle bath", "keeps_at_most_c", "12"),
        own("dyebath", "keeps_days", "7"),
        own("dyebath", "keeps_at_most_c", "10"),
        own("studio", "damp_mordanted_days", "3"),
    )
)


def noon(day: date) -> datetime:
    return datetime(day.year, day.month, day.day, 12, tzinfo=LONDON)


def stay(month: int, day: int, state: str, kind: str, c: float | None = None) -> Stay:
    return Stay(noon(date(2026, month, day)), state, kind, kind, c)


def stones(*stays: Stay, code: str = "AV", **more: object) -> LotFacts:
    return LotFacts(code, "avocado stones", stays, left_mg=1_000_000, **more)  # type: ignore[arg-type]


def good_to(lot: LotFacts, **more: object) -> date:
    return last_good_day(lot, RULES, zone=LONDON, **more).day  # type: ignore[arg-type]


FRIDGE_16 = stones(stay(11, 16, "fresh", "fridge"), code="AV-1116")
BENCH_9 = stones(stay(11, 9, "fresh", "bench"), code="AV-1109")
FROZEN_SEPT = stones(stay(9, 11, "frozen", "freezer"), code="AV-0911")


def test_stones_in_the_fridge_from_the_16th_are_good_to_the_23rd() -> None:
    found = last_good_day(FRIDGE_16, RULES, zone=LONDON)

    assert found.day == MONDAY
    assert found.figure.name == "keeps_fresh_fridge_days"
    assert found.figure.own
    assert not is_past(FRIDGE_16, RULES, zone=LONDON, on=MONDAY)
    assert is_past(FRIDGE_16, RULES, zone=LONDON, on=MONDAY + timedelta(days=1))


def test_stones_on_the_bench_since_the_9th_are_past_by_eleven_days() -> None:
    assert MONDAY - good_to(BENCH_9) == timedelta(days=11)


def test_frozen_stones_are_good_for_twelve_calendar_months() -> None:
    assert good_to(FROZEN_SEPT) == date(2027, 9, 11)


def test_cabbage_in_the_fridge_from_the_21st_is_good_to_thursday() -> None:
    cabbage = LotFacts("CB", "red cabbage", (stay(11, 21, "fresh", "fridge"),), 1)

    assert good_to(cabbage) == date(2026, 11, 26)


def test_freezing_on_the_last_good_day_starts_the_full_frozen_life() -> None:
    put_by = if_put_by(FRIDGE_16, "frozen", RULES, on=MONDAY, zone=LONDON)

    assert put_by.day == date(2027, 11, 23)
    assert not put_by.too_late


def test_freezing_a_day_after_the_last_good_day_mends_nothing() -> None:
    put_by = if_put_by(FRIDGE_16, "frozen", RULES, on=MONDAY + timedelta(days=1), zone=LONDON)

    assert put_by.day == MONDAY
    assert put_by.too_late


def test_drying_by_the_last_good_day_starts_the_dried_life() -> None:
    put_by = if_put_by(FRIDGE_16, "dried", RULES, on=MONDAY, zone=LONDON)

    # Shipped figure: 365 days.
    assert put_by.day == date(2027, 11, 23)
    assert put_by.figure.name == "keeps_dried_days"


@pytest.mark.parametrize(
    ("moved_on", "expected"),
    [
        # One of three bench days used: 2/3 of 7 fridge days left, 4 whole ones.
        (17, date(2026, 11, 21)),
        # Two of three used: 1/3 of 7, 2 whole ones.
        (18, date(2026, 11, 20)),
        # All used on the last good day: nothing left.
        (19, date(2026, 11, 19)),
        # The same day: nothing used, all 7.
        (16, date(2026, 11, 23)),
    ],
)
def test_moving_from_bench_to_fridge_carries_the_used_part(moved_on: int, expected: date) -> None:
    lot = stones(stay(11, 16, "fresh", "bench"), stay(11, moved_on, "fresh", "fridge"))

    assert good_to(lot) == expected


def test_moving_from_fridge_to_bench_carries_the_used_part() -> None:
    lot = stones(stay(11, 16, "fresh", "fridge"), stay(11, 19, "fresh", "bench"))

    # 3/7 used: 4/7 of 3 bench days is 1.7, one whole day.
    assert good_to(lot) == date(2026, 11, 20)


def test_thawing_goes_on_where_the_fresh_life_stopped() -> None:
    lot = stones(
        stay(11, 2, "fresh", "fridge"),
        stay(11, 6, "frozen", "freezer"),
        stay(11, 20, "fresh", "fridge"),
    )

    # 4 of 7 fridge days used before freezing: 3 left from the thawing.
    assert good_to(lot) == date(2026, 11, 23)


def test_moving_between_freezers_starts_no_new_life() -> None:
    lot = stones(stay(9, 11, "frozen", "freezer"), stay(11, 1, "frozen", "freezer"))

    assert good_to(lot) == date(2027, 9, 11)


def test_a_fresh_lot_in_a_freezer_counts_as_frozen() -> None:
    assert good_to(stones(stay(9, 11, "fresh", "freezer"))) == date(2027, 9, 11)


def test_a_warmer_fridge_shortens_the_life_where_its_warmth_is_recorded() -> None:
    def at(c: float | None) -> date:
        return good_to(stones(stay(11, 16, "fresh", "fridge", c)))

    # Shipped: days meant for 5 °C, 2.5 times as fast for ten degrees more. 7 / 2.5 = 2.8.
    assert at(5) == at(None) == date(2026, 11, 23)
    assert at(15) == date(2026, 11, 18)
    # 7 × 2.5 ** 0.3 = 9.2 at 2 °C.
    assert at(2) == date(2026, 11, 25)


def test_a_lot_seen_bad_was_last_good_the_day_before() -> None:
    lot = replace(FROZEN_SEPT, verdicts=(Verdict(MONDAY_0730, sound=False),))
    found = last_good_day(lot, RULES, zone=LONDON)

    assert found.day == date(2026, 11, 22)
    assert found.by_eye == "bad"


def test_freezing_a_lot_seen_bad_mends_nothing() -> None:
    lot = replace(FRIDGE_16, verdicts=(Verdict(MONDAY_0730, sound=False),))

    assert if_put_by(lot, "frozen", RULES, on=MONDAY, zone=LONDON).too_late


def test_a_lot_seen_sound_past_its_sum_is_good_again_for_its_span() -> None:
    lot = replace(BENCH_9, verdicts=(Verdict(MONDAY_0730, sound=True),))
    found = last_good_day(lot, RULES, zone=LONDON)

    # Shipped: two days from the look.
    assert found.day == date(2026, 11, 25)
    assert found.by_eye == "sound"
    assert found.figure.name == "looked_sound_days"
    assert if_put_by(lot, "frozen", RULES, on=date(2026, 11, 25), zone=LONDON).day == date(
        2027, 11, 25
    )


def test_a_look_within_the_sum_changes_nothing() -> None:
    lot = replace(FRIDGE_16, verdicts=(Verdict(noon(date(2026, 11, 18)), sound=True),))

    assert last_good_day(lot, RULES, zone=LONDON) == last_good_day(FRIDGE_16, RULES, zone=LONDON)


def test_the_last_look_counts() -> None:
    bad = Verdict(noon(date(2026, 11, 20)), sound=False)
    sound = Verdict(noon(date(2026, 11, 21)), sound=True)

    assert good_to(replace(FRIDGE_16, verdicts=(bad, sound))) == date(2026, 11, 23)
    assert good_to(replace(FRIDGE_16, verdicts=(bad,))) == date(2026, 11, 19)


def test_what_happens_after_the_moment_is_not_counted() -> None:
    lot = stones(stay(11, 16, "fresh", "fridge"), stay(11, 23, "frozen", "freezer"))

    assert good_to(lot, at=MONDAY_0730) == MONDAY
    assert good_to(lot, at=noon(MONDAY)) == date(2027, 11, 23)


def test_the_figure_that_holds_on_the_asked_day_is_used() -> None:
    later = own("avocado stones", "keeps_fresh_fridge_days", "9", since=MONDAY)
    figures = Figures((*RULES.rows, later))

    before = last_good_day(FRIDGE_16, figures, zone=LONDON, at=noon(date(2026, 11, 22)))
    after = last_good_day(FRIDGE_16, figures, zone=LONDON, at=MONDAY_0730)
    assert before.day == date(2026, 11, 23)
    assert after.day == date(2026, 11, 25)


def test_days_are_the_studios_own() -> None:
    late = datetime(2026, 11, 16, 13, tzinfo=UTC)  # the 17th in Auckland
    lot = stones(Stay(late, "fresh", "fridge", "fridge"))

    assert last_good_day(lot, RULES, zone=LONDON).day == date(2026, 11, 23)
    assert last_good_day(lot, RULES, zone=ZoneInfo("Pacific/Auckland")).day == date(2026, 11, 24)


def test_a_dyestuff_without_figures_falls_back_on_any_dyestuff() -> None:
    lot = LotFacts("MS", "moss", (stay(11, 20, "fresh", "bench"),), 1)
    found = last_good_day(lot, RULES, zone=LONDON)

    assert found.figure.item == "any dyestuff"
    assert found.figure.basis == "assumed"
    assert found.day == date(2026, 11, 22)


def test_a_state_that_nobody_has_a_figure_for_is_named() -> None:
    with pytest.raises(NoFigure) as caught:
        last_good_day(stones(stay(11, 20, "pickled", "bench")), RULES, zone=LONDON)

    assert str(caught.value) == (
        "No figure for keeps_pickled_bench_days of avocado stones. Write one in the studio's"
        " rules: avocado stones, keeps_pickled_bench_days."
    )


def test_the_studios_months_beat_the_shipped_days() -> None:
    figures = Figures((own("privet", "keeps_frozen_months", "2"),))
    lot = LotFacts("PR", "privet", (stay(10, 3, "frozen", "freezer"),), 1)

    assert last_good_day(lot, figures, zone=LONDON).day == date(2026, 12, 3)
    assert last_good_day(lot, Figures(), zone=LONDON).figure.name == "keeps_frozen_days"


def test_a_mistyped_figure_cannot_run_off_the_calendar() -> None:
    figures = Figures((own("avocado stones", "keeps_fresh_fridge_days", "1e12"),))

    assert last_good_day(FRIDGE_16, figures, zone=LONDON).day == date(2026, 11, 16) + timedelta(
        days=36_500
    )


@given(
    st.lists(
        st.tuples(
            st.integers(min_value=0, max_value=9),
            st.sampled_from(
                [("fresh", "bench"), ("fresh", "fridge"), ("frozen", "freezer"), ("dried", "tray")]
            ),
        ),
        min_size=1,
        max_size=6,
    )
)
def test_a_move_after_the_last_good_day_never_makes_it_later(
    moves: list[tuple[int, tuple[str, str]]],
) -> None:
    day, stays = date(2026, 11, 1), []
    for gap, (state, kind) in moves:
        day += timedelta(days=gap)
        stays.append(Stay(noon(day), state, kind, kind))
    lot = stones(*stays)
    good = last_good_day(lot, RULES, zone=LONDON)

    for state in ("frozen", "dried", "fresh"):
        late = max(good.day, day) + timedelta(days=1)
        assert if_put_by(lot, state, RULES, on=late, zone=LONDON).day == good.day


@given(st.integers(min_value=0, max_value=3))
def test_bench_days_taken_from_the_fridge_never_lengthen_a_life(bench_days: int) -> None:
    begun = date(2026, 11, 1)
    lot = stones(
        Stay(noon(begun), "fresh", "bench", "bench"),
        Stay(noon(begun + timedelta(days=bench_days)), "fresh", "fridge", "fridge"),
    )
    whole = begun + timedelta(days=7)

    assert good_to(lot) == begun + timedelta(
        days=bench_days + int((1 - Fraction(bench_days, 3)) * 7)
    )
    assert good_to(lot) <= whole


# --- use first -------------------------------------------------------------------------------


def test_use_first_ranks_the_worked_weeks_stones() -> None:
    october = stones(stay(10, 30, "frozen", "freezer"), code="AV-1030")
    tonight = datetime(2026, 11, 23, 17, tzinfo=LONDON)
    arriving = stones(Stay(tonight, "fresh", "bench", "bench"), code="AV-1123", arrives_at=tonight)
    lots = (arriving, october, FROZEN_SEPT, FRIDGE_16)

    ranked = use_first(lots, RULES, at=MONDAY_0730, zone=LONDON)
    assert [lot.code for lot in ranked] == ["AV-1116", "AV-0911", "AV-1030", "AV-1123"]
    # Once it is here, it spoils soonest but one.
    later = use_first(lots, RULES, at=tonight, zone=LONDON)
    assert [lot.code for lot in later] == ["AV-1116", "AV-1123", "AV-0911", "AV-1030"]


def test_equal_days_rank_by_gathered_then_code() -> None:
    first, second, third = (
        replace(FRIDGE_16, code="b", gathered_on=date(2026, 11, 14)),
        replace(FRIDGE_16, code="a", gathered_on=date(2026, 11, 15)),
        replace(FRIDGE_16, code="c", gathered_on=date(2026, 11, 15)),
    )
    ranked = use_first((third, second, first), RULES, at=MONDAY_0730, zone=LONDON)

    assert ranked == (first, second, third)


def test_blush_takes_the_fridge_stones_whole_and_then_the_oldest_frozen() -> None:
    # JOB 13.6: stones 3,000 g: AV-1116 1,180, then AV-0911 1,820, which leaves 80.
    fridge = replace(FRIDGE_16, left_mg=1_180_000)
    september = replace(FROZEN_SEPT, left_mg=1_900_000)
    october = stones(stay(10, 30, "frozen", "freezer"), code="AV-1030")
    picks = pick(
        (october, september, fridge),
        RULES,
        need_mg=3_000_000,
        on=MONDAY,
        at=MONDAY_0730,
        zone=LONDON,
    )

    assert picks.takes == ((fridge, 1_180_000), (september, 1_820_000))
    assert picks.short_mg == 0


def test_pick_leaves_out_what_is_set_aside_unlabelled_past_or_not_here() -> None:
    tuesday = noon(date(2026, 11, 24))
    lots = (
        replace(FROZEN_SEPT, code="aside", set_aside="damp"),
        replace(FROZEN_SEPT, code="bare", labelled=False),
        BENCH_9,
        replace(FROZEN_SEPT, code="comes", arrives_at=tuesday),
    )

    def short_mg(on: date) -> int:
        return pick(lots, RULES, need_mg=1_500_000, on=on, at=MONDAY_0730, zone=LONDON).short_mg

    assert short_mg(MONDAY) == 1_500_000
    assert short_mg(tuesday.date()) == 500_000


def _fefo_cases() -> list[dict[str, object]]:
    return json.loads((CASES / "use_first.json").read_text("utf-8"))["cases"]  # type: ignore[no-any-return]


@pytest.mark.parametrize("case", _fefo_cases(), ids=lambda case: str(case["id"]))
def test_pick_follows_the_guidelines_cases(case: dict[str, object]) -> None:
    # Source in the file: rule of the EU guidelines on good distribution practice.
    today = date.fromisoformat(str(case["today"]))
    lots, rows = [], []
    for row in case["lots"]:  # type: ignore[attr-defined]
        came, ends = date.fromisoformat(row["received"]), date.fromisoformat(row["expires"])
        rows.append(own(row["id"], "keeps_dried_days", str((ends - came).days)))
        lots.append(
            LotFacts(
                row["id"],
                row["id"],
                (Stay(noon(came), "dried", "", "dry store"),),
                left_mg=row["qty"],
                gathered_on=came,
                set_aside="" if row["state"] == "available" else "held",
            )
        )
    picks = pick(
        lots,
        Figures(tuple(rows)),
        need_mg=int(str(case["need"])),
        on=today,
        at=noon(today),
        zone=LONDON,
    )

    assert [[lot.code, mg] for lot, mg in picks.takes] == case["expected_picks"]
    assert picks.short_mg == case["expected_short"]


# --- baths and damp fibre --------------------------------------------------------------------


def bath(what: str, made: date, c: float) -> BathFacts:
    return BathFacts("J6", what, noon(made), left_ul=8_000_000, temperature_c=c)


def test_nettle_bath_made_on_thursday_is_good_to_tuesday() -> None:
    made = date(2026, 11, 19)

    assert bath_last_good_day(bath("nettle bath", made, 8), RULES, zone=LONDON).day == date(
        2026, 11, 24
    )


def test_second_bath_of_blush_is_good_for_seven_days() -> None:
    # JOB 12, 26: kept at 8 °C from Tue 24, last good Tue 1 Dec.
    found = bath_last_good_day(bath("dyebath", date(2026, 11, 24), 8), RULES, zone=LONDON)

    assert found.day == date(2026, 12, 1)


def test_a_bath_at_its_warmest_keeps_its_days_and_a_warmer_one_fewer() -> None:
    made = date(2026, 11, 19)

    def days(c: float) -> int:
        good = bath_last_good_day(bath("nettle bath", made, c), RULES, zone=LONDON).day
        return (good - made).days

    assert days(12) == 5
    # Shipped: 2.5 times as fast for ten degrees more: 5 / 2.5 = 2; a degree more: 4.6.
    assert days(22) == 2
    assert days(13) == 4


def test_a_bath_without_figures_falls_back_on_any_bath() -> None:
    found = bath_last_good_day(bath("moss bath", MONDAY, 8), Figures(), zone=LONDON)

    assert found.figure.item == "any bath"
    assert found.day == date(2026, 11, 25)


def test_damp_mordanted_wool_is_past_after_three_days() -> None:
    damp = FibreFacts(
        "W-85", "wool", "yarn", 500_000, True, "alum", damp=True, since=date(2026, 11, 17)
    )
    found = fibre_last_good_day(damp, RULES, on=MONDAY)

    assert found is not None
    assert found.day == date(2026, 11, 20)
    assert found.figure.own
    assert fibre_last_good_day(replace(damp, damp=False), RULES, on=MONDAY) is None
