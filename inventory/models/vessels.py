"""Pots, rings, line and cold places, and what the pots went through."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from inventory.models.movements import OfPosting
from inventory.models.scope import OfStudio, SameStudio, points_at


class Vessel(OfStudio):
    """A pot, tub or bucket."""

    code = models.CharField(max_length=40)
    kind = models.CharField(max_length=20)  # pot, tub, bucket
    material = models.CharField(max_length=20, blank=True)
    brim_ml = models.PositiveIntegerField()
    working_ml = models.PositiveIntegerField()
    iron_pot = models.BooleanField(default=False)
    food = models.BooleanField(default=False)
    site = points_at("inventory.Site", null=True, blank=True)

    class Meta:
        ordering = ("code",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "code"], name="vessel_code_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="vessel_key_in_its_studio"),
            SameStudio(field="site", name="vessel_and_its_site_share_a_studio"),
            models.CheckConstraint(
                condition=Q(working_ml__lte=models.F("brim_ml")),
                name="vessel_works_within_its_brim",
            ),
        )

    def __str__(self) -> str:
        return self.code


class VesselUse(OfPosting):
    """What a vessel went through at `at`."""

    vessel = points_at("inventory.Vessel")
    at = models.DateTimeField()
    what = models.CharField(max_length=20)  # iron, blank passed, blank failed, chipped, mended

    class Meta:
        ordering = ("at", "id")
        constraints = (
            SameStudio(field="vessel", name="vessel_use_and_its_vessel_share_a_studio"),
            SameStudio(
                field="posting", name="vessel_use_and_its_posting_share_a_studio", deferred=True
            ),
            models.CheckConstraint(
                condition=Q(what__in=["iron", "blank passed", "blank failed", "chipped", "mended"]),
                name="vessel_use_of_a_known_kind",
            ),
        )

    def __str__(self) -> str:
        return self.what


class Ring(OfStudio):
    """One heat place on the stove."""

    code = models.CharField(max_length=40)
    watts = models.PositiveIntegerField()
    not_for = models.CharField(max_length=400, blank=True)  # vessel codes, apart by commas
    site = points_at("inventory.Site", null=True, blank=True)

    class Meta:
        ordering = ("code",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "code"], name="ring_code_is_its_own"),
            SameStudio(field="site", name="ring_and_its_site_share_a_studio"),
        )

    def __str__(self) -> str:
        return self.code


class Line(OfStudio):
    """Drying room, in dry weight."""

    code = models.CharField(max_length=40)
    holds_mg = models.PositiveBigIntegerField()
    outdoors = models.BooleanField(default=False)
    site = points_at("inventory.Site", null=True, blank=True)

    class Meta:
        ordering = ("code",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "code"], name="line_code_is_its_own"),
            SameStudio(field="site", name="line_and_its_site_share_a_studio"),
        )

    def __str__(self) -> str:
        return self.code


class ColdPlace(OfStudio):
    """Fridge, freezer or drying tray with what it holds; empty: without limit."""

    code = models.CharField(max_length=40)
    kind = models.CharField(max_length=20)
    holds_mg = models.PositiveBigIntegerField(null=True, blank=True)
    temperature_c = models.FloatField(null=True, blank=True)
    site = points_at("inventory.Site", null=True, blank=True)

    class Meta:
        ordering = ("code",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "code"], name="cold_place_code_is_its_own"),
            SameStudio(field="site", name="cold_place_and_its_site_share_a_studio"),
        )

    def __str__(self) -> str:
        return self.code
