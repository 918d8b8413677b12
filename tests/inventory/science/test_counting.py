"""Which lots count, which spoils first, and the room they take: the worked week's shelf."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from fractions import Fraction

import pytest

from inventory.science.counting import Counted, counted, totals
from inventory.science.facts import ColdPlaceFacts, LotFacts
from inventory.science.figures import Figures
from inventory.science.keeping import use_first
from inventory.science.room import rooms, tonight
from tests.sourcing.week.pellitory import FACTS, LOTS, MONDAY_0730, SHELF, ZONE

FROZEN_TO_KEEP = {"avocado stones"}
DAY = timedelta(days=1)


def seen(
    lots: tuple[LotFacts, ...] = LOTS, *, at: datetime = MONDAY_0730, figures: Figures | None = None
) -> dict[str, Counted]:
    rows = counted(lots, figures or FACTS.figures, at=at, zone=ZONE)
    return {row.lot.code: row for row in rows}


def lot(code: str) -> LotFacts:
    return next(row for row in LOTS if row.code == code)


def test_every_lot_has_the_verdict_of_the_worked_week() -> None:
    rows = seen()

    # 13.4: last good day today; past by 11 days; good to 11 Sep 2027; last good Thu 26.
    assert [rows[code].days_left for code in ("AV-1116", "AV-1109", "CB-1121")] == [0, -11, 3]
    assert str(rows["AV-0911"].good.day) == "2027-09-11"
    assert {code: row.left_out for code, row in rows.items() if row.left_out} == {
        "AV-1109": "past",
        "ON-1114": "set aside",
    }
    assert rows["AV-1123"].comes is not None


def test_lots_stand_in_the_order_in_which_they_are_used() -> None:
    order = use_first(LOTS, FACTS.figures, at=MONDAY_0730, zone=ZONE)

    assert list(seen()) == [row.code for row in order]
    assert (order[0].code, order[-1].code) == ("AV-1109", "AV-1123")


def test_stones_come_to_what_was_worked_by_hand() -> None:
    (stones,) = [row for row in totals(seen().values()) if row.dyestuff == "avocado stones"]

    # 13.6: usable tonight 1,900 + 1,450 + 1,180 + 2,436 = 6,966.
    assert stones.tonight_mg == 6_966_000
    assert stones.now_mg == 6_966_000 - 2_436_000
    assert [row.lot.code for row in stones.out] == ["AV-1109"]
    assert stones.out_mg == 640_000


def test_life_is_full_on_the_last_good_day_and_not_on_the_day_before() -> None:
    sunday = seen((lot("AV-1116"),), at=MONDAY_0730 - DAY)["AV-1116"]

    assert (sunday.life, sunday.days_left) == (Fraction(6, 7), 1)
    assert seen((lot("AV-1116"),))["AV-1116"].life == 1


def test_what_comes_tomorrow_is_left_out_and_what_comes_tonight_is_not() -> None:
    tonight_lot = lot("AV-1123")
    assert tonight_lot.arrives_at is not None
    tomorrow = replace(tonight_lot, arrives_at=tonight_lot.arrives_at + DAY)

    assert seen((tonight_lot,))["AV-1123"].usable
    assert seen((tomorrow,))["AV-1123"].left_out == "comes later"


@pytest.mark.parametrize(
    ("changed", "why"),
    [
        ({"labelled": False, "set_aside": "damp"}, "no label"),
        ({"set_aside": "mould?"}, "set aside"),
        ({"foraged": True, "nest_checked": False}, "nests not checked"),
        ({"foraged": True, "nest_checked": True}, ""),
        ({"foraged": True, "nest_checked": None}, ""),
    ],
)
def test_a_lot_is_left_out_by_its_gravest_reason(changed: dict[str, object], why: str) -> None:
    changed_lot = replace(lot("PR-1003"), **changed)  # type: ignore[arg-type]

    assert seen((changed_lot,))["PR-1003"].left_out == why


def test_the_freezer_of_the_worked_week_is_over_by_966_g_tonight() -> None:
    full = tonight(
        SHELF.cold_places, seen().values(), freezes=lambda stuff: stuff in FROZEN_TO_KEEP
    )

    assert full is not None
    # 13.6: "Freezer tonight over by 966 g"; it holds 6.0 kg.
    assert (full.inside_mg, full.over_mg, full.free_mg) == (6_966_000, 966_000, 0)
    assert (full.now_mg, full.comes, full.put_by) == (3_350_000, ("AV-1123",), ("AV-1116",))


def test_a_freezer_that_just_holds_tonights_stones_is_not_over() -> None:
    def over(holds_mg: int) -> int:
        places = (ColdPlaceFacts("freezer", "freezer", holds_mg),)
        full = tonight(places, seen().values(), freezes=lambda stuff: stuff in FROZEN_TO_KEEP)
        assert full is not None
        return full.over_mg

    assert (over(6_966_000), over(6_965_999)) == (0, 1)


def test_freezers_of_which_one_has_no_limit_are_never_over() -> None:
    places = (*SHELF.cold_places, ColdPlaceFacts("chest", "freezer", None))

    assert tonight(places, seen().values(), freezes=lambda _: True) is None


def test_a_lot_lies_in_the_place_it_names_or_in_the_only_one_of_its_kind() -> None:
    one = rooms(SHELF.cold_places, seen().values())
    two = rooms(
        (ColdPlaceFacts("freezer", "freezer", 1), ColdPlaceFacts("chest", "freezer", 1)),
        seen((replace(lot("AV-0911")),)).values(),
    )

    assert {row.place.code: (row.now_mg, row.lots) for row in one} == {
        "freezer": (3_350_000, 2),
        "fridge": (2_380_000, 2),
    }
    assert {row.place.code: row.now_mg for row in two} == {"freezer": 1_900_000, "chest": 0}
