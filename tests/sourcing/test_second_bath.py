"""A shade dyed in the second bath of another, from the notebook on: Haze after Blush.

Blush (A) is 2,000 g of wool in 60 L, 30 L a kilo; as much cloth again takes half its shade. Haze is
40 % of it: 30 x 0.4 / 0.5 = 24 L of the bath for each kilo.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from django.db import IntegrityError, transaction

from inventory.models import Studio
from sourcing.models import Recipe
from sourcing.notebook.load import load_files
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.recipe_cells import recipe_cells
from sourcing.notebook.write_yard import recipe_values
from sourcing.outlook import facts_at
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import nov

pytestmark = pytest.mark.django_db

HAZE = "haze,Haze,wool,30:1,alum 12 %,yes,yes,blend,,,,no,2,blush,40 %"
STEPS = (
    "haze,1,scour,scour,pot,,fresh > 55 hold 60 min,,no,,30 min per load,,no,,,no,no,",
    "haze,2,hot alum,mordant,pot,,fresh > 82 hold 60 min,,yes,,30 min per load,,no,,,no,no,",
    "haze,3,dye,dye,pot,,fresh > 80 hold 60 min,,yes,,45 min per load,,no,,,no,no,",
    "haze,4,rinse,rinse,,,,,no,,30 min per kg,,no,,,no,no,",
)


def haze_yard(row: str = HAZE, steps: tuple[str, ...] = STEPS) -> dict[str, bytes]:
    """The demo studio's files with a shade more, dyed in what Blush leaves."""
    files = yard_files()
    head, *rows = files["recipes.csv"].decode().splitlines()
    recipes = [f"{head},second bath of,strength", *(f"{line},," for line in rows), row, ""]
    more = files["steps.csv"].decode().splitlines()
    commas = more[0].count(",")
    padded = [line + "," * (commas - line.count(",")) for line in steps]
    doses = files["doses.csv"].decode() + "haze,hot alum,alum,supply,12 %,\n"
    return {
        **files,
        "recipes.csv": "\n".join(recipes).encode(),
        "steps.csv": "\n".join([*more, *padded, ""]).encode(),
        "doses.csv": doses.encode(),
    }


def refused(files: dict[str, bytes]) -> list[tuple[str, str]]:
    with pytest.raises(NotebookRefused) as found:
        load_files(files)
    return [(row.column, row.write) for row in found.value.problems]


@pytest.fixture
def studio() -> Studio:
    load_files(haze_yard())
    return Studio.objects.get()


def test_whose_second_bath_it_is_is_read_from_the_notebook_and_written_again(
    studio: Studio,
) -> None:
    row = Recipe.objects.of(studio).get(code="haze")
    cells = recipe_cells(studio, "haze")

    assert (row.second_of, row.strength) == ("blush", Fraction(2, 5))
    assert recipe_values(row, "haze")["second bath of"] == "blush"
    assert cells is not None
    assert cells.cells["strength"] == "40 %"
    assert Recipe.objects.of(studio).get(code="blush").second_of == ""


def test_the_week_reads_it_among_its_facts(studio: Studio) -> None:
    recipes = {row.code: row for row in facts_at(studio, at=nov(23, 7, 30), days=7).recipes}

    assert (recipes["haze"].second_of, recipes["haze"].strength) == ("blush", Fraction(2, 5))
    assert (recipes["slate"].second_of, recipes["slate"].strength) == ("", None)


def test_an_older_notebook_leaves_each_recipe_in_its_version(studio: Studio) -> None:
    load_files(haze_yard())

    assert set(Recipe.objects.of(studio).values_list("version", flat=True)) == {1}


def test_a_strength_without_a_bath_is_refused() -> None:
    said = refused(haze_yard(HAZE.replace("blush,40 %", ",40 %")))

    assert said == [("strength", "It is a share of another shade. Write that under second bath of, "
                     "or delete it.")]  # fmt: skip


def test_a_bath_of_a_recipe_that_there_is_not_is_refused_with_the_likely_one() -> None:
    said = refused(haze_yard(HAZE.replace("blush,40 %", "blosh,40 %")))

    assert said == [("second bath of", "recipes.csv has no blosh. Did you mean blush?")]


def test_a_bath_of_its_own_is_refused() -> None:
    said = refused(haze_yard(HAZE.replace("blush,40 %", "haze,40 %")))

    assert said == [("second bath of", "So the recipe asks for itself. Write what it is really "
                     "made with.")]  # fmt: skip


def test_a_shade_that_dyes_nothing_has_no_second_bath() -> None:
    steps = tuple(row.replace(",dye,dye,", ",dip,tannin,") for row in STEPS)

    said = refused(haze_yard(steps=steps))

    assert said == [("second bath of", "haze has no step of the kind dye. Add it to steps.csv.")]


def test_a_dose_of_the_bath_beside_it_is_refused() -> None:
    files = haze_yard()
    files["doses.csv"] += b"haze,dye,dyebath,bath,30 L per kg,\n"

    assert refused(files) == [
        ("what", "The bath of blush is taken without a dose. Delete this one.")
    ]


@pytest.mark.parametrize("percent", ["0 %", "101 %"])
def test_a_strength_is_between_one_and_a_hundred_per_cent(percent: str) -> None:
    assert [column for column, _ in refused(haze_yard(HAZE.replace("40 %", percent)))] == [
        "strength"
    ]


def test_no_row_has_a_strength_without_the_recipe_that_it_is_of(studio: Studio) -> None:
    with pytest.raises(IntegrityError, match="recipe_strength_only"), transaction.atomic():
        Recipe.objects.of(studio).filter(code="haze").update(second_of="")
