"""The outbox: letters as written, how far each has come, and up to when a studio was looked at."""

from __future__ import annotations

from typing import get_args

from django.db import models
from django.db.models import F, Q

from api.reminders.letter import Kind
from inventory.models.scope import OfStudio

TOO_LATE, REFUSED, STOPPED, GIVEN_UP = "too late", "refused", "stopped", "given up"
REASONS = (TOO_LATE, REFUSED, STOPPED, GIVEN_UP)
OPEN = Q(sent_at__isnull=True, let_go_at__isnull=True)


class OutboxLetter(OfStudio):
    """One letter, once a key; what it says never changes, how far it has come does."""

    key = models.CharField(max_length=200)
    kind = models.CharField(max_length=20)
    to = models.CharField(max_length=254)
    subject = models.CharField(max_length=200)
    text = models.TextField()
    stop = models.CharField(max_length=500, blank=True)
    due_at = models.DateTimeField()
    until = models.DateTimeField()
    message_id = models.CharField(max_length=255)
    filed_at = models.DateTimeField()

    tries = models.PositiveSmallIntegerField(default=0)
    next_at = models.DateTimeField()  # no try before: due, in hand till then, or after a wait
    hand = models.UUIDField(null=True, blank=True)  # who has it in hand, new with each try
    handed_at = models.DateTimeField(null=True, blank=True)  # when its text began to go over
    sent_at = models.DateTimeField(null=True, blank=True)  # when the server's yes was marked
    let_go_at = models.DateTimeField(null=True, blank=True)
    let_go_why = models.CharField(max_length=20, blank=True)
    said = models.CharField(max_length=300, blank=True)  # the server's last word
    # Tries begun while nobody knew whether an earlier one had been taken.
    repeats = models.PositiveSmallIntegerField(default=0)

    told = models.PositiveSmallIntegerField(default=0)  # how often the workers were told of it
    tell_again_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("due_at", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "key"], name="letter_filed_once_a_key"),
            models.UniqueConstraint(fields=["message_id"], name="letter_with_an_id_of_its_own"),
            models.CheckConstraint(
                condition=Q(kind__in=get_args(Kind)), name="letter_of_a_known_kind"
            ),
            models.CheckConstraint(
                condition=~Q(key="") & ~Q(to="") & ~Q(subject="") & ~Q(text=""),
                name="letter_says_something_to_somebody",
            ),
            models.CheckConstraint(
                condition=Q(until__gt=F("due_at")), name="letter_of_use_after_it_is_due"
            ),
            models.CheckConstraint(
                condition=Q(sent_at__isnull=True) | Q(let_go_at__isnull=True),
                name="letter_sent_or_let_go_not_both",
            ),
            models.CheckConstraint(
                condition=Q(let_go_at__isnull=True, let_go_why="")
                | Q(let_go_at__isnull=False, let_go_why__in=REASONS),
                name="letter_let_go_for_a_reason",
            ),
            models.CheckConstraint(
                condition=Q(sent_at__isnull=True) | Q(handed_at__isnull=False),
                name="letter_handed_over_before_it_was_sent",
            ),
            models.CheckConstraint(
                condition=Q(repeats__lte=F("tries")), name="letter_repeated_by_tries_only"
            ),
        )
        indexes = (
            models.Index(fields=["next_at"], name="letter_open_by_its_moment", condition=OPEN),
            models.Index(fields=["studio", "due_at"], name="letter_of_studio_by_day"),
            models.Index(fields=["until"], name="letter_by_its_last_moment"),
        )

    def __str__(self) -> str:
        return f"{self.kind}, {self.due_at:%d %B %Y %H:%M}, {self.to}"


class Sweep(OfStudio):
    """Up to which moment a studio was looked at for letters that fall due."""

    since = models.DateTimeField()  # the first look; nothing due before it is sent
    until = models.DateTimeField()

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=["studio"], name="sweep_has_one_mark_a_studio"),
            models.CheckConstraint(
                condition=Q(until__gte=F("since")), name="sweep_goes_forward_from_its_first_look"
            ),
        )
        indexes = (models.Index(fields=["until"], name="sweep_by_its_mark"),)

    def __str__(self) -> str:
        return f"up to {self.until:%d %B %Y %H:%M}"


class Turn(models.Model):
    """Whose turn it is, of several processes that would do the same; it lapses by itself."""

    what = models.CharField(max_length=40)
    holder = models.UUIDField()
    until = models.DateTimeField()

    class Meta:
        constraints = (models.UniqueConstraint(fields=["what"], name="turn_of_one_at_a_time"),)

    def __str__(self) -> str:
        return f"{self.what} till {self.until:%d %B %Y %H:%M:%S}"
