"""Clean tubs that are left with a source and fetched back."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from inventory.models.scope import OfStudio, SameStudio, points_at


class TubMove(OfStudio):
    """So many tubs left with a source, fetched back from it, or lost there; only added to."""

    source = points_at("sourcing.Source")
    at = models.DateTimeField()
    how = models.CharField(max_length=10)  # left, fetched, lost
    tubs = models.PositiveSmallIntegerField()
    entry = models.UUIDField()
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("at", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="tubs_entered_once"),
            models.UniqueConstraint(
                fields=["studio", "source", "at", "how"], name="tubs_moved_once_at_a_moment"
            ),
            SameStudio(field="source", name="tubs_and_their_source_share_a_studio"),
            models.CheckConstraint(
                condition=Q(how__in=["left", "fetched", "lost"]), name="tubs_of_a_known_move"
            ),
            models.CheckConstraint(condition=Q(tubs__gt=0), name="tubs_moved_are_some"),
        )

    def __str__(self) -> str:
        return f"{self.tubs} {self.how}, {self.at:%d %B %Y}"
