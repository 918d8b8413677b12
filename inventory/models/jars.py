"""Jars of home-made liquor and baths kept for use, with what was done to them."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from inventory.models.fields import DecimalText, FractionText
from inventory.models.lots import OfLot
from inventory.models.movements import OfPosting
from inventory.models.scope import SameStudio, is_one_with


class Jar(OfPosting):
    """How a home-made liquor was set up."""

    lot = is_one_with("inventory.Lot", related_name="jar")
    name = models.CharField(max_length=80)  # what the tape says
    metal = models.CharField(max_length=20)
    vinegar_parts = FractionText(default="0")
    water_parts = FractionText(default="0")
    acid_percent = DecimalText(default="0")
    begun_at = models.DateTimeField(null=True, blank=True)
    begun_volume_ul = models.PositiveBigIntegerField()
    temperature_c = models.FloatField(null=True, blank=True)
    metal_put_in_mg = models.PositiveBigIntegerField(null=True, blank=True)
    looks = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ("id",)
        constraints = (
            SameStudio(field="lot", name="jar_and_its_lot_share_a_studio"),
            SameStudio(field="posting", name="jar_and_its_posting_share_a_studio", deferred=True),
        )

    def __str__(self) -> str:
        return self.name


class Dip(OfLot):
    """One test of a jar: a strip grade 1 to 5, or a reading in mg/L of metal."""

    grade = models.PositiveSmallIntegerField(null=True, blank=True)
    metal_mg_per_l = models.FloatField(null=True, blank=True)

    class Meta(OfLot.Meta):
        constraints = (
            SameStudio(field="lot", name="dip_and_its_lot_share_a_studio"),
            SameStudio(field="posting", name="dip_and_its_posting_share_a_studio", deferred=True),
            models.CheckConstraint(
                condition=Q(grade__isnull=True) | Q(grade__gte=1, grade__lte=5),
                name="dip_grade_from_1_to_5",
            ),
            models.CheckConstraint(
                condition=Q(grade__isnull=False) | Q(metal_mg_per_l__isnull=False),
                name="dip_says_what_it_showed",
            ),
        )

    def __str__(self) -> str:
        return f"strip {self.grade}" if self.grade else f"{self.metal_mg_per_l} mg/L"


class JarEvent(OfLot):
    """Something that changed a jar's liquid; how much is in the movement of the same posting."""

    kind = models.CharField(max_length=20)  # topped up, strained, kept at, evaporated
    vinegar_parts = FractionText(default="0")
    acid_percent = DecimalText(default="0")
    temperature_c = models.FloatField(null=True, blank=True)

    class Meta(OfLot.Meta):
        constraints = (
            SameStudio(field="lot", name="jar_event_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="jar_event_and_its_posting_share_a_studio", deferred=True
            ),
            models.CheckConstraint(
                condition=Q(kind__in=["topped up", "strained", "kept at", "evaporated"]),
                name="jar_event_of_a_known_kind",
            ),
        )

    def __str__(self) -> str:
        return self.kind


class Bath(OfPosting):
    """How a kept bath was made."""

    lot = is_one_with("inventory.Lot", related_name="bath")
    made_at = models.DateTimeField()
    temperature_c = models.FloatField()
    shade = models.CharField(max_length=80, blank=True)
    depth = models.PositiveSmallIntegerField(default=0)
    metal = models.CharField(max_length=20, blank=True)

    class Meta:
        ordering = ("id",)
        constraints = (
            SameStudio(field="lot", name="bath_and_its_lot_share_a_studio"),
            SameStudio(field="posting", name="bath_and_its_posting_share_a_studio", deferred=True),
        )

    def __str__(self) -> str:
        return self.shade or f"bath of {self.made_at:%d %B}"


class BathState(OfLot):
    """From `at` on: how often the bath was used, what alum it still holds."""

    times_used = models.PositiveIntegerField(default=0)
    alum_left_mg = models.PositiveBigIntegerField(default=0)

    class Meta(OfLot.Meta):
        constraints = (
            SameStudio(field="lot", name="bath_state_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="bath_state_and_its_posting_share_a_studio", deferred=True
            ),
        )

    def __str__(self) -> str:
        return f"used {self.times_used} times"
