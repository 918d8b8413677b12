"""Those who write one row at the same time lose nothing of each other."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.inventory.scratch import python, scratch_database

WRITERS = Path(__file__).with_name("writers.py")
pytestmark = pytest.mark.database


def test_many_who_write_one_row_lose_nothing_of_each_other(tmp_path: Path) -> None:
    with scratch_database(tmp_path) as environment:
        said = python(environment, str(WRITERS), "4", "3")

    assert said == "12 written, 1 made, 3 there\n"
