"""A studio written out and loaded again is the same studio."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from itertools import count
from uuid import uuid4

import pytest
from django.db import transaction

from inventory import fibre, jars, ledger, lots
from inventory.entries import Place
from inventory.models import Studio
from inventory.posting import Posted
from inventory.studios import read_as
from sourcing.notebook.load import load_files
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.notebook.yard_pages import PAGES
from sourcing.outlook import facts_at
from sourcing.week.facts import WeekFacts
from tests.sourcing.notebook.desk import altered, yard_files

pytestmark = pytest.mark.django_db
NOW = datetime(2026, 11, 24, 9, 0, 7, 250_000, tzinfo=UTC)


class _Undone(Exception):
    """Leave nothing of a studio."""


def the_studio() -> Studio:
    return Studio.objects.get(name="Pellitory Yard")


def facts() -> WeekFacts:
    return facts_at(the_studio(), at=NOW + timedelta(hours=1), days=7)


def written() -> dict[str, bytes]:
    return files_for(notebook_of(the_studio(), at=NOW + timedelta(hours=1)))


def lived_in() -> tuple[WeekFacts, dict[str, bytes]]:
    """Facts and pages of the demo studio after a busy morning; nothing of it stays."""
    found: list[tuple[WeekFacts, dict[str, bytes]]] = []
    try:
        with transaction.atomic():
            load_files(yard_files())
            _busy_morning(the_studio())
            found.append((facts(), written()))
            raise _Undone
    except _Undone:
        return found[0]


def _busy_morning(studio: Studio) -> None:
    minutes = (NOW + timedelta(minutes=n) for n in count())

    def do(verb: Callable[..., Posted], **values: object) -> None:
        verb(studio, entry=uuid4(), at=next(minutes), **values)

    do(ledger.draw, takes=[("AV-0911", 123_457), ("alum", 1)])
    do(ledger.put_by, lot="CB-1121", state="frozen", place=Place("freezer", "freezer"),
       amount=480_000, code="CB-1121 b")  # fmt: skip
    do(ledger.put_by, lot="AV-1116", state="frozen", place=Place("freezer", "freezer", -18.5))
    do(lots.judge, lot="AV-1109", sound=False)
    do(lots.set_aside, lot="NE-0620", reason="=smells odd")
    do(jars.draw, jar="J2", volume=100_001)
    do(jars.draw, jar="J2", volume=7)
    do(jars.top_up, jar="J1", volume=300_000, vinegar_parts=0, acid_percent=Decimal(0))
    do(jars.keep_at, jar="J1", temperature_c=12.5)
    do(jars.dip, jar="J1", grade=3, metal_mg_per_l=2500.5)
    do(jars.evaporate, jar="J3", left=1_400_000)
    do(lots.set_aside, lot="J3", reason="a skin on it")
    do(ledger.recount, lot="J4", found=1_050_000)
    do(fibre.scour, lot="W-88", amount=1_000_000, weighs=951_234, code="W-88 a", damp=True)


def test_a_studio_loaded_from_its_own_pages_has_the_same_facts() -> None:
    load_files(yard_files())
    before, pages = facts(), written()
    _replace_with(pages)

    assert facts() == before


def test_the_second_writing_is_the_first_to_the_byte() -> None:
    load_files(yard_files())
    pages = written()
    _replace_with(pages)

    assert written() == pages


def _replace_with(pages: dict[str, bytes]) -> None:
    """The studio gives its name away, and is loaded anew from its pages."""
    old = the_studio()
    Studio.objects.filter(pk=old.pk).update(name="Old Yard")
    load_files(pages)


def test_a_lived_in_studio_comes_back_with_the_same_facts() -> None:
    before, pages = lived_in()

    load_files(pages)

    after = facts()
    for mine, theirs in zip(after.shelf.jars, before.shelf.jars, strict=True):
        assert mine == theirs
    assert after.shelf == before.shelf
    assert after == before
    assert written() == pages


def test_how_a_studio_is_read_goes_along_and_an_older_notebook_leaves_it() -> None:
    load_files(yard_files())
    older = written()
    read_as(the_studio(), language="de", number_form="comma", units="imperial")
    pages = written()

    Studio.objects.update(language="", number_form="", units="")
    load_files(pages)
    assert _read_as(the_studio()) == ("de", "comma", "imperial")
    load_files(older)
    assert _read_as(the_studio()) == ("de", "comma", "imperial")
    pages["studio.csv"] = pages["studio.csv"].replace(b"imperial", b"stones")
    with pytest.raises(NotebookRefused) as refused:
        load_files(pages)
    assert [row.write for row in refused.value.problems] == ["Write metric, imperial or us."]


def _read_as(studio: Studio) -> tuple[str, str, str]:
    return studio.language, studio.number_form, studio.units


def test_draws_of_one_moment_are_written_in_one_row() -> None:
    load_files(yard_files())
    for volume in (100_000, 50_000):
        jars.draw(the_studio(), entry=uuid4(), at=NOW, jar="J2", volume=volume)

    rows = written()["jar_events.csv"].decode().splitlines()

    assert rows[2] == "J2,Tue 24 Nov 2026 09:00:07.25,drawn,150 mL,,,"


def test_what_a_spreadsheet_would_work_out_is_kept_from_it() -> None:
    _, pages = lived_in()

    assert b",'=smells odd," in pages["lots.csv"]


def test_an_older_recipe_of_a_run_under_way_is_written_too() -> None:
    begun = altered("runs.csv", "2026 09:00,,,yes,,,no,", "2026 09:00,,,yes,,,yes,")
    load_files(begun)
    changed = altered("doses.csv", "dyestuff,150 %", "dyestuff,160 %")
    load_files({**changed, "runs.csv": begun["runs.csv"]})
    before, pages = facts(), written()

    _replace_with(pages)

    assert b"\r\nblush version 1,Blush," in pages["recipes.csv"]
    assert facts() == before


def test_every_page_is_written_in_lines_that_end_as_the_standard_says() -> None:
    load_files(yard_files())

    pages = written()

    assert set(pages) == {page.file for page in PAGES}
    for raw in pages.values():
        assert raw.endswith(b"\r\n")
        assert raw.count(b"\n") == raw.count(b"\r\n")


def test_amounts_and_moments_are_written_as_people_read_them() -> None:
    load_files(yard_files())

    pages = {name: raw.decode().splitlines() for name, raw in written().items()}

    assert pages["lots.csv"][4].startswith(
        'AV-1116,avocado stones,"1,180 g",fresh,fridge,Mon 16 Nov 2026 17:00,'
    )
    assert pages["jars.csv"][1].startswith(
        "J1,Iron 7,iron,2 water : 1 vinegar,5 %,Tue 17 Nov 2026 09:00,3 L,3 L,8 °C,"
    )
    assert pages["steps.csv"][4].startswith("blush,4,dye,dye,pot,,mixed > 80 hold 60 min,")
    assert pages["doses.csv"][1] == "blush,hot alum,alum,supply,12 %,"
