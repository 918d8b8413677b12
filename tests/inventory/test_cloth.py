"""Cloth by the metre on the shelves: measured, taken by length, as long when scoured or dyed."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest

from inventory import fibre, ledger
from inventory.audit import audit
from inventory.cloth import by_length, measure
from inventory.entries import Fibre, Lost, Made, NewLot
from inventory.errors import NoClothSize, NoSuchLot, WrongSort
from inventory.models import Studio
from inventory.science.cloth import ClothSize, length_mm
from inventory.science.facts import FibreFacts
from inventory.shelves import left_at, shelf_at
from tests.inventory.larder import MONDAY_NINE as MONDAY
from tests.inventory.larder import G, stones

pytestmark = pytest.mark.django_db
SIZE = ClothSize(Decimal(180), 1500)  # 270 g a metre


@pytest.fixture
def linen(studio: Studio) -> Studio:
    """Ten metres of unscoured linen, 2,700 g."""
    lot = NewLot(code="L-1", what="linen", kind="fibre")
    fibre.receive(studio, entry=uuid4(), at=MONDAY, lot=lot, amount=2700 * G, form="cloth",
                  fibre=Fibre(), cloth=SIZE)  # fmt: skip
    return studio


def on_shelf(studio: Studio, code: str = "L-1") -> FibreFacts:
    shelf = shelf_at(studio, at=MONDAY + timedelta(hours=1))
    return next(row for row in shelf.fibre if row.code == code)


def metres(row: FibreFacts) -> float:
    assert row.cloth is not None
    return round(float(length_mm(row.left_mg, row.cloth)) / 1000, 3)


def test_a_length_is_taken_as_its_weight_with_the_words_as_entered(linen: Studio) -> None:
    amount = by_length(linen, lot="L-1", length_mm=2500, at=MONDAY, words="2.5 m")
    assert (amount.amount, amount.words) == (675 * G, "2.5 m")

    ledger.draw(linen, entry=uuid4(), at=MONDAY, takes=[("L-1", amount)])

    assert left_at(linen, "L-1", at=MONDAY).amount == 2025 * G
    assert metres(on_shelf(linen)) == 7.5


def test_metres_of_cloth_that_nobody_measured_are_refused_in_words(studio: Studio) -> None:
    lot = NewLot(code="T-7", what="lyocell", kind="fibre")
    fibre.receive(studio, entry=uuid4(), at=MONDAY, lot=lot, amount=G, form="cloth", fibre=Fibre())

    with pytest.raises(NoClothSize) as refusal:
        by_length(studio, lot="T-7", length_mm=1000, at=MONDAY, words="1 m")
    assert str(refusal.value) == (
        "Lot T-7, lyocell: nobody knows what a metre of it weighs. "
        "Write its g per m² and its width, or give the weight."
    )
    with pytest.raises(NoSuchLot):
        by_length(studio, lot="T-8", length_mm=1000, at=MONDAY, words="1 m")

    measure(studio, entry=uuid4(), at=MONDAY, lot="T-7", size=SIZE)
    assert by_length(studio, lot="T-7", length_mm=1000, at=MONDAY, words="1 m").amount == 270 * G


def test_only_fibre_is_measured(studio: Studio) -> None:
    stones(studio)

    with pytest.raises(WrongSort):
        measure(studio, entry=uuid4(), at=MONDAY, lot="AV-1116", size=SIZE)


@pytest.mark.parametrize("code", ["", "L-2"])
def test_scoured_cloth_is_lighter_and_as_long(linen: Studio, code: str) -> None:
    amount = 1350 * G if code else None
    fibre.scour(linen, entry=uuid4(), at=MONDAY, lot="L-1", amount=amount,
                weighs=(1188 if code else 2376) * G, code=code)  # fmt: skip

    found = on_shelf(linen, code or "L-1")
    # 12 % of grease, wax and size: 180 x 0.88 = 158.4 g per m².
    assert found.cloth == ClothSize(Decimal("158.4"), 1500)
    assert metres(found) == (5 if code else 10)
    if code:
        assert metres(on_shelf(linen)) == 5


def test_cloth_that_is_dyed_in_two_lots_is_as_long_as_it_was(linen: Studio) -> None:
    ledger.dye(linen, entry=uuid4(), at=MONDAY, takes=[("L-1", None)],
               makes=[Made("L-1", "R-1", 1600 * G, Fibre()), Made("L-1", "R-2", 1000 * G, Fibre())],
               losses=[Lost("linen", 100 * G, "size")])  # fmt: skip

    both = metres(on_shelf(linen, "R-1")) + metres(on_shelf(linen, "R-2"))
    assert both == pytest.approx(10, abs=0.001)
    assert audit(linen) == []


def test_a_part_that_is_mordanted_keeps_its_size(linen: Studio) -> None:
    fibre.mordant(linen, entry=uuid4(), at=MONDAY, lot="L-1", with_what="alum",
                  percent=Decimal(12), amount=270 * G, code="L-3")  # fmt: skip

    assert on_shelf(linen, "L-3").cloth == SIZE
    assert on_shelf(linen).cloth == SIZE
