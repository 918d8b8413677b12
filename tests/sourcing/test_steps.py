"""Steps of a run as they are done: what is kept, said once, and taken back."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime
from decimal import Decimal
from typing import Any
from uuid import UUID, uuid4

import pytest
from django.db import DatabaseError, transaction

from inventory.entries import Place
from inventory.errors import EntryUsed, NoSuchVessel, NotKept
from inventory.ledger import put_by
from inventory.models import Studio
from sourcing.claims import claim, claimed
from sourcing.errors import NoSuchRun, RunFinished, SpokenFor
from sourcing.models import KeptPlan, KeptStep, Run, StepDone
from sourcing.notebook.load import load_files
from sourcing.outlook import facts_at, week_at
from sourcing.runs import finish_run
from sourcing.step_errors import (
    NoSuchStep,
    NothingPlanned,
    NotUnderWay,
    StepIsDone,
    StepsAreDone,
    StepStillToDo,
)
from sourcing.steps import Otherwise, begin_run, not_begun, step_done, step_not_done
from sourcing.turning import make_bath
from sourcing.turning import put_by as turned_by
from sourcing.week.facts import RunFacts
from sourcing.week.kept import Kept
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import nov
from tests.sourcing.week.worked import answer_for, brief
from tests.sourcing.week.worked import said as told_at

NINE = nov(23, 9)
THURSDAY = nov(26, 18)


@pytest.fixture(scope="module")
def loaded(django_db_setup: None, django_db_blocker: Any) -> Iterator[Studio]:
    with django_db_blocker.unblock(), transaction.atomic():
        load_files(yard_files())
        yield Studio.objects.get()
        transaction.set_rollback(True)


@pytest.fixture
def studio(loaded: Studio, db: None) -> Studio:
    return loaded


def begin(studio: Studio, run: str = "A", at: datetime = NINE) -> None:
    begin_run(studio, entry=uuid4(), at=at, run=run)


def done(studio: Studio, step: str, at: datetime, run: str = "A", **said: Any) -> StepDone:
    entry: UUID = said.pop("entry", None) or uuid4()
    return step_done(studio, entry=entry, at=at, run=run, step=step, **said)


def facts_of(studio: Studio, run: str = "A", at: datetime = THURSDAY) -> RunFacts:
    return next(row for row in facts_at(studio, at=at, days=7).runs if row.code == run)


def kept(studio: Studio, run: str = "A") -> Kept:
    found = facts_of(studio, run).kept
    assert found is not None
    return found


def test_a_run_keeps_its_plan_with_every_figure_when_it_is_begun(studio: Studio) -> None:
    # The worked week: 1,200 g in 36 L over R1 from 8 to 55 °C, 48 min and an hour more.
    begin(studio)

    plan = kept(studio)
    first = plan.steps[0]

    assert (plan.begun_at, len(plan.steps)) == (NINE, 8)
    assert (first.step, first.vessel, first.ring, first.load) == ("scour", "P1", "R1", 1)
    assert (first.start, first.end, first.hands_min) == (NINE, nov(23, 10, 48), 30)
    assert (first.litres, first.weight_mg, first.heat_min, first.hold_min) == (
        36,
        1_200_000,
        48,
        60,
    )
    assert (first.start_c, first.goal_c) == (8, 55)
    assert [(row.source, row.amount) for row in plan.takes] == [
        ("W-88", 2_105_263), ("alum", 240_000), ("AV-1116", 1_180_000), ("AV-0911", 1_820_000)
    ]  # fmt: skip
    assert [(row.line, row.since, row.until, row.mg) for row in plan.hangs] == [
        ("line", nov(26, 10), nov(28, 10), 2_000_000)
    ]
    assert [row.what for row in plan.jobs] == ["freeze AV-1116"]


def test_what_a_begun_run_takes_is_claimed_and_promised_to_nobody_else(studio: Studio) -> None:
    begin(studio)

    assert claimed(studio, ["AV-0911"])["AV-0911"].by_run == (("A", 1_820_000),)
    with pytest.raises(SpokenFor):
        claim(studio, entry=uuid4(), at=NINE, run="B", lot="AV-0911", amount=80_001)
    claim(studio, entry=uuid4(), at=NINE, run="B", lot="AV-0911", amount=80_000)


def test_what_was_claimed_before_is_exchanged_for_what_the_plan_takes(studio: Studio) -> None:
    claim(studio, entry=uuid4(), at=NINE, run="A", lot="AV-1030", amount=500_000)

    begin(studio)

    assert claimed(studio, ["AV-1030"])["AV-1030"].claimed == 0


def test_a_run_begun_twice_keeps_the_first_plan(studio: Studio) -> None:
    begin(studio)
    begin(studio, at=nov(24, 9))

    assert (kept(studio).begun_at, KeptPlan.objects.of(studio).count()) == (NINE, 1)


def test_a_run_that_cannot_be_planned_is_begun_and_keeps_nothing(studio: Studio) -> None:
    begin(studio, run="B")

    assert (facts_of(studio, "B").begun, facts_of(studio, "B").kept) == (True, None)


def test_the_first_step_done_begins_the_run_as_long_before_as_it_takes(studio: Studio) -> None:
    # Scouring takes 108 min in P1: done at 11:00, it was begun at 9:12 and so at 9:15 as planned.
    done(studio, "scour", nov(23, 11))

    plan = kept(studio)

    assert facts_of(studio).begun
    assert (plan.begun_at, plan.steps[0].start) == (nov(23, 9, 12), nov(23, 9, 15))
    assert [(row.step, row.at) for row in plan.done] == [("scour", nov(23, 11))]


def test_a_first_step_that_says_when_it_was_begun_keeps_the_plan_of_then(studio: Studio) -> None:
    done(studio, "scour", nov(23, 11), otherwise=Otherwise(begun_at=NINE))

    assert (kept(studio).begun_at, kept(studio).as_done[0].end) == (NINE, nov(23, 11))


def test_a_step_done_as_planned_says_nothing_more(studio: Studio) -> None:
    begin(studio)
    done(studio, "scour", nov(23, 10, 48))

    first, second, third = kept(studio).as_done[:3]

    assert (first.done_at, second.done_at, third.done_at) == (nov(23, 10, 48),) * 2 + (None,)
    assert (first.start, first.end, first.vessel, first.litres) == (NINE, nov(23, 10, 48), "P1", 36)


def test_only_what_went_otherwise_is_kept_beside_the_plan(studio: Studio) -> None:
    other = Otherwise(begun_at=nov(23, 9, 30), vessel="B1", volume_ul=34_500_000,
                      weight_mg=1_190_000, minutes=35, warmth_c=Decimal(57))  # fmt: skip
    begin(studio)
    done(studio, "scour", nov(23, 11, 5), load=1, otherwise=other, note="lid was off")

    first, second = kept(studio).as_done[:2]

    assert (first.vessel, first.litres, first.weight_mg) == ("B1", Decimal("34.5"), 1_190_000)
    assert (first.start, first.end, first.hands_min) == (nov(23, 9, 30), nov(23, 11, 5), 35)
    assert (second.vessel, second.done_at) == ("P2", None)
    assert (kept(studio).done[0].note, kept(studio).done[0].warmth_c) == ("lid was off", 57)


def test_pot_loads_are_done_one_by_one_or_all_that_are_left(studio: Studio) -> None:
    begin(studio)
    done(studio, "scour", nov(23, 10, 37), load=2)
    done(studio, "scour", nov(23, 10, 48))

    assert [row.done_at for row in kept(studio).as_done[:2]] == [nov(23, 10, 48), nov(23, 10, 37)]
    with pytest.raises(StepIsDone) as refused:
        done(studio, "scour", nov(23, 11), load=2)
    assert str(refused.value) == (
        "Run A, scour: done on 23 November 10:48. If that was a mistake, say “not done after all” "
        "first."
    )


def test_what_was_said_later_was_not_yet_so_at_a_moment_before(studio: Studio) -> None:
    begin(studio)
    done(studio, "scour", nov(23, 10, 48))

    before, then = (facts_of(studio, at=at).kept for at in (nov(23, 10, 47), nov(23, 10, 48)))

    assert (before and before.done, then and len(then.done)) == ((), 1)
    assert facts_of(studio, at=nov(23, 8, 59)).kept is None
    assert facts_of(studio, at=NINE).kept is not None


def test_a_step_sent_twice_is_done_once(studio: Studio) -> None:
    begin(studio)
    entry = uuid4()

    first = done(studio, "scour", nov(23, 10, 48), entry=entry)

    assert done(studio, "scour", nov(23, 10, 48), entry=entry).pk == first.pk
    with pytest.raises(EntryUsed):
        done(studio, "dye", nov(23, 10, 48), entry=entry)


def test_what_a_step_took_otherwise_is_claimed_in_its_place(studio: Studio) -> None:
    begin(studio)
    done(studio, "extract", nov(24, 11, 22),
         otherwise=Otherwise(took=(("AV-1116", 1_180_000), ("AV-1030", 1_300_000))))  # fmt: skip

    lots = claimed(studio, ["AV-0911", "AV-1030", "AV-1116"])

    assert [lots[code].claimed for code in lots] == [0, 1_300_000, 1_180_000]
    step_not_done(studio, entry=uuid4(), at=nov(24, 12), run="A", step="extract")
    lots = claimed(studio, ["AV-0911", "AV-1030", "AV-1116"])
    assert [lots[code].claimed for code in lots] == [1_820_000, 0, 1_180_000]


def test_a_step_does_not_take_what_another_run_was_promised(studio: Studio) -> None:
    begin(studio)
    claim(studio, entry=uuid4(), at=NINE, run="B", lot="AV-1030", amount=1_450_000)

    with pytest.raises(SpokenFor):
        done(studio, "extract", nov(24, 11), otherwise=Otherwise(took=(("AV-1030", 1),)))

    assert kept(studio).done == ()
    assert claimed(studio, ["AV-0911"])["AV-0911"].claimed == 1_820_000


def test_a_step_is_not_done_after_all_and_can_be_done_again(studio: Studio) -> None:
    begin(studio)
    done(studio, "scour", nov(23, 10, 48))

    entry = uuid4()
    for _ in range(2):
        step_not_done(studio, entry=entry, at=nov(23, 10, 50), run="A", step="scour")

    assert (kept(studio).done, facts_of(studio).begun) == ((), True)
    done(studio, "scour", nov(23, 11))
    assert [row.at for row in kept(studio).done] == [nov(23, 11)]


def test_a_run_that_its_first_step_began_is_not_begun_without_it(studio: Studio) -> None:
    done(studio, "scour", nov(23, 10, 48))

    step_not_done(studio, entry=uuid4(), at=nov(23, 10, 50), run="A", step="scour")

    assert (facts_of(studio).begun, facts_of(studio).kept) == (False, None)
    assert claimed(studio, ["W-88"])["W-88"].claimed == 0
    begin(studio, at=nov(24, 9))
    assert kept(studio).begun_at == nov(24, 9)


def test_a_run_is_not_begun_after_all_unless_steps_of_it_are_done(studio: Studio) -> None:
    begin(studio)
    done(studio, "scour", nov(23, 10, 48))

    with pytest.raises(StepsAreDone) as refused:
        not_begun(studio, entry=uuid4(), at=nov(23, 11), run="A")
    step_not_done(studio, entry=uuid4(), at=nov(23, 11), run="A", step="scour")
    not_begun(studio, entry=uuid4(), at=nov(23, 11), run="A")

    assert str(refused.value) == (
        "Run A is begun: scour done. Take those back first, the last one first."
    )
    assert (facts_of(studio).begun, facts_of(studio).kept) == (False, None)
    assert claimed(studio, ["W-88"])["W-88"].claimed == 0


def test_what_cannot_be_is_refused_in_a_sentence_and_nothing_is_kept(studio: Studio) -> None:
    with pytest.raises(NothingPlanned) as unplanned:
        done(studio, "scour", nov(23, 11), run="B")
    begin(studio)
    with pytest.raises(NoSuchStep) as unknown:
        done(studio, "boil", nov(23, 11))
    with pytest.raises(NoSuchStep, match=r"^Run A has no step scour, pot-load 3\. It has scour, "):
        done(studio, "scour", nov(23, 11), load=3)
    with pytest.raises(StepStillToDo):
        step_not_done(studio, entry=uuid4(), at=NINE, run="A", step="dye")
    with pytest.raises(NotUnderWay):
        not_begun(studio, entry=uuid4(), at=NINE, run="C")
    with pytest.raises(NoSuchVessel):
        done(studio, "scour", nov(23, 11), otherwise=Otherwise(vessel="P9"))
    with pytest.raises(NotKept):
        done(studio, "scour", nov(23, 11), otherwise=Otherwise(begun_at=nov(23, 12)))
    with pytest.raises(NoSuchRun):
        done(studio, "scour", nov(23, 11), run="Z")

    assert str(unplanned.value).startswith(
        "Run B has no steps planned on 23 November 11:00: avocado stones short by 2,034 g"
    )
    assert str(unknown.value) == (
        "Run A has no step boil. It has scour, hot alum, extract, dye and rinse."
    )
    assert not StepDone.objects.of(studio).exists()


def test_the_rest_of_the_week_is_the_table_s_after_its_first_two_days(studio: Studio) -> None:
    begin(studio, "A")
    begin(studio, "D")
    put_by(studio, entry=uuid4(), at=nov(23, 16), lot="AV-1116", state="frozen",
           place=Place("freezer"), becomes=1_180_000)  # fmt: skip
    done(studio, "cold alum", nov(23, 9, 30), run="D")
    done(studio, "scour", nov(23, 10, 48))
    done(studio, "hot alum", nov(23, 13, 36))
    done(studio, "dye", nov(24, 11, 18), run="D")
    done(studio, "extract", nov(24, 11, 22))
    done(studio, "dye", nov(24, 13, 47))
    begin(studio, "C", at=nov(24, 14))
    for step, at in (("iron", nov(24, 15, 48)), ("rinse", nov(24, 16))):
        done(studio, step, at, run="D")
    done(studio, "soak", nov(24, 14, 10), run="C")

    week = week_at(studio, at=nov(25, 7, 30), days=5, unlocks=False)

    assert brief(week, "A", "C", "D", "E") == {
        "A": "yes, Mon 23 09:00, Sat 28 10:00",
        "C": "yes, Tue 24 14:00, Sun 29 11:00",
        "D": "yes, Mon 23 09:00, Thu 26 16:00",
        "E": "not yet, Mon 30 13:00, Thu 03 15:00",
    }
    assert told_at(answer_for(week, "A").hung_at) == "Thu 26 10:00"


def test_a_finished_run_has_its_claims_back_and_no_more_steps(studio: Studio) -> None:
    begin(studio, run="D")
    finish_run(studio, entry=uuid4(), at=nov(26, 16), run="D", takes=[("S-12", 400_000)], makes=[])

    assert claimed(studio, ["J2"])["J2"].claimed == 0
    with pytest.raises(RunFinished):
        done(studio, "rinse", nov(26, 16), run="D")


def test_what_was_kept_is_never_changed_or_deleted(studio: Studio) -> None:
    begin(studio)
    done(studio, "scour", nov(23, 10, 48))

    for rows in (KeptPlan.objects.of(studio), KeptStep.objects.of(studio)):
        with pytest.raises(DatabaseError), transaction.atomic():
            rows.update(id=1)
        with pytest.raises(DatabaseError), transaction.atomic():
            rows.delete()


def test_a_run_keeps_its_plan_for_its_own_studio_alone(studio: Studio) -> None:
    begin(studio)

    assert Run.objects.of(studio).get(code="A").begun
    assert KeptStep.objects.of(Studio(pk=studio.pk + 1)).count() == 0


# -- group days ----------------------------------------------------------------------------------


def test_a_group_day_keeps_its_plan_with_what_is_laid_out(studio: Studio) -> None:
    begin(studio, "F")

    plan = kept(studio, "F")

    assert [row.step for row in plan.steps] == [
        "make nettle bath", "lay out wool", "lay out red cabbage",
    ]  # fmt: skip
    assert {row.source: row.amount // 1000 for row in plan.takes} == {
        "W-85": 240, "NE-0620": 360, "CB-1121": 480,
    }  # fmt: skip
    assert claimed(studio, ["W-85"])["W-85"].by_run == (("F", 240_000),)


def test_the_first_thing_laid_out_begins_a_group_day(studio: Studio) -> None:
    done(studio, "lay out wool", nov(23, 9, 20), "F")

    plan = kept(studio, "F")
    assert plan.begun_at == nov(23, 9, 20)
    assert [(row.step, row.at) for row in plan.done] == [("lay out wool", nov(23, 9, 20))]


def test_a_bath_made_for_a_group_day_does_that_step(studio: Studio) -> None:
    begin(studio, "F")

    make_bath(studio, entry=uuid4(), at=nov(26, 12), code="J7", what="nettle bath",
              volume=7_200_000, temperature_c=8.0, takes=[("NE-0620", 360_000)],
              run="F")  # fmt: skip

    (said,) = kept(studio, "F").done
    answer = answer_for(week_at(studio, at=THURSDAY, days=4), "F")
    assert (said.step, said.at) == ("make nettle bath", nov(26, 12))
    assert answer.answer == "yes"
    assert {"J7", "W-85", "CB-1121"} == {take.source for take in answer.takes}


def test_a_group_day_s_cabbage_that_is_frozen_for_it_stays_its_own(studio: Studio) -> None:
    begin(studio, "F")

    turned_by(studio, entry=uuid4(), at=nov(26, 12), lot="CB-1121", state="frozen",
              place=Place("freezer", "freezer"), amount=480_000, code="CB-1121-F",
              run="F")  # fmt: skip

    answer = answer_for(week_at(studio, at=THURSDAY, days=4), "F")
    assert ("CB-1121-F", 480_000) in {(row.source, row.amount) for row in answer.takes}
    assert [job.what for job in answer.jobs if job.kind == "put by"] == []


def test_rounds_that_were_kept_doubled_are_numbered_through_as_they_are_read(
    studio: Studio,
) -> None:
    begin_run(studio, entry=uuid4(), at=nov(23, 9), run="A")
    plan = KeptPlan.objects.of(studio).get()
    last = KeptStep.objects.of(studio).filter(plan=plan).order_by("number").last()
    assert last is not None
    for more in (1, 2):  # the rinse of three cloths, each once called the first round
        KeptStep.objects.of(studio).create(
            plan=plan, number=last.number + more, step=last.step, kind=last.kind, round=1, load=1,
            since=last.since, until=last.until, held_until=last.held_until, hands_min=0,
            volume_ul=0, weight_mg=0, heat_min=0, hold_min=0,
        )  # fmt: skip

    first = done(studio, "rinse", nov(26, 10))
    again = done(studio, "rinse", nov(26, 11))

    assert (first.round, again.round) == (1, 2)
    kept = next(
        run.kept for run in facts_at(studio, at=nov(26, 12), days=7).runs if run.code == "A"
    )
    assert kept is not None
    rinses = [row for row in kept.steps if row.step == "rinse"]
    assert [(row.round, kept.done_of(row) is not None) for row in rinses] == [
        (1, True), (2, True), (3, False),
    ]  # fmt: skip
