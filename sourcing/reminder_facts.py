"""What reminders are worked out from, read at a moment; and what a source has given so far."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Count, QuerySet, Sum

from inventory.models import Studio
from sourcing.gather import Gathered
from sourcing.models import PickUp
from sourcing.outlook import facts_and_rows, facts_at
from sourcing.reminders import reader_queries, wishes_in, wishes_of
from sourcing.reminding.facts import ReminderFacts, Wish


@dataclass(frozen=True, slots=True)
class Given:
    """What pick-ups of one source brought of one thing, as it was counted or weighed."""

    gives: str
    times: int
    pieces: int  # counted, not weighed
    weighed_mg: int


def reminder_facts(
    studio: Studio, *, at: datetime, wishes: tuple[Wish, ...] | None = None
) -> ReminderFacts:
    """Everything that reminders hang on, as of a moment.

    Parameters
    ----------
    wishes : where they were read already
    """
    known = wishes_of(studio) if wishes is None else wishes
    return ReminderFacts(facts_at(studio, at=at, days=1), known)


def reminder_facts_and_rows(
    studio: Studio, *, at: datetime, also: Mapping[str, QuerySet[Any]]
) -> tuple[ReminderFacts, Gathered]:
    """The same facts, and rows that a page shows beside them, without another question."""
    queries = {**reader_queries(studio), **also}
    week, rows = facts_and_rows(studio, at=at, days=1, also=queries)
    return ReminderFacts(week, wishes_in(rows)), {name: rows[name] for name in also}


def given_so_far(
    studio: Studio, sources: Collection[str], *, at: datetime
) -> dict[str, tuple[Given, ...]]:
    """What sources have given up to a moment, by source, then by thing."""
    rows = PickUp.objects.of(studio).filter(source__name__in=sources, how="made", at__lte=at)
    sums = rows.values("source__name", "gives").annotate(
        times=Count("id"), counted=Sum("pieces"), weighed=Sum("weight_mg")
    )
    found: dict[str, tuple[Given, ...]] = {}
    for row in sums.order_by("source__name", "gives"):
        given = Given(row["gives"], row["times"], row["counted"] or 0, row["weighed"] or 0)
        found[row["source__name"]] = (*found.get(row["source__name"], ()), given)
    return found
