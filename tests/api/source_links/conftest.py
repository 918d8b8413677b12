"""Pellitory Yard at the Monday of the worked week, and the café with a link."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest
from django.db import transaction

from api.web.source_link import links as own_page
from api.web.source_link import page
from inventory.models import Studio
from sourcing.models import Source
from tests.api.source_links.cafe import CAFE, Clock
from tests.api.web.yard import load


@pytest.fixture(scope="module")
def loaded_once(django_db_setup: None, django_db_blocker: Any) -> Iterator[None]:
    """The studio in a transaction that is never committed."""
    with django_db_blocker.unblock(), transaction.atomic():
        load()
        yield
        transaction.set_rollback(True)


@pytest.fixture
def studio(loaded_once: None, db: None) -> Studio:
    return Studio.objects.get(name="Pellitory Yard")


@pytest.fixture
def cafe(studio: Studio) -> Source:
    return Source.objects.of(studio).select_related("studio").get(name=CAFE)


@pytest.fixture(autouse=True)
def clock(monkeypatch: pytest.MonkeyPatch) -> Clock:
    """Monday 23 November 2026, 07:30, until a test sets it on."""
    found = Clock()
    for module in (page, own_page):
        monkeypatch.setattr(module, "timezone", found)
    return found
