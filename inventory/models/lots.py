"""Lot: everything whose amount is counted, with how it was kept and what was seen of it."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from inventory.models.movements import OfPosting
from inventory.models.scope import SameStudio, points_at


class LotKind(models.TextChoices):
    """What sort of thing is counted."""

    DYESTUFF = "dyestuff"
    SUPPLY = "supply"
    JAR = "jar"
    BATH = "bath"
    FIBRE = "fibre"


MG, UL = "mg", "µL"
UNITS = {
    LotKind.DYESTUFF: MG,
    LotKind.SUPPLY: MG,
    LotKind.JAR: UL,
    LotKind.BATH: UL,
    LotKind.FIBRE: MG,
}


class Lot(OfPosting):
    """Material gathered, kept or dyed together, or one jar or bath; never changed once begun."""

    code = models.CharField(max_length=40)
    kind = models.CharField(max_length=10, choices=LotKind.choices)
    unit = models.CharField(max_length=2)
    what = models.CharField(max_length=80)  # dyestuff, supply, "iron liquor", "nettle bath", fibre
    parent = points_at("self", null=True, blank=True, db_index=False)
    site = points_at("inventory.Site", null=True, blank=True, db_index=False)
    source = models.CharField(max_length=120, blank=True)
    gathered_on = models.DateField(null=True, blank=True)
    permission = models.CharField(max_length=200, blank=True)
    foraged = models.BooleanField(default=False)

    class Meta:
        ordering = ("code",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "code"], name="lot_code_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="lot_key_in_its_studio"),
            SameStudio(field="posting", name="lot_and_its_posting_share_a_studio", deferred=True),
            SameStudio(field="parent", name="lot_and_its_parent_share_a_studio"),
            SameStudio(field="site", name="lot_and_its_site_share_a_studio"),
            models.CheckConstraint(
                condition=Q(kind__in=["jar", "bath"], unit=UL)
                | Q(kind__in=["dyestuff", "supply", "fibre"], unit=MG),
                name="lot_unit_fits_its_kind",
            ),
            models.CheckConstraint(condition=~Q(code=""), name="lot_has_a_code"),
            models.CheckConstraint(condition=~Q(what=""), name="lot_says_what_it_is"),
            models.CheckConstraint(
                condition=Q(parent__isnull=True) | ~Q(parent=models.F("id")),
                name="lot_is_not_its_own_parent",
            ),
        )

    def __str__(self) -> str:
        return f"{self.code}, {self.what}"


class OfLot(OfPosting):
    """A row of a lot's history: it holds from `at` on."""

    lot = points_at("inventory.Lot")
    at = models.DateTimeField()

    class Meta:
        abstract = True
        ordering = ("at", "id")


class Stay(OfLot):
    """From `at` on the lot is in this state and this place."""

    state = models.CharField(max_length=20)
    place = models.CharField(max_length=40, blank=True)
    place_kind = models.CharField(max_length=20)
    temperature_c = models.FloatField(null=True, blank=True)

    class Meta(OfLot.Meta):
        constraints = (
            SameStudio(field="lot", name="stay_and_its_lot_share_a_studio"),
            SameStudio(field="posting", name="stay_and_its_posting_share_a_studio", deferred=True),
        )

    def __str__(self) -> str:
        return f"{self.state}, {self.place or self.place_kind}"


class Standing(OfLot):
    """From `at` on: labelled or not, set aside or in use, when it comes, what was checked."""

    labelled = models.BooleanField(default=True)
    set_aside = models.CharField(max_length=200, blank=True)
    arrives_at = models.DateTimeField(null=True, blank=True)
    nest_checked = models.BooleanField(null=True, blank=True)
    weighed = models.BooleanField(default=True)

    class Meta(OfLot.Meta):
        constraints = (
            SameStudio(field="lot", name="standing_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="standing_and_its_posting_share_a_studio", deferred=True
            ),
        )

    def __str__(self) -> str:
        return self.set_aside or "in use"


class Verdict(OfLot):
    """What somebody saw at `at`: sound or bad."""

    sound = models.BooleanField()

    class Meta(OfLot.Meta):
        constraints = (
            SameStudio(field="lot", name="verdict_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="verdict_and_its_posting_share_a_studio", deferred=True
            ),
        )

    def __str__(self) -> str:
        return "sound" if self.sound else "bad"
