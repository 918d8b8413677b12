"""Runs that are wanted, and the gates that they must pass."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from inventory.models.fields import DecimalText
from inventory.models.scope import OfStudio, SameStudio, is_one_with, points_at


class Run(OfStudio):
    """Dyeing one shade on one amount of fibre, all its steps."""

    code = models.CharField(max_length=40)
    recipe = points_at("sourcing.Recipe")
    fibre = models.CharField(max_length=20)
    weight_mg = models.PositiveBigIntegerField()
    fibre_lot = points_at("inventory.Lot", null=True, blank=True)
    due = models.DateTimeField(null=True, blank=True)
    jar = points_at("inventory.Lot", null=True, blank=True)
    for_whom = models.CharField(max_length=80, blank=True)
    client = models.BooleanField(default=True)
    group_block = points_at("sourcing.Block", null=True, blank=True)
    people = models.PositiveIntegerField(default=0)
    begun = models.BooleanField(default=False)
    fibre_needed_by = models.DateField(null=True, blank=True)
    finished_at = models.DateTimeField(null=True, blank=True)
    posting = points_at("inventory.Posting", null=True, blank=True)
    came_out = models.CharField(max_length=120, blank=True)  # what went wrong; empty: as meant

    class Meta:
        ordering = ("code",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "code"], name="run_code_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="run_key_in_its_studio"),
            SameStudio(field="recipe", name="run_and_its_recipe_share_a_studio"),
            SameStudio(field="fibre_lot", name="run_and_its_fibre_share_a_studio"),
            SameStudio(field="jar", name="run_and_its_jar_share_a_studio"),
            SameStudio(field="group_block", name="run_and_its_group_day_share_a_studio"),
            SameStudio(field="posting", name="run_and_its_posting_share_a_studio"),
            models.CheckConstraint(condition=Q(weight_mg__gt=0), name="run_dyes_something"),
        )

    def __str__(self) -> str:
        return self.code


class Snippet(OfStudio):
    """A snippet of cloth that was dyed in a run's extract before the cloth, and how it looked."""

    run = points_at("sourcing.Run")
    swatch = is_one_with("inventory.Swatch", related_name="+")
    good = models.BooleanField()
    looks = models.CharField(max_length=120, blank=True)  # too pale, as the shade card ...

    class Meta:
        ordering = ("run", "id")
        constraints = (
            SameStudio(field="run", name="snippet_and_its_run_share_a_studio"),
            SameStudio(field="swatch", name="snippet_and_its_swatch_share_a_studio"),
        )

    def __str__(self) -> str:
        return self.looks or ("good" if self.good else "not good")


class ShadeCard(OfStudio):
    """A gate: the shade card of a run, and whether it was agreed."""

    run = is_one_with("sourcing.Run")
    approved = models.BooleanField()

    class Meta:
        ordering = ("run",)
        constraints = (SameStudio(field="run", name="shade_card_and_its_run_share_a_studio"),)

    def __str__(self) -> str:
        return "agreed" if self.approved else "not agreed yet"


class FastnessWish(OfStudio):
    """A gate: a reading that is asked for, against the reading so far."""

    run = points_at("sourcing.Run")
    what = models.CharField(max_length=10)  # light, wash, rub
    wanted = DecimalText()
    reading = DecimalText(null=True, blank=True)
    begun_on = models.DateField(null=True, blank=True)
    days = models.PositiveIntegerField(default=0)
    accepted_in_writing = models.BooleanField(default=False)

    class Meta:
        ordering = ("run", "what")
        constraints = (
            models.UniqueConstraint(fields=["run", "what"], name="wish_once_for_a_reading"),
            SameStudio(field="run", name="wish_and_its_run_share_a_studio"),
            models.CheckConstraint(
                condition=Q(what__in=["light", "wash", "rub"]), name="wish_of_a_known_kind"
            ),
        )

    def __str__(self) -> str:
        return f"{self.what} at least {self.wanted}"
