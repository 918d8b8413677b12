"""Tubs left with a source and fetched back; how many stand there."""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime
from itertools import accumulate
from random import Random
from typing import Any
from uuid import uuid4

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.errors import EntryUsed, NotKept
from inventory.models import Studio
from sourcing.errors import NoSuchSource, TubsNotThere, TubsSaidBefore
from sourcing.models import Source, TubMove
from sourcing.notebook.load import NotebookRefused, load_files
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.tubs import Tubs, fetch_tubs, least_from, leave_tubs, lose_tubs, move_tubs
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import pages, sentences
from tests.sourcing.week.pellitory import MONDAY_0730, nov

CAFE = "Lantern Steps café"


@pytest.fixture
def studio(db: None) -> Studio:
    load_fixture()
    return Studio.objects.get()


def move(studio: Studio, how: str, tubs: int, at: datetime = MONDAY_0730, **more: Any) -> Tubs:
    said = {"entry": uuid4(), "at": at, "source": CAFE, "how": how, "tubs": tubs, **more}
    return move_tubs(studio, **said)


def there(studio: Studio) -> int:
    return Source.objects.of(studio).get(name=CAFE).tubs_there


def test_what_is_left_fetched_and_lost_says_what_stands_there(studio: Studio) -> None:
    said: dict[str, Any] = {"source": CAFE}
    leave_tubs(studio, entry=uuid4(), at=nov(2), tubs=4, **said)
    fetch_tubs(studio, entry=uuid4(), at=nov(9), tubs=2, **said)
    lost = lose_tubs(studio, entry=uuid4(), at=nov(12), tubs=1, note="cracked", **said)

    assert (lost.standing, there(studio)) == (1, 1)
    assert [(row.how, row.tubs, row.note) for row in TubMove.objects.of(studio)] == [
        ("left", 4, ""),
        ("fetched", 2, ""),
        ("lost", 1, "cracked"),
    ]


def test_no_more_is_fetched_than_stands_there(studio: Studio) -> None:
    move(studio, "left", 2, nov(2))

    with pytest.raises(TubsNotThere) as refused:
        move(studio, "fetched", 3, nov(9, 17))

    assert str(refused.value) == (
        f"3 tubs taken from {CAFE} on 9 November 17:00, and 2 stood there. "
        "Take fewer, or write down first what was left there."
    )
    assert move(studio, "fetched", 2, nov(9, 17)).standing == 0


def test_a_late_entry_leaves_enough_for_those_that_follow(studio: Studio) -> None:
    move(studio, "left", 2, nov(2))
    move(studio, "fetched", 1, nov(16))

    with pytest.raises(TubsNotThere, match=r"^2 tubs taken .* on 9 November 17:00, and 1 stood"):
        move(studio, "lost", 2, nov(9, 17))
    assert move(studio, "lost", 1, nov(9, 17)).standing == 0


def test_tubs_are_not_fetched_before_they_were_left(studio: Studio) -> None:
    move(studio, "left", 2, nov(9, 17))

    with pytest.raises(TubsNotThere, match=r"^1 tub taken .* on 9 November 16:59, and 0 stood"):
        move(studio, "fetched", 1, nov(9, 16, 59))
    assert move(studio, "fetched", 2, nov(9, 17)).standing == 0


def test_an_entry_sent_again_is_one_move(studio: Studio) -> None:
    entry = uuid4()
    first = move(studio, "left", 2, entry=entry)
    again = move(studio, "left", 2, entry=entry)

    assert (first, again) == (Tubs(CAFE, 2), Tubs(CAFE, 2, again=True))
    with pytest.raises(EntryUsed, match=r"was already recorded as “tubs left” on 23 November"):
        move(studio, "left", 3, entry=entry)
    assert there(studio) == 2


def test_one_moment_holds_one_number(studio: Studio) -> None:
    move(studio, "left", 2)

    assert move(studio, "left", 2).again
    with pytest.raises(TubsSaidBefore) as refused:
        move(studio, "left", 3)
    assert str(refused.value) == (
        "2 tubs are on record as left on 23 November 07:30. Give another moment for more."
    )
    assert there(studio) == 2


@pytest.mark.parametrize("tubs", [0, -1, 501, True, 1.5, "two"])
def test_tubs_are_a_number_that_can_be_carried(studio: Studio, tubs: Any) -> None:
    with pytest.raises(NotKept) as refused:
        move(studio, "left", tubs)

    assert str(refused.value) == f"Tubs: “{tubs}” cannot be. Give a whole number from 1 to 500."
    assert move(studio, "left", 500).standing == 500


def test_a_move_is_of_a_known_kind_and_source(studio: Studio) -> None:
    with pytest.raises(NotKept, match=r"^Tubs: “lent” is not known here\. Say left, fetched or"):
        move(studio, "lent", 1)
    with pytest.raises(NoSuchSource):
        move(studio, "left", 1, source="Nobody")


def test_the_notebook_keeps_every_move(studio: Studio) -> None:
    move(studio, "left", 4, nov(2, 17))
    move(studio, "fetched", 1, nov(9, 17), note="one for the jam")
    written = files_for(notebook_of(studio, at=MONDAY_0730))

    load_files(written)

    assert written["tubs.csv"].decode().splitlines() == [
        "source,at,tubs,how,note",
        f"{CAFE},Mon 2 Nov 2026 17:00,4,left,",
        f"{CAFE},Mon 9 Nov 2026 17:00,1,fetched,one for the jam",
    ]
    assert files_for(notebook_of(studio, at=MONDAY_0730)) == written
    assert there(studio) == 3


@pytest.mark.django_db
def test_the_notebook_refuses_tubs_that_were_not_there() -> None:
    files = pages(
        sources="source\nMoss Lane\n",
        tubs="source,at,tubs,how\n"
        "Moss Lane,9 Nov 2026 17:00,2,fetched\n"
        "Moss Lane,2 Nov 2026 17:00,1,left\n",
    )

    with pytest.raises(NotebookRefused) as refused:
        load_files(files)

    assert sentences(refused.value.problems) == [
        'tubs.csv, line 2, column source: "Moss Lane" stands there. 2 tubs taken from Moss Lane '
        "on 9 November 17:00, and 1 stood there. Take fewer, or write down first what was left "
        "there."
    ]


@given(st.integers(0, 9), st.lists(st.integers(-3, 3)))
def test_the_fewest_from_a_moment_on_is_the_least_of_all_later_counts(
    standing: int, later: list[int]
) -> None:
    counts = [standing + sum(later[:n]) for n in range(len(later) + 1)]

    assert least_from(standing, later) == min(counts)


def test_any_moves_in_any_order_never_find_fewer_tubs_than_none(studio: Studio) -> None:
    chance = Random(20261123)

    for _ in range(120):
        day, how = chance.randint(1, 28), chance.choice(["left", "fetched", "lost"])
        with suppress(TubsNotThere, TubsSaidBefore):
            move(studio, how, chance.randint(1, 4), nov(day, chance.randint(8, 18)))

    rows = TubMove.objects.of(studio).values_list("at", "how", "tubs")
    ordered = sorted(rows, key=lambda row: (row[0], row[1] != "left"))
    counts = list(accumulate(tubs if how == "left" else -tubs for _, how, tubs in ordered))
    assert len(counts) > 40
    assert min(counts) >= 0
    assert counts[-1] == there(studio)
