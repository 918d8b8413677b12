"""How rows of a notebook become rows of the studio: entries once, the rest kept up to date."""

from __future__ import annotations

import uuid
from collections import Counter
from collections.abc import Callable
from datetime import UTC, date, datetime, time
from typing import Any, Protocol, TypeVar

from django.db import models

from inventory.entries import Place
from inventory.errors import EntryUsed, LarderError, NotNow
from inventory.models import ColdPlace, Site, Studio
from inventory.models.scope import OfStudio
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Row
from sourcing.notebook.problem import Problem
from sourcing.notebook.yard_pages import BY_NAME

ENTRIES = uuid.UUID("1f6d2c52-6f0b-5b5e-9a59-0d6f6a3f7c11")  # where entries of notebooks live
FIRST_DAY = date(2000, 1, 1)  # of what has no date, where the studio's row names no other
M = TypeVar("M", bound=OfStudio)


class Entered(Protocol):
    """What an entry answers."""

    @property
    def again(self) -> bool:
        """Whether it had been recorded before."""


class Loading:
    """One notebook on its way into one studio; problems and news are gathered."""

    def __init__(self, studio: Studio, notebook: Notebook) -> None:
        self.studio, self.notebook = studio, notebook
        self.versions: dict[str, Any] = {}  # older versions of recipes, by what each is called
        self.problems: list[Problem] = []
        self.new: Counter[str] = Counter()
        self.changed: Counter[str] = Counter()
        self._kept: dict[tuple[type[OfStudio], tuple[str, ...]], dict[tuple[Any, ...], Any]] = {}

    @property
    def begins(self) -> datetime:
        """The moment from which undated things have been there."""
        rows = self.notebook.page("studio")
        return self.midnight((rows[0].day("begins") if rows else None) or FIRST_DAY)

    def midnight(self, day: date) -> datetime:
        return datetime.combine(day, time(0), tzinfo=self.notebook.setting.zone)

    def noon(self, day: date) -> datetime:
        return datetime.combine(day, time(12), tzinfo=self.notebook.setting.zone)

    def entry(self, row: Row, part: str = "") -> uuid.UUID:
        """The id of an entry: the same for the same studio, page, key and part, for ever."""
        keys = (_plain(row.values.get(name)) for name in BY_NAME[row.page].key)
        words = "\x1f".join((self.studio.name, row.page, *keys, part))
        return uuid.uuid5(ENTRIES, words)

    def post(
        self, row: Row, verb: Callable[..., Entered], *, part: str = "", **values: Any
    ) -> None:
        """Record one entry; a refusal becomes a problem of its row."""
        try:
            posted = verb(self.studio, entry=self.entry(row, part), **values)
        except EntryUsed:
            note = "This was loaded before with other words or amounts, and what happened is not "
            note += "changed. Write it as it was, and record the change in the studio."
            self.problem(row, note)
        except NotNow:
            raise  # The row is as it should be; the database is not.
        except LarderError as refusal:
            self.problem(row, str(refusal))
        else:
            if not posted.again and not part:
                self.new[row.page] += 1

    def problem(self, row: Row, write: str) -> None:
        page = BY_NAME[row.page]
        key = page.key[0]
        stands = _plain(row.values.get(key))
        self.problems.append(Problem(page.file, row.line, key, stands, write))

    def keep(self, row: Row, model: type[M], key: dict[str, Any], values: dict[str, Any]) -> M:
        """The row of a table under a key, made or changed so that it says these values."""
        rows = self.kept(model, tuple(key))
        found = rows.get(tuple(key.values()))
        if found is None:
            made = self.add(model, {**key, **values})
            self.new[row.page] += 1
            rows[tuple(key.values())] = made
            return made
        return self.settle(row, found, values)

    def add(self, model: type[M], values: dict[str, Any]) -> M:
        """A new row of a table."""
        return model.objects.of(self.studio).create(**values)

    def settle(self, row: Row, found: M, values: dict[str, Any]) -> M:
        """A row of a table changed where it says something else."""
        differing = [name for name, value in values.items() if getattr(found, name) != value]
        for name in differing:
            setattr(found, name, values[name])
        if differing:
            found.save(update_fields=differing)
            self.changed[row.page] += 1
        return found

    def kept(self, model: type[M], key: tuple[str, ...]) -> dict[tuple[Any, ...], M]:
        """All rows of a table by a key, read once."""
        if (model, key) not in self._kept:
            rows = model.objects.of(self.studio)
            self._kept[model, key] = {_key_of(row, key): row for row in rows}
        return self._kept[model, key]

    def site_id(self, row: Row) -> int | None:
        """The key of the site that a row names, None where it names none."""
        code = row.text("site")
        site = self.kept(Site, ("code",)).get((code,)) if code else None
        return site.pk if site is not None else None

    def place(self, name: str, temperature_c: float | None = None) -> Place:
        """A place by its name: one of the cold places, or a kind such as bench."""
        cold = self.kept(ColdPlace, ("code",)).get((name,))
        return Place(cold.kind if cold is not None else name, name, temperature_c)


def _key_of(row: models.Model, key: tuple[str, ...]) -> tuple[Any, ...]:
    return tuple(getattr(row, name) for name in key)


def _plain(value: object) -> str:
    """A key's value as text that does not depend on how it was written."""
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat()
    return "" if value is None else str(value)
