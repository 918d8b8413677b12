"""The put-by plan: the papers' privet, then both sides of each border."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from inventory.science.facts import ColdPlaceFacts
from inventory.science.figures import Figures
from sourcing.putting_by.plan import CAUTIOUS, plans_of
from sourcing.putting_by.serving import Served
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.flags import flags_of
from tests.sourcing.putting_by.olive import (
    ANSWERS,
    HEDGE,
    OLIVE,
    YARD,
    plan,
    privet,
    with_dried,
    with_made,
)
from tests.sourcing.week.pellitory import FACTS, nov


def fallen(rows: tuple[Served, ...]) -> list[str]:
    return [f"{row.use.since:%b}" for row in rows if row.short_mg]


def test_four_runs_of_480_g_want_1920_g_dried_from_march_to_august() -> None:
    """Design papers 12, no. 31: 4 runs × 480 g = 1,920 g."""
    found = plan()

    assert found.need_mg == 1_920_000
    assert [use.since for use in found.uses] == [date(2027, month, 1) for month in (3, 4, 5, 6)]
    assert found.state == "dried"


def test_what_a_placed_run_takes_is_not_there_for_the_season() -> None:
    found = plan()

    assert found.there_mg == 80_000  # 560 g less the 480 g of run C
    assert found.lacks_mg == 1_840_000
    assert found.lacks_fresh_mg == 4_600_000  # ÷ 0.40
    assert found.by == date(2026, 11, 27)


def test_the_fresh_weight_has_the_range_of_its_figure() -> None:
    least, most = plan().lacks_fresh_between or (0, 0)

    assert (least, most) == (3_914_894, 5_575_758)  # 1,840 g ÷ 0.47 and ÷ 0.33, rounded up


def test_what_is_lost_on_the_way_to_dry_asks_for_more_fresh() -> None:
    found = plan(replace(YARD, figures=FACTS.figures))

    assert found.lacks_fresh_mg == 4_842_106  # 1,840 g ÷ 0.40 ÷ 0.95, rounded up


@pytest.mark.parametrize(
    ("dried_mg", "runs_that_fall"),
    [
        (1_920_000, []),
        (1_919_999, ["Jun"]),
        (1_440_000, ["Jun"]),
        (1_439_999, ["May", "Jun"]),
        (1_360_000, ["May", "Jun"]),  # 560 g on the shelf and 800 g from 2 kg of the hedge
        (959_999, ["Apr", "May", "Jun"]),
        (0, ["Mar", "Apr", "May", "Jun"]),
    ],
)
def test_the_gap_is_shown_below_1920_g_dried(dried_mg: int, runs_that_fall: list[str]) -> None:
    """Design papers 12, no. 40: a gap if dried is below 1,920 g, runs monthly; May with 1,360 g."""
    found = plan(with_dried(dried_mg))

    assert fallen(found.without) == runs_that_fall
    assert found.lacks_mg == 1_920_000 - dried_mg


def test_the_gap_goes_from_the_window_to_the_next_season() -> None:
    gap = plan().gap

    assert gap is not None
    assert (gap.since, gap.until, gap.anew) == (date(2027, 3, 1), date(2027, 9, 1), True)
    assert gap.why == (
        "Hedge at the corner house: window closes Sun 28 Feb 2027; season Sep to Feb"
    )


def test_one_day_of_a_hedge_that_never_gave_is_no_more_than_a_guess() -> None:
    found = plan()

    assert [(row.day, row.said_mg) for row in found.pick_ups] == [(date(2026, 11, 27), 2_000_000)]
    assert 0 < found.coming.likely_by_day[date(2026, 11, 27)] < 2_000_000
    assert found.chance is not None
    assert found.chance < 0.2
    assert fallen(found.cautious) == ["Mar", "Apr", "May", "Jun"]
    assert found.open_till == date(2027, 2, 28)


def test_more_pick_ups_are_asked_for_by_what_one_likely_brings() -> None:
    found = plan()
    each = found.coming.one_likely_mg

    assert found.more_pick_ups is not None
    short = found.turning.fresh_mg(found.likely_short_mg) or 0
    assert (found.more_pick_ups - 1) * each < short <= found.more_pick_ups * each


def test_a_hedge_that_gives_every_week_is_enough_and_surely() -> None:
    found = plan(with_made((900, 800, 1000, 900, 850, 950, 900, 900)))

    assert found.by == date(2027, 2, 26)
    assert len(found.pick_ups) == 14  # Fridays from 27 Nov to 26 Feb
    assert found.chance is not None
    assert found.chance > 0.95
    assert fallen(found.likely) == fallen(found.cautious) == []
    assert found.likely_short_mg == 0


def test_what_comes_nine_times_in_ten_is_no_more_than_what_likely_comes() -> None:
    coming = plan(with_made((900, 0, 1000, 0, 850, 950))).coming

    likely, cautious = coming.likely(), coming.at_least(CAUTIOUS)
    assert sum(mg for _, mg in cautious) < sum(mg for _, mg in likely)


def test_a_lot_past_its_last_good_day_by_then_serves_no_run() -> None:
    """Dried privet keeps 365 days: dried on 1 May 2026 it serves the run of April, not of May."""
    old = privet("PR-0501", 1_000_000, on=date(2026, 5, 1))
    found = plan(replace(with_dried(0), shelf=replace(YARD.shelf, lots=(old,))), answers=())

    assert fallen(found.without) == ["May", "Jun"]
    assert found.there_mg == 960_000


def test_fresh_clippings_on_the_shelf_count_once_they_are_dried() -> None:
    fresh = privet("PR-1122", 1_200_000, state="fresh", on=date(2026, 11, 22))
    found = plan(replace(with_dried(0), shelf=replace(YARD.shelf, lots=(fresh,))), answers=())

    (row,) = found.to_turn
    assert (row.code, row.turn_by, row.stock.mg) == ("PR-1122", date(2026, 11, 24), 480_000)
    assert fallen(found.without) == ["Apr", "May", "Jun"]


def test_a_lot_set_aside_counts_nothing_and_says_why() -> None:
    aside = replace(privet("PR-9", 2_000_000), set_aside="mouldy")
    found = plan(replace(with_dried(0), shelf=replace(YARD.shelf, lots=(aside,))), answers=())

    assert found.there_mg == 0
    assert [(row.code, row.why) for row in found.left_out] == [("PR-9", "set aside")]


def test_frozen_leaf_is_not_dried_leaf() -> None:
    frozen = privet("PR-F", 2_000_000, state="frozen")
    found = plan(replace(with_dried(0), shelf=replace(YARD.shelf, lots=(frozen,))), answers=())

    assert [(row.code, row.why) for row in found.left_out] == [("PR-F", "frozen, not dried")]


def test_nothing_agreed_leaves_no_day_and_no_chance() -> None:
    found = plan(with_dried(0))

    assert found.by is None
    assert [(row.by, row.mg) for row in found.milestones] == [(None, 1_920_000)]
    assert found.chance == 0.0
    assert found.gap is None


def test_a_pick_up_on_the_first_day_of_a_run_is_in_time_and_one_a_day_later_is_not() -> None:
    def by(day: date) -> date | None:
        late = replace(HEDGE, days=(day,), last_on=None, since=None)
        wish = replace(OLIVE, runs=1, since=date(2027, 2, 1), last_on=date(2027, 2, 28))
        return plan(replace(with_dried(0), streams=(late,)), wish).by

    assert by(date(2027, 2, 1)) == date(2027, 2, 1)
    assert by(date(2027, 2, 2)) is None


def test_what_lies_before_today_is_over() -> None:
    wish = replace(OLIVE, since=date(2026, 9, 1), last_on=date(2026, 12, 31))
    found = plan(YARD, wish)

    assert [use.what for use in found.uses] == [
        "Hedge Olive, run 3 of 4",
        "Hedge Olive, run 4 of 4",
    ]
    assert found.uses[0].since == date(2026, 11, 23)
    assert (
        plans_of(
            YARD, ANSWERS, [replace(OLIVE, since=date(2026, 9, 1), last_on=date(2026, 11, 22))]
        )
        == ()
    )


def test_a_run_that_is_asked_for_and_short_goes_first_and_an_undated_one_is_named() -> None:
    """G wants 6,000 g of stones by 18 Dec; Old Rose (B) has no day."""
    wish = replace(
        OLIVE,
        dyestuff="avocado stones",
        state="",
        shade="Blush",
        runs=1,
        each_mg=3_000_000,
        since=date(2027, 1, 1),
        last_on=date(2027, 1, 31),
    )
    found = plan(YARD, wish)

    assert [use.what for use in found.uses] == ["Blush (G)", "Blush, run 1 of 1"]
    assert found.undated == ("B",)
    assert found.state == "frozen"


def test_the_freezer_says_by_how_much_it_is_too_small() -> None:
    """6.0 kg; once run A has taken 1,820 g of AV-0911 there are 80 + 1,450 g in it."""
    wish = replace(OLIVE, dyestuff="avocado stones", state="frozen", runs=1, each_mg=9_000_000)
    room = plan(YARD, wish).room

    assert room is not None
    assert (room.kind, room.free_mg) == ("freezer", 4_470_000)
    assert room.over_mg == max(0, room.needs_mg - 4_470_000)


def test_trays_are_filled_load_after_load() -> None:
    tray = ColdPlaceFacts("tray", "tray", 2_000_000)
    shelf = replace(YARD.shelf, cold_places=(*YARD.shelf.cold_places, tray))
    room = plan(replace(YARD, shelf=shelf)).room

    assert room is not None
    assert (room.kind, room.needs_mg, room.loads) == ("tray", 4_600_000, 3)


def test_without_a_drying_figure_nobody_says_how_much_fresh() -> None:
    wish = replace(OLIVE, dyestuff="moss", each_mg=100_000)
    moss = replace(HEDGE, gives="moss")
    found = plan(replace(YARD, streams=(moss,)), wish)

    assert found.lacks_mg == 400_000
    assert found.lacks_fresh_mg is None
    assert found.chance is None


def test_wishes_of_one_dyestuff_share_what_there_is() -> None:
    other = replace(OLIVE, code="more", shade="Moss Olive", runs=1)
    found = plan(with_dried(1_920_000), OLIVE, other)

    assert found.need_mg == 2_400_000
    assert found.lacks_mg == 480_000
    assert len([row for row in found.without if row.short_mg]) == 1


def test_with_more_runs_never_less_is_to_be_put_by() -> None:
    lacks = [plan(YARD, replace(OLIVE, runs=runs)).lacks_mg for runs in range(1, 13)]

    assert lacks == sorted(lacks)
    assert lacks[0] == 400_000


def test_plans_do_not_hang_on_the_order_of_lots_and_sources() -> None:
    facts = with_made((900, 0, 1000, 900))
    lots = (
        *facts.shelf.lots,
        privet("PR-2", 300_000),
        privet("PR-3", 200_000, on=date(2026, 6, 1)),
    )
    one = replace(facts, shelf=replace(facts.shelf, lots=lots), streams=(*facts.streams, HEDGE))
    two = replace(one, shelf=replace(one.shelf, lots=lots[::-1]), streams=one.streams[::-1])

    def said(facts: WeekFacts) -> object:
        found = plan(facts)
        return found.milestones, fallen(found.likely), found.there_mg, found.pick_ups

    assert said(one) == said(two)


def test_an_hour_of_the_morning_changes_nothing() -> None:
    later = replace(YARD, at=nov(23, 7, 30) + timedelta(hours=3))

    assert plan(later).milestones == plan().milestones
    assert isinstance(YARD.figures, Figures)


def test_wishes_in_two_states_do_not_count_the_same_clippings_twice() -> None:
    """1,200 g fresh: dried for one wish (1,000 g → 400 g), what is left frozen for the other."""
    fresh = privet("PR-1122", 1_200_000, state="fresh", on=date(2026, 11, 22))
    facts = replace(with_dried(0), shelf=replace(YARD.shelf, lots=(fresh,)))
    dried = replace(OLIVE, runs=1, each_mg=400_000, last_on=date(2027, 3, 31))
    frozen = replace(dried, code="b", state="frozen", each_mg=500_000)

    first, second = plans_of(facts, (), [frozen, dried])
    assert (first.state, first.lacks_mg) == ("dried", 0)
    assert (second.state, second.there_mg, second.lacks_mg) == ("frozen", 200_000, 300_000)


def test_wishes_in_two_states_share_what_comes() -> None:
    facts = with_made((900, 900, 900, 900))
    facts = replace(facts, shelf=replace(facts.shelf, lots=()))
    frozen = replace(OLIVE, code="b", state="frozen", runs=1, last_on=date(2027, 3, 31))

    (alone,) = plans_of(facts, (), [frozen])
    _, second = plans_of(facts, (), [frozen, OLIVE])
    assert second.lacks_mg == alone.lacks_mg
    assert second.coming.spoken_mg == 4_800_000  # 1,920 g ÷ 0.40
    assert (second.chance or 0) < (alone.chance or 0)


def test_the_morning_asks_for_no_forecast(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: object, **__: object) -> object:
        raise AssertionError

    monkeypatch.setattr("sourcing.putting_by.coming.arriving", never)
    found = flags_of(replace(YARD, put_by=(OLIVE,)), ANSWERS, until=nov(30))

    assert [row.by for row in found if row.kind == "put by"] == [date(2026, 11, 27)]


def test_a_hedge_without_leave_is_named_and_brings_nothing() -> None:
    expected = PickUpExpected("Hedge at the corner house", "privet", nov(27, 9), 2_000_000, 0,
                              in_window=False, why_not="no permission on record")  # fmt: skip
    found = plan(replace(YARD, streams=(), pick_ups=(expected,)))

    assert found.barred == (("Hedge at the corner house", "no permission on record"),)
    assert found.by is None
    assert plan(replace(YARD, pick_ups=(expected,))).barred == ()  # the same source counts
