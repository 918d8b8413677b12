"""The shipped figures: each says where it comes from, and the studio's own come first."""

from collections import Counter
from datetime import date
from decimal import Decimal
from importlib.resources import files

import periodictable
import pytest

from inventory.science.catalogue import BASES, figure, find_figure, shipped, with_shipped
from inventory.science.figures import DERIVED_AT_MOST, Figure, Figures, NoFigure

MONDAY = date(2026, 11, 23)
ROWS = shipped().rows
# name of the row, formula of what is weighed
FORMULAS = {
    "iron": "Fe",
    "copper": "Cu",
    "acetic acid": "C2H4O2",
    "ferrous sulphate": "FeSO4(H2O)7",
    "copper sulphate": "CuSO4(H2O)5",
    "copper acetate": "CuC4H6O4(H2O)",
    "soda ash": "Na2CO3",
    "soda crystals": "Na2CO3(H2O)10",
    "alum": "KAl(SO4)2(H2O)12",
}


@pytest.mark.parametrize("row", ROWS, ids=lambda row: f"{row.item}, {row.name}")
def test_each_row_says_what_it_rests_on_and_keeps_its_range(row: Figure) -> None:
    assert row.basis in BASES
    assert row.source or row.basis != "published"
    assert row.low is None or row.low <= row.value
    assert row.high is None or row.value <= row.high
    assert not row.own


def test_no_figure_is_shipped_twice() -> None:
    names = Counter((row.item, row.name) for row in ROWS)

    assert [name for name, times in names.items() if times > 1] == []


def test_the_paper_beside_the_tables_explains_every_name() -> None:
    paper = files("inventory.science").joinpath("tables", "README.md").read_text("utf-8")
    families = {f"strip_{grade}_factor" for grade in range(1, 6)}
    names = {row.name for row in ROWS if not row.name.startswith("keeps_")} - families

    assert sorted(name for name in names if f"`{name}`" not in paper) == []


@pytest.mark.parametrize(("item", "formula"), FORMULAS.items())
def test_molar_masses_agree_with_a_general_table(item: str, formula: str) -> None:
    shipped_g = float(shipped().get(item, "molar_mass_g_per_mol", on=MONDAY).value)

    # periodictable 2.1, masses of CIAAW.
    assert shipped_g == pytest.approx(periodictable.formula(formula).mass, abs=0.002)


@pytest.mark.parametrize(
    ("item", "published_g"),
    [
        # CIAAW abridged 2021; OpenStax Chemistry 2e, Molarity; Wikipedia (hydrate);
        # PubChem, from memory, for the last three.
        ("iron", 55.845),
        ("acetic acid", 60.052),
        ("copper acetate", 199.65),
        ("ferrous sulphate", 278.02),
        ("alum", 474.39),
    ],
)
def test_molar_masses_agree_with_printed_ones(item: str, published_g: float) -> None:
    shipped_g = float(shipped().get(item, "molar_mass_g_per_mol", on=MONDAY).value)

    assert shipped_g == pytest.approx(published_g, abs=0.03)


def test_soda_crystals_per_ash_is_the_ratio_of_the_molar_masses() -> None:
    ash = shipped().get("soda ash", "molar_mass_g_per_mol", on=MONDAY).value
    crystals = shipped().get("soda crystals", "molar_mass_g_per_mol", on=MONDAY).value
    kept = shipped().get("soda ash", "crystals_per_ash", on=MONDAY).value

    assert (crystals / ash).quantize(Decimal("0.01")) == kept


def test_own_figure_comes_before_the_shipped_one_from_its_day_on() -> None:
    own = Figure("wool", "scour_loss_fraction", Decimal("0.04"), own=True, since=MONDAY)
    both = with_shipped([own])

    assert figure(both, "wool", "scour_loss_fraction", on=MONDAY) is own
    assert figure(both, "wool", "scour_loss_fraction", on=date(2026, 11, 22)).value == Decimal(
        "0.05"
    )


def test_figures_without_shipped_rows_still_find_the_shipped_one() -> None:
    assert figure(Figures(), "nettle bath", "keeps_days", on=MONDAY).value == 5
    assert find_figure(Figures(), "nettle bath", "colour", on=MONDAY) is None


def test_a_figure_that_nobody_has_is_named() -> None:
    with pytest.raises(NoFigure) as caught:
        figure(Figures(), "moss", "keeps_days", on=MONDAY)

    assert str(caught.value) == (
        "No figure for keeps_days of moss. Write one in the studio's rules: moss, keeps_days."
    )


def test_figures_of_a_studio_are_put_together_once_for_equal_ones() -> None:
    own = Figure("wool", "scour_loss_fraction", Decimal("0.2"), own=True)
    same = Figure("wool", "scour_loss_fraction", Decimal("0.2"), own=True)
    other = Figure("wool", "scour_loss_fraction", Decimal("0.3"), own=True)

    assert with_shipped([own]) is with_shipped([same])
    assert with_shipped([other]).get("wool", "scour_loss_fraction", on=MONDAY).value == Decimal(
        "0.3"
    )


def test_a_sum_of_figures_alone_is_worked_out_once_and_not_kept_without_end() -> None:
    figures, asked = Figures(), list[int]()

    def squared(number: int) -> int:
        asked.append(number)
        return number * number

    assert [figures.once(n, lambda n=n: squared(n)) for n in (3, 3, 4)] == [9, 9, 16]
    assert asked == [3, 4]
    for number in range(5 * DERIVED_AT_MOST):
        figures.once(number, lambda number=number: squared(number))
    assert len(figures._derived) <= DERIVED_AT_MOST
    assert figures == Figures()
