"""The few statements that every entry runs, written out.

A draw is a handful of statements of some microseconds each; the query builder takes a hundred
times as long to put them together, so the daily ones stand here as they are.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from functools import cache
from typing import Any
from uuid import UUID

from django.db import connection

from inventory.models import Movement, Posting

LOCK = (
    "SELECT id FROM inventory_lot WHERE studio_id = %s AND code IN ({places}) "
    "ORDER BY id FOR NO KEY UPDATE"
)
# Looked up one by one: as joins PostgreSQL would read every movement there is.
TIPS = """
SELECT l.id, l.code, l.kind, l.unit, l.what, b.occurred_at,
       (SELECT m.number FROM inventory_movement m WHERE m.lot_id = l.id
        ORDER BY m.number DESC LIMIT 1),
       (SELECT m.left_after FROM inventory_movement m WHERE m.lot_id = l.id
        ORDER BY m.number DESC LIMIT 1),
       (SELECT s.set_aside FROM inventory_standing s WHERE s.lot_id = l.id AND s.at <= %s
        ORDER BY s.at DESC, s.id DESC LIMIT 1),
       (SELECT s.arrives_at FROM inventory_standing s WHERE s.lot_id = l.id AND s.at <= %s
        ORDER BY s.at DESC, s.id DESC LIMIT 1)
FROM inventory_lot l JOIN inventory_posting b ON b.id = l.posting_id
WHERE l.studio_id = %s AND l.code IN ({places})
"""


def lots_and_their_tips(
    studio: int, codes: Sequence[str], *, at: datetime
) -> Iterator[tuple[Any, ...]]:
    """Lots by their codes, each with its last movement and how it stood at a moment.

    On PostgreSQL the lots are locked first, by a statement of its own: one that also read the
    last movement would read it as it was before the wait. On SQLite the whole file is locked.
    """
    places = ", ".join(["%s"] * len(codes))
    if connection.features.has_select_for_update:
        _run(LOCK.format(places=places), [studio, *codes])
    when = connection.ops.adapt_datetimefield_value(at)
    for row in _run(TIPS.format(places=places), [when, when, studio, *codes]):
        yield (*row[:5], moment(row[5]), *row[6:9], row[9] and moment(row[9]))


def is_recorded(studio: int, entry: UUID) -> bool:
    """Whether a studio has an entry of that id."""
    ask = "SELECT 1 FROM inventory_posting WHERE studio_id = %s AND entry = %s"
    return bool(_run(ask, [studio, _key(entry)]))


def write_movements(rows: Sequence[Movement]) -> None:
    """Write movements in one statement; they get no keys here, nobody asks for them."""
    if not rows:
        return
    names, start, one = _movement_words()
    values: list[Any] = []
    for row in rows:
        held = row.__dict__
        values.extend(held[name] for name in names)
    if not connection.features.has_native_uuid_field:
        values = [value.hex if isinstance(value, UUID) else value for value in values]
    _run(start + ", ".join([one] * len(rows)) + " RETURNING 1", values)


def write_posting(posting: Posting) -> None:
    """Write a posting; the database says when."""
    fields, statement = _posting_words()
    values = [
        field.get_db_prep_value(getattr(posting, field.attname), connection) for field in fields
    ]
    posting.recorded_at = moment(_run(statement, values)[0][0])


def _run(statement: str, values: Sequence[Any]) -> list[tuple[Any, ...]]:
    """The rows of a statement; PostgreSQL plans it once a connection, not each time."""
    if connection.vendor != "postgresql":
        with connection.cursor() as cursor:
            return list(cursor.execute(statement, values).fetchall())
    import psycopg

    connection.ensure_connection()
    with connection.wrap_database_errors, psycopg.Cursor(connection.connection) as prepared:
        return list(prepared.execute(statement, values, prepare=True).fetchall())


@cache
def _movement_words() -> tuple[tuple[str, ...], str, str]:
    fields = [field for field in Movement._meta.concrete_fields if not field.primary_key]
    columns = ", ".join(str(field.column) for field in fields)
    places = ", ".join(["%s"] * len(fields))
    return (
        tuple(field.attname for field in fields),
        f"INSERT INTO inventory_movement ({columns}) VALUES ",
        f"({places})",
    )


@cache
def _posting_words() -> tuple[tuple[Any, ...], str]:
    fields = tuple(field for field in Posting._meta.concrete_fields if field.name != "recorded_at")
    columns = ", ".join(str(field.column) for field in fields)
    places = ", ".join(["%s"] * len(fields))
    return (
        fields,
        f"INSERT INTO inventory_posting ({columns}) VALUES ({places}) RETURNING recorded_at",
    )


def moment(value: Any) -> datetime:
    """A moment as the database in use hands it out, aware."""
    found = datetime.fromisoformat(value) if isinstance(value, str) else value
    assert isinstance(found, datetime)
    return found if found.tzinfo is not None else found.replace(tzinfo=UTC)


def _key(value: UUID) -> Any:
    return value if connection.features.has_native_uuid_field else value.hex
