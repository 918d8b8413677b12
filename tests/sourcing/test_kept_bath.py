"""Haze after Blush in the demo studio: begun, Blush's bath kept, claimed, and dyed in.

H is 250 g of wool at 40 % of Blush: 24 L a kilo of its bath, 6 L, topped up to 7.5 L. Blush is
lifted on Thu 26 Nov at 09:00.
"""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import transaction

from inventory.corrections import correct
from inventory.entries import Lost, Take
from inventory.errors import CodeTaken
from inventory.models import Bath, BathState, Lot, Studio
from inventory.posting import Posted
from inventory.shelves import left_at
from sourcing.claims import claim, claimed
from sourcing.errors import ClaimedSince, NoSuchRun, NothingDyed
from sourcing.finishing import finishing_of
from sourcing.kept_baths import keep_bath
from sourcing.models import Claim, Run
from sourcing.notebook.load import load_files
from sourcing.outlook import facts_at, week_at
from sourcing.runs import finish_run
from sourcing.step_errors import NotUnderWay
from sourcing.steps import begin_run, not_begun, step_done
from sourcing.turned_back import correct as put_right
from sourcing.week.checking import check
from sourcing.week.plan import Answer
from tests.sourcing.test_second_bath import haze_yard
from tests.sourcing.week.pellitory import nov

NOW, LIFTED, UL = nov(23, 7, 30), nov(26, 9), 1_000_000
LITTLE = "H,haze,wool,250 g,W-88,Fri 11 Dec 2026 18:00,,,yes,,,no,\n"


@pytest.fixture(scope="module")
def loaded(django_db_setup: None, django_db_blocker: Any) -> Iterator[Studio]:
    files = haze_yard()
    own = [row for row in files["gates.csv"].decode().splitlines() if row.startswith("A,")]
    gates = files["gates.csv"].decode() + "".join(f"H{row[1:]}\n" for row in own)
    files |= {"runs.csv": files["runs.csv"] + LITTLE.encode(), "gates.csv": gates.encode()}
    with django_db_blocker.unblock(), transaction.atomic():
        load_files(files)
        yield Studio.objects.get()
        transaction.set_rollback(True)


@pytest.fixture
def studio(loaded: Studio, db: None) -> Studio:
    return loaded


def answers(studio: Studio, at: datetime = NOW, days: int = 14) -> dict[str, Answer]:
    return {row.run: row for row in week_at(studio, at=at, days=days, unlocks=False).answers}


def of_bath(answer: Answer) -> list[tuple[str, int]]:
    return [(row.source, row.amount) for row in answer.takes if row.what == "dyebath"]


def sound(studio: Studio, at: datetime = NOW) -> bool:
    week = week_at(studio, at=at, days=7, unlocks=False)
    return check(facts_at(studio, at=at, days=7), week) == []


def kept(studio: Studio, at: datetime = LIFTED, entry: UUID | None = None) -> Posted:
    return keep_bath(studio, entry=entry or uuid4(), at=at, run="A", volume=55 * UL,
                     temperature_c=8)  # fmt: skip


def hours(answer: Answer) -> list[tuple[str, datetime]]:
    return [(row.step, row.start) for row in answer.steps]


def test_haze_is_planned_in_what_blush_will_leave(studio: Studio) -> None:
    found = answers(studio)

    assert of_bath(found["H"]) == [("A-bath", 6 * UL)]
    dye = next(row for row in found["H"].steps if row.kind == "dye")
    assert dye.start >= LIFTED
    assert found["H"].notes == ("6 L of the bath of Blush, topped up with 1.5 L of water",)
    assert sound(studio)


def test_blush_is_begun_with_the_run_that_follows_in_its_bath(studio: Studio) -> None:
    before = answers(studio)

    begin_run(studio, entry=uuid4(), at=NOW, run="H")

    assert set(Run.objects.of(studio).filter(begun=True).values_list("code", flat=True)) == {
        "A", "H",
    }  # fmt: skip
    after = answers(studio)
    assert hours(after["H"]) == hours(before["H"])
    assert of_bath(after["H"]) == [("A-bath", 6 * UL)]
    assert sound(studio)


def test_a_run_that_others_follow_is_begun_alone(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="A")

    assert list(Run.objects.of(studio).filter(begun=True).values_list("code", flat=True)) == ["A"]
    assert of_bath(answers(studio)["H"]) == [("A-bath", 6 * UL)]


def test_a_kept_bath_has_what_its_recipe_says(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="A")
    kept(studio)

    lot = Lot.objects.of(studio).get(code="A-bath")
    bath, state = Bath.objects.of(studio).get(lot=lot), BathState.objects.of(studio).get(lot=lot)
    assert (lot.what, bath.shade, bath.depth, bath.metal) == ("dyebath", "Blush", 3, "")
    assert (bath.made_at, state.times_used) == (LIFTED, 1)
    assert left_at(studio, "A-bath", at=LIFTED).amount == 55 * UL


def test_what_was_to_come_of_it_is_claimed_once_it_is_kept(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="H")

    kept(studio)

    claims = Claim.objects.of(studio).filter(lot__code="A-bath").values_list("run__code", "amount")
    assert list(claims) == [("H", 6 * UL)]
    assert claimed(studio, ["A-bath"])["A-bath"].spare == 49 * UL
    found = answers(studio, LIFTED)["H"]
    assert of_bath(found) == [("A-bath", 6 * UL)], "once, not twice"
    assert found.warnings == ()


def test_keeping_it_twice_is_once(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="H")
    entry = uuid4()

    kept(studio, entry=entry)
    again = kept(studio, entry=entry)

    assert again.again
    assert Claim.objects.of(studio).filter(lot__code="A-bath").count() == 1
    with pytest.raises(CodeTaken):
        kept(studio)


def test_a_bath_kept_by_mistake_is_left_still_and_may_be_kept_again(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="H")
    wrong = uuid4()
    kept(studio, entry=wrong)

    correct(studio, entry=uuid4(), corrects=wrong)

    assert [row.bath for row in facts_at(studio, at=LIFTED, days=7).runs if row.code == "A"] == [""]
    assert of_bath(answers(studio, LIFTED)["H"]) == [("A-bath", 6 * UL)]
    assert sound(studio, LIFTED)

    kept(studio)

    assert claimed(studio, ["A-bath"])["A-bath"].spare == 49 * UL
    assert of_bath(answers(studio, LIFTED)["H"]) == [("A-bath", 6 * UL)]


def test_taking_it_back_gives_back_what_was_claimed_with_it(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="H")
    wrong = uuid4()
    kept(studio, entry=wrong)

    put_right(studio, entry=uuid4(), at=LIFTED, corrects=wrong)

    assert claimed(studio, ["A-bath"])["A-bath"].by_run == ()
    kept(studio)
    assert claimed(studio, ["A-bath"])["A-bath"].by_run == (("H", 6 * UL),)


def test_a_bath_that_somebody_claimed_since_is_not_taken_back(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="A")
    wrong = uuid4()
    kept(studio, entry=wrong)
    claim(studio, entry=uuid4(), at=LIFTED, run="H", lot="A-bath", amount=UL)

    with pytest.raises(ClaimedSince):
        put_right(studio, entry=uuid4(), at=LIFTED, corrects=wrong)


def test_a_bath_that_is_kept_is_left_by_nobody_else(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="A")
    kept(studio)

    assert of_bath(answers(studio, LIFTED)["H"]) == [("A-bath", 6 * UL)]
    facts = facts_at(studio, at=LIFTED, days=7)
    assert [row.bath for row in facts.runs if row.code == "A"] == ["A-bath"]
    assert [row.code for row in facts.shelf.baths if row.what == "dyebath"] == ["A-bath"]


def test_a_moment_before_it_was_kept_has_it_still_to_come(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="H")
    kept(studio)

    before = answers(studio, nov(25, 12))["H"]

    assert of_bath(before) == [("A-bath", 6 * UL)]
    assert any(row.text.startswith("wants the bath of A, free") for row in before.reasons)


def test_a_run_not_begun_or_not_there_leaves_none(studio: Studio) -> None:
    with pytest.raises(NotUnderWay):
        kept(studio)
    with pytest.raises(NoSuchRun):
        keep_bath(studio, entry=uuid4(), at=NOW, run="Z", volume=UL, temperature_c=8)


def test_a_run_that_dyes_nothing_leaves_none(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="E")  # tannin and iron alone

    with pytest.raises(NothingDyed, match="has no step that dyes, so it leaves no bath"):
        keep_bath(studio, entry=uuid4(), at=NOW, run="E", volume=UL, temperature_c=8)


def test_haze_moves_with_blush_where_that_is_late(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="H")
    planned = next(row for row in answers(studio)["H"].steps if row.kind == "dye").start
    late = nov(26, 12)  # nothing of Blush was done

    found = answers(studio, late)
    lifted = max(row.held_until for row in found["A"].steps if row.kind == "dye")
    dye = next(row for row in found["H"].steps if row.kind == "dye")

    assert lifted > planned
    assert dye.start >= lifted
    assert any("wants the bath of A, free" in row.text for row in found["H"].reasons)
    assert sound(studio, late)


def test_whoever_finishes_blush_and_keeps_no_bath_is_told(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="H")
    Run.objects.of(studio).filter(code="A").update(finished_at=LIFTED)

    found = answers(studio, LIFTED)["H"]

    assert of_bath(found) == []
    assert "A-bath is not kept: write down that it is, or dye has no bath" in [
        row.text for row in found.warnings
    ]


def test_a_run_not_begun_after_all_gives_the_bath_back(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="H")
    kept(studio)

    not_begun(studio, entry=uuid4(), at=LIFTED, run="H")

    assert claimed(studio, ["A-bath"])["A-bath"].spare == 55 * UL


def test_the_first_step_done_begins_both(studio: Studio) -> None:
    first = answers(studio)["H"].steps[0]

    step_done(studio, entry=uuid4(), at=first.end, run="H", step=first.step)

    assert set(Run.objects.of(studio).filter(begun=True).values_list("code", flat=True)) >= {
        "A", "H",
    }  # fmt: skip


def test_haze_takes_its_bath_off_the_shelf_when_it_is_finished(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=NOW, run="H")
    kept(studio)
    plan = finishing_of(facts_at(studio, at=LIFTED, days=14), "H")
    assert plan is not None
    takes = [Take(row.lot, row.amount) for row in plan.takes]
    assert ("A-bath", 6 * UL) in [(row.lot, row.amount) for row in plan.takes]

    wool = next(row for row in plan.takes if row.lot == "W-88")
    finish_run(studio, entry=uuid4(), at=nov(30, 12), run="H", takes=takes, makes=[],
               losses=[Lost("wool", wool.amount, "all of it, for this test")])  # fmt: skip

    assert left_at(studio, "A-bath", at=nov(30, 13)).amount == 49 * UL


def test_what_is_not_kept_is_not_said_to_be_taken(studio: Studio) -> None:
    plan = finishing_of(facts_at(studio, at=NOW, days=14), "H")

    assert plan is not None
    assert "A-bath" not in [row.lot for row in plan.takes]
