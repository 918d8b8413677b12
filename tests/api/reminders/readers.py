"""Pellitory Yard with two readers of reminders: its dyer, and the café by its leave."""

from __future__ import annotations

from collections.abc import Collection
from datetime import date, time

from inventory.models import Studio
from sourcing.notebook.load import load_files
from sourcing.reminders import OF_A_PERSON, add_reader
from sourcing.reminding.facts import Quiet
from tests.sourcing.notebook.desk import without_readers, yard_files

CAFE = "Lantern Steps café"
DYER, TOLD = "the dyer", "the café"
DYERS, TOLDS = "dyer@pellitory-yard.example", "hello@lantern-steps.example"


def yard() -> Studio:
    """The demo studio, to which nobody is a reader yet."""
    load_files(without_readers(yard_files()))
    return Studio.objects.get(name="Pellitory Yard")


def with_dyer(
    studio: Studio, *, kinds: Collection[str] = OF_A_PERSON, quiet: Quiet | None = None
) -> Studio:
    """The studio with its dyer, who wants the sheet at half past seven."""
    add_reader(
        studio,
        name=DYER,
        address=DYERS,
        kinds=kinds,
        since=date(2026, 11, 1),
        sheet_at=time(7, 30),
        quiet=quiet,
    )
    return studio


def with_cafe(studio: Studio) -> Studio:
    """The studio with the café, whose owner said that it may be written to."""
    add_reader(
        studio,
        name=TOLD,
        address=TOLDS,
        kinds=("day before",),
        since=date(2026, 11, 1),
        source=CAFE,
        leave_by="the owner",
        leave_on=date(2026, 10, 1),
    )
    return studio
