"""Fibre: yarn, cloth and fleece, and what has been done to them."""

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
