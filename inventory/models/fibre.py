"""Fibre: yarn, cloth and fleece, what has been done to them, and how a run came out."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from inventory.models.fields import DecimalText
from inventory.models.lots import OfLot
from inventory.models.movements import OfPosting
from inventory.models.scope import SameStudio, is_one_with


class FibreLot(OfPosting):
    """What a lot of fibre is made as; the fibre itself is the lot's `what`."""

    lot = is_one_with("inventory.Lot", related_name="fibre")
    form = models.CharField(max_length=20)  # yarn, cloth, fleece
    clients_own = models.BooleanField(default=False)

    class Meta:
        ordering = ("id",)
        constraints = (
            SameStudio(field="lot", name="fibre_lot_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="fibre_lot_and_its_posting_share_a_studio", deferred=True
            ),
        )

    def __str__(self) -> str:
        return self.form


class FibreState(OfLot):
    """From `at` on: scoured, mordanted, damp, dyed; `since` is the day to count from."""

    since = models.DateField(null=True, blank=True)
    scoured = models.BooleanField(default=False)
    mordant = models.CharField(max_length=40, blank=True)
    mordant_percent = DecimalText(default="0")
    damp = models.BooleanField(default=False)
    iron_percent = DecimalText(default="0")
    shade = models.CharField(max_length=80, blank=True)  # dyed; empty: not dyed

    class Meta(OfLot.Meta):
        constraints = (
            SameStudio(field="lot", name="fibre_state_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="fibre_state_and_its_posting_share_a_studio", deferred=True
            ),
            models.CheckConstraint(
                condition=~Q(mordant="") | Q(mordant_percent="0"),
                name="fibre_state_percent_only_with_mordant",
            ),
        )

    def __str__(self) -> str:
        return self.shade or self.mordant or ("scoured" if self.scoured else "unscoured")


class Quality(models.TextChoices):
    """What dyed fibre is kept as; empty: as it was meant to be."""

    AS_MEANT = ""
    SECOND = "second quality"
    AGAIN = "for re-dyeing"


class Dyeing(OfLot):
    """From `at` on: how dark the fibre is dyed, what it is kept as, and what went wrong with it.

    A table of its own: seals cover whole rows, so no column is added to one that is sealed.
    """

    depth = models.PositiveSmallIntegerField(default=0)  # of its shade, 1 to 5; 0: nobody said
    quality = models.CharField(max_length=20, blank=True, choices=Quality.choices)
    came_out = models.CharField(max_length=120, blank=True)  # boiled brown, streaky, felted ...

    class Meta(OfLot.Meta):
        constraints = (
            SameStudio(field="lot", name="dyeing_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="dyeing_and_its_posting_share_a_studio", deferred=True
            ),
            models.CheckConstraint(condition=Q(depth__lte=5), name="dyeing_depth_to_5"),
            models.CheckConstraint(
                condition=Q(quality__in=["", "second quality", "for re-dyeing"]),
                name="dyeing_of_a_known_quality",
            ),
            models.CheckConstraint(
                condition=Q(quality="") | ~Q(came_out=""), name="dyeing_says_what_went_wrong"
            ),
        )

    def __str__(self) -> str:
        return self.quality or "as it was meant to be"


class ClothMeasured(OfLot):
    """From `at` on: what a square metre of the cloth weighs dry, and how wide it lies."""

    g_per_m2 = DecimalText()
    width_mm = models.PositiveIntegerField()

    class Meta(OfLot.Meta):
        constraints = (
            SameStudio(field="lot", name="cloth_measured_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="cloth_measured_and_its_posting_share_a_studio", deferred=True
            ),
            models.CheckConstraint(condition=Q(width_mm__gt=0), name="cloth_measured_has_a_width"),
        )

    def __str__(self) -> str:
        return f"{self.g_per_m2} g per m², {self.width_mm} mm wide"
