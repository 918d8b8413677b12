"""What reminders are worked out from, read at a moment; and what a source has given so far."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime

from django.db.models import Count, Sum

from inventory.models import Studio
from sourcing.models import PickUp
from sourcing.outlook import facts_at
from sourcing.reminders import wishes_of
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
