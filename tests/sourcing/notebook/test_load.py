"""A notebook in the database: all of it or nothing, and once."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from uuid import uuid4

import pytest

from inventory import ledger
from inventory.audit import audit
from inventory.models import Lot, Movement, Posting, Studio, StudioRule, Vessel
from inventory.shelves import shelf_at
from sourcing.models import PickUp, Recipe, RecipeStep, Run, Source
from sourcing.notebook.cells import LONGEST
from sourcing.notebook.load import Loaded, load, load_files
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Row
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.yard_pages import BY_NAME
from tests.sourcing.notebook.desk import altered, pages, yard, yard_files

pytestmark = pytest.mark.django_db
MONDAY = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)


def refused(files: dict[str, bytes]) -> list[str]:
    """What a notebook is refused for."""
    with pytest.raises(NotebookRefused) as refusal:
        load_files(files)
    return [str(problem) for problem in refusal.value.problems]


def studio() -> Studio:
    return Studio.objects.get(name="Pellitory Yard")


def test_every_row_of_the_demo_studio_is_loaded() -> None:
    loaded = load_files(yard_files())

    lines = {
        file.removesuffix(".csv"): len(list(csv.reader(io.StringIO(raw.decode())))) - 1
        for file, raw in yard_files().items()
    }
    own_pages = {name: count for name, count in lines.items() if count}
    # Steps and doses are part of their recipe, and counted with it.
    assert {**loaded.new, "steps": lines["steps"], "doses": lines["doses"]} == own_pages
    assert loaded.changed == {}
    assert RecipeStep.objects.of(studio()).count() == lines["steps"]


def test_the_ledger_of_a_loaded_studio_passes_its_audit() -> None:
    load_files(yard_files())

    assert audit() == []


def test_the_same_folder_twice_changes_nothing() -> None:
    load_files(yard_files())
    before = (Posting.objects.of(studio()).count(), Movement.objects.of(studio()).count())

    again = load_files(yard_files())

    assert again == Loaded("Pellitory Yard")
    assert str(again) == "Pellitory Yard: nothing new."
    assert (Posting.objects.of(studio()).count(), Movement.objects.of(studio()).count()) == before


def test_the_same_folder_changes_nothing_after_something_was_drawn() -> None:
    load_files(yard_files())
    ledger.draw(studio(), entry=uuid4(), at=MONDAY, takes=[("AV-0911", 100_000)])

    assert load_files(yard_files()) == Loaded("Pellitory Yard")

    lots = {lot.code: lot.left_mg for lot in shelf_at(studio(), at=MONDAY).lots}
    assert lots["AV-0911"] == 1_800_000


def test_a_dry_run_keeps_nothing() -> None:
    loaded = load_files(yard_files(), dry_run=True)

    assert loaded.new["lots"] == 9
    assert not Studio.objects.exists()


def test_a_dry_run_names_the_same_problems() -> None:
    files = altered("lots.csv", "fresh,fridge", "fresh,frigde")

    with pytest.raises(NotebookRefused) as refusal:
        load_files(files, dry_run=True)

    assert [str(problem) for problem in refusal.value.problems] == refused(files)


def test_one_wrong_cell_in_the_last_page_keeps_everything_out() -> None:
    files = altered("gates.csv", "A,shade card", "Z,shade card")

    assert refused(files) == [
        'gates.csv, line 2, column run: "Z" stands there. runs.csv has no Z. '
        "Add it to runs.csv, or correct it."
    ]
    assert not Studio.objects.exists()


def test_a_refusal_by_the_shelves_keeps_everything_out_and_names_its_row() -> None:
    load_files(pages(supplies="supply,what,left\nalum,alum,900 g\n"))
    here = Studio.objects.get()
    new = ledger.NewLot(code="tannin", what="tannin", kind="supply")
    ledger.receive(here, entry=uuid4(), at=MONDAY, lot=new, amount=1000)

    found = refused(
        pages(supplies="supply,what,left\nsoda,soda crystals,1 kg\ntannin,tannin,5 g\n")
    )

    assert found == [
        'supplies.csv, line 3, column supply: "tannin" stands there. There is a lot tannin '
        "already. Give the new one a code of its own."
    ]
    assert not Lot.objects.of(here).filter(code="soda").exists()


def test_what_happened_is_not_changed_by_another_folder() -> None:
    load_files(yard_files())

    assert refused(altered("lots.csv", '"1,900 g"', '"1,901 g"')) == [
        'lots.csv, line 2, column lot: "AV-0911" stands there. This was loaded before with other '
        "words or amounts, and what happened is not changed. Write it as it was, and record the "
        "change in the studio."
    ]


def test_the_same_amount_in_other_words_is_the_same_entry() -> None:
    load_files(yard_files())

    assert load_files(altered("lots.csv", '"1,900 g"', "1.9 kg")) == Loaded("Pellitory Yard")


def test_wishes_hours_and_pots_may_change() -> None:
    load_files(yard_files())

    for file, old, new in (
        ("runs.csv", '"2,000 g"', '"1,900 g"'),
        ("hours.csv", "dyer,Mon,6 h", "dyer,Mon,5 h"),
        ("vessels.csv", "60 L,48 L", "60 L,47 L"),
    ):
        loaded = load_files(altered(file, old, new))
        assert (dict(loaded.new), dict(loaded.changed)) == ({}, {file.removesuffix(".csv"): 1})
        load_files(yard_files())
    assert Run.objects.of(studio()).get(code="A").weight_mg == 2_000_000


def test_a_changed_recipe_becomes_a_new_version_that_waiting_runs_use() -> None:
    load_files(yard_files())

    loaded = load_files(altered("doses.csv", "blush,extract,avocado stones,dyestuff,150 %",
                                "blush,extract,avocado stones,dyestuff,160 %"))  # fmt: skip

    versions = Recipe.objects.of(studio()).filter(code="blush").order_by("version")
    assert [recipe.version for recipe in versions] == [1, 2]
    assert dict(loaded.changed) == {"recipes": 1, "runs": 2}  # A and G
    assert Run.objects.of(studio()).select_related("recipe").get(code="A").recipe.version == 2


def test_a_run_under_way_keeps_the_recipe_that_it_began_with() -> None:
    begun = altered("runs.csv", "2026 09:00,,,yes,,,no,", "2026 09:00,,,yes,,,yes,")
    load_files(begun)

    changed = altered("doses.csv", "dyestuff,150 %", "dyestuff,160 %")
    load_files({**changed, "runs.csv": begun["runs.csv"]})

    runs = Run.objects.of(studio()).select_related("recipe")
    assert runs.get(code="A").recipe.version == 1
    assert runs.get(code="G").recipe.version == 2


def test_a_lot_counted_by_the_piece_weighs_by_the_studios_own_figure() -> None:
    load_files(
        altered("lots.csv", "AV-1109,avocado stones,640 g", "AV-1109,avocado stones,10 stones")
    )

    lots = {lot.code: lot.left_mg for lot in shelf_at(studio(), at=MONDAY).lots}
    assert lots["AV-1109"] == 420_000  # 10 at 42 g


def test_a_lot_keeps_where_it_was_before() -> None:
    stays = "lot,since,state,place,warmth\nAV-1116,Sun 15 Nov 2026 18:00,fresh,bench,9.5 °C\n"
    load_files({**yard_files(), "stays.csv": stays.encode()})

    lots = {lot.code: lot for lot in shelf_at(studio(), at=MONDAY).lots}
    assert [(stay.place, stay.temperature_c) for stay in lots["AV-1116"].stays] == [
        ("bench", 9.5),
        ("fridge", None),
    ]


def test_a_jar_keeps_all_that_happened_to_it_in_order() -> None:
    jars = (
        "jar,name,metal,parts,vinegar,begun,begun with,left,warmth\n"
        "J1,Iron 1,iron,2 water : 1 vinegar,5 %,Sun 1 Nov 2026 09:00,2 L,1.95 L,8 °C\n"
    )
    events = (
        "jar,at,what,amount,parts,vinegar,warmth\n"
        "J1,Wed 4 Nov 2026 09:00,evaporated,50 mL,,,\n"
        "J1,Tue 3 Nov 2026 09:00,drawn,500 mL,,,\n"
        "J1,Mon 2 Nov 2026 09:00,topped up,500 mL,1 water : 1 vinegar,6 %,\n"
        "J1,Thu 5 Nov 2026 09:00,kept at,,,,20 °C\n"
        "J1,Fri 6 Nov 2026 09:00,strained,,,,\n"
    )
    load_files(pages(jars=jars, jar_events=events))

    jar = shelf_at(Studio.objects.get(), at=MONDAY).jars[0]
    assert jar.left_ul == 1_950_000
    assert (jar.vinegar_parts, jar.water_parts) == (Fraction(1, 3), Fraction(2, 3))
    assert [(event.kind, event.volume_ul) for event in jar.events] == [
        ("topped up", 500_000),
        ("drawn", 500_000),
        ("evaporated", 50_000),
        ("kept at", 0),
        ("strained", 0),
    ]
    assert (jar.events[0].vinegar_parts, jar.events[0].acid_percent) == (Fraction(1, 2), Decimal(6))


def test_a_pot_without_working_litres_gets_them_by_the_fill_rule() -> None:
    load_files(
        pages(
            vessels="vessel,kind,material,brim\nP1,pot,stainless,50 L\n",
            rules="item,rule,value\nstudio,fill fraction,70 %\n",
        )
    )

    assert Vessel.objects.of(Studio.objects.get()).get().working_ml == 35_000


def test_a_figure_is_kept_in_the_unit_of_its_rule() -> None:
    load_files(
        pages(
            rules="item,rule,value,since\n"
            "wool,scour loss fraction,5 %,\n"
            "wool,scour loss fraction,4 %,1 Mar 2026\n"
            "studio,drying h,2 d,\n"
        )
    )

    rules = StudioRule.objects.of(Studio.objects.get()).order_by("item", "since")
    assert {(rule.name, rule.since, rule.value) for rule in rules} == {
        ("scour_loss_fraction", None, Decimal("0.05")),
        ("scour_loss_fraction", date(2026, 3, 1), Decimal("0.04")),
        ("drying_h", None, Decimal(48)),
    }


def test_two_studios_may_use_the_same_codes() -> None:
    load_files(yard_files())
    load_files(altered("studio.csv", "Pellitory Yard", "Wash House"))

    assert Studio.objects.count() == 2
    assert (
        Lot.objects.of(studio()).count()
        == 24
        == len(Lot.objects.of(Studio.objects.get(name="Wash House")))
    )


def test_a_studio_brings_its_own_zone_up_to_date() -> None:
    load_files(yard_files())
    here = studio()

    load_files(altered("studio.csv", "Ottersill", "Under Ottersill"))

    here.refresh_from_db()
    assert here.region == "Under Ottersill"


def test_a_folder_of_three_hundred_rows_is_loaded() -> None:
    first = datetime(2020, 1, 6, 17, tzinfo=UTC)
    days = [first + timedelta(days=3 * n) for n in range(300)]
    rows = [f"café,onion skins,{day:%Y-%m-%d %H:%M},made,{n + 1} g" for n, day in enumerate(days)]
    files = pages(
        sources="source\ncafé\n",
        pickups="\n".join(["source,gives,at,pick-up,amount", *rows]),
    )

    loaded = load_files(files)

    assert loaded.new["pickups"] == 300
    here = Studio.objects.get()
    assert sum(row.weight_mg or 0 for row in PickUp.objects.of(here)) == 45_150_000  # 300×301÷2 g
    assert Source.objects.of(here).count() == 1
    assert load_files(files) == Loaded("Wash House")


def test_the_longest_texts_that_are_read_fit_the_tables() -> None:
    notebook = yard()

    def longest(row: Row) -> Row:
        values = dict(row.values)
        for column in BY_NAME[row.page].columns:
            free = column.name not in BY_NAME[row.page].key and not column.refers
            if free and column.kind in ("text", "name") and column.name not in KEPT:
                values[column.name] = "x" * (column.most or LONGEST[column.kind])
        if row.page == "pickups":
            values["nests on"] = date(2026, 5, 4)  # whoever looked for nests did so on a day
        return replace(row, values=values)

    rows = {page: tuple(map(longest, rows)) for page, rows in notebook.rows.items()}

    loaded = load(Notebook(notebook.setting, rows))

    assert loaded.new["lots"] == 9
    assert len(Lot.objects.of(Studio.objects.get()).get(code="PR-1003").permission) == 200


# Names that other pages, or a calendar, are checked against.
KEPT = ("dyestuff", "gives", "what", "item", "step", "shade", "region")
