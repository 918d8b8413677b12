"""Shipped starts: each figure lies between those that the catalogue names, and has its source."""

from __future__ import annotations

import re
from decimal import Decimal

import pytest

from inventory.models import Studio
from sourcing.models import Recipe, RecipeDose
from sourcing.starts.starts import Start, start_called, starts
from sourcing.starts.take_over import take_over
from tests.sourcing.week.pellitory import MONDAY_0730

EVERY = pytest.mark.parametrize("start", starts(), ids=[start.code for start in starts()])


@EVERY
def test_every_figure_lies_within_what_the_catalogue_names(start: Start) -> None:
    for figure in start.figures:
        numbers = [number for row in figure.rows for number in row.numbers]
        here = Decimal(re.match(r"\d+", figure.here)[0])  # type: ignore[index]

        at_most = figure.said.name.endswith("_max")
        assert at_most or min(numbers) <= here, (start.code, figure.what)
        assert here <= max(numbers), (start.code, figure.what)
        assert all(row.basis for row in figure.rows)


@EVERY
def test_every_dose_and_heat_is_one_of_the_figures(start: Start) -> None:
    said = {figure.here for figure in start.figures}
    heats = [re.search(r"> (\d+)", step["heats"]) for step in start.steps]

    assert {dose["amount"] for dose in start.doses} - {"2 %"} <= said
    assert {f"{heat[1]} °C" for heat in heats if heat} <= said


@pytest.mark.django_db
def test_every_start_is_taken_over_once_and_then_stands_as_the_studio_has_it() -> None:
    studio = Studio.objects.create(name="Bare Loft", zone="Europe/London")

    assert all(take_over(studio, start, at=MONDAY_0730) for start in starts())
    RecipeDose.objects.of(studio).update(what="our own")
    assert not any(take_over(studio, start, at=MONDAY_0730) for start in starts())

    assert Recipe.objects.of(studio).count() == len(starts())
    assert set(RecipeDose.objects.of(studio).values_list("what", flat=True)) == {"our own"}


def test_a_recipe_of_the_studios_own_is_no_start() -> None:
    assert start_called("blush") is None
