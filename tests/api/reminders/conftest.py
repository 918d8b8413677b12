"""A studio and a mail server for the tests of what goes out."""

from __future__ import annotations

from collections.abc import Iterator

import pytest

from inventory.models import Studio
from tests.api.reminders.postbox import MailServer, mail_server
from tests.inventory.larder import studio_of


@pytest.fixture
def studio(db: None) -> Studio:
    """Pellitory Yard, with empty shelves."""
    return studio_of("Pellitory Yard")


@pytest.fixture
def other(db: None) -> Studio:
    """Another studio."""
    return studio_of("Quillet Barn")


@pytest.fixture(scope="module")
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[MailServer]:
    """A mail server in a process of its own."""
    with mail_server(tmp_path_factory.mktemp("mail")) as running:
        yield running
