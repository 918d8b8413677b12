"""Whose row it is: every row belongs to one studio, and no listing forgets to say which.

`Model.objects.of(studio)` is the only way in; the keys of a row and of the row it points at carry
the same studio, which the database checks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, Self, TypeVar

from django.core.exceptions import ValidationError
from django.db import DEFAULT_DB_ALIAS, models
from django.db.models.constraints import BaseConstraint

if TYPE_CHECKING:
    from collections.abc import Iterable

    from django.db.backends.base.schema import BaseDatabaseSchemaEditor

    from inventory.models.studios import Studio

M = TypeVar("M", bound=models.Model)


class NoStudioNamed(RuntimeError):
    """Rows were asked for without saying of which studio."""

    def __init__(self, model: type[models.Model]) -> None:
        self.model = model
        name = model.__name__
        super().__init__(
            f"{name} rows were asked for without a studio. Write {name}.objects.of(studio)."
        )


class StudioRows(models.QuerySet[M]):
    """Rows of one studio; what is made through it belongs to that studio."""

    studio: Studio | None = None

    def _clone(self) -> Self:
        clone: Self = super()._clone()  # type: ignore[misc]
        clone.studio = self.studio
        return clone

    def create(self, **values: Any) -> M:
        """A new row of this studio."""
        return super().create(studio=self.studio, **values)

    def bulk_create(self, objs: Iterable[M], *args: Any, **kwargs: Any) -> list[M]:
        """New rows of this studio, in one statement."""
        rows = list(objs)
        for row in rows:
            row.studio = self.studio  # type: ignore[attr-defined]
        return super().bulk_create(rows, *args, **kwargs)


class OneStudio(models.Manager[M]):
    """The way to the rows of a studio; without naming one there is none."""

    def of(self, studio: Studio) -> StudioRows[M]:
        """All rows of a studio."""
        rows: StudioRows[M] = StudioRows(self.model, using=self._db)
        rows.studio = studio
        return rows.filter(studio_id=studio.pk)

    def get_queryset(self) -> models.QuerySet[M]:
        raise NoStudioNamed(self.model)


class OfStudio(models.Model):
    """A row that belongs to a studio."""

    studio = models.ForeignKey(
        "inventory.Studio", on_delete=models.PROTECT, related_name="+", db_index=False
    )

    objects = OneStudio()

    class Meta:
        abstract = True


class SameStudio(BaseConstraint):
    """The row that `field` points at belongs to the same studio as the row itself.

    A real composite key, (studio, field) → (studio, key), in the table's own definition, on both
    databases. `deferred`: checked at the end of the transaction, for a row that is written before
    the one that it points at.
    """

    def __init__(self, *, field: str, name: str, deferred: bool = False) -> None:
        super().__init__(name=name)
        self.field, self.deferred = field, deferred

    def constraint_sql(
        self, model: type[models.Model] | None, schema_editor: BaseDatabaseSchemaEditor | None
    ) -> str:
        assert model is not None
        assert schema_editor is not None
        quote = schema_editor.quote_name
        key = model._meta.get_field(self.field)
        assert isinstance(key, models.ForeignKey)
        target: Any = key.remote_field.model
        later = " DEFERRABLE INITIALLY DEFERRED" if self.deferred else ""
        return (
            f"CONSTRAINT {quote(self.name)} FOREIGN KEY (studio_id, {quote(key.column)}) "
            f"REFERENCES {quote(target._meta.db_table)} "
            f"(studio_id, {quote(target._meta.pk.column)}){later}"
        )

    def create_sql(
        self, model: type[models.Model] | None, schema_editor: BaseDatabaseSchemaEditor | None
    ) -> str:
        assert model is not None
        assert schema_editor is not None
        table = schema_editor.quote_name(model._meta.db_table)
        return f"ALTER TABLE {table} ADD {self.constraint_sql(model, schema_editor)}"

    def remove_sql(
        self, model: type[models.Model] | None, schema_editor: BaseDatabaseSchemaEditor | None
    ) -> str:
        assert model is not None
        assert schema_editor is not None
        quote = schema_editor.quote_name
        return f"ALTER TABLE {quote(model._meta.db_table)} DROP CONSTRAINT {quote(self.name)}"

    def validate(
        self,
        model: type[models.Model],
        instance: models.Model,
        exclude: Iterable[str] | None = None,
        using: str = DEFAULT_DB_ALIAS,
    ) -> None:
        if exclude and self.field in exclude:
            return
        target = getattr(instance, self.field)
        if target is not None and target.studio_id != instance.studio_id:  # type: ignore[attr-defined]
            raise ValidationError(f"{self.field} belongs to another studio.")

    def deconstruct(self) -> Any:
        return (
            "inventory.models.scope.SameStudio",
            (),
            {"field": self.field, "name": self.name, "deferred": self.deferred},
        )

    def __eq__(self, other: object) -> bool:
        if isinstance(other, SameStudio):
            return bool(self.deconstruct() == other.deconstruct())
        return NotImplemented

    __hash__ = None  # type: ignore[assignment]


class TableRule(BaseConstraint):
    """A rule in words that Django has none for: one clause of the table's own definition.

    `{table}` stands for the quoted name of the table.
    """

    def __init__(self, *, clause: str, name: str) -> None:
        super().__init__(name=name)
        self.clause = clause

    def constraint_sql(
        self, model: type[models.Model] | None, schema_editor: BaseDatabaseSchemaEditor | None
    ) -> str:
        assert model is not None
        assert schema_editor is not None
        table = schema_editor.quote_name(model._meta.db_table)
        name = schema_editor.quote_name(self.name)
        return f"CONSTRAINT {name} {self.clause.format(table=table)}"

    def create_sql(
        self, model: type[models.Model] | None, schema_editor: BaseDatabaseSchemaEditor | None
    ) -> str:
        assert model is not None
        assert schema_editor is not None
        table = schema_editor.quote_name(model._meta.db_table)
        return f"ALTER TABLE {table} ADD {self.constraint_sql(model, schema_editor)}"

    def remove_sql(
        self, model: type[models.Model] | None, schema_editor: BaseDatabaseSchemaEditor | None
    ) -> str:
        assert model is not None
        assert schema_editor is not None
        quote = schema_editor.quote_name
        return f"ALTER TABLE {quote(model._meta.db_table)} DROP CONSTRAINT {quote(self.name)}"

    def validate(
        self,
        model: type[models.Model],
        instance: models.Model,
        exclude: Iterable[str] | None = None,
        using: str = DEFAULT_DB_ALIAS,
    ) -> None:
        """The database alone checks it."""

    def deconstruct(self) -> Any:
        return (
            "inventory.models.scope.TableRule",
            (),
            {"clause": self.clause, "name": self.name},
        )

    def __eq__(self, other: object) -> bool:
        if isinstance(other, TableRule):
            return bool(self.deconstruct() == other.deconstruct())
        return NotImplemented

    __hash__ = None  # type: ignore[assignment]


def points_at(to: Any, **options: Any) -> Any:
    """A key whose database check is the composite one of a `SameStudio` rule."""
    options.setdefault("on_delete", models.PROTECT)
    options.setdefault("related_name", "+")
    return models.ForeignKey(to, db_constraint=False, **options)


def is_one_with(to: Any, **options: Any) -> Any:
    """A key like `points_at`, for what a row has at most once."""
    options.setdefault("on_delete", models.PROTECT)
    return models.OneToOneField(to, db_constraint=False, **options)
