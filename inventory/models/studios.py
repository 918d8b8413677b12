"""Studio, site, water and the studio's own figures."""

from __future__ import annotations

from django.db import models

from inventory.models.fields import DecimalText
from inventory.models.scope import OfStudio, SameStudio, points_at


class Studio(models.Model):
    """A place where people dye, with its own shelves, clock and money."""

    name = models.CharField(max_length=120)
    zone = models.CharField(max_length=64)
    country = models.CharField(max_length=2, blank=True)
    region = models.CharField(max_length=80, blank=True)
    currency = models.CharField(max_length=3, default="GBP")
    shed_c = DecimalText(null=True, blank=True)
    # In which its pages, sheets and letters are said, and how they write numbers; empty: as
    # whoever reads has it.
    language = models.CharField(max_length=10, blank=True, default="")
    number_form = models.CharField(max_length=10, blank=True, default="")
    # In which its pages and letters write weights and volumes, and what a pint is; empty: metric,
    # with the pint of its country. What is written down stays in milligrams and microlitres.
    units = models.CharField(max_length=10, blank=True, default="")

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=["name"], name="studio_name_is_its_own"),
            models.CheckConstraint(condition=~models.Q(name=""), name="studio_has_a_name"),
            models.CheckConstraint(condition=~models.Q(zone=""), name="studio_has_a_time_zone"),
            models.CheckConstraint(
                condition=models.Q(number_form__in=("", "point", "comma")),
                name="studio_writes_numbers_with_point_or_comma",
            ),
            models.CheckConstraint(
                condition=models.Q(units__in=("", "metric", "imperial", "us")),
                name="studio_weighs_in_units_that_are_known",
            ),
        )

    def __str__(self) -> str:
        return self.name


class Site(OfStudio):
    """One address of a studio; pots, line and cold places stand at it."""

    code = models.CharField(max_length=40)
    name = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ("code",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "code"], name="site_code_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="site_key_in_its_studio"),
        )

    def __str__(self) -> str:
        return self.code


class Water(OfStudio):
    """A water source with its pH and its warmth from the tap."""

    name = models.CharField(max_length=80)
    ph = DecimalText(null=True, blank=True)
    temperature_c = models.IntegerField()
    site = points_at("inventory.Site", null=True, blank=True)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "name"], name="water_name_is_its_own"),
            SameStudio(field="site", name="water_and_its_site_share_a_studio"),
        )

    def __str__(self) -> str:
        return self.name


class StudioRule(OfStudio):
    """A figure of the studio's own, from a day on; it overrides the shipped one."""

    item = models.CharField(max_length=80)
    name = models.CharField(max_length=80)
    value = DecimalText()
    low = DecimalText(null=True, blank=True)
    high = DecimalText(null=True, blank=True)
    since = models.DateField(null=True, blank=True)
    basis = models.CharField(max_length=40, default="measured here")
    source = models.CharField(max_length=200, blank=True)
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("item", "name", "since")
        constraints = (
            models.UniqueConstraint(
                fields=["studio", "item", "name", "since"],
                name="studio_rule_once_a_day",
            ),
            models.UniqueConstraint(
                fields=["studio", "item", "name"],
                condition=models.Q(since__isnull=True),
                name="studio_rule_undated_once",
            ),
        )

    def __str__(self) -> str:
        return f"{self.item}, {self.name} = {self.value}"
