"""A studio for every test of the shelves."""

from __future__ import annotations

import pytest

from inventory.models import Studio
from tests.inventory.larder import studio_of


@pytest.fixture
def studio(db: None) -> Studio:
    """Pellitory Yard, with empty shelves."""
    return studio_of("Pellitory Yard")


@pytest.fixture
def other(db: None) -> Studio:
    """Another studio."""
    return studio_of("Quillet Barn")
