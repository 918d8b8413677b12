"""Putting an entry right: the wrong one stays, what was since drawn is never taken away."""

from __future__ import annotations

from uuid import uuid4

import pytest

from inventory import fibre, ledger
from inventory.corrections import correct
from inventory.entries import Fibre, NewLot
from inventory.errors import (
    AlreadyCorrected,
    NoSuchEntry,
    NotConserved,
    NotInThatEntry,
    TakenSince,
)
from inventory.models import Loss, Posting, Studio
from inventory.posting import Posted
from inventory.shelves import left_at
from tests.inventory.larder import DAY, HOUR, MONDAY_NINE, G, stones


def _draw(studio: Studio, grams: int, note: str = "") -> Posted:
    return ledger.draw(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE + HOUR,
        takes=[("AV-1116", grams * G)],
        note=note,
    )


def _left(studio: Studio, code: str = "AV-1116") -> int:
    return left_at(studio, code, at=MONDAY_NINE + 99 * DAY).amount // G


def test_a_draw_is_taken_back(studio: Studio) -> None:
    stones(studio)
    drawn = _draw(studio, 180)

    undone = correct(studio, entry=uuid4(), corrects=drawn.entry)

    assert (undone.kind, undone.at) == ("correct", drawn.at)
    assert _left(studio) == 1180
    assert Posting.objects.of(studio).filter(entry=drawn.entry).exists()


def test_a_correction_can_be_corrected(studio: Studio) -> None:
    stones(studio)
    drawn = _draw(studio, 180)
    undone = correct(studio, entry=uuid4(), corrects=drawn.entry)

    correct(studio, entry=uuid4(), corrects=undone.entry)

    assert _left(studio) == 1000


def test_a_corrected_amount_can_be_corrected_again(studio: Studio) -> None:
    stones(studio)
    drawn = _draw(studio, 18)
    first = correct(studio, entry=uuid4(), corrects=drawn.entry, amounts={"AV-1116": 1000 * G})

    correct(studio, entry=uuid4(), corrects=first.entry, amounts={"AV-1116": 180 * G})

    assert _left(studio) == 1000


def test_a_correction_of_one_lot_is_taken_back_for_that_lot_only(studio: Studio) -> None:
    stones(studio, "AV-0911")
    stones(studio)
    takes = [("AV-0911", 98 * G), ("AV-1116", 98 * G)]
    drawn = ledger.draw(studio, entry=uuid4(), at=MONDAY_NINE, takes=takes)
    first = correct(studio, entry=uuid4(), corrects=drawn.entry, amounts={"AV-0911": 204 * G})

    second = correct(studio, entry=uuid4(), corrects=first.entry)

    assert [row.lot for row in second.moved] == ["AV-0911"]
    assert (_left(studio, "AV-0911"), _left(studio)) == (1180 - 98, 1180 - 98)


def test_an_entry_is_corrected_at_most_once(studio: Studio) -> None:
    stones(studio)
    drawn = _draw(studio, 180)
    by = correct(studio, entry=uuid4(), corrects=drawn.entry)

    with pytest.raises(AlreadyCorrected) as refusal:
        correct(studio, entry=uuid4(), corrects=drawn.entry)

    assert str(refusal.value) == (
        f"Entry {drawn.entry} was already corrected by {by.entry}. Correct that one."
    )


def test_a_correction_sent_again_gets_the_first_answer(studio: Studio) -> None:
    stones(studio)
    drawn, entry = _draw(studio, 180), uuid4()
    first = correct(studio, entry=entry, corrects=drawn.entry)

    assert correct(studio, entry=entry, corrects=drawn.entry) == first
    assert _left(studio) == 1180


def test_what_was_since_drawn_is_not_taken_away_and_the_draws_are_named(studio: Studio) -> None:
    received = stones(studio)
    _draw(studio, 180, note="Blush")
    _draw(studio, 500)

    with pytest.raises(TakenSince) as refusal:
        correct(studio, entry=uuid4(), corrects=received.entry, amounts={"AV-1116": 679 * G})

    assert str(refusal.value) == (
        "Lot AV-1116, avocado stones: this takes back 501 g and 500 g are left. Taken since: "
        "500 g on 23 November 10:00 (draw); 180 g on 23 November 10:00 (Blush). "
        "Correct those first."
    )


def test_what_is_still_there_may_be_taken_away(studio: Studio) -> None:
    received = stones(studio)
    _draw(studio, 680)

    correct(studio, entry=uuid4(), corrects=received.entry, amounts={"AV-1116": 680 * G})

    assert _left(studio) == 0


def test_a_recount_is_put_right_by_what_was_there(studio: Studio) -> None:
    stones(studio)
    counted = ledger.recount(studio, entry=uuid4(), at=MONDAY_NINE, lot="AV-1116", found=110 * G)
    correct(studio, entry=uuid4(), corrects=counted.entry, amounts={"AV-1116": 1100 * G})

    assert _left(studio) == 1100


def _scoured(studio: Studio) -> Posted:
    fibre.receive(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        lot=NewLot("W-88", "wool"),
        amount=2400 * G,
        form="yarn",
        fibre=Fibre(),
    )
    return fibre.scour(
        studio,
        entry=uuid4(),
        at=MONDAY_NINE,
        lot="W-88",
        amount=2105 * G,
        weighs=2000 * G,
        code="W-88a",
    )


def test_a_scouring_put_right_moves_its_loss(studio: Studio) -> None:
    scoured = _scoured(studio)

    correct(studio, entry=uuid4(), corrects=scoured.entry, amounts={"W-88a": 1990 * G})

    assert [loss.amount // G for loss in Loss.objects.of(studio)] == [105, 10]
    assert _left(studio, "W-88a") == 1990


def test_a_scouring_taken_back_takes_back_its_loss(studio: Studio) -> None:
    scoured = _scoured(studio)

    correct(studio, entry=uuid4(), corrects=scoured.entry)

    assert sum(loss.amount for loss in Loss.objects.of(studio)) == 0
    assert (_left(studio, "W-88"), _left(studio, "W-88a")) == (2400, 0)


def test_no_correction_makes_wool_from_nothing(studio: Studio) -> None:
    scoured = _scoured(studio)

    with pytest.raises(NotConserved, match="2,105 g taken, 2,106 g made and 0 g lost; 1 g too"):
        correct(studio, entry=uuid4(), corrects=scoured.entry, amounts={"W-88a": 2106 * G})


def test_an_entry_that_is_not_there_is_not_corrected(studio: Studio, other: Studio) -> None:
    received = stones(other)

    with pytest.raises(NoSuchEntry, match=f"No entry {received.entry} was recorded here"):
        correct(studio, entry=uuid4(), corrects=received.entry)


def test_a_correction_touches_only_the_lots_of_its_entry(studio: Studio) -> None:
    stones(studio, "AV-1")
    received = stones(studio)

    with pytest.raises(NotInThatEntry, match="did not touch lot AV-1"):
        correct(studio, entry=uuid4(), corrects=received.entry, amounts={"AV-1": 5})
