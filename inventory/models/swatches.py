"""Swatches: the kept sample of a lot, and its readings."""

from __future__ import annotations

from django.db import models

from inventory.models.fields import DecimalText
from inventory.models.movements import OfPosting
from inventory.models.scope import SameStudio, points_at


class Swatch(OfPosting):
    """A kept sample of a lot of fibre."""

    lot = points_at("inventory.Lot")
    number = models.PositiveIntegerField()
    shade = models.CharField(max_length=80, blank=True)
    at = models.DateTimeField()
    snippet = models.BooleanField(default=False)  # dyed before its cloth, to see the shade

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "number"], name="swatch_number_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="swatch_key_in_its_studio"),
            SameStudio(field="lot", name="swatch_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="swatch_and_its_posting_share_a_studio", deferred=True
            ),
        )

    def __str__(self) -> str:
        return f"{'Snippet' if self.snippet else 'Swatch'} {self.number}"


class Reading(OfPosting):
    """What was read off a swatch: colour, light, wash or rub."""

    swatch = points_at("inventory.Swatch")
    at = models.DateTimeField()
    what = models.CharField(max_length=20)  # colour, light, wash, rub
    value = DecimalText(null=True, blank=True)  # grade
    lab_l = DecimalText(null=True, blank=True)
    lab_a = DecimalText(null=True, blank=True)
    lab_b = DecimalText(null=True, blank=True)
    days = models.PositiveIntegerField(null=True, blank=True)

    class Meta:
        ordering = ("at", "id")
        constraints = (
            SameStudio(field="swatch", name="reading_and_its_swatch_share_a_studio"),
            SameStudio(
                field="posting", name="reading_and_its_posting_share_a_studio", deferred=True
            ),
            models.CheckConstraint(
                condition=models.Q(what__in=["colour", "light", "wash", "rub"]),
                name="reading_of_a_known_kind",
            ),
        )

    def __str__(self) -> str:
        return f"{self.what} {self.value or ''}".strip()
