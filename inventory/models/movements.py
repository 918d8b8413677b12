"""The ledger: what happened, and how much it moved.

A posting is written last: its movements and details come first, and its key is checked at the end
of the transaction. So it is closed from its first moment, and a sum over it can be checked by the
database when it is written.
"""

from __future__ import annotations

import uuid

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Now

from inventory.models.scope import OfStudio, SameStudio, TableRule, points_at


class Kind(models.TextChoices):
    """What happened, in trade words."""

    RECEIVE = "receive"
    DRAW = "draw"
    PUT_BY = "put by"
    WEIGH = "weigh again"
    RECOUNT = "recount"
    CORRECT = "correct"
    DYE = "dye"
    SCOUR = "scour"
    MORDANT = "mordant"
    TIP_OUT = "tip out"
    BEGIN = "begin"
    DIP = "dip"
    TOP_UP = "top up"
    STRAIN = "strain"
    KEEP_AT = "keep at"
    EVAPORATE = "evaporate"
    MAKE_BATH = "make bath"
    USE_BATH = "use bath"
    SET_ASIDE = "set aside"
    USE_AGAIN = "use again"
    LABEL = "label"
    JUDGE = "judge"
    ARRIVE = "arrive"
    CHECK_NEST = "check nest"
    IRON = "iron"
    CLEAR = "clear"
    CHIP = "chip"
    SWATCH = "swatch"
    READ = "read swatch"


# What turns a material into the same material in another state: nothing of it may vanish.
TURNING = (Kind.PUT_BY, Kind.DYE, Kind.SCOUR, Kind.MORDANT)


class Posting(OfStudio):
    """One thing that happened."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    entry = models.UUIDField()  # made by whoever entered it
    body_sha256 = models.CharField(max_length=64)
    kind = models.CharField(max_length=20, choices=Kind.choices)
    occurred_at = models.DateTimeField()
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)
    corrects = points_at("self", null=True, blank=True, db_index=False)
    undoes = models.BooleanField(default=False)
    where_to = models.CharField(max_length=200, blank=True)
    by_whom = models.CharField(max_length=120, blank=True)
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("recorded_at", "id")
        indexes = (
            models.Index(fields=["studio", "occurred_at"], name="posting_by_when_it_happened"),
            models.Index(
                fields=["studio"], condition=Q(kind="correct"), name="posting_that_corrects"
            ),
        )
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="posting_entered_once"),
            models.UniqueConstraint(fields=["studio", "id"], name="posting_key_in_its_studio"),
            models.UniqueConstraint(fields=["corrects"], name="posting_corrected_at_most_once"),
            SameStudio(field="corrects", name="posting_corrects_one_of_its_studio"),
            models.CheckConstraint(
                condition=(Q(kind=Kind.CORRECT) & Q(corrects__isnull=False))
                | (~Q(kind=Kind.CORRECT) & Q(corrects__isnull=True)),
                name="posting_names_what_it_corrects",
            ),
            models.CheckConstraint(
                condition=Q(undoes=False) | Q(kind=Kind.CORRECT),
                name="posting_undoes_only_as_a_correction",
            ),
            models.CheckConstraint(
                condition=~Q(kind=Kind.TIP_OUT) | ~Q(where_to=""),
                name="posting_tipped_out_says_where_to",
            ),
            models.CheckConstraint(
                condition=Q(kind__in=Kind.values), name="posting_of_a_known_kind"
            ),
        )

    def __str__(self) -> str:
        return f"{self.kind}, {self.occurred_at:%d %B %Y %H:%M}"


class OfPosting(OfStudio):
    """A row that says what one posting did; written before it, never after."""

    posting = points_at("inventory.Posting")

    class Meta:
        abstract = True


class Movement(OfPosting):
    """So much more or less of one lot, with what was left after it.

    `amount` is in the lot's unit, mg or µL. `follows` is the number of the movement before.
    """

    lot = points_at("inventory.Lot", db_index=False)
    number = models.PositiveIntegerField()
    follows = models.PositiveIntegerField(null=True, blank=True)
    amount = models.BigIntegerField()
    left_before = models.BigIntegerField()
    left_after = models.BigIntegerField()
    turns = models.BooleanField(default=False)  # same material in another state: conserved
    counted = models.BigIntegerField(null=True, blank=True)  # what was found to be there
    words = models.CharField(max_length=200, blank=True)  # as entered, with its unit
    container = models.CharField(max_length=80, blank=True)
    gross = models.BigIntegerField(null=True, blank=True)
    tare = models.BigIntegerField(null=True, blank=True)
    pieces = models.PositiveBigIntegerField(null=True, blank=True)
    piece_mg = models.PositiveBigIntegerField(null=True, blank=True)
    metal_mg_per_l = models.PositiveIntegerField(null=True, blank=True)  # shown when dosed

    class Meta:
        ordering = ("lot", "number")
        constraints = (
            models.UniqueConstraint(fields=["lot", "number"], name="movement_number_once_a_lot"),
            models.UniqueConstraint(
                fields=["lot", "number", "left_after"], name="movement_can_be_followed"
            ),
            SameStudio(field="lot", name="movement_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="movement_and_its_posting_share_a_studio", deferred=True
            ),
            TableRule(
                clause="FOREIGN KEY (lot_id, follows, left_before) "
                "REFERENCES {table} (lot_id, number, left_after)",
                name="movement_begins_where_the_last_one_left",
            ),
            models.CheckConstraint(
                condition=Q(number=1, follows__isnull=True, left_before=0)
                | Q(number__gt=1, follows__isnull=False, follows=F("number") - 1),
                name="movement_follows_the_one_before",
            ),
            models.CheckConstraint(
                condition=Q(left_after=F("left_before") + F("amount")),
                name="movement_adds_up",
            ),
            models.CheckConstraint(
                condition=Q(left_after__gte=0), name="movement_leaves_no_less_than_nothing"
            ),
            models.CheckConstraint(
                condition=Q(counted__isnull=True) | Q(counted=F("left_after")),
                name="movement_counted_is_what_is_left",
            ),
            models.CheckConstraint(
                condition=Q(gross__isnull=True, tare__isnull=True)
                | (
                    Q(gross__isnull=False, tare__isnull=False, tare__gte=0)
                    & (
                        Q(amount=F("gross") - F("tare"))
                        | Q(amount=F("tare") - F("gross"))
                        | Q(left_after=F("gross") - F("tare"))
                    )
                ),
                name="movement_gross_less_tare_is_its_amount",
            ),
            models.CheckConstraint(
                condition=Q(pieces__isnull=True, piece_mg__isnull=True)
                | Q(
                    pieces__isnull=False,
                    piece_mg__isnull=False,
                    amount=F("pieces") * F("piece_mg"),
                ),
                name="movement_pieces_make_its_amount",
            ),
        )

    def __str__(self) -> str:
        return f"{self.lot_id} no. {self.number}: {self.amount:+d}, {self.left_after} left"


class Loss(OfPosting):
    """What a material lost on the way from one state to another: water, grease, dust."""

    material = models.CharField(max_length=80)
    amount = models.BigIntegerField()  # below nothing only where a correction takes it back
    reason = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ("id",)
        constraints = (
            SameStudio(field="posting", name="loss_and_its_posting_share_a_studio", deferred=True),
        )

    def __str__(self) -> str:
        return f"{self.material}: {self.amount} lost"


class PieceWeighing(OfPosting):
    """A count that was weighed: it teaches what one piece weighs."""

    lot = points_at("inventory.Lot")
    what = models.CharField(max_length=80)
    pieces = models.PositiveIntegerField()
    weight_mg = models.PositiveBigIntegerField()
    at = models.DateTimeField()

    class Meta:
        ordering = ("at", "id")
        constraints = (
            SameStudio(field="lot", name="piece_weighing_and_its_lot_share_a_studio"),
            SameStudio(
                field="posting", name="piece_weighing_and_its_posting_share_a_studio", deferred=True
            ),
            models.CheckConstraint(condition=Q(pieces__gt=0), name="piece_weighing_has_pieces"),
            models.CheckConstraint(condition=Q(weight_mg__gt=0), name="piece_weighing_weighs"),
        )

    def __str__(self) -> str:
        return f"{self.pieces} pieces of {self.what}: {self.weight_mg} mg"
