"""What a run takes and lacks before its hours are known."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from inventory.science.facts import BathFacts, FibreFacts, SupplyFacts
from inventory.science.figures import Figures
from sourcing.week.desk import desk_for
from sourcing.week.facts import Dose, WeekFacts
from sourcing.week.wants import Wants, Without, wants_of
from tests.sourcing.week.little import DUSK, LITTLE, RULES, dose, feb, own, recipe, run, shelf
from tests.sourcing.week.pellitory import FACTS as PELLITORY


def wanted(facts: WeekFacts = LITTLE) -> Wants:
    larder = desk_for(facts, days=7).larder
    return wants_of(facts.runs[0], facts.recipes[0], larder, without=Without(),
                    minute_of_step=lambda _: None, site="")  # fmt: skip


def picks(found: Wants) -> dict[str, int]:
    return {pick.code: pick.amount for pick in found.picks}


def test_amounts_are_of_the_dry_scoured_weight() -> None:
    # 500 g: 526.316 g as bought, 60 g alum, 250 g skins, 250 mL iron.
    assert picks(wanted()) == {"W-1": 526_316, "alum": 60_000, "ON-1": 250_000, "J1": 250_000}


def test_scoured_wool_is_taken_at_its_weight() -> None:
    found = wanted(shelf(fibre={"scoured": True}))

    assert picks(found)["W-1"] == 500_000
    assert found.reasons[0].kind == "liquor"


def test_steps_that_are_behind_the_fibre_take_nothing() -> None:
    done = shelf(fibre={"scoured": True, "mordant": "alum", "mordant_percent": Decimal(12)})

    assert "alum" not in picks(wanted(done))
    assert "alum" in picks(wanted(shelf(done, fibre={"mordant_percent": Decimal("11.9")})))


def test_the_lots_nearest_to_the_dye_are_taken_among_those_that_suffice() -> None:
    ready = FibreFacts("W-2", "wool", "yarn", 500_000, True, "alum", Decimal(12))
    both = replace(run(fibre_lot=""), shelf=replace(LITTLE.shelf, fibre=(
        *LITTLE.shelf.fibre, ready)))  # fmt: skip
    short = replace(both, shelf=replace(both.shelf, fibre=(
        *LITTLE.shelf.fibre, replace(ready, left_mg=499_000))))  # fmt: skip

    assert "W-2" in picks(wanted(both))
    assert "W-1" in picks(wanted(short))


def test_soda_ash_may_be_kept_as_crystals() -> None:
    # 100 g ash = 270 g crystals at 2.70.
    facts = recipe(doses=(Dose("soda ash", "supply", "scour", per_fibre=Fraction(1, 5)),))
    facts = replace(facts, figures=Figures((*RULES, own("soda ash", "crystals_per_ash", "2.70"))))

    def with_crystals(grams: int) -> Wants:
        row = SupplyFacts("soda crystals", "soda crystals", grams * 1000)
        return wanted(replace(facts, shelf=replace(facts.shelf, supplies=(row,))))

    enough, short = with_crystals(270), with_crystals(269)
    assert picks(enough)["soda crystals"] == 270_000
    assert [row.text for row in short.short] == [
        "soda crystals short by 1 g: 270 g wanted, 269 g left"
    ]


def test_a_shortage_counts_pieces_upwards() -> None:
    piece = Figures((*RULES, own("onion skins", "piece_mass_g", "2")))
    (row,) = wanted(replace(shelf(lots={"left_mg": 249_000}), figures=piece)).short

    assert (row.amount, row.pieces) == (1_000, 1)
    assert row.text == "onion skins short by 1 g = 1 skin: 250 g wanted, 249 g left"


def test_a_bright_does_not_follow_metal_in_a_bath() -> None:
    facts = recipe(doses=(Dose("dyebath", "bath", "dye", l_per_kg=Decimal(10)),), bright=True)
    bath = BathFacts("Y1", "dyebath", feb(1, 6), 5_000_000, 8)

    def kept(metal: str) -> Wants:
        row = replace(bath, metal=metal)
        return wanted(replace(facts, shelf=replace(facts.shelf, baths=(row,))))

    assert picks(kept(""))["Y1"] == 5_000_000
    assert [row.text for row in kept("iron").lacking] == ["Y1 holds iron: brights come before it"]


def test_a_millilitre_short_of_a_bath_is_no_bath() -> None:
    facts = recipe(doses=(*DUSK.doses, Dose("dyebath", "bath", "dye", l_per_kg=Decimal(10))))
    bath = BathFacts("Y1", "dyebath", feb(1, 6), 4_999_000, 8)
    (row,) = wanted(replace(facts, shelf=replace(facts.shelf, baths=(bath,)))).short

    assert (row.kind, row.what, row.amount) == ("bath", "dyebath", 5_000_000)


def test_a_lot_ruled_out_at_its_hour_is_named_once_by_what_ruled_it_out() -> None:
    larder = desk_for(LITTLE, days=7).larder
    found = wants_of(LITTLE.runs[0], dose("onion skins").recipes[0], larder,
                     without=Without(frozenset({"ON-1"})), minute_of_step=lambda _: None,
                     site="")  # fmt: skip

    assert [row.what for row in found.short] == ["onion skins"]
    assert found.lacking == []


def test_a_shortage_that_only_the_last_pick_up_would_close_is_still_told() -> None:
    """The morning after it lies behind the horizon, and has no moment there."""
    # 21 kg take 31,500 g of stones; 6,966 are there, and eleven of twelve pick-ups bring 23,100.
    blush = next(row for row in PELLITORY.runs if row.code == "A")
    facts = replace(PELLITORY, runs=(replace(blush, weight_mg=21_000_000),))

    found = wanted(facts)

    (short,) = [row for row in found.short if row.kind == "dyestuff"]
    assert short.amount == 24_534_000
    (wait,) = [row for row in found.waits if row.kind == "pick-up"]
    assert wait.text.startswith("avocado stones: pick-ups up to Mon 4 Jan likely bring 25,200 g")
