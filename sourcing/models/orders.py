"""Suppliers and their prices, orders and what became of them, deliveries and the lots they made."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Now

from inventory.models.fields import FractionText
from inventory.models.scope import OfStudio, SameStudio, points_at


class Supplier(OfStudio):
    """Who sells fibre, how long it takes, and what an order costs beside the fibre."""

    name = models.CharField(max_length=80)
    lead_days = models.PositiveSmallIntegerField()  # working days, that of ordering not counted
    weekdays = models.JSONField(default=list)  # that they work, 0 Monday to 6 Sunday
    shutdowns = models.JSONField(default=list)  # pairs of dates, first and last day
    country = models.CharField(max_length=2, blank=True)  # whose public holidays they keep
    region = models.CharField(max_length=10, blank=True)
    carriage_minor = models.PositiveBigIntegerField(default=0)
    carriage_free_from_minor = models.PositiveBigIntegerField(null=True, blank=True)
    least_minor = models.PositiveBigIntegerField(default=0)  # value of the fibre in one order
    contact = models.CharField(max_length=500, blank=True)
    note = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "name"], name="supplier_name_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="supplier_key_in_its_studio"),
            models.CheckConstraint(condition=~Q(name=""), name="supplier_has_a_name"),
            models.CheckConstraint(
                condition=Q(lead_days__lte=400), name="supplier_lead_of_400_days_at_most"
            ),
        )

    def __str__(self) -> str:
        return self.name


class Offer(OfStudio):
    """One fibre in one pack at the prices of a price list, from a day and till a day."""

    supplier = points_at("sourcing.Supplier")
    fibre = models.CharField(max_length=20)
    form = models.CharField(max_length=20)
    pack_mg = models.PositiveBigIntegerField()
    tiers = models.JSONField(default=list)  # [from_mg, minor of a pack] each, from 0 upwards
    least_mg = models.PositiveBigIntegerField(default=0)  # of the line
    scoured = models.BooleanField(default=False)  # sold ready to dye
    scour_loss = FractionText(null=True, blank=True)  # empty: the studio's figure for the fibre
    most_packs = models.PositiveIntegerField(null=True, blank=True)  # that the supplier has
    code = models.CharField(max_length=40, blank=True)  # as the supplier writes it
    since = models.DateField(null=True, blank=True)
    last_on = models.DateField(null=True, blank=True)
    note = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("supplier", "fibre", "form", "pack_mg", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "id"], name="offer_key_in_its_studio"),
            models.UniqueConstraint(
                fields=["studio", "supplier", "fibre", "form", "pack_mg", "code", "since"],
                name="offer_once_from_a_day",
            ),
            models.UniqueConstraint(
                fields=["studio", "supplier", "fibre", "form", "pack_mg", "code"],
                condition=Q(since__isnull=True),
                name="offer_once_without_a_day",
            ),
            SameStudio(field="supplier", name="offer_and_its_supplier_share_a_studio"),
            models.CheckConstraint(condition=Q(pack_mg__gt=0), name="offer_has_a_pack"),
            models.CheckConstraint(condition=~Q(fibre=""), name="offer_says_its_fibre"),
            models.CheckConstraint(condition=~Q(form=""), name="offer_says_its_form"),
            models.CheckConstraint(
                condition=Q(scoured=False) | Q(scour_loss__isnull=True),
                name="offer_loses_nothing_when_scoured",
            ),
            models.CheckConstraint(
                condition=Q(since__isnull=True)
                | Q(last_on__isnull=True)
                | Q(since__lte=F("last_on")),
                name="offer_begins_before_it_ends",
            ),
        )

    def __str__(self) -> str:
        return f"{self.fibre} {self.form} from {self.supplier_id}"


class Order(OfStudio):
    """One order to one supplier, with carriage and money as they were when it was written."""

    entry = models.UUIDField()
    body_sha256 = models.CharField(max_length=64)
    number = models.PositiveIntegerField()  # year × 1000 + its number in the year
    supplier = points_at("sourcing.Supplier")
    written_at = models.DateTimeField()
    currency = models.CharField(max_length=3)
    carriage_minor = models.PositiveBigIntegerField(default=0)
    runs = models.JSONField(default=list)  # codes of the runs it is for
    needed_by = models.DateField(null=True, blank=True)
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("number",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="order_entered_once"),
            models.UniqueConstraint(fields=["studio", "number"], name="order_number_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="order_key_in_its_studio"),
            SameStudio(field="supplier", name="order_and_its_supplier_share_a_studio"),
            models.CheckConstraint(
                condition=Q(number__gte=1_900_001, number__lte=2_199_999),
                name="order_number_is_of_a_year",
            ),
        )

    def __str__(self) -> str:
        return str(self.number)


class OrderLine(OfStudio):
    """So many packs of one offer, copied as it was ordered."""

    order = points_at("sourcing.Order")
    number = models.PositiveSmallIntegerField()
    offer = points_at("sourcing.Offer", null=True, blank=True)
    fibre = models.CharField(max_length=20)
    form = models.CharField(max_length=20)
    pack_mg = models.PositiveBigIntegerField()
    packs = models.PositiveIntegerField()
    pack_minor = models.PositiveBigIntegerField()  # of its tier
    scoured = models.BooleanField(default=False)
    scour_loss = FractionText(default="0")  # as it was counted
    code = models.CharField(max_length=40, blank=True)

    class Meta:
        ordering = ("order", "number")
        constraints = (
            models.UniqueConstraint(
                fields=["order", "number"], name="order_line_number_is_its_own"
            ),
            models.UniqueConstraint(fields=["studio", "id"], name="order_line_key_in_its_studio"),
            SameStudio(field="order", name="order_line_and_its_order_share_a_studio"),
            SameStudio(field="offer", name="order_line_and_its_offer_share_a_studio"),
            models.CheckConstraint(condition=Q(packs__gt=0), name="order_line_has_packs"),
            models.CheckConstraint(condition=Q(pack_mg__gt=0), name="order_line_has_a_pack"),
        )

    def __str__(self) -> str:
        return f"{self.packs} × {self.fibre} {self.form}"


class OrderEvent(OfStudio):
    """What happened to an order after it was written: sent, confirmed with a day, called off."""

    order = points_at("sourcing.Order")
    entry = models.UUIDField()
    what = models.CharField(max_length=10)
    at = models.DateTimeField()
    arrives_on = models.DateField(null=True, blank=True)  # sent: as counted; confirmed: as said
    note = models.CharField(max_length=400, blank=True)
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)

    class Meta:
        ordering = ("at", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="order_event_entered_once"),
            models.UniqueConstraint(
                fields=["order"], condition=Q(what="sent"), name="order_sent_once"
            ),
            models.UniqueConstraint(
                fields=["order"], condition=Q(what="called off"), name="order_called_off_once"
            ),
            SameStudio(field="order", name="order_event_and_its_order_share_a_studio"),
            models.CheckConstraint(
                condition=Q(what="called off", arrives_on__isnull=True)
                | Q(what__in=["sent", "confirmed"], arrives_on__isnull=False),
                name="order_event_has_a_day_unless_called_off",
            ),
        )

    def __str__(self) -> str:
        return f"{self.what}, {self.at:%d %B %Y}"


class Delivery(OfStudio):
    """What came of one order at one moment."""

    order = points_at("sourcing.Order")
    entry = models.UUIDField()
    body_sha256 = models.CharField(max_length=64)
    at = models.DateTimeField()
    note = models.CharField(max_length=400, blank=True)
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)

    class Meta:
        ordering = ("at", "id")
        verbose_name_plural = "deliveries"
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="delivery_entered_once"),
            models.UniqueConstraint(fields=["studio", "id"], name="delivery_key_in_its_studio"),
            SameStudio(field="order", name="delivery_and_its_order_share_a_studio"),
        )

    def __str__(self) -> str:
        return f"{self.at:%d %B %Y}"


class DeliveryLine(OfStudio):
    """Packs of one line that came, weighed in; the lot that they became is in the ledger."""

    delivery = points_at("sourcing.Delivery")
    line = points_at("sourcing.OrderLine")
    packs = models.PositiveIntegerField()
    net_mg = models.PositiveBigIntegerField()
    lot_code = models.CharField(max_length=40)
    posting = points_at("inventory.Posting", null=True, blank=True)  # none: written down later

    class Meta:
        ordering = ("delivery", "id")
        constraints = (
            models.UniqueConstraint(
                fields=["delivery", "line"], name="delivery_line_once_in_a_delivery"
            ),
            SameStudio(field="delivery", name="delivery_line_and_its_delivery_share_a_studio"),
            SameStudio(field="line", name="delivery_line_and_its_order_line_share_a_studio"),
            SameStudio(field="posting", name="delivery_line_and_its_posting_share_a_studio"),
            models.CheckConstraint(condition=Q(packs__gt=0), name="delivery_line_has_packs"),
            models.CheckConstraint(
                condition=Q(net_mg__gt=0), name="delivery_line_weighs_something"
            ),
            models.CheckConstraint(condition=~Q(lot_code=""), name="delivery_line_names_its_lot"),
        )

    def __str__(self) -> str:
        return f"{self.packs} packs, {self.lot_code}"
