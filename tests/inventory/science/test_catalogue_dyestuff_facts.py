"""The catalogue of dyestuffs: sums done again, poisons flagged, no word against the week."""

import re
from collections import defaultdict

import pytest

from inventory.science.catalogue import shipped
from tests.inventory.science.dyestuff_rows import ITEMS, row_resting_on, rows_of, values, word

# name of a computing figure: property of the catalogue, days or months to one of its unit
TWINS = {
    "piece_mass_g": ("mean_piece_mass", 1.0),
    "dried_per_fresh_fraction": ("dry_to_fresh_ratio", 1.0),
    "keeps_fresh_bench_days": ("shelf_life_room", 1.0),
    "keeps_fresh_fridge_days": ("shelf_life_fridge", 1.0),
    "keeps_frozen_days": ("shelf_life_freezer", 1.0),
    "keeps_frozen_months": ("shelf_life_freezer", 30.4),
    "keeps_dried_days": ("shelf_life_dried", 1.0),
}
# Harmful to people if eaten: on lists of the Massey, Colorado State and Pennsylvania universities,
# of the RHS, the FDA and the Nova Scotia Museum, or known for cyanide, oxalate or anthraquinones.
POISONOUS = [
    "acorns",
    "apple prunings",
    "black beans",
    "buckthorn bark",
    "cherry prunings",
    "dock leaves",
    "dock root",
    "elderberries",
    "eucalyptus",
    "ivy",
    "madder",
    "oak galls",
    "plum prunings",
    "pomegranate rind",
    "privet",
    "rhubarb leaves",
    "rhubarb root",
    "tansy",
]
HARM_ANIMALS = [
    "avocado skins",
    "avocado stones",
    "coffee grounds",
    "dahlia",
    "lavender prunings",
    "onion skins",
    "red onion skins",
    "spent black tea",
    "walnut hulls",
]


@pytest.mark.parametrize("item", ITEMS)
def test_dry_stock_weighs_what_is_left_when_its_water_is_down_to_a_tenth(item: str) -> None:
    water, ratio = rows_of(item, "fresh_water_content"), rows_of(item, "dry_to_fresh_ratio")
    pairs = [("low", "high"), ("typical", "typical"), ("high", "low")]

    # Solids do not change: (1 - w) g of them are nine tenths of the dry stock.
    for wet, dry in zip(water, ratio, strict=True):
        for of_water, of_ratio in pairs:
            assert bool(wet[of_water]) == bool(dry[of_ratio])
            if wet[of_water]:
                dried = (100 - float(wet[of_water])) / 90
                assert float(dry[of_ratio]) == pytest.approx(dried, abs=0.0051)


CUP_L, SPOON_L = 0.2365882365, 0.01478676478125  # NIST SP 811: US cup, US tablespoon


@pytest.mark.parametrize(
    ("item", "prop", "weighed_g", "litres"),
    [
        ("beetroot", "bulk_density_fresh", 136, CUP_L),
        ("nettle", "bulk_density_blanched", 89, CUP_L),
        ("black beans", "bulk_density_fresh", 194, CUP_L),
        ("elderberries", "bulk_density_fresh", 145, CUP_L),
        ("blackberries", "bulk_density_fresh", 144, CUP_L),
        ("rosemary prunings", "bulk_density_fresh", 1.7, SPOON_L),
        ("turmeric trimmings", "bulk_density_dried", 9.4, SPOON_L),
    ],
)
def test_a_density_is_the_weight_of_its_measure(
    item: str, prop: str, weighed_g: float, litres: float
) -> None:
    row = row_resting_on(item, prop, f"{weighed_g} g a ")

    assert float(row["typical"]) == pytest.approx(weighed_g / litres, abs=0.6)


@pytest.mark.parametrize(
    ("item", "edible_g", "refuse_percent", "number"),
    [
        ("beetroot", {"typical": 82}, 33, "11080"),
        ("red cabbage", {"low": 567, "typical": 839, "high": 1134}, 20, "11112"),
        ("pomegranate rind", {"typical": 282}, 44, "09286"),
        ("artichoke outer bracts", {"low": 128, "high": 162}, 60, "11007"),
    ],
)
def test_trimmings_are_the_refuse_beside_the_edible_part(
    item: str, edible_g: dict[str, int], refuse_percent: int, number: str
) -> None:
    row = row_resting_on(item, "mean_piece_mass", f"{refuse_percent} % refuse")
    (refuse,) = rows_of(item, "refuse_part")

    # USDA weighs the edible part; its refuse is per cent of the whole as bought.
    assert number in row["source"]
    assert number in refuse["source"]
    assert float(refuse["typical"]) == refuse_percent
    for name, grams in edible_g.items():
        trimmings_g = grams * refuse_percent / (100 - refuse_percent)
        assert float(row[name]) == pytest.approx(trimmings_g, rel=0.01)


def test_other_worked_figures_come_out_again() -> None:
    yarn_g = 100
    stones = row_resting_on("avocado stones", "dyestuff_ratio_fresh", "towndyer")
    skins = row_resting_on("avocado skins", "mean_piece_mass", "NDB 09038")
    madder = row_resting_on("madder", "dyestuff_ratio_dried", "Mairet")
    beans = row_resting_on("black beans", "dyestuff_ratio_dried", "776 g")
    leaves = row_resting_on("ivy", "bulk_density_fresh", "250 lb/yd3")

    assert values([stones]) == [10 * mass / yarn_g * 100 for mass in (28, 38, 48)]
    assert float(skins["high"]) == pytest.approx(136 * 33 / 67 - 28, abs=0.1)
    # 5 to 8 ounces to the pound of 16.
    assert float(madder["low"]) == pytest.approx(5 / 16 * 100, abs=0.5)
    assert float(madder["high"]) == 8 / 16 * 100
    assert float(beans["typical"]) == pytest.approx(776 / 113 * 100, rel=0.01)
    # NIST SP 811: 1 lb = 453.59237 g, 1 yd3 = 764.5549 L.
    assert float(leaves["typical"]) == pytest.approx(250 * 453.59237 / 764.5549, rel=0.02)


def test_dyes_that_heat_spoils_stay_below_the_boil_and_the_sturdy_ones_do_not() -> None:
    tender = ["avocado stones", "avocado skins", "beetroot", "black beans", "coreopsis", "nettle"]

    # Common teaching: heat browns betalains, anthocyanins and the pink of avocado.
    assert all(max(values(rows_of(item, "extraction_temperature_max"))) <= 90 for item in tender)
    assert all(
        100 in values(rows_of(item, "extraction_temperature_max"))
        for item in ("eucalyptus", "walnut hulls", "onion skins")
    )


@pytest.mark.parametrize(
    "item", ["red cabbage", "beetroot", "turmeric trimmings", "black beans", "blackberries"]
)
def test_a_dye_that_fades_says_so(item: str) -> None:
    assert "fugitive" in [row["typical"] for row in rows_of(item, "lightfastness")]


def test_privet_is_cut_outside_the_nesting_season() -> None:
    (start,), (end,) = rows_of("privet", "season_start"), rows_of("privet", "season_end")
    first, last = int(start["typical"]), int(end["typical"])
    cut = {month for month in range(1, 13) if month >= first or month <= last}

    # March to August is the risk season of nests in Great Britain, and by law in Ireland.
    assert first > last
    assert cut.isdisjoint(range(3, 9))


def test_poisonous_dyestuffs_are_flagged_and_none_is_called_free_of_harm() -> None:
    flagged = defaultdict(list)
    for item in ITEMS:
        flagged[word(item, "poisonous")].append(item)

    assert flagged["yes"] == POISONOUS
    assert flagged["to animals"] == HARM_ANIMALS
    assert set(flagged) == {"yes", "to animals", "not known"}


@pytest.mark.parametrize("item", POISONOUS + HARM_ANIMALS)
def test_the_hazard_of_a_poisonous_dyestuff_says_so_in_words(item: str) -> None:
    hazard = word(item, "hazard")

    assert re.search(r"poison|harm|never swallow", hazard)
    assert not hazard.startswith("none")


def test_hazards_name_the_poison_and_whom_it_harms() -> None:
    assert all(name in word("privet", "hazard") for name in ("all parts", "people", "horses"))
    assert all("cyanide" in word(f"{tree} prunings", "hazard") for tree in ("cherry", "plum"))
    assert "cyanogenic" in word("elderberries", "hazard")
    assert "oxalates" in word("rhubarb leaves", "hazard")
    assert "never drink" in word("black beans", "hazard")
    assert "hemlock" in word("carrot tops", "hazard")
    assert "ragwort" in word("goldenrod", "hazard")


@pytest.mark.parametrize(
    ("item", "prop"),
    [
        ("cherry prunings", "shelf_life_fridge"),
        ("plum prunings", "shelf_life_fridge"),
        ("buckthorn bark", "shelf_life_fridge"),
        ("buckthorn bark", "shelf_life_room"),
        ("rhubarb leaves", "shelf_life_freezer"),
        ("rhubarb leaves", "shelf_life_dried"),
    ],
)
def test_nothing_invites_anyone_to_shut_poison_in_or_make_dust_of_it(item: str, prop: str) -> None:
    assert rows_of(item, prop) == []


def test_each_computing_figure_of_a_dyestuff_lies_inside_the_catalogue() -> None:
    outside = []
    for figure in shipped().rows:
        if figure.item in ITEMS and figure.name in TWINS:
            prop, factor = TWINS[figure.name]
            known = values(rows_of(figure.item, prop))
            typical = float(figure.value) * factor
            if not known or not min(known) <= typical <= max(known) * 1.02:
                outside.append((figure.item, figure.name, typical, known))

    assert outside == []


def test_each_dyestuff_that_the_week_counts_with_is_in_the_catalogue() -> None:
    counted = {row.item for row in shipped().rows if row.name in TWINS} - {"any dyestuff"}

    assert len(counted) > 25
    assert counted - set(ITEMS) == set()
