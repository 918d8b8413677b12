"""No column joins a table that seals cover: every seal that was made before would look broken."""

from __future__ import annotations

import pytest
from django.db.migrations.loader import MigrationLoader

from inventory.models.movements import OfPosting
from inventory.seal import written_with_a_posting

FIRST = ("inventory", "0001_the_shelves_and_the_ledger")
# Tables that nothing could write to when a column came to them, so that no seal covers a row.
WITHOUT_ROWS = {("swatch", "snippet")}
BEFORE = MigrationLoader(None).project_state(FIRST).models


def columns_since(table: type[OfPosting]) -> set[tuple[str, str]]:
    """Columns that a table of the first migration got later."""
    name = str(table._meta.model_name)
    old = BEFORE.get(("inventory", name))
    if old is None:
        return set()
    return {(name, field.name) for field in table._meta.concrete_fields} - {
        (name, field) for field in old.fields
    }


@pytest.mark.parametrize("table", list(written_with_a_posting()), ids=lambda row: row.__name__)
def test_a_sealed_table_keeps_its_columns(table: type[OfPosting]) -> None:
    assert columns_since(table) <= WITHOUT_ROWS


def test_what_came_later_stands_in_tables_of_its_own() -> None:
    later = {row.__name__ for row in written_with_a_posting()
             if ("inventory", str(row._meta.model_name)) not in BEFORE}  # fmt: skip

    assert later >= {"Dyeing", "ClothMeasured"}
