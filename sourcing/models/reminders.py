"""Who is told what by letter, when, and what they have stopped since."""

from __future__ import annotations

from uuid import NAMESPACE_URL, uuid5

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Lower

from inventory.models.scope import OfStudio, SameStudio, points_at
from sourcing.reminding.facts import ALL, BEGUN, OF_A_SOURCE, STOPPED

# Column, and the word for it; a source is told of the day before its pick-up, a person the rest.
WANTS = {
    "wants_sheet": "morning sheet",
    "wants_day_before": "day before",
    "wants_dip": "dip",
    "wants_last_good": "last good day",
    "wants_order_by": "order-by day",
    "wants_light": "light test",
}
COLUMN_OF = {kind: column for column, kind in WANTS.items()}
MARKS = uuid5(NAMESPACE_URL, "dye-larder:readers")


class Reader(OfStudio):
    """Somebody who is written to: a person of the studio, or a source by its leave."""

    name = models.CharField(max_length=80)
    address = models.CharField(max_length=254)
    source = points_at("sourcing.Source", null=True, blank=True)
    leave_by = models.CharField(max_length=80, blank=True)  # who said that it may be written to
    leave_on = models.DateField(null=True, blank=True)
    wants_sheet = models.BooleanField(default=False)
    wants_day_before = models.BooleanField(default=False)
    wants_dip = models.BooleanField(default=False)
    wants_last_good = models.BooleanField(default=False)
    wants_order_by = models.BooleanField(default=False)
    wants_light = models.BooleanField(default=False)
    sheet_at = models.TimeField(null=True, blank=True)  # by the clock on the studio's wall
    quiet_from = models.TimeField(null=True, blank=True)
    quiet_until = models.TimeField(null=True, blank=True)  # on the next day where it is earlier
    since = models.DateField()
    mark = models.UUIDField(editable=False)  # goes by studio and name, in keys and stop addresses
    note = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("name",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "name"], name="reader_name_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="reader_key_in_its_studio"),
            models.UniqueConstraint(fields=["mark", "studio"], name="reader_mark_in_its_studio"),
            models.UniqueConstraint(fields=["studio", "source"], name="reader_once_for_a_source"),
            models.UniqueConstraint(
                "studio",
                Lower("address"),
                condition=Q(source__isnull=True),
                name="reader_once_for_an_address",
            ),
            SameStudio(field="source", name="reader_and_its_source_share_a_studio"),
            models.CheckConstraint(condition=~Q(name=""), name="reader_has_a_name"),
            models.CheckConstraint(
                condition=Q(address__contains="@")
                & ~Q(address__contains=" ")
                & ~Q(address__contains="\n")
                & ~Q(address__contains="\r"),
                name="reader_has_an_address",
            ),
            models.CheckConstraint(
                condition=~Q(**dict.fromkeys(WANTS, False)),
                name="reader_wants_something",
            ),
            models.CheckConstraint(
                condition=Q(source__isnull=True, wants_day_before=False)
                | Q(
                    source__isnull=False,
                    **{column: kind == OF_A_SOURCE for column, kind in WANTS.items()},
                ),
                name="reader_of_a_source_hears_of_the_day_before",
            ),
            models.CheckConstraint(
                condition=Q(source__isnull=True) | (~Q(leave_by="") & Q(leave_on__isnull=False)),
                name="reader_of_a_source_gave_leave",
            ),
            models.CheckConstraint(
                condition=Q(wants_sheet=False) | Q(sheet_at__isnull=False),
                name="reader_of_the_sheet_names_its_hour",
            ),
            models.CheckConstraint(
                condition=Q(quiet_from__isnull=True, quiet_until__isnull=True)
                | Q(quiet_from__isnull=False, quiet_until__isnull=False)
                & ~Q(quiet_from=F("quiet_until")),
                name="reader_quiet_hours_have_both_ends",
            ),
        )

    def __str__(self) -> str:
        return self.name


class ReaderSaid(OfStudio):
    """A reader has stopped a kind of letter, or all, or has taken it up again; the last holds."""

    reader = points_at("sourcing.Reader")
    kind = models.CharField(max_length=20)  # a kind, or all
    what = models.CharField(max_length=20)  # stopped, begun again
    at = models.DateTimeField()

    class Meta:
        ordering = ("at", "id")
        constraints = (
            models.UniqueConstraint(
                fields=["studio", "reader", "kind", "at"], name="reader_said_once_at_a_moment"
            ),
            SameStudio(field="reader", name="reader_said_in_the_reader_s_studio"),
            models.CheckConstraint(
                condition=Q(kind__in=[*COLUMN_OF, ALL]), name="reader_said_of_a_known_kind"
            ),
            models.CheckConstraint(
                condition=Q(what__in=[STOPPED, BEGUN]), name="reader_stopped_or_began_again"
            ),
        )

    def __str__(self) -> str:
        return f"{self.kind} {self.what}"
