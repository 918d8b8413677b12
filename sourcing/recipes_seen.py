"""Recipes to look at: all of them by shade, and one in each of its versions, with its swatches."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any

from django.db.models import Count, Max, OuterRef, Q, QuerySet, Subquery

from inventory.models import Reading, Studio, Swatch
from sourcing.models import Recipe, RecipeDose, RecipeStep, Run
from sourcing.recipes import doses_of, recipe_of, steps_of
from sourcing.week import facts

RECIPES_AT_MOST = 48  # on one page
VERSIONS_AT_MOST = 50
SWATCHES_AT_MOST = 6


@dataclass(frozen=True, slots=True)
class RecipeSeen:
    """A version of a recipe, and how many there are."""

    recipe: facts.Recipe
    version: int
    versions: int
    open_runs: int  # that are wanted by any of its versions


@dataclass(frozen=True, slots=True)
class ReadingSeen:
    """What was read off a swatch."""

    what: str
    value: Decimal | None
    lab: tuple[Decimal, Decimal, Decimal] | None
    days: int | None


@dataclass(frozen=True, slots=True)
class SwatchSeen:
    """A swatch of the shade, with the lot it was cut from."""

    number: int
    lot: str
    at: datetime
    snippet: bool
    readings: tuple[ReadingSeen, ...]


def recipes_seen(studio: Studio, *, find: str, first: int = 0) -> tuple[RecipeSeen, ...]:
    """The last version of each recipe by its shade, one more than a page holds.

    Parameters
    ----------
    find : part of a shade, a code, or a fibre; empty: all
    first : how many to pass over
    """
    rows = Recipe.objects.of(studio)
    last = rows.filter(code=OuterRef("code")).order_by().values("code")
    rows = rows.filter(version=Subquery(last.annotate(last=Max("version")).values("last")))
    for word in find.split():
        rows = rows.filter(_called(word))
    return _seen(studio, rows.order_by("shade", "code")[first : first + RECIPES_AT_MOST + 1])


def recipe_seen(studio: Studio, code: str, version: int | None = None) -> RecipeSeen | None:
    """One recipe in a version, the last where none is named; None where there is none."""
    rows = Recipe.objects.of(studio).filter(code=code)
    rows = rows if version is None else rows.filter(version=version)
    found = _seen(studio, rows.order_by("-version")[:1])
    return found[0] if found else None


def swatches_of(studio: Studio, shade: str) -> tuple[SwatchSeen, ...]:
    """The newest swatches of a shade, each with what was read off it."""
    rows = Swatch.objects.of(studio).filter(shade=shade).select_related("lot")
    newest = list(rows.order_by("-at", "-number")[:SWATCHES_AT_MOST])
    readings: dict[int, list[Reading]] = {row.pk: [] for row in newest}
    for reading in Reading.objects.of(studio).filter(swatch__in=list(readings)).order_by("at"):
        readings[reading.swatch_id].append(reading)
    return tuple(
        SwatchSeen(row.number, row.lot.code, row.at, row.snippet,
                   tuple(_reading(each) for each in readings[row.pk]))
        for row in newest
    )  # fmt: skip


def _called(word: str) -> Q:
    return Q(shade__icontains=word) | Q(code__icontains=word) | Q(fibres__icontains=word)


def _seen(studio: Studio, rows: QuerySet[Recipe]) -> tuple[RecipeSeen, ...]:
    found = list(rows.values())
    keys = [row["id"] for row in found]
    steps = _by_recipe(RecipeStep.objects.of(studio).filter(recipe__in=keys).order_by("number"))
    doses = _by_recipe(RecipeDose.objects.of(studio).filter(recipe__in=keys).order_by("number"))
    codes = [row["code"] for row in found]
    versions = _counted(Recipe.objects.of(studio).filter(code__in=codes), "code")
    wanted = Run.objects.of(studio).filter(recipe__code__in=codes, finished_at__isnull=True)
    runs = _counted(wanted, "recipe__code")
    return tuple(
        RecipeSeen(
            recipe_of(
                row,
                code=row["code"],
                steps=steps_of(steps.get(row["id"], ())),
                doses=doses_of(doses.get(row["id"], ())),
            ),
            row["version"],
            versions[row["code"]],
            runs.get(row["code"], 0),
        )
        for row in found
    )


def _by_recipe(rows: Any) -> dict[int, list[Any]]:
    found: dict[int, list[Any]] = {}
    for row in rows.values():
        found.setdefault(row["recipe_id"], []).append(row)
    return found


def _counted(rows: Any, name: str) -> dict[str, int]:
    return dict(rows.order_by().values_list(name).annotate(many=Count("pk")))


def _reading(row: Reading) -> ReadingSeen:
    lab = (row.lab_l, row.lab_a, row.lab_b)
    whole: Iterable[Decimal] = [part for part in lab if part is not None]
    said: Sequence[Decimal] = tuple(whole)
    return ReadingSeen(
        what=row.what,
        value=row.value,
        lab=(said[0], said[1], said[2]) if len(said) == 3 else None,
        days=row.days,
    )
