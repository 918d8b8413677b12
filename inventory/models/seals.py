"""Seals: the postings of a studio, chained after they were written."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Now

from inventory.models.scope import OfStudio, SameStudio, TableRule, is_one_with, points_at


class Seal(OfStudio):
    """One batch of postings; its digest covers all that came before."""

    number = models.PositiveIntegerField()
    follows = models.PositiveIntegerField(null=True, blank=True)
    digest_before = models.CharField(max_length=64, blank=True)
    digest = models.CharField(max_length=64)
    postings = models.PositiveIntegerField()
    sealed_at = models.DateTimeField(db_default=Now(), editable=False)

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "number"], name="seal_number_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="seal_key_in_its_studio"),
            models.UniqueConstraint(
                fields=["studio", "number", "digest"], name="seal_can_be_followed"
            ),
            TableRule(
                clause="FOREIGN KEY (studio_id, follows, digest_before) "
                "REFERENCES {table} (studio_id, number, digest)",
                name="seal_begins_where_the_last_one_ended",
            ),
            models.CheckConstraint(
                condition=Q(number=1, follows__isnull=True, digest_before="")
                | Q(number__gt=1, follows__isnull=False, follows=F("number") - 1),
                name="seal_follows_the_one_before",
            ),
        )

    def __str__(self) -> str:
        return f"Seal {self.number}"


class Sealed(OfStudio):
    """A posting's place in the chain."""

    seal = points_at("inventory.Seal", db_index=False)
    posting = is_one_with("inventory.Posting", related_name="sealed")
    place = models.PositiveIntegerField()
    digest = models.CharField(max_length=64)

    class Meta:
        ordering = ("seal", "place")
        constraints = (
            models.UniqueConstraint(fields=["seal", "place"], name="sealed_place_once_a_seal"),
            SameStudio(field="seal", name="sealed_and_its_seal_share_a_studio"),
            SameStudio(field="posting", name="sealed_and_its_posting_share_a_studio"),
        )

    def __str__(self) -> str:
        return f"{self.posting_id} in seal {self.seal_id}"
