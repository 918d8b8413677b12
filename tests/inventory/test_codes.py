"""Codes that nobody had to make up: of the dyestuff and the day, the next number, or of a part."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from typing import Any

import pytest
from django.db import transaction

from inventory.codes import dated_code, free_code, next_name, numbered_code, part_code
from inventory.models import Studio
from tests.api.web.yard import load

FRIDAY = date(2026, 11, 27)


@pytest.fixture(scope="module")
def loaded_once(django_db_setup: None, django_db_blocker: Any) -> Iterator[None]:
    with django_db_blocker.unblock(), transaction.atomic():
        load()
        yield
        transaction.set_rollback(True)


@pytest.fixture
def yard(loaded_once: None, db: None) -> Studio:
    return Studio.objects.get(name="Pellitory Yard")


def test_a_lot_is_called_by_the_letters_of_its_dyestuff_and_the_day(yard: Studio) -> None:
    assert dated_code(yard, "red cabbage", on=FRIDAY) == "CB-1127"
    assert dated_code(yard, "walnut hulls", on=FRIDAY) == "WA-1127"


def test_a_code_that_is_used_or_given_away_gets_a_number(yard: Studio) -> None:
    day = date(2026, 11, 16)

    assert dated_code(yard, "avocado stones", on=day) == "AV-1116-2"
    assert dated_code(yard, "avocado stones", on=day, taken={"AV-1116-2"}) == "AV-1116-3"
    assert free_code(yard, "AV-111") == "AV-111"


def test_jars_and_baths_share_their_numbers(yard: Studio) -> None:
    assert numbered_code(yard, "jar", "") == "J7"
    assert numbered_code(yard, "bath", "", taken={"J7"}) == "J8"


def test_fibre_is_numbered_by_its_letter(yard: Studio) -> None:
    assert numbered_code(yard, "fibre", "wool") == "W-91"
    assert numbered_code(yard, "fibre", "cotton") == "C-1"


def test_a_part_is_called_by_the_lot_that_it_came_from(yard: Studio) -> None:
    assert part_code(yard, "AV-1116", "F") == "AV-1116-F"
    assert len(part_code(yard, "x" * 40, "F")) <= 40


def test_the_tape_of_the_next_jar_goes_on_counting(yard: Studio) -> None:
    assert next_name(yard, "iron") == "Iron 8"
    assert next_name(yard, "tin") == "Tin 1"
