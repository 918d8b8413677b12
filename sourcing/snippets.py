"""Snippets: dyed in a run's extract before its cloth, and kept in the swatch book."""

from __future__ import annotations

from datetime import datetime
from uuid import UUID

from django.db import transaction

from inventory.models import Studio
from inventory.posting import Posted
from inventory.swatches import keep_swatch, swatch_of
from sourcing.claims import open_run
from sourcing.models import Run, Snippet


def record_snippet(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    run: str,
    lot: str,
    good: bool,
    looks: str = "",
    note: str = "",
) -> Posted:
    """A snippet of a lot, dyed in the extract of a run, with how it looked; its number is new.

    Raises
    ------
    NoSuchRun, RunFinished
        If no run has the code, or its cloth is dyed already.
    """
    with transaction.atomic():
        kept = Snippet.objects.of(studio).filter(swatch__posting__entry=entry).first()
        found = open_run(studio, run) if kept is None else Run.objects.of(studio).get(code=run)
        posted = keep_swatch(
            studio,
            entry=entry,
            at=at,
            lot=lot,
            shade=found.recipe.shade,
            snippet=True,
            note=note,
        )
        if kept is None:
            swatch = swatch_of(studio, entry)
            Snippet.objects.of(studio).create(run=found, swatch=swatch, good=good, looks=looks)
    return posted
