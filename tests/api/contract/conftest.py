"""Two studios that all tests of one file look at, and that nobody keeps."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.db import transaction
from pytest_django import DjangoDbBlocker

from api.demo import NOTEBOOK
from sourcing.notebook.load import load_files
from sourcing.notebook.notebook import files_of


@pytest.fixture(scope="module")
def two_studios(django_db_setup: None, django_db_blocker: DjangoDbBlocker) -> Iterator[None]:
    """Pellitory Yard and Kelpwick Loft, taken back at the end of the file."""
    with django_db_blocker.unblock(), transaction.atomic():
        for folder in ("pellitory-yard", "kelpwick-loft"):
            load_files(files_of(NOTEBOOK.parent / folder)[0])
        yield
        transaction.set_rollback(True)
