"""Facts of a week gathered from the tables: the demo studio's, and how many questions they cost."""

from __future__ import annotations

import dataclasses
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory import ledger
from inventory.draft import Draft
from inventory.entries import NewLot, Place
from inventory.errors import NoZone
from inventory.models import Kind, Studio
from inventory.posting import post
from sourcing.figures import WEIGHINGS_AT_MOST
from sourcing.models import (
    Agreement,
    Block,
    Chore,
    FastnessWish,
    Hours,
    PickUp,
    Recipe,
    RecipeDose,
    RecipeStep,
    Run,
    ShadeCard,
    Source,
    Weather,
)
from sourcing.notebook.load import load_files
from sourcing.outlook import facts_at, week_at
from sourcing.week import facts
from tests.sourcing.notebook.desk import altered, pages, yard_files
from tests.sourcing.week.pellitory import FACTS, MONDAY, MONDAY_0730, nov

pytestmark = pytest.mark.django_db
QUESTIONS = 7  # of the whole; with the studio's own name a page asks eight, its budget


def yard(files: dict[str, bytes] | None = None) -> Studio:
    load_files(files or yard_files())
    return Studio.objects.get(name="Pellitory Yard")


def found(files: dict[str, bytes] | None = None, at: datetime = MONDAY_0730) -> facts.WeekFacts:
    return facts_at(yard(files), at=at, days=7)


def in_order(rows: object) -> object:
    """Rows of a collection in one order, whatever it was."""
    return sorted(rows, key=repr) if isinstance(rows, tuple) else rows


PARTS = [field.name for field in dataclasses.fields(facts.WeekFacts)]
ELSEWHERE = {
    "shelf",
    "figures",
    "pick_ups",
    "streams",
    "meetings",
    "hazards",
}  # compared each in a test of its own


def test_all_but_the_shelves_is_as_written_by_hand() -> None:
    mine = found()

    for name in set(PARTS) - ELSEWHERE:
        assert in_order(getattr(mine, name)) == in_order(getattr(FACTS, name)), name


def test_meetings_are_the_agreed_pick_ups_that_nobody_has_spoken_of() -> None:
    # 13.3: the café on Mon and Thu, of which tonight's is reported; the greengrocer on Sat with
    # two things in one pick-up; the hedge agreed for Fri 27.
    week = [row for row in found().meetings if row.at < nov(30)]

    assert [(row.source, row.at, row.gives) for row in week] == [
        ("Lantern Steps café", nov(26, 17), ("avocado stones",)),
        ("Hedge at the corner house", nov(27, 9), ("privet",)),
        ("Three Crates greengrocer", nov(28, 9), ("onion skins", "red cabbage")),
    ]


def test_the_café_comes_as_a_stream_with_its_six_and_tonight() -> None:
    # 13.3: the last first, 62, 55, 70, 48, 0, 65 stones; 58 are reported for tonight.
    (café,) = [row for row in found().streams if row.gives == "avocado stones"]
    visits = sorted(café.visits, key=lambda visit: visit.on)

    assert (café.source, café.days) == ("Lantern Steps café", (0, 3))
    assert [visit.pieces or 0 for visit in visits][-7:] == [65, 0, 48, 70, 55, 62, 58]
    assert visits[-1].on == MONDAY


def test_the_shelves_are_as_written_by_hand() -> None:
    mine, by_hand = found().shelf, FACTS.shelf

    for name in ("lots", "supplies", "baths", "vessels", "rings", "lines", "cold_places"):
        assert in_order(getattr(mine, name)) == in_order(getattr(by_hand, name)), name


def test_the_jars_are_as_written_by_hand() -> None:
    mine = {jar.code: jar for jar in found().shelf.jars}
    by_hand = {jar.code: jar for jar in FACTS.shelf.jars}

    # Nobody knows what was poured into the jar without a label; by hand it has parts all the same.
    nobody_knows = replace(
        by_hand["J5"],
        vinegar_parts=Fraction(0),
        water_parts=Fraction(0),
        acid_percent=Decimal(0),
    )
    assert mine == {**by_hand, "J5": nobody_knows}


def test_the_fibre_is_as_written_by_hand() -> None:
    mine = {lot.code: lot for lot in found().shelf.fibre}

    for lot in FACTS.shelf.fibre:
        # Fibre without a day of its own has been there since the notebook begins.
        since = lot.since or date(2026, 1, 1)
        assert mine.pop(lot.code) == replace(lot, since=since)
    assert mine == {}


def test_the_studios_own_figures_are_as_written_by_hand() -> None:
    mine = {(row.item, row.name): row.value for row in found().figures.own()}

    assert mine == {(row.item, row.name): row.value for row in FACTS.figures.own()}


def test_pick_ups_are_as_written_by_hand_and_the_other_sources_come_too() -> None:
    mine = found().pick_ups
    by_source = {
        source: [row for row in mine if row.source == source]
        for source in {row.source for row in mine}
    }

    assert in_order(tuple(by_source.pop("Lantern Steps café"))) == in_order(FACTS.pick_ups)
    # 13.3 of the worked week: skins likely 170 g, worst 0; about 2 kg of privet on Fri 27.
    skins = by_source.pop("Three Crates greengrocer")
    assert {(row.likely_mg, row.worst_mg, row.in_window) for row in skins} == {(170_000, 0, True)}
    (privet,) = by_source.pop("Hedge at the corner house")
    assert (privet.at, privet.likely_mg, privet.worst_mg) == (nov(27, 9), 2_000_000, 0)
    assert by_source == {}


def test_a_caution_goes_with_the_plant() -> None:
    assert found().hazards == (("privet", "all of privet is poisonous to people, horses and dogs"),)


def test_the_week_comes_out_of_the_tables_as_of_the_facts_by_hand() -> None:
    # 13.6 of the worked week: A yes, B no, C yes, D yes, E not yet, F yes, G no.
    week = week_at(yard(), at=MONDAY_0730, days=7)

    assert {row.run: row.answer for row in week.answers} == {
        "A": "yes",
        "B": "no",
        "C": "yes",
        "D": "yes",
        "E": "not yet",
        "F": "yes",
        "G": "no",
    }


def test_a_moment_without_a_zone_is_refused() -> None:
    with pytest.raises(NoZone):
        facts_at(yard(), at=MONDAY_0730.replace(tzinfo=None), days=7)


def test_hours_and_pick_ups_reach_over_the_horizon_or_a_longer_period() -> None:
    studio = yard()

    assert found_last(studio, 7) == found_last(studio, 42) == MONDAY + timedelta(days=42)
    assert found_last(studio, 45) == MONDAY + timedelta(days=45)


def found_last(studio: Studio, days: int) -> date:
    return facts_at(studio, at=MONDAY_0730, days=days).hours[-1].day


def test_what_is_over_stays_behind() -> None:
    studio = yard()
    later = facts_at(studio, at=nov(28, 14), days=7)

    assert later.blocks == ()  # the group day ended at that minute
    assert later.chores == ()
    assert len(facts_at(studio, at=nov(28, 13, 59), days=7).blocks) == 1
    assert [row.what for row in facts_at(studio, at=nov(27, 18), days=7).chores] == ["group prep"]


def test_a_finished_run_is_wanted_no_more() -> None:
    studio = yard()
    Run.objects.of(studio).filter(code="A").update(finished_at=MONDAY_0730)

    wanted = facts_at(studio, at=MONDAY_0730, days=7).runs

    assert [run.code for run in wanted] == ["B", "C", "D", "E", "F", "G"]


def test_a_run_under_way_is_worked_by_the_version_that_it_began_with() -> None:
    begun = altered("runs.csv", "2026 09:00,,,yes,,,no,", "2026 09:00,,,yes,,,yes,")
    yard(begun)
    changed = altered("doses.csv", "dyestuff,150 %", "dyestuff,160 %")

    mine = found({**changed, "runs.csv": begun["runs.csv"]})

    doses = {recipe.code: recipe.doses[1].per_fibre for recipe in mine.recipes}
    wanted = {run.code: run.recipe for run in mine.runs}
    assert (wanted["A"], wanted["G"]) == ("blush version 1", "blush")
    assert (doses["blush version 1"], doses["blush"]) == (Fraction(3, 2), Fraction(8, 5))


def test_a_count_that_was_weighed_teaches_what_a_piece_weighs() -> None:
    studio = yard()
    lot = NewLot(code="AV-1122", what="avocado stones", state="fresh", place=Place("bench"))
    ledger.receive_count(studio, entry=uuid4(), at=nov(22, 9), lot=lot, pieces=10, piece_mg=42_000)
    ledger.weigh_again(studio, entry=uuid4(), at=nov(22, 10), lot="AV-1122", found=400_000)

    figures = facts_at(studio, at=MONDAY_0730, days=7).figures

    learnt = figures.get("avocado stones", "piece_mass_g", on=MONDAY)
    assert (learnt.value, learnt.basis, learnt.own) == (Decimal(40), "measured here", True)
    # The range only widens: the studio's 42 g from before is still within it.
    assert (learnt.low, learnt.high) == (40, 42)
    before = figures.get("avocado stones", "piece_mass_g", on=date(2026, 11, 21))
    assert before.value == 42


def test_the_latest_hundred_counts_of_a_dyestuff_teach_its_piece_mass() -> None:
    """The first count, of stones twice as heavy, falls out once a hundred came after it."""
    studio = yard()
    for number in range(WEIGHINGS_AT_MOST + 1):
        code, at = f"AV-{number}", nov(1, 9) + timedelta(hours=number)
        lot = NewLot(code=code, what="avocado stones", state="fresh", place=Place("bench"))
        ledger.receive_count(studio, entry=uuid4(), at=at, lot=lot, pieces=10, piece_mg=42_000)
        found = 800_000 if number == 0 else 400_000
        ledger.weigh_again(studio, entry=uuid4(), at=at, lot=code, found=found)

    figures = facts_at(studio, at=MONDAY_0730, days=7).figures

    learnt = figures.get("avocado stones", "piece_mass_g", on=MONDAY)
    assert (learnt.value, learnt.source) == (Decimal(40), "1,000 weighed")


def test_an_empty_studio_has_an_empty_week() -> None:
    load_files(pages())
    studio = Studio.objects.get(name="Wash House")

    mine = facts_at(studio, at=MONDAY_0730, days=7)

    assert (mine.runs, mine.recipes, mine.hours, mine.shelf.lots) == ((), (), (), ())
    assert mine.sites == ("",)


def test_another_studio_changes_nothing() -> None:
    alone = found()

    load_files(altered("studio.csv", "Pellitory Yard", "Wash House"))

    assert found() == alone


def test_a_hundred_times_the_rows_cost_no_more_questions() -> None:
    studio = yard()
    facts_at(studio, at=MONDAY_0730, days=7)  # what the database is able to do is asked once
    with CaptureQueriesContext(
        connection,
    ) as few:
        facts_at(studio, at=MONDAY_0730, days=7)
    _grow(studio, 100)

    with CaptureQueriesContext(connection) as many:
        grown = facts_at(studio, at=MONDAY_0730, days=7)

    assert len(grown.shelf.lots) == 10 + 1000
    assert (len(grown.runs), len(grown.recipes)) == (707, 606)
    assert len(many) == len(few) <= QUESTIONS


def _grow(studio: Studio, times: int) -> None:
    """So many times as many lots, recipes, runs, hours and pick-ups."""
    _grow_shelves(studio, 10 * times)
    here = {"studio": studio}
    recipe = Recipe.objects.of(studio).get(code="blush")
    steps = list(RecipeStep.objects.of(studio).filter(recipe=recipe))
    doses = list(RecipeDose.objects.of(studio).filter(recipe=recipe))
    for n in range(6 * times):
        recipe.pk, recipe.code = None, f"R{n}"
        recipe.save(force_insert=True)
        for row in (*steps, *doses):
            row.pk, row.recipe_id = None, recipe.pk
        RecipeStep.objects.of(studio).bulk_create(steps)
        RecipeDose.objects.of(studio).bulk_create(doses)
    runs = Run.objects.of(studio).bulk_create(
        Run(**here, code=f"run {n}", recipe_id=recipe.pk, fibre="wool", weight_mg=1000)
        for n in range(7 * times)
    )
    ShadeCard.objects.of(studio).bulk_create(ShadeCard(run=run, approved=True) for run in runs)
    FastnessWish.objects.of(studio).bulk_create(
        FastnessWish(run=run, what="light", wanted=Decimal(4)) for run in runs
    )
    _grow_calendar(studio, times)


def _grow_shelves(studio: Studio, count: int) -> None:
    def work(draft: Draft) -> None:
        for n in range(count):
            lot = NewLot(code=f"X{n}", what="onion skins", state="dried", place=Place("bench"))
            draft.move(draft.begin(lot), 1000, counted=1000)

    post(studio, entry=uuid4(), kind=Kind.RECEIVE, at=nov(1, 9), body={}, work=work)


def _grow_calendar(studio: Studio, times: int) -> None:
    days = [MONDAY + timedelta(days=n) for n in range(times)]
    Hours.objects.of(studio).bulk_create(Hours(who="x", day=day, hands_min=0) for day in days)
    Weather.objects.of(studio).bulk_create(Weather(day=day) for day in days)
    Chore.objects.of(studio).bulk_create(Chore(day=day, what="sweep", hands_min=1) for day in days)
    Block.objects.of(studio).bulk_create(
        Block(code=f"b{n}", what="class", since=nov(24, 9), until=nov(24, 10)) for n in range(times)
    )
    sources = Source.objects.of(studio).bulk_create(Source(name=f"s{n}") for n in range(3 * times))
    Agreement.objects.of(studio).bulk_create(
        Agreement(source=source, gives="nettle", days=[0], at=nov(1, 9).time(), likely_mg=1)
        for source in sources
    )
    PickUp.objects.of(studio).bulk_create(
        PickUp(source=source, gives="nettle", at=nov(n + 1, 9), how="made", weight_mg=1000)
        for source in sources
        for n in range(6)
    )
