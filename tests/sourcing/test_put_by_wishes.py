"""Wishes to put by for: written, changed, dropped, in the week's facts and in the notebook."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest

from inventory.errors import NotAnAmount
from inventory.models import Studio
from sourcing.errors import (
    NoSuchPutBy,
    NoSuchRecipe,
    PutByOfOneThing,
    SpreadUnknown,
    TakesNoDyestuff,
    TooManyRuns,
    WrongWayRound,
)
from sourcing.models import PutByWish
from sourcing.notebook.load import load_files
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at, week_at
from sourcing.put_by_wishes import drop_put_by, wish_put_by
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import sentences, yard_files
from tests.sourcing.week.pellitory import MONDAY_0730

pytestmark = pytest.mark.django_db
OLIVE: dict[str, Any] = {
    "code": "olive",
    "recipe": "hedge-olive",
    "runs": 4,
    "each_mg": 600_000,
    "since": date(2027, 3, 1),
    "last_on": date(2027, 8, 31),
}
PAGE = (
    "put by,recipe,dyestuff,state,runs,each,from,until,spread,note\r\n"
    "olive,hedge-olive,,,4,600 g,Mon 1 Mar 2027,Tue 31 Aug 2027,monthly,\r\n"
    'skins,,onion skins,dried,2,"1,200 g",Mon 1 Mar 2027,Tue 31 Aug 2027,evenly,for the class\r\n'
)


@pytest.fixture
def studio() -> Studio:
    load_fixture()
    return Studio.objects.get()


def flags(studio: Studio, days: int = 7) -> list[tuple[str, date | None, str]]:
    week = week_at(studio, at=MONDAY_0730, days=days, unlocks=False)
    return [(row.what, row.by, row.text) for row in week.flags if row.kind == "put by"]


def test_a_wish_for_a_shade_is_a_wish_for_what_its_recipe_takes(studio: Studio) -> None:
    wish_put_by(studio, **OLIVE)

    (wish,) = facts_at(studio, at=MONDAY_0730, days=7).put_by
    assert (wish.dyestuff, wish.state, wish.each_mg, wish.shade) == (
        "privet", "dried", 480_000, "Hedge Olive",
    )  # fmt: skip


def test_said_again_the_last_word_holds(studio: Studio) -> None:
    wish_put_by(studio, **OLIVE)
    wish_put_by(studio, **{**OLIVE, "runs": 2})

    assert PutByWish.objects.of(studio).get().runs == 2


def test_a_wish_dropped_is_gone_and_cannot_be_dropped_twice(studio: Studio) -> None:
    wish_put_by(studio, **OLIVE)
    drop_put_by(studio, code="olive")

    assert facts_at(studio, at=MONDAY_0730, days=7).put_by == ()
    with pytest.raises(NoSuchPutBy, match="Nothing is put by for under the code olive"):
        drop_put_by(studio, code="olive")


@pytest.mark.parametrize(
    ("more", "error", "said"),
    [
        ({"recipe": ""}, PutByOfOneThing, "Name a recipe, or a dyestuff with its state"),
        ({"dyestuff": "privet"}, PutByOfOneThing, "Name a recipe, or a dyestuff with its state"),
        ({"state": "dried"}, PutByOfOneThing, "A recipe says itself in which state"),
        ({"recipe": "moss"}, NoSuchRecipe, "No recipe has the code moss. Write it first."),
        ({"recipe": "oak-grey"}, TakesNoDyestuff, "Oak Grey takes no dyestuff"),
        ({"runs": 101}, TooManyRuns, "101 runs wished for, 100 at most. Divide the wish."),
        ({"runs": 0}, NotAnAmount, ""),
        ({"each_mg": 0}, NotAnAmount, ""),
        ({"last_on": date(2027, 2, 28)}, WrongWayRound, "comes before"),
        ({"spread": "oddly"}, SpreadUnknown, "“oddly” is not known here. Say monthly or evenly."),
        ({"recipe": "", "dyestuff": "privet", "state": "fresh"}, SpreadUnknown,
         "“fresh” is not known here. Say dried or frozen."),
    ],
)  # fmt: skip
def test_a_wish_that_cannot_be_is_refused_with_a_sentence(
    studio: Studio, more: dict[str, Any], error: type[Exception], said: str
) -> None:
    with pytest.raises(error) as refusal:
        wish_put_by(studio, **{**OLIVE, **more})

    assert said in str(refusal.value)
    assert not PutByWish.objects.of(studio).exists()


def test_the_longest_wish_is_kept(studio: Studio) -> None:
    wish_put_by(studio, **{**OLIVE, "runs": 100, "last_on": OLIVE["since"]})

    assert PutByWish.objects.of(studio).get().runs == 100


def test_the_morning_says_what_to_put_by_on_the_day_of_the_hedge(studio: Studio) -> None:
    wish_put_by(studio, **OLIVE)

    assert flags(studio) == [
        (
            "privet",
            date(2026, 11, 27),
            "put privet by on Fri: 1,840 g dried (4,843 g fresh) wanted for Hedge Olive, "
            "else 4 runs fall",
        )
    ]


def test_a_pick_up_after_the_period_is_no_flag_yet(studio: Studio) -> None:
    """The hedge gives on Friday: a period that ends with Friday holds it, one to Thursday not."""
    wish_put_by(studio, **OLIVE)

    assert len(flags(studio, days=5)) == 1
    assert flags(studio, days=4) == []


def test_without_a_wish_the_worked_morning_stays_as_it_was(studio: Studio) -> None:
    assert flags(studio) == []


def test_a_wish_that_is_over_is_asked_no_more(studio: Studio) -> None:
    wish_put_by(studio, **{**OLIVE, "since": date(2026, 10, 1), "last_on": MONDAY_0730.date()})
    assert len(facts_at(studio, at=MONDAY_0730, days=7).put_by) == 1

    wish_put_by(studio, **{**OLIVE, "since": date(2026, 10, 1), "last_on": date(2026, 11, 22)})
    assert facts_at(studio, at=MONDAY_0730, days=7).put_by == ()


def test_the_page_is_loaded_and_written_back_byte_for_byte() -> None:
    load_files({**yard_files(), "putby.csv": PAGE.encode()})
    studio = Studio.objects.get()

    assert files_for(notebook_of(studio, at=MONDAY_0730))["putby.csv"] == PAGE.encode()
    load_files(files_for(notebook_of(studio, at=MONDAY_0730)))
    assert PutByWish.objects.of(studio).count() == 2


@pytest.mark.parametrize(
    ("row", "said"),
    [
        ("olive,,,,4,600 g,1 Mar 2027,31 Aug 2027,,", "Write a recipe, or a dyestuff"),
        ("olive,hedge-olive,privet,,4,600 g,1 Mar 2027,31 Aug 2027,,",
         "Write a recipe, or a dyestuff"),
        ("olive,hedge-olive,,dried,4,600 g,1 Mar 2027,31 Aug 2027,,",
         "The recipe says in which state"),
        ("olive,oak-grey,,,4,600 g,1 Mar 2027,31 Aug 2027,,", "It takes no dyestuff"),
        ("olive,moss,,,4,600 g,1 Mar 2027,31 Aug 2027,,", "recipes.csv has no moss"),
        ("olive,hedge-olive,,,0,600 g,1 Mar 2027,31 Aug 2027,,", "Write a number from 1 to 100."),
        ("olive,hedge-olive,,,4,0 g,1 Mar 2027,31 Aug 2027,,", "0 g"),
        ("olive,hedge-olive,,,4,600 g,31 Aug 2027,1 Mar 2027,,", "until"),
    ],
)  # fmt: skip
def test_a_broken_row_says_what_to_write(row: str, said: str) -> None:
    page = PAGE.splitlines()[0] + "\n" + row + "\n"

    with pytest.raises(NotebookRefused) as refusal:
        load_files({**yard_files(), "putby.csv": page.encode()})

    assert any(said in text for text in sentences(refusal.value.problems))
