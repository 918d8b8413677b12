"""Faults wait for crowds: a server that is full would answer with a fault of its own."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from django.db import connection

from tests.inventory.scratch import in_turn


@pytest.fixture(autouse=True)
def _no_crowd_meanwhile() -> Iterator[None]:
    if connection.vendor != "postgresql":
        yield
        return
    with in_turn(alone=False):
        yield
