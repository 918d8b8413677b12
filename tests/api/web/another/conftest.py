"""Pellitory Yard is loaded once for all tests of a file; what a test writes goes with it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from django.db import transaction

from inventory.models import Studio
from tests.api.web.yard import load


@pytest.fixture(scope="module")
def loaded_once(django_db_setup: None, django_db_blocker: Any) -> Iterator[None]:
    """The studio in a transaction that is never committed."""
    with django_db_blocker.unblock(), transaction.atomic():
        load()
        yield
        transaction.set_rollback(True)


@pytest.fixture
def yard(loaded_once: None, db: None) -> Studio:
    return Studio.objects.get()
