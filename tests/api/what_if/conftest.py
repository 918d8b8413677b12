"""Pellitory Yard, that all tests of one file ask and nobody keeps."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.db import transaction
from pytest_django import DjangoDbBlocker

from sourcing.notebook.load import load_files
from tests.sourcing.notebook.desk import yard_files


@pytest.fixture(scope="module")
def yard(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[None]:
    """The demo studio, taken back at the end of the file."""
    with django_db_blocker.unblock(), transaction.atomic():
        load_files(yard_files())
        yield
        transaction.set_rollback(True)
