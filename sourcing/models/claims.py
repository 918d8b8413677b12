"""Claims: what of a lot is promised to a run."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from inventory.models.scope import OfStudio, SameStudio, points_at


class Claim(OfStudio):
    """An amount of a lot, in the lot's unit, promised to a run until it is released."""

    run = points_at("sourcing.Run")
    lot = points_at("inventory.Lot")
    amount = models.PositiveBigIntegerField()  # mg or µL, as the lot
    step = models.CharField(max_length=80, blank=True)
    made_at = models.DateTimeField()
    released_at = models.DateTimeField(null=True, blank=True)
    entry = models.UUIDField()

    class Meta:
        ordering = ("made_at", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="claim_entered_once"),
            SameStudio(field="run", name="claim_and_its_run_share_a_studio"),
            SameStudio(field="lot", name="claim_and_its_lot_share_a_studio"),
            models.CheckConstraint(condition=Q(amount__gt=0), name="claim_is_of_something"),
            models.CheckConstraint(
                condition=Q(released_at__isnull=True) | Q(released_at__gte=F("made_at")),
                name="claim_released_after_it_was_made",
            ),
        )

    def __str__(self) -> str:
        return f"{self.amount} of {self.lot_id} for {self.run_id}"


class ClaimUsed(OfStudio):
    """What an entry used of what a run was promised of a lot, for when it is taken back."""

    run = points_at("sourcing.Run")
    lot = points_at("inventory.Lot")
    entry = models.UUIDField()  # of the posting: a draw, a scour, a mordant, a putting-by, a bath
    amount = models.PositiveBigIntegerField()  # mg or µL, as the lot; 0: the run was meant for it
    meant = models.BooleanField(default=False)  # the run was meant for this lot of fibre before

    class Meta:
        ordering = ("id",)
        constraints = (
            SameStudio(field="run", name="claim_used_and_its_run_share_a_studio"),
            SameStudio(field="lot", name="claim_used_and_its_lot_share_a_studio"),
            models.CheckConstraint(
                condition=Q(amount__gt=0) | Q(meant=True), name="claim_used_is_of_something"
            ),
        )

    def __str__(self) -> str:
        return f"{self.amount} of {self.lot_id} used for {self.run_id}"
