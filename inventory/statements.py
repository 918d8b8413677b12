"""The few statements that every entry runs, written out.

A draw is a handful of statements of some microseconds each; the query builder takes a hundred
times as long to put them together, so the daily ones stand here as they are.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime
from functools import cache
from typing import Any, TypeVar
from uuid import UUID

from django.db import DEFAULT_DB_ALIAS, connection, connections, models
from django.db.models.base import ModelState

from inventory.models import Movement, Posting

Row = TypeVar("Row", bound=models.Model)

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
        values.extend(_as_kept(held[name]) for name in names)
    _run(start + ", ".join([one] * len(rows)) + " RETURNING 1", values)


def write_posting(posting: Posting) -> None:
    """Write a posting; the database says when."""
    names, statement = _posting_words()
    held = posting.__dict__
    values = [_as_kept(held[name]) for name in names]
    posting.recorded_at = moment(_run(statement, values)[0][0])


def row_of(model: type[Row], **held: Any) -> Row:
    """A new row of a model by its columns, as `model(**held)` makes it in twenty times as long.

    Parameters
    ----------
    model : one of whose rows nobody listens to the making
    held : values by the names of their columns; a key as `lot_id`
    """
    blank = _blank(model)
    assert held.keys() <= blank.keys(), held
    row = model.__new__(model)
    row._state = ModelState()
    row.__dict__.update(blank, **held)
    return row


@cache
def _blank(model: type[models.Model]) -> dict[str, Any]:
    """What each column of a new row holds where nothing is said; its key is said, or comes."""
    fields = model._meta.concrete_fields
    return {
        field.attname: None if field.primary_key else field.get_default()
        for field in fields
        if not field.has_db_default() or field.primary_key
    }


def _run(statement: str, values: Sequence[Any]) -> list[tuple[Any, ...]]:
    """The rows of a statement; PostgreSQL plans it once a connection, not each time."""
    here = connections[DEFAULT_DB_ALIAS]  # each look through `connection` would cost a microsecond
    watched = bool(here.execute_wrappers) or here.queries_logged
    if here.vendor != "postgresql":
        if watched:
            with here.cursor() as cursor:
                return list(cursor.execute(statement, values).fetchall())
        here.ensure_connection()
        here.validate_no_broken_transaction()
        with here.wrap_database_errors:
            return list(here.connection.execute(_with_marks(statement), values).fetchall())
    import psycopg

    here.ensure_connection()
    here.validate_no_broken_transaction()
    with here.wrap_database_errors, psycopg.Cursor(here.connection) as prepared:
        return list(prepared.execute(statement, values, prepare=True).fetchall())


@cache
def _with_marks(statement: str) -> str:
    """A statement of this file as SQLite reads it."""
    return statement.replace("%s", "?")


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
def _posting_words() -> tuple[tuple[str, ...], str]:
    fields = tuple(field for field in Posting._meta.concrete_fields if field.name != "recorded_at")
    columns = ", ".join(str(field.column) for field in fields)
    places = ", ".join(["%s"] * len(fields))
    return (
        tuple(field.attname for field in fields),
        f"INSERT INTO inventory_posting ({columns}) VALUES ({places}) RETURNING recorded_at",
    )


def moment(value: Any) -> datetime:
    """A moment as the database in use hands it out, aware."""
    found = datetime.fromisoformat(value) if isinstance(value, str) else value
    assert isinstance(found, datetime)
    return found if found.tzinfo is not None else found.replace(tzinfo=UTC)


def _as_kept(value: Any) -> Any:
    """A value as the columns of the daily tables take it: keys and moments by the database."""
    if isinstance(value, UUID):
        return _key(value)
    return connection.ops.adapt_datetimefield_value(value) if isinstance(value, datetime) else value


def _key(value: UUID) -> Any:
    return value if connection.features.has_native_uuid_field else value.hex
