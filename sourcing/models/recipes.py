"""Recipes in their versions, their steps and doses, and baths that the studio makes."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from inventory.models.fields import DecimalText, FractionText
from inventory.models.scope import OfStudio, SameStudio, points_at


class Recipe(OfStudio):
    """How a shade is made on a fibre; a change makes a new version, the old one stays."""

    code = models.CharField(max_length=40)
    version = models.PositiveIntegerField(default=1)
    body_sha256 = models.CharField(max_length=64)  # of all it says, steps and doses too
    shade = models.CharField(max_length=80)
    fibres = models.JSONField(default=list)
    l_per_kg = FractionText()
    mordant = models.CharField(max_length=80, blank=True)
    mordant_percent = DecimalText(default="0")
    bright = models.BooleanField()
    needs_scoured = models.BooleanField(default=True)
    match = models.CharField(max_length=10, default="blend")
    water = models.CharField(max_length=80, blank=True)
    ph_low = DecimalText(null=True, blank=True)
    ph_high = DecimalText(null=True, blank=True)
    fugitive = models.BooleanField(default=False)
    depth = models.PositiveSmallIntegerField(default=3)
    may_share = models.JSONField(default=list)  # kinds of step: scour, mordant
    second_of = models.CharField(max_length=40, blank=True)  # recipe whose used bath it dyes in
    strength = FractionText(null=True, blank=True)  # of that recipe's shade

    class Meta:
        ordering = ("code", "version")
        constraints = (
            models.UniqueConstraint(
                fields=["studio", "code", "version"], name="recipe_version_is_its_own"
            ),
            models.UniqueConstraint(fields=["studio", "id"], name="recipe_key_in_its_studio"),
            models.CheckConstraint(condition=Q(version__gte=1), name="recipe_version_from_1"),
            models.CheckConstraint(
                condition=Q(match__in=["blend", "lot"]), name="recipe_match_blend_or_lot"
            ),
            models.CheckConstraint(
                condition=Q(depth__gte=1, depth__lte=5), name="recipe_depth_from_1_to_5"
            ),
            models.CheckConstraint(
                condition=Q(strength__isnull=True) | Q(second_of__gt=""),
                name="recipe_strength_only_of_a_second_bath",
            ),
        )

    def __str__(self) -> str:
        return f"{self.shade}, version {self.version}"


class RecipeStep(OfStudio):
    """One step of a recipe, as data."""

    recipe = points_at("sourcing.Recipe")
    number = models.PositiveSmallIntegerField()
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=20)
    vessels = models.JSONField(default=list)
    l_per_kg = FractionText(null=True, blank=True)
    heats = models.JSONField(default=list)  # [start_c or null, goal_c, hold_min] each
    stand_min = models.PositiveIntegerField(default=0)
    stand_max = models.PositiveIntegerField(null=True, blank=True)
    night = models.BooleanField(default=False)
    cool_min = models.PositiveIntegerField(default=0)
    hands_min = models.PositiveIntegerField(default=0)
    hands_per = models.CharField(max_length=10, default="load")
    at_once = models.BooleanField(default=False)
    strain = models.BooleanField(default=False)
    strained_c = models.SmallIntegerField(null=True, blank=True)
    from_time = models.TimeField(null=True, blank=True)
    one_lot = models.BooleanField(default=False)
    aired = models.BooleanField(default=False)
    metal = models.CharField(max_length=20, blank=True)
    snippet_min = models.PositiveIntegerField(default=0)  # in what is strained; 0: none
    snippet_hands_min = models.PositiveIntegerField(default=0)
    begun_c = models.SmallIntegerField(null=True, blank=True)  # water of a step without heats

    class Meta:
        ordering = ("recipe", "number")
        constraints = (
            models.UniqueConstraint(fields=["recipe", "number"], name="step_number_is_its_own"),
            models.UniqueConstraint(fields=["recipe", "name"], name="step_name_is_its_own"),
            SameStudio(field="recipe", name="step_and_its_recipe_share_a_studio"),
            models.CheckConstraint(
                condition=Q(stand_max__isnull=True) | Q(stand_max__gte=models.F("stand_min")),
                name="step_stands_at_most_no_less_than_at_least",
            ),
            models.CheckConstraint(
                condition=Q(snippet_min__gt=0) | Q(snippet_hands_min=0),
                name="step_snippet_hands_only_with_a_snippet",
            ),
            models.CheckConstraint(
                condition=Q(hands_per__in=["load", "run", "kg", "dye load"]),
                name="step_hands_per_a_known_thing",
            ),
        )

    def __str__(self) -> str:
        return self.name


class RecipeDose(OfStudio):
    """What a step takes, by weight of dry fibre."""

    recipe = points_at("sourcing.Recipe")
    number = models.PositiveSmallIntegerField()
    step = models.CharField(max_length=80)
    what = models.CharField(max_length=80)
    kind = models.CharField(max_length=10)
    per_fibre = FractionText(default="0")
    ml_per_100g = FractionText(default="0")
    l_per_kg = FractionText(default="0")
    state = models.CharField(max_length=20, blank=True)

    class Meta:
        ordering = ("recipe", "number")
        constraints = (
            models.UniqueConstraint(fields=["recipe", "number"], name="dose_number_is_its_own"),
            SameStudio(field="recipe", name="dose_and_its_recipe_share_a_studio"),
            models.CheckConstraint(
                condition=Q(kind__in=["dyestuff", "supply", "liquor", "bath"]),
                name="dose_of_a_known_kind",
            ),
        )

    def __str__(self) -> str:
        return f"{self.what} at {self.step}"


class Making(OfStudio):
    """How a bath is made by the studio itself before it is needed."""

    bath = models.CharField(max_length=80)
    dyestuff = models.CharField(max_length=80)
    state = models.CharField(max_length=20)
    g_per_litre = DecimalText()
    heats = models.JSONField(default=list)
    hands_min = models.PositiveIntegerField()
    vessels = models.JSONField(default=list)

    class Meta:
        ordering = ("bath",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "bath"], name="making_once_for_a_bath"),
            models.CheckConstraint(
                condition=~Q(bath=models.F("dyestuff")), name="making_is_not_made_of_itself"
            ),
        )

    def __str__(self) -> str:
        return self.bath
