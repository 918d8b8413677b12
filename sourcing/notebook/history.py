"""All that was ever recorded in a studio, a table a file, to be read without us.

A row of what an entry did carries the entry's id, when it happened and when it was written down.
What a row points at stands under its code or name, amounts as whole mg, µL or minor units of money
as their column says it.
"""

from __future__ import annotations

import csv
import io
import json
from collections.abc import Iterable, Iterator
from datetime import UTC, datetime
from decimal import Decimal
from typing import IO, Any

from django.db import models

from inventory.models import (
    ClothMeasured,
    Loss,
    Lot,
    Movement,
    Posting,
    Seal,
    Sealed,
    Site,
    Studio,
    Swatch,
    Vessel,
)
from inventory.models.movements import OfPosting
from inventory.models.scope import OfStudio
from inventory.seal import written_with_a_posting
from sourcing.models import (
    Block,
    ChoreDone,
    Claim,
    ClaimUsed,
    Delivery,
    DeliveryLine,
    FastnessWish,
    KeptPlan,
    KeptStep,
    KeptTake,
    NotBegun,
    Offer,
    Order,
    OrderEvent,
    OrderLine,
    PickUp,
    Recipe,
    RecipeDose,
    RecipeStep,
    Run,
    ShadeCard,
    Snippet,
    Source,
    StepDone,
    StepNotDone,
    Supplier,
    TakenWeek,
    TubMove,
)
from sourcing.notebook.sheet import as_cell

AT_ONCE = 2_000  # rows that are held in memory
# What a row is called where another points at it: columns of its own, or a way to them.
CALLED: dict[type[models.Model], tuple[str, ...]] = {
    Posting: ("entry",),
    Lot: ("code",),
    Site: ("code",),
    Vessel: ("code",),
    Swatch: ("number",),
    Seal: ("number",),
    Run: ("code",),
    KeptPlan: ("entry",),
    StepDone: ("entry",),
    Block: ("code",),
    Recipe: ("code", "version"),
    Source: ("name",),
    Supplier: ("name",),
    Order: ("number",),
    OrderLine: ("order__number", "number"),
    Delivery: ("order__number", "at"),
    Offer: ("supplier__name", "code"),
}
# What it is about beside what hangs on an entry: intentions that have come to an end too.
OTHERS: tuple[type[OfStudio], ...] = (
    Seal, Sealed, Recipe, RecipeStep, RecipeDose, Run, ShadeCard, FastnessWish, Snippet, Claim,
    ClaimUsed, KeptPlan, NotBegun, KeptStep, KeptTake, StepDone, StepNotDone, TakenWeek,
    ChoreDone,
    PickUp, TubMove, Order, OrderLine, OrderEvent, Delivery, DeliveryLine,
)  # fmt: skip
WITH_TIMES = ("posting__entry", "posting__occurred_at", "posting__recorded_at")
# A number whose unit stands elsewhere.
MORE: dict[type[models.Model], tuple[str, ...]] = {
    Movement: ("lot__unit",),
    Claim: ("lot__unit",),
    ClaimUsed: ("lot__unit",),
}
PLURALS: dict[type[models.Model], str] = {
    Loss: "losses",
    Swatch: "swatches",
    FastnessWish: "fastness wishes",
    ClothMeasured: "cloth measured",
    Sealed: "sealed",
    ChoreDone: "chores done",
    ClaimUsed: "claims used",
    KeptPlan: "kept plans",
    KeptStep: "kept steps",
    KeptTake: "kept takes",
    NotBegun: "not begun",
    StepDone: "steps done",
    StepNotDone: "steps not done",
}
INNER = ("studio", "id")
Table = tuple[str, type[OfStudio]]


def tables() -> Iterator[Table]:
    """The files of a history, postings first."""
    yield "postings", Posting
    for model in (*written_with_a_posting(), *OTHERS):
        yield file_name(model), model


def file_name(model: type[models.Model]) -> str:
    """What the file of a table is called.

    >>> file_name(Movement), file_name(OrderLine), file_name(Loss)
    ('movements', 'order_lines', 'losses')
    """
    words = PLURALS.get(model) or str(model._meta.verbose_name_plural)
    return words.replace(" ", "_").casefold()


def write_history(studio: Studio, model: type[OfStudio], into: IO[bytes]) -> int:
    """The rows of one table as a CSV file (RFC 4180, UTF-8); how many they are.

    However many there are, few are held in memory at once.
    """
    text = io.TextIOWrapper(into, encoding="utf-8", newline="", write_through=True)
    writer = csv.writer(text, lineterminator="\r\n")
    ways = ways_of(model)
    writer.writerow(heading(way) for way in ways)
    found = model.objects.of(studio).order_by(*_order(model)).values_list(*ways)
    count = 0
    for row in found.iterator(chunk_size=AT_ONCE):
        writer.writerow(map(cell, row))
        count += 1
    text.detach()
    return count


def ways_of(model: type[OfStudio]) -> tuple[str, ...]:
    """The columns of a table's file, as the database is asked for them."""
    ways = list(WITH_TIMES) if issubclass(model, OfPosting) else []
    known = ("posting", *INNER) if ways else INNER
    for field in model._meta.concrete_fields:
        if field.name not in known:
            ways += _ways(field)
    return (*ways, *MORE.get(model, ()))


def heading(way: str) -> str:
    """A column's heading.

    >>> heading("posting__occurred_at"), heading("lot__code"), heading("recipe__version")
    ('occurred_at', 'lot', 'recipe_version')
    """
    if way.startswith("posting__"):
        return way.removeprefix("posting__")
    *before, last = way.split("__")
    if before and last in ("code", "name", "entry", "number") and len(before) == 1:
        return before[0]
    return "_".join([*before, last])


def cell(value: object) -> str:
    """A value in its cell, which a spreadsheet does not work out."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, datetime):
        return value.astimezone(UTC).isoformat()
    if isinstance(value, list | dict):
        return as_cell(json.dumps(value, ensure_ascii=False))
    if isinstance(value, Decimal):
        return f"{value:f}"
    return as_cell(value) if isinstance(value, str) else str(value)


def _ways(field: models.Field[Any, Any]) -> Iterable[str]:
    """A column, or what the row is called that it points at."""
    if not isinstance(field, models.ForeignKey):
        return [field.name]
    return [f"{field.name}__{part}" for part in CALLED[field.related_model]]


def _order(model: type[OfStudio]) -> tuple[str, ...]:
    return ("recorded_at", "id") if model is Posting else ("id",)
