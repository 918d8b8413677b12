"""Entries: what programs and phones entered, once an id, with the answer that each was given."""

from __future__ import annotations

from django.db import models
from django.db.models import Q
from django.db.models.functions import Now

from inventory.models.scope import OfStudio

RECORDED, NEEDS_A_LOOK, LET_GO = "recorded", "needs a look", "let go"
STATES = (RECORDED, NEEDS_A_LOOK, LET_GO)


class Entry(OfStudio):
    """One entry: as it was said, when it happened, and what came of it.

    What was said never changes. An entry that the shelves refused is kept as needing a look, until
    somebody has it recorded after all or lets it go.
    """

    entry = models.UUIDField()  # made by whoever entered it
    verb = models.CharField(max_length=40)
    said = models.JSONField()  # the body as it came
    body_sha256 = models.CharField(max_length=64)
    said_at = models.DateTimeField()  # when it happened, by the clock of the device
    occurred_at = models.DateTimeField()  # when it happened, as we take it
    clock_off_s = models.BigIntegerField(null=True, blank=True)  # only of a clock far off
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)
    by_whom = models.CharField(max_length=120, blank=True)
    account = models.ForeignKey(
        "api.Account", null=True, blank=True, on_delete=models.PROTECT, related_name="+"
    )
    state = models.CharField(max_length=20)
    answer = models.JSONField()  # the first answer: what was recorded, or why it was refused
    settled_at = models.DateTimeField(null=True, blank=True)  # of one that needed a look
    settled_by = models.CharField(max_length=120, blank=True)
    settled_note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("id",)
        indexes = (
            models.Index(
                fields=["studio", "id"], condition=Q(state=NEEDS_A_LOOK), name="entry_to_look_at"
            ),
        )
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="entry_said_once"),
            models.UniqueConstraint(fields=["studio", "id"], name="entry_key_in_its_studio"),
            models.CheckConstraint(condition=Q(state__in=STATES), name="entry_in_a_known_state"),
            models.CheckConstraint(
                condition=Q(state=RECORDED) | ~Q(state=LET_GO) | Q(settled_at__isnull=False),
                name="entry_let_go_says_when",
            ),
        )

    def __str__(self) -> str:
        return f"{self.verb}, {self.occurred_at:%d %B %Y %H:%M}: {self.state}"
