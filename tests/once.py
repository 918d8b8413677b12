"""What all tests of a file look at is made once, and taken back at its end.

    made = once(lambda: load_files(yard_files()))

    @pytest.fixture
    def studio(made: None, db: None) -> Studio:
        return Studio.objects.get()

Each test begins with what was made, whatever the tests before have done to it. Only for a file
whose every test wants it: the others would find it too.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Any

import pytest
from django.db import transaction
from pytest_django import DjangoDbBlocker


def once(make: Callable[[], object]) -> Any:
    """A fixture for whatever `make` writes, in a transaction that is never committed."""

    @pytest.fixture(scope="module")
    def made(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[None]:
        with django_db_blocker.unblock(), transaction.atomic():
            make()
            yield
            transaction.set_rollback(True)

    return made
