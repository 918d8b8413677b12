"""What a run is likely to have taken: what was promised to it, else what the week takes for it."""

from __future__ import annotations

import uuid
from collections.abc import Iterator
from datetime import UTC, datetime
from typing import Any

import pytest
from django.db import transaction

from inventory.models import Studio
from sourcing.claims import claim
from sourcing.finishing import finishing_of
from sourcing.outlook import facts_at
from tests.api.web.yard import load

MONDAY = datetime(2026, 11, 23, 7, 30, tzinfo=UTC)


@pytest.fixture(scope="module")
def loaded_once(django_db_setup: None, django_db_blocker: Any) -> Iterator[None]:
    with django_db_blocker.unblock(), transaction.atomic():
        load()
        yield
        transaction.set_rollback(True)


@pytest.fixture
def yard(loaded_once: None, db: None) -> Studio:
    return Studio.objects.get(name="Pellitory Yard")


def taken(studio: Studio, run: str) -> list[tuple[str, int, str]]:
    plan = finishing_of(facts_at(studio, at=MONDAY, days=14), run)
    assert plan is not None
    return [(row.lot, row.amount, row.unit) for row in plan.takes]


def test_the_week_says_what_hedge_olive_takes_with_its_fibre_in_front(yard: Studio) -> None:
    assert taken(yard, "C") == [
        ("W-90", 600_000, "mg"),
        ("PR-1003", 480_000, "mg"),
        ("J4", 210_000, "µL"),
    ]


def test_what_was_promised_stands_in_place_of_the_plan(yard: Studio) -> None:
    claim(yard, entry=uuid.uuid4(), at=MONDAY, run="C", lot="PR-1003", amount=450_000)

    assert taken(yard, "C") == [("W-90", 600_000, "mg"), ("PR-1003", 450_000, "mg")]


def test_a_run_that_cannot_be_dyed_offers_its_fibre_alone(yard: Studio) -> None:
    assert taken(yard, "B") == [("L-31", 3_000_000, "mg")]


def test_nothing_is_known_of_a_run_that_nobody_asked_for(yard: Studio) -> None:
    assert finishing_of(facts_at(yard, at=MONDAY, days=14), "Z") is None
