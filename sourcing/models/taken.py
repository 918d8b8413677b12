"""Which week was taken in place of the plain one: an order of runs and steps that wait."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Now

from inventory.models.scope import OfStudio


class TakenWeek(OfStudio):
    """A week that was taken; the last one holds, up to its end. An empty one is the plain week."""

    never_changed = True

    entry = models.UUIDField()
    at = models.DateTimeField()
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)
    until = models.DateTimeField()  # the end of the week that was looked at
    order = models.JSONField(default=list)  # codes of runs, as they are placed
    # [run, step, moment] each: not begun before it; where a fourth says "stays", it begins then.
    floors = models.JSONField(default=list)
    sites = models.JSONField(default=list)  # [run, site] each
    together = models.JSONField(default=list)  # [run whose pots they are, run, last step] each
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("recorded_at", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="taken_week_entered_once"),
            models.CheckConstraint(
                condition=Q(until__gt=F("at")), name="taken_week_ends_after_it_is_taken"
            ),
        )

    def __str__(self) -> str:
        return f"week up to {self.until:%d %b}"
