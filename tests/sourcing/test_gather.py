"""Rows of many tables in one question, each column as its own field gives it."""

from __future__ import annotations

import pytest
from django.db import connection, models
from django.test.utils import CaptureQueriesContext

from inventory.models import Studio, StudioRule, Water
from sourcing.gather import gather
from sourcing.models import (
    Agreement,
    Block,
    Chore,
    FastnessWish,
    Hours,
    Making,
    PickUp,
    Recipe,
    RecipeDose,
    RecipeStep,
    Source,
)
from tests.loaded import load_fixture

pytestmark = pytest.mark.django_db
TABLES: dict[str, type[models.Model]] = {
    model.__name__: model
    for model in (Agreement, Block, Chore, FastnessWish, Hours, Making, PickUp, Recipe)
} | {model.__name__: model for model in (RecipeDose, RecipeStep, Source, StudioRule, Water)}


def test_every_column_is_what_the_table_itself_gives() -> None:
    load_fixture()
    studio = Studio.objects.get()
    wanted = {name: model.objects.of(studio) for name, model in TABLES.items()}  # type: ignore[attr-defined]

    found = gather(wanted)

    for name, rows in wanted.items():
        plain = {row["id"]: row for row in rows.values()}
        assert plain, name
        assert {row["id"]: row for row in found[name]} == plain


def test_it_is_one_question() -> None:
    load_fixture()
    studio = Studio.objects.get()
    wanted = {"hours": Hours.objects.of(studio), "blocks": Block.objects.of(studio)}
    gather(wanted)  # what the database is able to do is asked once

    with CaptureQueriesContext(connection) as questions:
        gather(wanted)

    assert len(questions) == 1


def test_a_table_without_rows_is_there_and_empty() -> None:
    load_fixture()
    studio = Studio.objects.get()

    found = gather({"hours": Hours.objects.of(studio).none(), "blocks": Block.objects.of(studio)})

    assert (found["hours"], len(found["blocks"])) == ([], 1)
