"""Swatches: kept under a number of their own, snippets among them, read by grade or by colour."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest

from inventory import fibre
from inventory.audit import audit
from inventory.entries import Fibre, NewLot
from inventory.errors import NoSuchSwatch, NotAReading, SwatchTaken, WrongSort
from inventory.models import Reading, Studio, Swatch
from inventory.seal import seal_all
from inventory.swatches import Lab, keep_swatch, read_swatch, swatch_of
from tests.inventory.larder import MONDAY_NINE as MONDAY
from tests.inventory.larder import G, stones

pytestmark = pytest.mark.django_db
PINK = Lab(Decimal("71.2"), Decimal("18.4"), Decimal("9.9"))


@pytest.fixture
def wool(studio: Studio) -> Studio:
    lot = NewLot(code="W-1", what="wool", kind="fibre")
    fibre.receive(studio, entry=uuid4(), at=MONDAY, lot=lot, amount=500 * G, form="yarn",
                  fibre=Fibre(scoured=True))  # fmt: skip
    return studio


def kept(studio: Studio, **said: object) -> Swatch:
    entry = uuid4()
    keep_swatch(studio, entry=entry, at=MONDAY, lot="W-1", **said)  # type: ignore[arg-type]
    return swatch_of(studio, entry)


def read(studio: Studio, what: str, swatch: int = 1, **said: object) -> None:
    read_swatch(studio, entry=uuid4(), at=MONDAY + timedelta(days=28), swatch=swatch, what=what,
                **said)  # type: ignore[arg-type]  # fmt: skip


def test_a_swatch_gets_the_next_number_or_its_own(wool: Studio) -> None:
    assert [kept(wool).number, kept(wool, number=40).number, kept(wool).number] == [1, 40, 41]
    with pytest.raises(SwatchTaken, match=r"^There is a swatch 40 already\. Give the new one its"):
        kept(wool, number=40)


def test_a_retry_keeps_one_swatch(wool: Studio) -> None:
    entry = uuid4()
    for _ in range(2):
        keep_swatch(wool, entry=entry, at=MONDAY, lot="W-1", shade="Blush")

    assert Swatch.objects.of(wool).count() == 1
    assert str(swatch_of(wool, entry)) == "Swatch 1"


def test_a_snippet_says_so(wool: Studio) -> None:
    assert str(kept(wool, snippet=True)) == "Snippet 1"


def test_only_fibre_has_swatches(studio: Studio) -> None:
    stones(studio)

    with pytest.raises(WrongSort):
        keep_swatch(studio, entry=uuid4(), at=MONDAY, lot="AV-1116")


def test_readings_are_kept_beside_each_other(wool: Studio) -> None:
    kept(wool)
    read(wool, "light", grade=Decimal("3.5"), days=21)
    read(wool, "light", grade=Decimal(8), days=28)
    read(wool, "rub", grade=Decimal(5))
    read(wool, "colour", lab=PINK)

    rows = Reading.objects.of(wool).order_by("pk")
    assert [(row.what, row.value, row.days, row.lab_l) for row in rows] == [
        ("light", Decimal("3.5"), 21, None),
        ("light", Decimal(8), 28, None),
        ("rub", Decimal(5), None, None),
        ("colour", None, None, Decimal("71.2")),
    ]
    seal_all(wool)
    assert audit(wool) == []


@pytest.mark.parametrize(
    ("what", "said", "sentence"),
    [
        ("light", {"grade": Decimal(9)}, "Write a grade from 1 to 8."),
        ("light", {"grade": Decimal("0.5")}, "Write a grade from 1 to 8."),
        ("wash", {"grade": Decimal("5.5")}, "Write a grade from 1 to 5."),
        ("rub", {}, "Write a grade from 1 to 5."),
        ("wash", {"grade": Decimal(4), "lab": PINK}, "Write a grade from 1 to 5."),
        ("colour", {"grade": Decimal(4)}, "Write lightness from 0 to 100, a and b, and no grade."),
        ("colour", {"lab": Lab(Decimal(101), Decimal(0), Decimal(0))}, "Write lightness from 0"),
        ("smell", {"grade": Decimal(4)}, "Write colour, light, wash or rub."),
    ],
)
def test_what_nobody_can_read_is_refused(
    wool: Studio, what: str, said: dict[str, object], sentence: str
) -> None:
    kept(wool)

    with pytest.raises(NotAReading) as refusal:
        read(wool, what, **said)

    assert str(refusal.value).startswith(f"That is no reading of {what}. {sentence}")
    assert not Reading.objects.of(wool).exists()


def test_a_swatch_that_was_never_kept_is_not_read(wool: Studio) -> None:
    with pytest.raises(NoSuchSwatch, match=r"^No swatch has the number 7\. Look at its tag, or"):
        read(wool, "light", swatch=7, grade=Decimal(4))
