"""One page of a studio that is there already: read, handed in, refused."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import UTC, datetime
from uuid import uuid4

import pytest

from inventory import ledger
from inventory.models import Lot, Posting, Studio, Vessel, VesselUse
from inventory.shelves import shelf_at
from sourcing.models import Recipe, RecipeDose, Run
from sourcing.notebook.load import Loaded, load_files
from sourcing.notebook.notebook import files_of
from sourcing.notebook.one_page import load_page, load_pages, page_of
from sourcing.notebook.page import Page
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.notebook.yard_pages import BY_NAME, PAGES
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import YARD

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 11, 24, 9, 0, tzinfo=UTC)


@pytest.fixture
def yard() -> Studio:
    load_fixture()
    return Studio.objects.get()


def csv_of(studio: Studio, page: str) -> str:
    return page_of(studio, BY_NAME[page], at=NOW).decode()


def written(studio: Studio) -> dict[str, bytes]:
    """All pages, made at once: each alone takes as long."""
    return files_for(notebook_of(studio, at=NOW))


def put(studio: Studio, page: str, text: str, *, dry_run: bool = False) -> Loaded:
    return load_page(studio, BY_NAME[page], text.encode(), at=NOW, dry_run=dry_run)


def altered(studio: Studio, page: str, old: str, new: str) -> Loaded:
    text = csv_of(studio, page)
    assert old in text, text
    return put(studio, page, text.replace(old, new, 1))


def refused(studio: Studio, page: str, text: str) -> list[str]:
    with pytest.raises(NotebookRefused) as refusal:
        put(studio, page, text)
    return [str(problem) for problem in refusal.value.problems]


def news(loaded: Loaded) -> tuple[Mapping[str, int], Mapping[str, int]]:
    return dict(loaded.new), dict(loaded.changed)


@pytest.mark.parametrize("folder", ["pellitory-yard", "kelpwick-loft"])
def test_every_page_handed_in_again_as_it_was_read_changes_nothing(folder: str) -> None:
    files, _ = files_of(YARD.parent / folder)
    load_files(files)
    studio = Studio.objects.get()
    ledger.draw(studio, entry=uuid4(), at=NOW, takes=[(Lot.objects.of(studio)
                .filter(kind="dyestuff").order_by("code")[0].code, 123_457)])  # fmt: skip
    before = written(studio)
    postings = Posting.objects.of(studio).count()

    for page in PAGES:
        told = load_page(studio, page, before[page.file], at=NOW)
        assert news(told) == ({}, {}), page.name

    assert written(studio) == before
    assert Posting.objects.of(studio).count() == postings


def test_all_pages_together_change_nothing_either(yard: Studio) -> None:
    assert news(load_pages(yard, written(yard), at=NOW)) == ({}, {})


@pytest.mark.parametrize("page", [PAGES[0], BY_NAME["vessels"], BY_NAME["runs"], PAGES[-1]])
def test_a_page_alone_is_the_file_that_it_is_among_all(yard: Studio, page: Page) -> None:
    assert page_of(yard, page, at=NOW) == written(yard)[page.file]


def test_only_the_rows_that_say_otherwise_are_changed(yard: Studio) -> None:
    assert news(altered(yard, "hours", "dyer,Mon,6 h", "dyer,Mon,5 h")) == (
        {}, {"hours": 1},
    )  # fmt: skip
    assert news(altered(yard, "vessels", "60 L,48 L", "60 L,47 L")) == ({}, {"vessels": 1})
    assert Vessel.objects.of(yard).filter(working_ml=47_000).count() == 1


def test_a_row_that_is_left_out_stays_in_the_studio(yard: Studio) -> None:
    heading, *_ = csv_of(yard, "vessels").splitlines()

    assert news(put(yard, "vessels", f"{heading}\r\n")) == ({}, {})
    assert Vessel.objects.of(yard).count() == 7


def test_a_page_is_checked_against_what_the_studio_has(yard: Studio) -> None:
    rows = "ring,power,not for\nR3,2 kW,P99\nR4,fast,\n"

    assert refused(yard, "rings", rows) == [
        'rings.csv, line 2, column not for: "P99" stands there. vessels.csv has no P99. '
        "Add it to vessels.csv, or correct it.",
        'rings.csv, line 3, column power: "fast" stands there. “fast” at character 1 was '
        "not understood. Write a power such as 3.5 kW.",
    ]


def test_a_change_that_another_page_does_not_bear_is_refused(yard: Studio) -> None:
    text = csv_of(yard, "recipes").replace("blush,Blush,wool,", "blush,Blush,linen,")

    found = refused(yard, "recipes", text)

    assert len(found) == 2
    assert all("The recipe is for linen." in sentence for sentence in found)


def test_what_happened_is_not_changed_by_writing_it(yard: Studio) -> None:
    text = csv_of(yard, "lots").replace('"1,900 g"', '"1,800 g"')
    before = shelf_at(yard, at=NOW)

    assert refused(yard, "lots", text) == [
        'lots.csv, line 2, column amount: "1,800 g" stands there. 1,900 g stands here, and what '
        "happened is not changed by writing it. Record it: receive, draw, put by, weigh again, "
        "recount or tip out."
    ]
    assert shelf_at(yard, at=NOW) == before


def test_a_new_lot_and_what_happens_to_a_jar_are_brought_in(yard: Studio) -> None:
    lot = "lot,dyestuff,amount,state,place,since\nON-1,onion skins,2 lb 3 oz,dried,dry store,"

    assert news(put(yard, "lots", f"{lot}23 Nov 2026 17:00\n")) == ({"lots": 1}, {})
    drawn = "jar,at,what,amount\nJ1,23 Nov 2026 18:00,drawn,250 mL\n"
    assert news(put(yard, "jar_events", drawn)) == ({"jar_events": 1}, {})
    assert news(put(yard, "jar_events", drawn)) == ({}, {})

    shelf = shelf_at(yard, at=NOW)
    assert {row.code: row.left_mg for row in shelf.lots}["ON-1"] == 992_233
    assert {row.code: row.left_ul for row in shelf.jars}["J1"] == 2_750_000


def test_more_than_a_jar_holds_is_not_drawn_from_it(yard: Studio) -> None:
    drawn = "jar,at,what,amount\nJ1,23 Nov 2026 18:00,drawn,3.1 L\n"

    assert "More was taken than there was." in " ".join(refused(yard, "jar_events", drawn))


def test_where_a_standing_lot_was_is_not_written_afterwards(yard: Studio) -> None:
    stays = "lot,since,state,place\nAV-1116,Sun 15 Nov 2026 18:00,fresh,bench\n"

    assert "The lot is on the shelf already" in refused(yard, "stays", stays)[0]


def test_a_changed_dose_makes_a_new_version_with_all_other_doses(yard: Studio) -> None:
    assert news(altered(yard, "doses", "avocado stones,dyestuff,150 %",
                        "avocado stones,dyestuff,160 %")) == ({}, {"recipes": 1})  # fmt: skip

    versions = list(Recipe.objects.of(yard).filter(code="blush").order_by("version"))
    assert [row.version for row in versions] == [1, 2]
    counts = [RecipeDose.objects.of(yard).filter(recipe=row).count() for row in versions]
    assert counts[0] == counts[1] > 1


def test_the_older_version_of_a_run_under_way_stays_as_it_was(yard: Studio) -> None:
    Run.objects.of(yard).filter(code="A").update(begun=True)
    altered(yard, "doses", "avocado stones,dyestuff,150 %", "avocado stones,dyestuff,160 %")
    assert "\r\nblush version 1,Blush," in csv_of(yard, "recipes")

    assert news(altered(yard, "runs", "A,blush version 1,wool,\"2,000 g\"",
                        "A,blush version 1,wool,\"1,900 g\"")) == ({}, {"runs": 1})  # fmt: skip
    assert Run.objects.of(yard).select_related("recipe").get(code="A").recipe.version == 1
    text = csv_of(yard, "recipes").replace("blush version 1,Blush", "blush version 1,Blusher")
    assert "Runs were begun with that version" in refused(yard, "recipes", text)[0]


def test_iron_in_a_pot_is_recorded_once_and_not_by_writing(yard: Studio) -> None:
    uses = VesselUse.objects.of(yard).count()
    text = csv_of(yard, "vessels")
    line = next(row for row in text.splitlines() if "Nov 2026" in row)
    code = line.split(",")[0]

    put(yard, "vessels", text.replace(f"{code},pot", f"{code},tub"))
    assert VesselUse.objects.of(yard).count() == uses
    later = text.replace("Mon 9 Nov 2026", "Tue 10 Nov 2026")
    assert "that is not changed by writing it." in " ".join(refused(yard, "vessels", later))


def test_a_studio_keeps_its_name_and_the_day_it_began(yard: Studio) -> None:
    text = csv_of(yard, "studio")

    assert "It is written Pellitory Yard here." in refused(
        yard, "studio", text.replace("Pellitory Yard", "Other Yard")
    )[0]  # fmt: skip
    assert news(put(yard, "studio", text.replace("Ottersill", "Nether Ottersill"))) == (
        {}, {"studio": 1},
    )  # fmt: skip
    assert Studio.objects.get().region == "Nether Ottersill"


def test_a_dry_run_keeps_nothing(yard: Studio) -> None:
    rings = "ring,power\nR3,2 kW\n"

    assert news(put(yard, "rings", rings, dry_run=True)) == ({"rings": 1}, {})
    assert "R3" not in csv_of(yard, "rings")
    assert news(put(yard, "rings", rings)) == ({"rings": 1}, {})


def test_another_studio_is_not_touched(yard: Studio) -> None:
    load_files({"studio.csv": b"studio,zone\nWash House,Europe/London\n"})
    other = Studio.objects.get(name="Wash House")

    put(other, "rings", "ring,power\nR1,9 kW\n")

    assert "9 kW" not in csv_of(yard, "rings")
    assert "no such" not in csv_of(other, "rings")
    assert refused(other, "rings", "ring,power,not for\nR1,9 kW,P1\n")
