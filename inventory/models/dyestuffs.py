"""The studio's catalogue of what gives colour."""

from __future__ import annotations

from django.db import models

from inventory.models.scope import OfStudio


class Dyestuff(OfStudio):
    """Plant or kitchen material that gives colour, with what must be said of it."""

    name = models.CharField(max_length=80)
    piece = models.CharField(max_length=40, blank=True)  # "stone"; empty: not counted by the piece
    pieces = models.CharField(max_length=40, blank=True)  # "stones"
    foraged = models.BooleanField(default=False)
    fugitive = models.BooleanField(default=False)
    hazard = models.CharField(max_length=200, blank=True)  # follows it to label, sheet and slip
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "name"], name="dyestuff_name_is_its_own"),
        )

    def __str__(self) -> str:
        return self.name
