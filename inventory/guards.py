"""The rules that the database holds by itself: nobody changes what happened, not even in raw SQL.

Table rules (keys, checks) stand in the models. What they cannot say is a trigger, the same on
both databases. The guards are put up after every `migrate` and taken down before one that changes
tables: SQLite makes a table anew to change it, and a trigger on the old one would be lost.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from django.apps import AppConfig, apps
from django.db import DEFAULT_DB_ALIAS, connections, models

if TYPE_CHECKING:
    from django.db.backends.base.base import BaseDatabaseWrapper

PREFIX = "guard_"
LONGEST_NAME = 63  # PostgreSQL cuts longer ones


@dataclass(frozen=True, slots=True)
class Guard:
    """One trigger: refuses an event on a table, always or when a condition holds."""

    rule: str  # reads as a rule: "movement_never_changed"
    table: str
    event: str  # INSERT, UPDATE, DELETE, TRUNCATE
    when: str = ""  # SQL over NEW and OLD; empty: always
    only: str = ""  # vendor, where only one needs it
    of: str = ""  # SQL over NEW alone, looked at first: most rows need no further look

    @property
    def name(self) -> str:
        return f"{PREFIX}{self.rule}"[:LONGEST_NAME]


def guards() -> Iterator[Guard]:
    """Every guard of every table that belongs to a studio."""
    from inventory.models.movements import OfPosting, Posting
    from inventory.models.scope import OfStudio
    from inventory.models.seals import Seal, Sealed

    for model in apps.get_models():
        for_ever = issubclass(model, OfPosting) or model in (Posting, Seal, Sealed)
        if for_ever or getattr(model, "never_changed", False):
            yield from _kept_for_ever(model)
        elif issubclass(model, OfStudio):
            yield _stays_in_its_studio(model)
        if issubclass(model, OfPosting):
            yield _before_its_posting(model)
    yield from _details_of_their_sort()
    yield from _postings()


def put_up(using: str = DEFAULT_DB_ALIAS) -> None:
    """Put up every guard whose table is there; those already up are renewed."""
    connection = connections[using]
    there = set(connection.introspection.table_names())
    with connection.cursor() as cursor:
        for guard in guards():
            if guard.table in there and guard.only in ("", connection.vendor):
                for statement in _statements(guard, connection):
                    cursor.execute(statement)


def take_down(using: str = DEFAULT_DB_ALIAS) -> None:
    """Take down every guard, those of earlier versions too."""
    connection = connections[using]
    with connection.cursor() as cursor:
        for name, table in sorted(_up(connection)):
            on = f' ON "{table}"' if connection.vendor == "postgresql" else ""
            cursor.execute(f'DROP TRIGGER "{name}"{on}')


def missing(using: str = DEFAULT_DB_ALIAS) -> list[str]:
    """Rules whose guard is not up."""
    connection = connections[using]
    up = {name for name, _ in _up(connection)}
    return sorted(
        guard.rule
        for guard in guards()
        if guard.only in ("", connection.vendor) and guard.name not in up
    )


def after_migrate(sender: AppConfig, using: str = DEFAULT_DB_ALIAS, **_: Any) -> None:
    """Put the guards up once the last app with tables is migrated."""
    if sender is _with_tables()[-1]:
        put_up(using)


def before_migrate(
    sender: AppConfig, using: str = DEFAULT_DB_ALIAS, plan: Any = (), **_: Any
) -> None:
    """Take the guards down where tables are going to change."""
    if plan and sender is _with_tables()[0]:
        take_down(using)


def _with_tables() -> list[AppConfig]:
    return [app for app in apps.get_app_configs() if app.models_module is not None]


def _kept_for_ever(model: type[models.Model]) -> Iterator[Guard]:
    noun, table = model._meta.model_name, model._meta.db_table
    yield Guard(f"{noun}_never_changed", table, "UPDATE")
    yield Guard(f"{noun}_never_deleted", table, "DELETE")
    # TRUNCATE and INSERT OR REPLACE go round the triggers of DELETE.
    yield Guard(
        f"{noun}_never_emptied",
        table,
        "TRUNCATE",
        f'EXISTS (SELECT 1 FROM "{table}")',
        only="postgresql",
    )
    same = " OR ".join(_same_key(table, key) for key in _keys(model))
    yield Guard(f"{noun}_never_replaced", table, "INSERT", same, only="sqlite")


def _keys(model: type[models.Model]) -> Iterator[list[str]]:
    """Columns of each key that no two rows share."""
    yield [str(model._meta.pk.column)]
    for field in model._meta.local_fields:
        if field.unique and not field.primary_key:
            yield [str(field.column)]
    for rule in model._meta.constraints:
        if isinstance(rule, models.UniqueConstraint) and rule.condition is None:
            yield [model._meta.get_field(name).column for name in rule.fields]  # type: ignore[union-attr, misc]


def _same_key(table: str, columns: list[str]) -> str:
    same = " AND ".join(f'"{column}" = NEW."{column}"' for column in columns)
    return f'EXISTS (SELECT 1 FROM "{table}" WHERE {same})'


def _stays_in_its_studio(model: type[models.Model]) -> Guard:
    return Guard(
        f"{model._meta.model_name}_stays_in_its_studio",
        model._meta.db_table,
        "UPDATE",
        "NEW.studio_id <> OLD.studio_id",
    )


def _before_its_posting(model: type[models.Model]) -> Guard:
    return Guard(
        f"{model._meta.model_name}_before_its_posting",
        model._meta.db_table,
        "INSERT",
        "EXISTS (SELECT 1 FROM inventory_posting p WHERE p.id = NEW.posting_id)",
    )


def _details_of_their_sort() -> Iterator[Guard]:
    sorts = {
        "jar": ("jar", "dip", "jarevent"),
        "bath": ("bath", "bathstate"),
        "fibre": ("fibrelot", "fibrestate", "dyeing", "clothmeasured"),
    }
    for kind, nouns in sorts.items():
        for noun in nouns:
            yield Guard(
                f"{noun}_is_of_a_{kind}",
                f"inventory_{noun}",
                "INSERT",
                f"EXISTS (SELECT 1 FROM inventory_lot l "
                f"WHERE l.id = NEW.lot_id AND l.kind <> '{kind}')",
            )


_OWN = "FROM inventory_movement m WHERE m.posting_id = NEW.id"


def _postings() -> Iterator[Guard]:
    """What a posting must be when it closes over its movements."""
    table = "inventory_posting"
    yield Guard(
        "posting_conserves_each_material",
        table,
        "INSERT",
        "EXISTS (SELECT 1 FROM ("
        "SELECT l.what AS material, m.amount AS amount FROM inventory_movement m "
        "JOIN inventory_lot l ON l.id = m.lot_id WHERE m.posting_id = NEW.id AND m.turns "
        "UNION ALL SELECT s.material, s.amount FROM inventory_loss s WHERE s.posting_id = NEW.id"
        ") turned GROUP BY material HAVING SUM(amount) <> 0)",
    )
    yield Guard(
        "posting_makes_nothing_from_nothing",
        table,
        "INSERT",
        f"EXISTS (SELECT 1 {_OWN} AND m.amount > 0 AND NOT m.turns)",
        of="NEW.kind IN ('put by', 'dye', 'scour', 'mordant')",
    )
    yield Guard(
        "posting_takes_out_and_adds_nothing",
        table,
        "INSERT",
        f"EXISTS (SELECT 1 {_OWN} AND (m.amount > 0 OR m.turns))",
        of="NEW.kind IN ('draw', 'tip out')",
    )
    yield Guard(
        "posting_recounts_what_is_there",
        table,
        "INSERT",
        f"EXISTS (SELECT 1 {_OWN} AND m.counted IS NULL)",
        of="NEW.kind IN ('recount', 'weigh again')",
    )
    yield Guard(
        "posting_corrects_only_its_lots",
        table,
        "INSERT",
        f"EXISTS (SELECT 1 {_OWN} AND NOT EXISTS ("
        "SELECT 1 FROM inventory_movement w "
        "WHERE w.posting_id = NEW.corrects_id AND w.lot_id = m.lot_id))",
        of="NEW.kind = 'correct'",
    )
    yield Guard(
        "posting_undoes_to_the_milligram",
        table,
        "INSERT",
        "EXISTS (SELECT 1 FROM inventory_movement m "
        "WHERE m.posting_id IN (NEW.id, NEW.corrects_id) "
        "GROUP BY m.lot_id HAVING SUM(m.amount) <> 0)",
        of="NEW.undoes",
    )
    yield Guard(
        "posting_dated_as_what_it_corrects",
        table,
        "INSERT",
        "EXISTS (SELECT 1 FROM inventory_posting w "
        "WHERE w.id = NEW.corrects_id AND w.occurred_at <> NEW.occurred_at)",
        of="NEW.kind = 'correct'",
    )
    yield Guard(
        "posting_not_before_its_lot_began",
        table,
        "INSERT",
        "EXISTS (SELECT 1 FROM inventory_movement m "
        "JOIN inventory_lot l ON l.id = m.lot_id "
        "JOIN inventory_posting b ON b.id = l.posting_id "
        "WHERE m.posting_id = NEW.id AND b.occurred_at > NEW.occurred_at)",
    )


def _statements(guard: Guard, connection: BaseDatabaseWrapper) -> list[str]:
    if connection.vendor == "sqlite":
        both = " AND ".join(f"({part})" for part in (guard.of, guard.when) if part)
        when = f" WHEN {both}" if both else ""
        return [
            f'DROP TRIGGER IF EXISTS "{guard.name}"',
            f'CREATE TRIGGER "{guard.name}" BEFORE {guard.event} ON "{guard.table}" '
            f"FOR EACH ROW{when} BEGIN SELECT RAISE(ABORT, '{guard.rule}'); END",
        ]
    refuse = f"RAISE EXCEPTION USING MESSAGE = '{guard.rule}', ERRCODE = 'check_violation';"
    body = f"IF {guard.when} THEN {refuse} END IF;" if guard.when else refuse
    back = "RETURN NULL;" if guard.event == "TRUNCATE" else "RETURN NEW;"
    of = f" WHEN ({guard.of})" if guard.of else ""
    each = "STATEMENT" if guard.event == "TRUNCATE" else "ROW"
    return [
        f'CREATE OR REPLACE FUNCTION "{guard.name}"() RETURNS trigger LANGUAGE plpgsql '
        f"AS $guard$ BEGIN {body} {back} END $guard$",
        f'CREATE OR REPLACE TRIGGER "{guard.name}" BEFORE {guard.event} ON "{guard.table}" '
        f'FOR EACH {each}{of} EXECUTE FUNCTION "{guard.name}"()',
    ]


def _up(connection: BaseDatabaseWrapper) -> set[tuple[str, str]]:
    if connection.vendor == "sqlite":
        ask = "SELECT name, tbl_name FROM sqlite_master WHERE type = 'trigger'"
    else:
        ask = (
            "SELECT t.tgname, c.relname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid "
            "WHERE NOT t.tgisinternal AND c.relnamespace = current_schema()::regnamespace"
        )
    with connection.cursor() as cursor:
        cursor.execute(ask)
        return {(name, table) for name, table in cursor.fetchall() if name.startswith(PREFIX)}
