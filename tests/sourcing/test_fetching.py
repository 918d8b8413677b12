"""What a run's plan fetches from another site lies there once that is said to be done.

Kelpwick Loft with its marigold in the barn: Ann is in the loft from 8:00, run 1 dyes at 10:00 on
Thursday. Starts fall on 10 minutes; the barn is 20 minutes away, there and back.
"""

from __future__ import annotations

from datetime import datetime
from types import SimpleNamespace
from typing import Any
from uuid import uuid4
from zoneinfo import ZoneInfo

import pytest

from inventory.errors import NotKept
from inventory.models import Studio
from inventory.shelves import shelf_at
from sourcing import fetching
from sourcing.claims import claimed
from sourcing.models import KeptStep
from sourcing.notebook.load import load_files
from sourcing.notebook.notebook import files_of
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.outlook import facts_at, week_at
from sourcing.steps import Otherwise, begin_run, step_done, step_not_done
from sourcing.turning import put_by
from sourcing.week.checking import check
from sourcing.week.plan import Answer
from tests.sourcing.test_second_studio import LOFT

HALIFAX = ZoneInfo("America/Halifax")
WAY = "carry from barn"
G = 1_000

pytestmark = pytest.mark.django_db


def thursday(hour: int, minute: int = 0) -> datetime:
    return datetime(2026, 10, 29, hour, minute, tzinfo=HALIFAX)


@pytest.fixture
def studio() -> Studio:
    load_files(files())
    return Studio.objects.get()


def files() -> dict[str, bytes]:
    pages, problems = files_of(LOFT)
    assert problems == []
    lots, rules = pages["lots.csv"].decode(), pages["rules.csv"].decode()
    lots = lots.replace("yes,loft,first", "yes,barn,first")
    lots = lots.replace("yes,loft,second", "yes,barn,second")
    rules += "barn to loft,carry min,20 min,,by bicycle\n"
    return {**pages, "lots.csv": lots.encode(), "rules.csv": rules.encode()}


def answer(studio: Studio, at: datetime) -> Answer:
    week = week_at(studio, at=at, days=7)
    assert check(facts_at(studio, at=at, days=7), week) == []
    return next(row for row in week.answers if row.run == "1")


def way(studio: Studio, at: datetime) -> Any:
    return next(row for row in answer(studio, at).steps if row.kind == "carry")


def begun(studio: Studio) -> None:
    begin_run(studio, entry=uuid4(), at=thursday(7), run="1")


def sites(studio: Studio, at: datetime) -> dict[str, tuple[str, int]]:
    lots = shelf_at(studio, at=at).lots
    return {row.code: (row.site, row.left_mg) for row in lots if row.dyestuff == "marigold"}


def test_a_way_brings_nothing_from_a_site_whose_name_its_own_ends_with(studio: Studio) -> None:
    begun(studio)
    plan = KeptStep.objects.of(studio).get(step=WAY).plan_id

    def brought(step: str) -> set[str]:
        done: Any = SimpleNamespace(plan_id=plan, step=step, round=1)
        return set(fetching._planned(studio, done))

    assert brought(WAY)
    assert brought("carry from old barn") == set()


def test_a_way_of_a_length_that_the_notebook_gives_is_in_the_plan(studio: Studio) -> None:
    row = way(studio, thursday(7))

    assert (row.step, row.start, row.end) == (WAY, thursday(9, 40), thursday(10))


def test_a_begun_run_keeps_its_way_and_what_it_fetches(studio: Studio) -> None:
    before = answer(studio, thursday(7))
    begun(studio)
    after = answer(studio, thursday(7, 30))

    assert after.steps == before.steps
    fetched = [(row.source, row.carried_from, row.carried_to, row.carried_round)
               for row in after.takes if row.carried_from]  # fmt: skip
    assert fetched == [("MG-2", "barn", "loft", 1)]


def test_done_it_is_a_lot_of_the_other_site_with_the_claim(studio: Studio) -> None:
    begun(studio)
    step_done(studio, entry=uuid4(), at=thursday(9, 58), run="1", step=WAY)
    now = thursday(10)

    assert sites(studio, now)["MG-2-loft"] == ("loft", 453_592)
    assert sites(studio, now)["MG-2"] == ("barn", 907_185 - 453_592)
    assert claimed(studio, ["MG-2-loft"])["MG-2-loft"].claimed == 453_592
    assert claimed(studio, ["MG-2"])["MG-2"].claimed == 0
    takes = [(row.source, row.amount, row.carried_from) for row in answer(studio, now).takes
             if row.what == "marigold"]  # fmt: skip
    assert takes == [("MG-2-loft", 453_592, "")]
    assert way(studio, now).done_at == thursday(9, 58)


def test_what_was_weighed_where_it_came_to_is_what_there_is(studio: Studio) -> None:
    begun(studio)
    other = Otherwise(took=(("MG-2", 450 * G),))
    step_done(studio, entry=uuid4(), at=thursday(9, 58), run="1", step=WAY, otherwise=other)

    assert sites(studio, thursday(10))["MG-2-loft"] == ("loft", 450 * G)
    assert answer(studio, thursday(10)).takes[-1].amount == 450 * G


def test_weighing_what_was_not_to_be_fetched_is_refused_and_writes_nothing(studio: Studio) -> None:
    begun(studio)
    other = Otherwise(took=(("WH-1", 450 * G),))

    with pytest.raises(NotKept, match=r"is not fetched by carry from barn\. It brings MG-2\."):
        step_done(studio, entry=uuid4(), at=thursday(9, 58), run="1", step=WAY, otherwise=other)
    assert "MG-2-loft" not in sites(studio, thursday(10))
    assert way(studio, thursday(9)).done_at is None


def test_said_twice_it_is_carried_once(studio: Studio) -> None:
    begun(studio)
    entry = uuid4()
    for _ in range(2):
        step_done(studio, entry=entry, at=thursday(9, 58), run="1", step=WAY)
    step_not_done(studio, entry=uuid4(), at=thursday(10), run="1", step=WAY)
    step_done(studio, entry=uuid4(), at=thursday(10, 1), run="1", step=WAY)

    assert sorted(sites(studio, thursday(11))) == ["MG-1", "MG-2", "MG-2-loft"]


def test_put_by_there_by_hand_the_way_is_done(studio: Studio) -> None:
    begun(studio)
    mg2 = next(row for row in shelf_at(studio, at=thursday(9)).lots if row.code == "MG-2")
    put_by(
        studio, entry=uuid4(), at=thursday(9, 50), lot="MG-2", state="dried",
        place=_place(mg2.stay.place_kind), amount=453_592, becomes=453_000, code="MG-2y",
        site="loft", run="1",
    )  # fmt: skip

    assert way(studio, thursday(10)).done_at == thursday(9, 50)
    assert claimed(studio, ["MG-2y"])["MG-2y"].claimed == 453_000


def test_a_way_that_nobody_said_is_done_is_late(studio: Studio) -> None:
    begun(studio)

    assert way(studio, thursday(10, 30)).late_since == thursday(10)


def test_it_leaves_with_its_studio_and_comes_back(studio: Studio) -> None:
    begun(studio)
    was = answer(studio, thursday(8))
    page = files_for(notebook_of(studio, at=thursday(8)))
    name = page["studio.csv"].decode().replace("Kelpwick Loft", "Another Loft")
    load_files({**page, "studio.csv": name.encode()})
    now = answer(Studio.objects.get(name="Another Loft"), thursday(8))

    assert now.steps == was.steps
    assert [(row.source, row.carried_from, row.carried_to, row.carried_round)
            for row in now.takes] == [
        (row.source, row.carried_from, row.carried_to, row.carried_round) for row in was.takes
    ]  # fmt: skip


def _place(kind: str) -> Any:
    from inventory.entries import Place

    return Place(kind)
