"""Sources and what they have agreed to give."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from inventory.models.scope import OfStudio, SameStudio, points_at


class Source(OfStudio):
    """A person or place that saves material."""

    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=80, blank=True)
    place = models.CharField(max_length=80, blank=True)
    carrying_note = models.CharField(max_length=500, blank=True)
    carrying_until = models.DateField(null=True, blank=True)  # its last day; empty: for good
    note = models.CharField(max_length=500, blank=True)
    tubs_there = models.PositiveIntegerField(default=0)  # the sum of its moves of tubs

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "name"], name="source_name_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="source_key_in_its_studio"),
            models.CheckConstraint(condition=~Q(name=""), name="source_has_a_name"),
            models.CheckConstraint(
                condition=Q(carrying_until__isnull=True) | ~Q(carrying_note=""),
                name="carrying_note_is_there_before_it_ends",
            ),
            models.CheckConstraint(
                condition=Q(tubs_there__gte=0), name="source_holds_no_fewer_tubs_than_none"
            ),
        )

    def __str__(self) -> str:
        return self.name


class Agreement(OfStudio):
    """One thing that a source gives: on which days, in which window, by whose leave."""

    source = points_at("sourcing.Source")
    gives = models.CharField(max_length=80)
    days = models.JSONField(default=list)  # 0 Monday to 6 Sunday, or dates as 2026-11-27
    at = models.TimeField()
    since = models.DateField(null=True, blank=True)
    last_on = models.DateField(null=True, blank=True)
    closed = models.JSONField(default=list)  # pairs of dates, first and last day
    permission_by = models.CharField(max_length=80, blank=True)
    permission_on = models.DateField(null=True, blank=True)
    permission_ended = models.DateField(null=True, blank=True)  # first day without it
    hands_min = models.PositiveIntegerField(default=0)
    likely_mg = models.PositiveBigIntegerField(null=True, blank=True)  # what the source said
    likely_pieces = models.PositiveIntegerField(null=True, blank=True)
    note = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("source", "gives")
        constraints = (
            models.UniqueConstraint(
                fields=["studio", "source", "gives"], name="agreement_once_for_a_thing"
            ),
            models.UniqueConstraint(fields=["studio", "id"], name="agreement_key_in_its_studio"),
            SameStudio(field="source", name="agreement_and_its_source_share_a_studio"),
            models.CheckConstraint(condition=~Q(gives=""), name="agreement_says_what_it_gives"),
            models.CheckConstraint(
                condition=Q(since__isnull=True)
                | Q(last_on__isnull=True)
                | Q(since__lte=F("last_on")),
                name="agreement_opens_before_it_closes",
            ),
            models.CheckConstraint(
                condition=Q(permission_ended__isnull=True)
                | (
                    ~Q(permission_by="")
                    & (Q(permission_on__isnull=True) | Q(permission_on__lte=F("permission_ended")))
                ),
                name="permission_is_given_before_it_ends",
            ),
        )

    def __str__(self) -> str:
        return f"{self.gives} from {self.source_id}"
