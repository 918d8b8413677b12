"""Pellitory Yard's sums and morning flags, from the whole answer, as the worked table gives them.

The lines below the table of 13.6: stones, freezer, alum, soda, Blush's cost and water, flags.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from sourcing.week.plan import Week
from tests.sourcing.week.worked import week_of


@cache
def the_week() -> Week:
    return week_of()


def row(rows: str, key: str, value: str) -> dict[str, Any]:
    """One row of the sums."""
    found: Any = the_week().sums[rows]
    return next(item for item in found if item[key] == value)


def test_stones_usable_tonight_and_after_blush() -> None:
    # 1,900 + 1,450 + 1,180 + 2,436 = 6,966; less 3,000 = 3,966.
    stones = row("dyestuffs", "what", "avocado stones")

    assert stones["usable_tonight_g"] == "6966"
    assert stones["claims"] == [{"run": "A", "g": "3000"}]
    assert stones["after_claims_g"] == "3966"
    assert [(out["lot"], out["g"]) for out in stones["left_out"]] == [("AV-1109", "640")]


def test_stones_by_the_seventh_of_december() -> None:
    # 3,966 + 4 x 2,100 = 12,366 for 12,000: 366 spare, 8 stones; one missed: 1,734 short, 42.
    ahead = row("dyestuffs", "what", "avocado stones")["ahead"]

    assert (ahead["by"], ahead["need_g"]) == ("2026-12-07", "12000")
    assert (ahead["likely"]["there_g"], ahead["likely"]["spare_g"]) == ("12366", "366")
    assert ahead["likely"]["spare_pieces"] == 8
    assert (ahead["one_missed"]["short_g"], ahead["one_missed"]["short_pieces"]) == ("1734", 42)


def test_freezer_evening_by_evening() -> None:
    # Mon 1,900 + 1,450 + 1,180 + 2,436 = 6,966; Tue less Blush's 3,000; Thu + 2,100 likely + 480.
    monday, tuesday = (row("freezer", "date", f"2026-11-{day}") for day in (23, 24))
    thursday = row("freezer", "date", "2026-11-26")

    assert (monday["inside_g"], monday["over_g"]) == ("6966", "966")
    assert (tuesday["inside_g"], tuesday["free_g"]) == ("3966", "2034")
    assert (thursday["over_before_put_by_g"], thursday["over_g"]) == ("66", "546")


def test_alum_over_all_runs() -> None:
    # 900 - 240 - 48 = 612; - 480 = 132; 450 wanted: 318 short.
    assert row("supplies", "what", "alum")["runs"] == [
        {"run": "A", "g": "240", "left_g": "660", "short_g": "0"},
        {"run": "D", "g": "48", "left_g": "612", "short_g": "0"},
        {"run": "G", "g": "480", "left_g": "132", "short_g": "0"},
        {"run": "B", "g": "450", "left_g": "132", "short_g": "318"},
    ]


def test_soda_crystals_and_a_second_scour() -> None:
    # 300 g of ash x 2.70 = 810; 1,500 - 810 = 690; a second 810 is short by 120.
    soda = row("supplies", "what", "soda crystals")

    assert soda["runs"] == [{"run": "B", "g": "810", "left_g": "690", "short_g": "0"}]
    assert soda["second_scour"] == {"g": "810", "short_g": "120"}


def test_jars_after_the_claims() -> None:
    iron, copper = row("jars", "jar", "J2"), row("jars", "jar", "J4")

    assert [(claim["run"], claim["left_ml"]) for claim in iron["claims"]] == [
        ("D", "700"), ("E", "250")]  # fmt: skip
    assert [(claim["run"], claim["left_ml"]) for claim in copper["claims"]] == [("C", "790")]


def test_blush_costs() -> None:
    # 4.68 + 7.38 + 4.78 + 3.09 + 7 x 0.8 = 25.53 kWh x 0.28; 350 min x 16/60; 2.105 kg x 22;
    # 0.24 kg x 9.
    blush = row("costs", "run", "A")

    assert {part["what"]: part["money"] for part in blush["parts"]} == {
        "heat": "7.15",
        "hands": "93.33",
        "wool": "46.32",
        "alum": "2.16",
    }
    assert [line["kwh"] for line in blush["warming"]] == ["4.68", "7.38", "4.78", "3.09"]
    assert (blush["holds"], blush["kwh"]) == (7, "25.53")
    assert (blush["total"], blush["per_kg"]) == ("148.96", "74.48")
    assert (blush["labour_percent"], blush["water_l"]) == ("63", "360")


def test_morning_flags_in_their_order() -> None:
    assert [(flag.kind, flag.what) for flag in the_week().flags] == [
        ("use today", "AV-1116"),
        ("past", "AV-1109"),
        ("dip", "J1"),
        ("retest", "J3"),
        ("no label", "J5"),
        ("bath ends", "J6"),
        ("damp fibre", "W-85"),
        ("damp lot", "ON-1114"),
        ("ends before its use", "CB-1121"),
        ("room", "freezer"),
        ("pot", "P4"),
        ("order", "wool"),
        ("promise", "B"),
    ]


def test_morning_flags_say_their_numbers() -> None:
    texts = {flag.what: flag.text for flag in the_week().flags}

    assert "Tue" in texts["J1"]
    assert "166 days" in texts["J3"]
    assert "6 days" in texts["W-85"]
    assert texts["freezer"] == (
        "freezer over by 966 g tonight: keep 966 g of AV-1123 in the fridge, last good Mon 30 Nov"
    )
