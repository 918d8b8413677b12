"""What reminders are worked out from, read at a moment; and what a source has given so far."""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from django.db.models import Count, QuerySet, Sum

from inventory.models import Studio
from sourcing.gather import Gathered, Gathering
from sourcing.outlook import facts_and_rows, facts_at, tables_and
from sourcing.reminders import reader_queries, wishes_in, wishes_of
from sourcing.reminding.facts import ReminderFacts, Wish
from sourcing.standing import standing_pickups


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


def reminder_tables(also: Callable[[Studio], Mapping[str, QuerySet[Any]]]) -> Gathering:
    """What the facts are read from, and other rows of a studio, in one question; once a page."""
    return tables_and(lambda studio: {**reader_queries(studio), **also(studio)})


def reminder_facts_and_rows(
    studio: Studio, *, at: datetime, tables: Gathering
) -> tuple[ReminderFacts, Gathered]:
    """The same facts, and the rows of `reminder_tables` that they were made of."""
    week, rows = facts_and_rows(studio, at=at, days=1, tables=tables)
    return ReminderFacts(week, wishes_in(rows)), rows


def given_so_far(
    studio: Studio, sources: Collection[str], *, at: datetime
) -> dict[str, tuple[Given, ...]]:
    """What sources have given up to a moment, by source, then by thing."""
    rows = standing_pickups(studio).filter(source__name__in=sources, how="made", at__lte=at)
    sums = rows.values("source__name", "gives").annotate(
        times=Count("id"), counted=Sum("pieces"), weighed=Sum("weight_mg")
    )
    found: dict[str, tuple[Given, ...]] = {}
    for row in sums.order_by("source__name", "gives"):
        given = Given(row["gives"], row["times"], row["counted"] or 0, row["weighed"] or 0)
        found[row["source__name"]] = (*found.get(row["source__name"], ()), given)
    return found
