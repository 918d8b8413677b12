"""One row of a page: read, written, taken out, and what keeps it from going."""

from __future__ import annotations

from datetime import UTC, datetime
from uuid import uuid4

import pytest

from inventory import vessels
from inventory.models import Posting, Ring, Studio, Vessel
from sourcing.models import Hours, Recipe, RecipeDose, Run
from sourcing.notebook.history_pages import RECORDED_BY
from sourcing.notebook.load import load_files
from sourcing.notebook.notebook import files_of
from sourcing.notebook.one_row import KeptRow, Look, Wanted, put_row, row_of, rows_of
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.row_errors import (
    NoSuchRow,
    RowIsHistory,
    RowPointedAt,
    StudioStays,
)
from sourcing.notebook.row_key import key_cells_in, key_text
from sourcing.notebook.take_out import delete_row
from sourcing.notebook.yard_pages import BY_NAME, PAGES
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import YARD

NOW = datetime(2026, 11, 24, 9, 0, tzinfo=UTC)
STANDING = [page for page in PAGES if page.name not in RECORDED_BY]
pytestmark = pytest.mark.django_db


@pytest.fixture
def yard() -> Studio:
    load_fixture()
    return Studio.objects.get()


def row(studio: Studio, page: str, key: str) -> KeptRow:
    return row_of(studio, BY_NAME[page], key, at=NOW)


ANY = "*"


class Otherwise(Exception):
    """What stands there is not what was read."""


def shown(*marks: str) -> Look:
    """Stops what was made of another state than one of these; of any row without one."""

    def look(mark: str | None) -> None:
        if (mark is None) if marks == (ANY,) else mark not in (marks or (None,)):
            raise Otherwise

    return look


def put(studio: Studio, page: str, key: str, *marks: str, **cells: str) -> tuple[KeptRow, bool]:
    """Written with those marks, or as new without one."""
    wanted = Wanted({name.replace("_", " "): cell for name, cell in cells.items()})
    return put_row(studio, BY_NAME[page], key, wanted, at=NOW, look=shown(*marks))


def take_out(studio: Studio, page: str, key: str, mark: str = ANY) -> None:
    delete_row(studio, BY_NAME[page], key, at=NOW, look=shown(mark))


def refused(studio: Studio, page: str, key: str, *marks: str, **cells: str) -> list[str]:
    with pytest.raises(NotebookRefused) as refusal:
        put(studio, page, key, *marks, **cells)
    return [str(problem) for problem in refusal.value.problems]


@pytest.mark.parametrize("folder", ["pellitory-yard", "kelpwick-loft"])
def test_every_standing_row_written_as_it_was_read_changes_nothing(folder: str) -> None:
    load_files(files_of(YARD.parent / folder)[0])
    studio = Studio.objects.get()
    postings = Posting.objects.of(studio).count()

    for page in STANDING:
        before = rows_of(studio, page, at=NOW)
        assert len({kept.key for kept in before}) == len(before)
        for kept in before[:1]:
            wanted = Wanted(kept.cells)
            again, new = put_row(studio, page, kept.key, wanted, at=NOW, look=shown(kept.mark))
            assert (again.cells, again.mark, new) == (kept.cells, kept.mark, False)
        assert [kept.mark for kept in rows_of(studio, page, at=NOW)] == [
            kept.mark for kept in before
        ]

    assert Posting.objects.of(studio).count() == postings
    assert Recipe.objects.of(studio).filter(version__gt=1).count() == 0


def test_a_row_is_made_read_changed_and_taken_out(yard: Studio) -> None:
    made, new = put(yard, "rings", "R3", power="2000 W", not_for="P1")
    assert (new, made.cells) == (True, {"ring": "R3", "power": "2 kW", "not for": "P1", "site": ""})

    changed, new = put(yard, "rings", "r3", made.mark, ring="R3", power="2.5 kW")
    assert (new, changed.cells["power"], changed.cells["not for"]) == (False, "2.5 kW", "")
    assert row(yard, "rings", "R3") == changed

    take_out(yard, "rings", "R3", changed.mark)
    assert Ring.objects.of(yard).filter(code="R3").count() == 0
    with pytest.raises(NoSuchRow, match="The page rings has no row “R3”"):
        row(yard, "rings", "R3")


def test_the_second_of_two_who_have_read_the_same_is_told_so(yard: Studio) -> None:
    read = row(yard, "rings", "R1")
    put(yard, "rings", "R1", read.mark, power="4 kW")

    with pytest.raises(Otherwise):
        put(yard, "rings", "R1", read.mark, power="5 kW")
    with pytest.raises(Otherwise):
        take_out(yard, "rings", "R1", read.mark)
    assert Ring.objects.of(yard).get(code="R1").watts == 4000
    put(yard, "rings", "R1", ANY, power="5 kW")
    assert Ring.objects.of(yard).get(code="R1").watts == 5000


def test_what_is_to_be_new_is_not_written_over_what_is_there(yard: Studio) -> None:
    with pytest.raises(Otherwise):
        put(yard, "rings", "R1", power="4 kW")
    with pytest.raises(Otherwise):
        put(yard, "rings", "R9", ANY, power="4 kW")
    assert Ring.objects.of(yard).filter(code="R9").count() == 0


def test_a_key_of_several_parts_is_one_word_in_an_address(yard: Studio) -> None:
    made, _ = put(
        yard, "hours", "the other dyer~Mon~~", hands="2 h", **{"from": "9:00"}, to="17:00"
    )

    assert made.key == "the other dyer~Mon~~"
    assert row(yard, "hours", "The Other Dyer~monday~~").cells == made.cells
    take_out(yard, "hours", made.key, made.mark)
    assert Hours.objects.of(yard).filter(who="the other dyer").count() == 0


@pytest.mark.parametrize("cells", [("a/b",), (".",), ("..",), ("a~b", ""), ("!", "~/\\", ".x")])
def test_no_sign_of_a_key_is_lost_on_the_way(cells: tuple[str, ...]) -> None:
    text = key_text(cells)

    assert key_cells_in(text) == cells
    assert "/" not in text
    assert text.strip(".")


def test_a_key_that_nobody_could_have_made_names_no_row(yard: Studio) -> None:
    for key in ("R1~R2", "!9", "", "~"):
        with pytest.raises(NoSuchRow):
            row(yard, "rings", key)
    assert refused(yard, "rings", "R1~R2", power="2 kW") == [
        'rings.csv: "R1~R2" stands there. The address of a row is made of ring, with ~ between. '
        "Look at those there are."
    ]


def test_what_is_wrong_with_a_row_is_said_by_column(yard: Studio) -> None:
    assert refused(yard, "rings", "R9", power="hot", not_for="P77") == [
        'rings.csv, column power: "hot" stands there. “hot” at character 1 was not understood. '
        "Write a power such as 3.5 kW."
    ]
    assert refused(yard, "rings", "R9", power="1 kW", not_for="P77") == [
        'rings.csv, column not for: "P77" stands there. vessels.csv has no P77. '
        "Add it to vessels.csv, or correct it."
    ]
    assert "cannot be seen" in refused(yard, "rings", "R\u200b9", power="1 kW")[0]
    assert "501 characters" in refused(yard, "sites", "shed", note="x" * 501)[0]


def test_a_row_keeps_its_name(yard: Studio) -> None:
    read = row(yard, "rings", "R1")

    assert refused(yard, "rings", "R1", read.mark, ring="R8", power="4 kW") == [
        'rings.csv, column ring: "R8" stands there. This address is of R1. Write that, or a new '
        "row under its own address."
    ]


def test_what_happened_is_neither_written_nor_taken_out(yard: Studio) -> None:
    with pytest.raises(RowIsHistory, match="Record it: receive, draw, put by"):
        put(yard, "lots", "AV-0911", amount="1 g")
    with pytest.raises(RowIsHistory):
        take_out(yard, "dips", "J2~x")
    with pytest.raises(StudioStays):
        take_out(yard, "studio", "Pellitory Yard")


@pytest.mark.parametrize(
    ("page", "key", "by"),
    [
        ("vessels", "P1", "rings R2 names it under not for"),
        ("rings", "R1", "blocks group names it under rings"),
        ("sources", "Lantern Steps café", "agreements Lantern Steps café~avocado stones names it"),
        ("cold_places", "fridge", "names it under place"),
        ("recipes", "blush", "runs A names it under recipe"),
        ("runs", "B", "gates B~"),
        ("steps", "blush~3", 'without it, doses.csv, line 3, column step: "extract"'),
    ],
)
def test_what_others_name_cannot_go(yard: Studio, page: str, key: str, by: str) -> None:
    before = rows_of(yard, BY_NAME[page], at=NOW)

    with pytest.raises(RowPointedAt) as refusal:
        take_out(yard, page, key)

    assert by in str(refusal.value)
    assert rows_of(yard, BY_NAME[page], at=NOW) == before


def test_a_pot_with_a_history_cannot_go(yard: Studio) -> None:
    put(yard, "vessels", "P9", kind="pot", material="iron", brim="9 L")
    vessels.chip(yard, entry=uuid4(), at=NOW, vessel="P9")

    with pytest.raises(RowPointedAt, match="1 × vessel use in its history hangs on it"):
        take_out(yard, "vessels", "P9")
    assert Vessel.objects.of(yard).filter(code="P9").count() == 1


def test_a_recipe_is_written_with_its_steps_and_doses(yard: Studio) -> None:
    read = row(yard, "recipes", "blush")
    steps = [part.cells for part in read.parts["steps"]]
    doses = [part.cells for part in read.parts["doses"]]
    wanted = Wanted({**read.cells, "recipe": "dusk", "shade": "Dusk"},
                    {"steps": steps, "doses": doses})  # fmt: skip

    made, new = put_row(yard, BY_NAME["recipes"], "dusk", wanted, at=NOW, look=shown())

    assert new
    assert [part.cells["step"] for part in made.parts["steps"]] == [s["step"] for s in steps]
    assert len(made.parts["doses"]) == len(doses) > 1
    fewer = Wanted(made.cells, {"doses": doses[:-1]})
    changed, _ = put_row(yard, BY_NAME["recipes"], "dusk", fewer, at=NOW, look=shown(made.mark))
    assert (changed.mark != made.mark, len(changed.parts["doses"])) == (True, len(doses) - 1)
    take_out(yard, "recipes", "dusk", changed.mark)
    assert Recipe.objects.of(yard).filter(code="dusk").count() == 0


def test_a_recipe_without_steps_is_not_begun(yard: Studio) -> None:
    found = refused(yard, "recipes", "dusk", shade="Dusk", fibres="wool", ratio="30:1", bright="no")

    assert found == ['recipes.csv, column recipe: "dusk" stands there. It has no steps. '
                     "Add them to steps.csv."]  # fmt: skip


def test_one_dose_changes_its_recipe_and_no_other_dose(yard: Studio) -> None:
    read = row(yard, "doses", "blush~extract~avocado stones")

    put(yard, "doses", read.key, read.mark, kind="dyestuff", amount="160 %")

    recipe = Recipe.objects.of(yard).get(code="blush", version=2)
    doses = RecipeDose.objects.of(yard).filter(recipe=recipe).order_by("number")
    old = RecipeDose.objects.of(yard).filter(recipe__code="blush", recipe__version=1)
    assert [dose.what for dose in doses] == [dose.what for dose in old.order_by("number")]
    assert Run.objects.of(yard).select_related("recipe").get(code="A").recipe.version == 1


def test_rows_of_another_studio_are_not_found(yard: Studio) -> None:
    load_files({"studio.csv": b"studio,zone\nWash House,Europe/London\n"})
    other = Studio.objects.get(name="Wash House")

    assert rows_of(other, BY_NAME["rings"], at=NOW) == ()
    with pytest.raises(NoSuchRow):
        row(other, "rings", "R1")
    with pytest.raises(Otherwise):
        take_out(other, "rings", "R1")
    assert Ring.objects.of(yard).count() == 2
