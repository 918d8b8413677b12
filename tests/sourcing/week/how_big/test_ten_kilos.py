"""Ten kilos of Blush at Pellitory Yard, worked by hand (JOB 11): how far each thing goes."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

from sourcing.week.facts import WeekFacts
from sourcing.week.how_big import HowBig, Reach, how_big_of
from sourcing.week.what_if import week_if
from sourcing.week.what_if.runs import AnotherWeight
from tests.sourcing.week.pellitory import FACTS

TEN_KILOS = 10_000_000


@cache
def ten() -> HowBig:
    return how_big_of(FACTS, "A", days=7, wish_mg=TEN_KILOS)


def reach(kind: str, what: str = "") -> Reach:
    (row,) = [row for row in ten().reaches if row.kind == kind and what in row.what]
    return row


def test_fifteen_kilos_of_stones_are_three_and_a_half_weeks_of_one_cafe() -> None:
    # 150 % of 10 kg are 15,000 g; 6,966 g are usable tonight: short 8,034 g = 192 stones of 42 g.
    # Two pick-ups a week of 50 stones are 4,200 g: 15,000 / 4,200 = 3.57 weeks.
    stones = reach("dyestuff", "avocado stones")

    assert stones.text == (
        "avocado stones short by 8,034 g = 192 stones: 15,000 g wanted, 6,966 g left, as much as "
        "3.6 weeks of pick-ups likely bring; enough for 4,644 g"
    )
    assert (stones.mg, stones.enough) == (4_644_000, False)


def test_three_hundred_litres_are_seven_fillings_of_the_biggest_pot() -> None:
    # 10 kg at 30 to 1 are 300 L; 300 / 48 = 6.25. Both pots hold 80 L: 3.75, so four rounds.
    dye = reach("pots", "P1 and P2")

    assert dye.text == (
        "dye: 300 L in P1 and P2, 4 rounds; one round takes 2,666 g; in P1 alone 7 pot-loads"
    )
    assert (dye.mg, dye.enough) == (2_666_000, False)


def test_the_extract_stands_in_one_pot_and_is_the_tightest_of_all_room() -> None:
    # 20 L a kilo: 200 L in P1 are five fillings; one round takes 48 / 20 = 2.4 kg.
    (extract, _) = [row for row in ten().reaches if row.kind == "pots"]

    assert extract.text == "extract: 200 L in P1, 5 rounds; one round takes 2,400 g"


def test_three_loads_of_the_iron_pot_hold_oak_grey() -> None:
    # 13.6: 36 L of 16, so three loads; one holds 400 g.
    (iron,) = [row for row in how_big_of(FACTS, "E", days=7).reaches if row.kind == "pots"]

    assert iron.text == "iron: 36 L in P3, 3 rounds; one round takes 400 g"


def test_the_bath_takes_thirty_six_kilowatt_hours_and_ten_hours_on_one_ring() -> None:
    # 300 x 4.186 x 72 / 3600 / 0.7 = 35.9 kWh; 35.9 / 3.5 = 10.25 h.
    assert reach("heat").text == "300 L from 8 to 80 °C take 35.9 kWh, 10.3 h on R1 alone"


def test_the_line_would_want_four_hangings() -> None:
    line = reach("line")

    assert line.text == "the line holds 3 kg at once: 10 kg would want 4 hangings"
    assert (line.mg, line.enough) == (3_000_000, False)


def test_the_tightest_thing_stands_first() -> None:
    # Wool 2,400 g unscoured are 2,280; pots 2.4 and 2.67 kg, line 3, stones 4.64, alum 7.5 kg.
    kinds = [row.kind for row in ten().reaches]

    assert kinds[:6] == ["fibre", "pots", "pots", "line", "dyestuff", "supply"]
    assert kinds[-1] == "heat"


def test_with_enough_wool_one_filling_of_both_pots_binds() -> None:
    # 48 + 32 = 80 L at 30 to 1 hold 2,666 g; in steps of 5 g that is 2,665.
    wool = tuple(
        replace(row, left_mg=12_000_000) if row.code == "W-88" else row for row in FACTS.shelf.fibre
    )
    runs = tuple(row for row in FACTS.runs if row.code == "A")
    facts = replace(FACTS, shelf=replace(FACTS.shelf, fibre=wool), runs=runs)

    big = how_big_of(facts, "A", days=7)

    assert big.mg == 2_665_000
    assert [row.kind for row in big.binds] == ["pot", "due"]
    assert big.binds[0].text == "P1 is held by the run itself; free for hot alum Tue 24 Nov 09:00"
    assert big.binds[0].more.startswith("one more pot of ")
    assert [answer_at(facts, AnotherWeight("A", mg)) for mg in (2_665_000, 2_670_000)] == [
        "yes", "not yet",
    ]  # fmt: skip


def answer_at(facts: WeekFacts, weight: AnotherWeight) -> str:
    week = week_if(facts, [weight], days=7)
    return next(row.answer for row in week.answers if row.run == weight.run)
