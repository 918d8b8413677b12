"""Pick-ups: hand-overs that are reported, were made, or were missed."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from inventory.models.scope import OfStudio, SameStudio, points_at


class PickUp(OfStudio):
    """One hand-over from a source, counted or weighed; a missed one brought nothing."""

    source = points_at("sourcing.Source")
    gives = models.CharField(max_length=80)
    at = models.DateTimeField()
    how = models.CharField(max_length=10)  # reported, made, missed
    weight_mg = models.PositiveBigIntegerField(null=True, blank=True)
    pieces = models.PositiveIntegerField(null=True, blank=True)
    lot_code = models.CharField(max_length=40, blank=True)  # the lot that it becomes or became
    place = models.CharField(max_length=40, blank=True)
    place_kind = models.CharField(max_length=20, blank=True)
    state = models.CharField(max_length=20, default="fresh")
    posting = points_at("inventory.Posting", null=True, blank=True)
    nests_by = models.CharField(max_length=80, blank=True)  # who looked for nests before the cut
    nests_on = models.DateField(null=True, blank=True)
    note = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("at", "id")
        constraints = (
            models.UniqueConstraint(
                fields=["studio", "source", "gives", "at"], name="pickup_once_at_a_moment"
            ),
            SameStudio(field="source", name="pickup_and_its_source_share_a_studio"),
            SameStudio(field="posting", name="pickup_and_its_posting_share_a_studio"),
            models.CheckConstraint(
                condition=Q(how__in=["reported", "made", "missed"]), name="pickup_of_a_known_kind"
            ),
            models.CheckConstraint(
                condition=Q(how="missed", weight_mg__isnull=True, pieces__isnull=True)
                | (~Q(how="missed") & (Q(weight_mg__isnull=False) | Q(pieces__isnull=False))),
                name="pickup_has_an_amount_unless_missed",
            ),
            models.CheckConstraint(
                condition=Q(nests_by="", nests_on__isnull=True)
                | (~Q(nests_by="") & Q(nests_on__isnull=False)),
                name="pickup_nest_check_says_who_and_when",
            ),
        )

    def __str__(self) -> str:
        return f"{self.gives}, {self.at:%d %B %Y}, {self.how}"
