"""The sums beside the answers; figures of the worked week (13.6), worked by hand."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from inventory.science.facts import Shelf, SupplyFacts
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.sums import sums_of
from tests.sourcing.week.pellitory import FACTS, LOTS, RUNS, SHELF, SUPPLIES, lot, nov
from tests.sourcing.week.pellitory_answers import ANSWERS, UNTIL, blush


def sums(facts: WeekFacts = FACTS, answers: tuple[Answer, ...] = ANSWERS) -> dict[str, Any]:
    return sums_of(facts, answers, until=UNTIL)


def of(kind: str, name: str, found: dict[str, Any]) -> dict[str, Any]:
    key = {"dyestuffs": "what", "supplies": "what", "jars": "jar", "costs": "run"}[kind]
    return next(row for row in found[kind] if row[key] == name)


def stones(facts: WeekFacts = FACTS, answers: tuple[Answer, ...] = ANSWERS) -> dict[str, Any]:
    return of("dyestuffs", "avocado stones", sums(facts, answers))


# -- dyestuffs ---------------------------------------------------------------------------------


def test_stones_usable_tonight_are_named_lot_by_lot() -> None:
    found = stones()

    assert found["usable_tonight_g"] == "6966"
    assert [(row["lot"], row["g"]) for row in found["lots"]] == [
        ("AV-0911", "1900"),
        ("AV-1030", "1450"),
        ("AV-1116", "1180"),
        ("AV-1123", "2436"),
    ]


def test_what_is_left_out_says_why() -> None:
    assert stones()["left_out"] == [
        {
            "lot": "AV-1109",
            "g": "640",
            "why": "past its last good day Thu 12 Nov by 11 days",
        }
    ]
    assert of("dyestuffs", "onion skins", sums())["left_out"] == [
        {"lot": "ON-1114", "g": "300", "why": "set aside: damp"}
    ]


def test_placed_runs_claim_and_refused_ones_do_not() -> None:
    refused = tuple(replace(row, answer="no") for row in ANSWERS)

    assert stones()["claims"] == [{"run": "A", "g": "3000"}]
    assert stones()["after_claims_g"] == "3966"
    assert stones(answers=refused)["after_claims_g"] == "6966"


@pytest.mark.parametrize(("came", "usable"), [(16, "1180"), (15, "0")])
def test_a_lot_counts_through_its_last_good_day(came: int, usable: str) -> None:
    kept = lot("AV-1", "avocado stones", 1180, "fresh", "fridge", nov(came, 17))

    assert stones(replace(FACTS, shelf=Shelf(lots=(kept,))), ())["usable_tonight_g"] == usable


def test_what_comes_tomorrow_is_not_usable_tonight() -> None:
    late = replace(
        lot("AV-1", "avocado stones", 500, "fresh", "fridge", nov(24, 9)), arrives_at=nov(24, 9)
    )

    found = stones(replace(FACTS, shelf=Shelf(lots=(late,))), ())

    assert found["usable_tonight_g"] == "0"
    assert found["left_out"] == [{"lot": "AV-1", "g": "500", "why": "comes Tue 24 Nov"}]


def test_pick_ups_up_to_the_end_of_the_last_day_leave_eight_stones_spare() -> None:
    ahead = stones()["ahead"]

    assert (ahead["by"], ahead["need_g"]) == ("2026-12-07", "12000")
    assert [row["date"] for row in ahead["pick_ups"]] == [
        "2026-11-26",
        "2026-11-30",
        "2026-12-03",
        "2026-12-07",
    ]
    assert ahead["likely"] == {
        "there_g": "12366",
        "spare_g": "366",
        "spare_pieces": 8,
        "short_g": "0",
        "short_pieces": 0,
    }


def test_one_missed_day_is_short_by_forty_two_stones() -> None:
    missed = stones()["ahead"]["one_missed"]

    assert (missed["short_g"], missed["short_pieces"]) == ("1734", 42)
    assert (missed["spare_g"], missed["spare_pieces"]) == ("0", 0)


def test_the_worst_counts_what_is_on_the_shelf_only() -> None:
    assert stones()["ahead"]["worst"]["short_g"] == "8034"


def test_a_missed_pick_up_is_not_expected() -> None:
    rows = tuple(replace(row, missed=row.at == nov(26, 17)) for row in FACTS.pick_ups)

    ahead = stones(replace(FACTS, pick_ups=rows))["ahead"]

    assert ahead["likely"]["short_g"] == "1734"
    assert len(ahead["pick_ups"]) == 3


def test_the_day_before_counts_one_pick_up_less() -> None:
    runs = tuple(
        replace(row, fibre_needed_by=date(2026, 12, 6)) if row.code == "G" else row for row in RUNS
    )

    ahead = stones(replace(FACTS, runs=runs))["ahead"]

    assert (ahead["by"], len(ahead["pick_ups"])) == ("2026-12-06", 3)


def test_a_run_without_a_material_day_is_needed_by_its_due_day() -> None:
    runs = tuple(replace(row, fibre_needed_by=None) for row in RUNS if row.code in "AG")

    ahead = stones(replace(FACTS, runs=runs), (blush(),))["ahead"]

    assert ahead["by"] == "2026-12-18"
    assert ahead["need_g"] == "6000"


def test_undated_needs_look_to_the_end_of_the_period() -> None:
    runs = tuple(row for row in RUNS if row.code == "B")

    assert stones(replace(FACTS, runs=runs), ())["ahead"]["by"] == "2026-11-29"


def test_when_all_is_placed_nothing_is_needed_ahead() -> None:
    runs = tuple(row for row in RUNS if row.code == "A")

    assert stones(replace(FACTS, runs=runs), (blush(),))["ahead"] is None


def test_dyestuffs_by_the_piece_or_by_pick_up_are_summed() -> None:
    assert [row["what"] for row in sums()["dyestuffs"]] == [
        "avocado stones",
        "onion skins",
        "red cabbage",
    ]


# -- supplies ----------------------------------------------------------------------------------


def test_alum_goes_down_run_by_run_and_is_short_for_old_rose() -> None:
    alum = of("supplies", "alum", sums())

    assert [(row["run"], row["g"], row["left_g"], row["short_g"]) for row in alum["runs"]] == [
        ("A", "240", "660", "0"),
        ("D", "48", "612", "0"),
        ("G", "480", "132", "0"),
        ("B", "450", "132", "318"),
    ]


def test_the_alum_line_is_the_same_whatever_is_placed() -> None:
    assert of("supplies", "alum", sums(answers=())) == of("supplies", "alum", sums())


def test_wool_that_has_its_alum_takes_none() -> None:
    alum = of("supplies", "alum", sums())

    assert "C" not in [row["run"] for row in alum["runs"]]


@pytest.mark.parametrize(("grams", "short"), [(1218, "0"), (1217, "1")])
def test_alum_is_short_from_the_first_gram(grams: int, short: str) -> None:
    shelf = replace(SHELF, supplies=(SupplyFacts("alum", "alum", grams * 1000),))

    alum = of("supplies", "alum", sums(replace(FACTS, shelf=shelf)))

    assert alum["runs"][-1]["short_g"] == short


def test_soda_ash_is_taken_as_crystals_and_a_second_scour_is_short() -> None:
    soda = of("supplies", "soda crystals", sums())

    assert soda["runs"] == [{"run": "B", "g": "810", "left_g": "690", "short_g": "0"}]
    assert soda["second_scour"] == {"g": "810", "short_g": "120"}


def test_soda_ash_on_the_shelf_is_taken_as_ash() -> None:
    ash = (*SUPPLIES, SupplyFacts("ash", "soda ash", 500_000))

    found = sums(replace(FACTS, shelf=replace(SHELF, supplies=ash)))

    assert of("supplies", "soda ash", found)["runs"][0]["g"] == "300"
    assert of("supplies", "soda crystals", found)["runs"] == []
    assert of("supplies", "alum", found)["second_scour"] is None


def test_tannin_serves_oak_grey() -> None:
    assert of("supplies", "tannin", sums())["left_g"] == "160"


# -- jars, costs, shape ------------------------------------------------------------------------


def test_iron_six_leaves_a_quarter_litre() -> None:
    jar = of("jars", "J2", sums())

    assert jar["name"] == "Iron 6"
    assert [(row["run"], row["ml"], row["left_ml"]) for row in jar["claims"]] == [
        ("D", "200", "700"),
        ("E", "450", "250"),
    ]
    assert jar["left_ml"] == "250"


def test_blush_is_costed_and_refused_runs_are_not() -> None:
    found = sums()
    cost = of("costs", "A", found)

    assert (cost["total"], cost["per_kg"], cost["per_100g"]) == ("148.96", "74.48", "7.45")
    assert (cost["kwh"], cost["holds"], cost["labour_percent"]) == ("25.53", 7, "63")
    assert cost["water_l"] == "360"
    assert {row["run"] for row in found["costs"]} == {"A", "C", "D", "E", "F"}


def test_evenings_follow_the_period() -> None:
    assert [row["over_g"] for row in sums()["freezer"]] == [
        "966", "0", "0", "546", "546", "66", "66",
    ]  # fmt: skip
    assert sums()["freezer"][3]["over_before_put_by_g"] == "66"
    assert len(sums_of(FACTS, ANSWERS, until=nov(25))["freezer"]) == 2  # type: ignore[arg-type]
    assert sums_of(FACTS, ANSWERS) == sums_of(FACTS, ANSWERS, until=UNTIL)


def test_sums_can_be_written_as_json_without_a_float() -> None:
    text = json.dumps(sums(), ensure_ascii=False)

    assert json.loads(text, parse_float=_no_float) == sums()


def _no_float(text: str) -> float:
    raise AssertionError(text)


def test_the_order_in_which_lots_are_listed_does_not_matter() -> None:
    turned = replace(FACTS, shelf=replace(SHELF, lots=LOTS[::-1]))

    assert sums(turned) == sums()


def test_an_empty_studio_has_empty_sums() -> None:
    empty = replace(FACTS, shelf=Shelf(), runs=(), pick_ups=())

    assert sums(empty, ()) == {
        "dyestuffs": [],
        "freezer": [],
        "rooms": [],
        "supplies": [],
        "jars": [],
        "costs": [],
        "cautions": [],
    }
