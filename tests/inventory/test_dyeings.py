"""How a run came out: noted in its one posting, kept with its cloth, looked over, taken back."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from uuid import uuid4

import pytest

from inventory import fibre, ledger
from inventory.audit import audit
from inventory.corrections import correct
from inventory.dyeings import judge_dyed, said_of
from inventory.entries import Dyed, Fibre, Made, NewLot
from inventory.errors import NoFaultNamed, NotDyed, UnknownQuality
from inventory.models import Dyeing, Posting, Studio
from inventory.posting import Posted
from inventory.science.facts import FibreFacts
from inventory.seal import seal_all
from inventory.shelves import shelf_at
from tests.inventory.larder import MONDAY_NINE as MONDAY
from tests.inventory.larder import G

pytestmark = pytest.mark.django_db
BROWN = Dyed(3, "for re-dyeing", "boiled brown")
SAID = Fibre(scoured=True, shade="Blush", iron_percent=Decimal("0.5"))


@pytest.fixture
def wool(studio: Studio) -> Studio:
    lot = NewLot(code="W-1", what="wool", kind="fibre")
    fibre.receive(studio, entry=uuid4(), at=MONDAY, lot=lot, amount=500 * G, form="yarn",
                  fibre=Fibre(scoured=True))  # fmt: skip
    return studio


def dye(studio: Studio, dyed: Dyed | None = BROWN, code: str = "BL-1") -> Posted:
    return ledger.dye(studio, entry=uuid4(), at=MONDAY, takes=[("W-1", 400 * G)],
                      makes=[Made("W-1", code, 400 * G, SAID, dyed)])  # fmt: skip


def on_shelf(studio: Studio, code: str = "BL-1", hours: int = 24) -> FibreFacts:
    shelf = shelf_at(studio, at=MONDAY + timedelta(hours=hours))
    return next(row for row in shelf.fibre if row.code == code)


def test_cloth_that_came_out_wrong_is_kept_with_what_is_in_it(wool: Studio) -> None:
    dye(wool)

    found = on_shelf(wool)
    assert (found.shade, found.depth, found.quality) == ("Blush", 3, "for re-dyeing")
    assert (found.came_out, found.iron_percent) == ("boiled brown", Decimal("0.5"))
    assert Posting.objects.of(wool).filter(kind="dye").count() == 1
    assert on_shelf(wool, "W-1").shade == ""


@pytest.mark.parametrize(
    ("dyed", "refusal", "sentence"),
    [
        (
            Dyed(3, "spoilt", "brown"),
            UnknownQuality,
            "Fibre is kept as second quality or for re-dyeing, not as spoilt. "
            "Leave it out where the run came out as it was meant to.",
        ),
        (
            Dyed(3, "second quality", " "),
            NoFaultNamed,
            "Lot BL-1 is kept as second quality, and it is not said why. "
            "Say how it came out: boiled brown, streaky, felted, too pale.",
        ),
    ],
)
def test_what_is_said_wrongly_is_refused_and_nothing_is_written(
    wool: Studio, dyed: Dyed, refusal: type[Exception], sentence: str
) -> None:
    with pytest.raises(refusal) as caught:
        dye(wool, dyed)

    assert str(caught.value) == sentence
    assert on_shelf(wool, "W-1").left_mg == 500 * G
    assert not Dyeing.objects.of(wool).exists()


def test_cloth_looked_over_again_keeps_its_depth_and_its_past(wool: Studio) -> None:
    dye(wool)
    judge_dyed(wool, entry=uuid4(), at=MONDAY + timedelta(hours=5), lot="BL-1",
               quality="second quality", came_out="streaky")  # fmt: skip

    assert on_shelf(wool, hours=4).quality == "for re-dyeing"
    found = on_shelf(wool)
    assert (found.quality, found.came_out, found.depth) == ("second quality", "streaky", 3)


def test_a_second_look_can_be_taken_back(wool: Studio) -> None:
    dye(wool)
    look = judge_dyed(wool, entry=uuid4(), at=MONDAY, lot="BL-1", quality="")
    assert on_shelf(wool).quality == ""

    correct(wool, entry=uuid4(), corrects=look.entry)

    assert on_shelf(wool).quality == "for re-dyeing"
    seal_all(wool)
    assert audit(wool) == []


def test_plain_wool_cannot_be_looked_over_as_dyed(wool: Studio) -> None:
    with pytest.raises(NotDyed, match=r"^Lot W-1, wool, is not dyed\. Set it aside if something"):
        judge_dyed(wool, entry=uuid4(), at=MONDAY, lot="W-1", quality="second quality",
                   came_out="moth")  # fmt: skip


def test_a_part_that_is_mordanted_anew_keeps_how_it_came_out(wool: Studio) -> None:
    dye(wool)
    fibre.mordant(wool, entry=uuid4(), at=MONDAY, lot="BL-1", with_what="alum",
                  percent=Decimal(12), amount=100 * G, code="BL-2")  # fmt: skip

    found = on_shelf(wool, "BL-2")
    assert (found.quality, found.depth, found.shade) == ("for re-dyeing", 3, "Blush")


def test_an_entry_without_such_words_reads_as_it_did_before_they_came() -> None:
    plain = Made("W-1", "BL-1", 1, SAID)

    assert list(said_of(plain)) == ["of", "code", "amount", "fibre"]
    assert said_of(Made("W-1", "BL-1", 1, SAID, BROWN))["dyed"]["depth"] == 3
