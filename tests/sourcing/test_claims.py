"""What is promised to a run, and what may still be taken beside it."""

from __future__ import annotations

from uuid import uuid4

import pytest

from inventory.audit import audit
from inventory.entries import Dyed, Fibre, Lost, Made
from inventory.errors import EntryUsed, NoFaultNamed, NoSuchLot, NotAnAmount, NotEnough
from inventory.models import Studio
from inventory.shelves import left_at
from sourcing.claims import claim, claimed, draw, release
from sourcing.errors import (
    NoSuchRecipe,
    NoSuchRun,
    NotFinished,
    OtherFibre,
    RunFinished,
    RunTaken,
    RunTooHeavy,
    SpokenFor,
)
from sourcing.models import Run
from sourcing.notebook.load import load_files
from sourcing.outlook import facts_at
from sourcing.runs import ask_run, finish_run, take_back_run
from sourcing.steps import begin_run
from tests.once import once
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import MONDAY_0730, nov

pytestmark = pytest.mark.django_db
AT = MONDAY_0730


made = once(lambda: load_files(yard_files()))


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


def promise(studio: Studio, run: str, lot: str, amount: int) -> None:
    claim(studio, entry=uuid4(), at=AT, run=run, lot=lot, amount=amount)


def left(studio: Studio, lot: str) -> int:
    return left_at(studio, lot, at=nov(30)).amount


def test_no_millilitre_is_promised_twice(studio: Studio) -> None:
    # The worked week: Iron 6 has 900 mL; 200 for Slate and 450 for Oak Grey leave 250;
    # a third run asking 300 is short by 50.
    promise(studio, "D", "J2", 200_000)
    promise(studio, "E", "J2", 450_000)

    assert claimed(studio, ["J2"])["J2"].spare == 250_000
    with pytest.raises(SpokenFor) as refusal:
        promise(studio, "C", "J2", 300_000)

    assert str(refusal.value) == (
        "Lot J2, iron liquor: 300 mL asked for, 900 mL left, of which 650 mL are promised to D, E; "
        "short by 50 mL. Take less, or release a claim."
    )
    promise(studio, "C", "J2", 250_000)
    assert claimed(studio, ["J2"])["J2"].spare == 0


def test_more_than_there_is_cannot_be_promised(studio: Studio) -> None:
    with pytest.raises(NotEnough) as refusal:
        promise(studio, "D", "J2", 900_001)

    assert (refusal.value.asked, refusal.value.left) == (900_001, 900_000)
    promise(studio, "D", "J2", 900_000)


def test_nothing_cannot_be_promised(studio: Studio) -> None:
    with pytest.raises(NotAnAmount):
        promise(studio, "D", "J2", 0)


def test_the_same_entry_promises_once(studio: Studio) -> None:
    entry = uuid4()
    for _ in range(2):
        claim(studio, entry=entry, at=AT, run="D", lot="J2", amount=600_000)

    assert claimed(studio, ["J2"])["J2"].claimed == 600_000
    with pytest.raises(EntryUsed):
        claim(studio, entry=entry, at=AT, run="D", lot="J2", amount=1)


def test_a_draw_by_hand_leaves_what_others_were_promised(studio: Studio) -> None:
    promise(studio, "D", "J2", 200_000)

    with pytest.raises(SpokenFor) as refusal:
        draw(studio, entry=uuid4(), at=AT, takes=[("J2", 700_001)])

    assert refusal.value.short == 1
    draw(studio, entry=uuid4(), at=AT, takes=[("J2", 700_000)])
    assert left(studio, "J2") == 200_000


def test_all_that_is_left_is_not_taken_from_others(studio: Studio) -> None:
    promise(studio, "D", "J2", 200_000)

    with pytest.raises(SpokenFor):
        draw(studio, entry=uuid4(), at=AT, takes=[("J2", None)])


def test_a_run_uses_its_own_claim_up(studio: Studio) -> None:
    promise(studio, "D", "J2", 150_000)
    promise(studio, "D", "J2", 50_000)

    draw(studio, entry=uuid4(), at=AT, takes=[("J2", 170_000)], run="D")

    assert claimed(studio, ["J2"])["J2"].by_run == (("D", 30_000),)
    draw(studio, entry=uuid4(), at=AT, takes=[("J2", 40_000)], run="D")
    assert claimed(studio, ["J2"])["J2"].by_run == ()


def test_a_draw_sent_again_is_taken_once(studio: Studio) -> None:
    promise(studio, "D", "J2", 200_000)
    entry = uuid4()

    for _ in range(2):
        draw(studio, entry=entry, at=AT, takes=[("J2", 700_000)])

    assert left(studio, "J2") == 200_000


def test_one_lot_too_little_takes_nothing_of_the_others(studio: Studio) -> None:
    promise(studio, "D", "J2", 200_000)

    with pytest.raises(SpokenFor):
        draw(studio, entry=uuid4(), at=AT, takes=[("AV-0911", 1000), ("J2", 800_000)])

    assert left(studio, "AV-0911") == 1_900_000


def test_what_is_released_may_be_taken(studio: Studio) -> None:
    promise(studio, "D", "J2", 200_000)
    promise(studio, "D", "ON-0801", 200_000)

    assert release(studio, at=AT, run="D", lots=["J2"]) == 1
    draw(studio, entry=uuid4(), at=AT, takes=[("J2", 900_000)])

    assert claimed(studio, ["ON-0801"])["ON-0801"].claimed == 200_000
    assert release(studio, at=AT, run="D") == 1


def test_what_nobody_knows_is_named(studio: Studio) -> None:
    with pytest.raises(NoSuchRun, match=r"^No run has the code Z\. Ask for it first\.$"):
        promise(studio, "Z", "J2", 1)
    with pytest.raises(NoSuchLot):
        promise(studio, "D", "J99", 1)
    with pytest.raises(NoSuchRun):
        release(studio, at=AT, run="Z")


def test_a_run_that_is_asked_for_is_wanted(studio: Studio) -> None:
    ask_run(studio, code="H", recipe="slate", fibre="silk", weight_mg=100_000, due=nov(30, 9))

    runs = {run.code: run for run in facts_at(studio, at=AT, days=7).runs}
    assert (runs["H"].shade, runs["H"].weight_mg, runs["H"].due) == ("Slate", 100_000, nov(30, 9))


def test_a_run_asked_for_wrongly_is_refused(studio: Studio) -> None:
    with pytest.raises(RunTaken, match=r"^There is a run A already\. Give the new one a code"):
        ask_run(studio, code="A", recipe="slate", fibre="silk", weight_mg=1)
    with pytest.raises(OtherFibre, match=r"^Slate is for silk, not for wool\. Choose another"):
        ask_run(studio, code="H", recipe="slate", fibre="wool", weight_mg=1)
    with pytest.raises(NoSuchRecipe, match=r"^No recipe has the code slat\. Write it first\.$"):
        ask_run(studio, code="H", recipe="slat", fibre="silk", weight_mg=1)
    with pytest.raises(NotAnAmount):
        ask_run(studio, code="H", recipe="slate", fibre="silk", weight_mg=0)
    with pytest.raises(NoSuchLot):
        ask_run(studio, code="H", recipe="slate", fibre="silk", weight_mg=1, fibre_lot="S-99")
    with pytest.raises(RunTooHeavy, match=r"^Run H: 101 kg asked for; a run of 100 kg at most"):
        ask_run(studio, code="H", recipe="slate", fibre="silk", weight_mg=100_000_001)
    assert ask_run(studio, code="H", recipe="slate", fibre="silk", weight_mg=100_000_000)


def finish(studio: Studio, entry=None, jar_ul: int = 200_000):  # type: ignore[no-untyped-def]
    return finish_run(
        studio,
        entry=entry or uuid4(),
        at=nov(24, 16),
        run="D",
        takes=[("S-12", 400_000), ("ON-0801", 200_000), ("J2", jar_ul)],
        makes=[Made("S-12", "S-12 slate", 398_000, Fibre(scoured=True, shade="Slate"))],
        losses=[Lost("silk", 2_000, "fluff"), Lost("onion skins", 200_000, "spent")],
    )


def test_a_finished_run_points_at_its_posting_and_gives_its_claims_back(studio: Studio) -> None:
    promise(studio, "D", "J2", 300_000)

    posted = finish(studio)

    run = Run.objects.of(studio).select_related("posting").get(code="D")
    assert run.posting is not None
    assert (run.posting.entry, run.finished_at) == (posted.entry, nov(24, 16))
    assert (left(studio, "J2"), left(studio, "S-12 slate")) == (700_000, 398_000)
    assert claimed(studio, ["J2"])["J2"].claimed == 0


def test_a_run_is_finished_once(studio: Studio) -> None:
    entry = uuid4()

    assert finish(studio, entry) == finish(studio, entry)
    with pytest.raises(RunFinished, match=r"^Run D was finished on 24 November 16:00\. Ask for a"):
        finish(studio)
    with pytest.raises(RunFinished):
        promise(studio, "D", "J2", 1)


def test_a_run_does_not_take_what_another_was_promised(studio: Studio) -> None:
    promise(studio, "E", "J2", 701_000)

    with pytest.raises(SpokenFor):
        finish(studio)

    assert Run.objects.of(studio).get(code="D").finished_at is None


def test_a_run_under_way_is_begun(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=AT, run="D")

    assert {run.code for run in facts_at(studio, at=AT, days=7).runs if run.begun} == {"D"}


def streaky(studio: Studio, **said: object) -> None:
    dyed = Made("S-12", "S-12 slate", 150_000, Fibre(scoured=True))
    wrong = Made("S-12", "S-12 wrong", 250_000, Fibre(scoured=True), Dyed(quality="for re-dyeing"))
    finish_run(studio, entry=uuid4(), at=nov(24, 16), run="D", takes=[("S-12", 400_000)],
               makes=[dyed, wrong], **said)  # type: ignore[arg-type]  # fmt: skip


def test_a_run_says_how_it_came_out_and_its_cloth_keeps_shade_and_depth(studio: Studio) -> None:
    streaky(studio, came_out="streaky")

    shelf = {row.code: row for row in facts_at(studio, at=nov(25), days=7).shelf.fibre}
    good, wrong = shelf["S-12 slate"], shelf["S-12 wrong"]
    assert Run.objects.of(studio).get(code="D").came_out == "streaky"
    assert (good.shade, good.depth, good.quality, good.came_out) == ("Slate", 3, "", "")
    assert (wrong.shade, wrong.depth, wrong.quality) == ("Slate", 3, "for re-dyeing")
    assert wrong.came_out == "streaky"


def test_cloth_kept_as_less_than_meant_needs_a_word_why(studio: Studio) -> None:
    with pytest.raises(NoFaultNamed):
        streaky(studio)

    assert Run.objects.of(studio).get(code="D").finished_at is None
    assert left(studio, "S-12") == 400_000


def test_a_run_finished_by_mistake_is_taken_back_whole(studio: Studio) -> None:
    streaky(studio, came_out="streaky")
    entry = uuid4()

    first = take_back_run(studio, entry=entry, run="D")
    assert take_back_run(studio, entry=entry, run="D") == first

    run = Run.objects.of(studio).get(code="D")
    assert (run.posting, run.finished_at, run.came_out) == (None, None, "")
    assert left(studio, "S-12") == 400_000
    assert {row.code for row in facts_at(studio, at=nov(25), days=7).shelf.fibre} >= {"S-12"}
    again = [Made("S-12", "S-12 again", 400_000, Fibre(scoured=True))]
    finish_run(studio, entry=uuid4(), at=nov(24, 17), run="D", takes=[("S-12", None)], makes=again)
    assert left(studio, "S-12 again") == 400_000
    assert audit(studio) == []


def test_a_run_taken_back_is_promised_again_what_nobody_else_was_since(studio: Studio) -> None:
    promise(studio, "D", "J2", 200_000)
    promise(studio, "D", "J2", 50_000)
    promise(studio, "D", "S-12", 400_000)
    streaky(studio, came_out="streaky")
    assert claimed(studio, ["J2"])["J2"].by_run == ()
    promise(studio, "E", "J2", 700_000)
    entry = uuid4()

    for _ in range(2):
        take_back_run(studio, entry=entry, run="D")

    # 250 of 900 mL were promised; Oak Grey has 700 now, so 200 are left of them.
    assert dict(claimed(studio, ["J2"])["J2"].by_run) == {"D": 200_000, "E": 700_000}
    assert dict(claimed(studio, ["S-12"])["S-12"].by_run) == {"D": 400_000}
    again = [Made("S-12", "S-12 again", 400_000, Fibre(scoured=True))]
    finish_run(studio, entry=uuid4(), at=nov(24, 17), run="D", takes=[("S-12", None)], makes=again)
    assert claimed(studio, ["J2", "S-12"])["J2"].by_run == (("E", 700_000),)
    assert audit(studio) == []


def test_what_was_never_finished_cannot_be_taken_back(studio: Studio) -> None:
    with pytest.raises(NotFinished, match=r"^Run D is not finished, so there is nothing to take"):
        take_back_run(studio, entry=uuid4(), run="D")
    with pytest.raises(NoSuchRun):
        take_back_run(studio, entry=uuid4(), run="Z")
