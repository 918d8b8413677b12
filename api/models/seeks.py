"""Searches for a better week: asked for on a page, done behind it, looked at till it is over."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from inventory.models.scope import OfStudio

WAITING, SEEKING, FOUND, BROKEN_OFF = "waiting", "seeking", "found", "broken off"
STATES = (WAITING, SEEKING, FOUND, BROKEN_OFF)
OPEN = Q(state__in=(WAITING, SEEKING))


class Seek(OfStudio):
    """One search: what was asked, how far it has come, and what was found."""

    entry = models.UUIDField()  # made by whoever asked
    asked_at = models.DateTimeField()
    by_whom = models.CharField(max_length=120, blank=True)
    at = models.DateTimeField()  # the moment of the week
    days = models.PositiveSmallIntegerField()
    stays = models.JSONField(default=list)  # runs that keep their hours: codes; steps: [run, step]
    near = models.BooleanField(default=False)  # move as little as can be
    state = models.CharField(max_length=12, default=WAITING)
    hand = models.UUIDField(null=True, blank=True)  # who has it in hand, new with each try
    hand_until = models.DateTimeField(null=True, blank=True)  # after it another may take it up
    tries = models.PositiveSmallIntegerField(default=0)
    stop_at = models.DateTimeField(null=True, blank=True)  # when somebody had enough of it
    progress = models.JSONField(default=dict)  # goals so far, bound, placings, part of the effort
    found = models.JSONField(default=dict)  # guidance, goals, status, bound and gap
    ended_at = models.DateTimeField(null=True, blank=True)
    said = models.CharField(max_length=300, blank=True)  # why it was broken off
    settled_at = models.DateTimeField(null=True, blank=True)  # when it was taken, or left
    settled = models.CharField(max_length=5, blank=True)  # taken, left

    class Meta:
        ordering = ("id",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="seek_asked_once"),
            models.UniqueConstraint(
                fields=["studio"], condition=OPEN, name="seek_one_at_a_time_in_a_studio"
            ),
            models.CheckConstraint(condition=Q(state__in=STATES), name="seek_in_a_known_state"),
            models.CheckConstraint(
                condition=OPEN | Q(ended_at__isnull=False), name="seek_that_is_over_says_when"
            ),
        )

    @classmethod
    def everywhere(cls) -> models.QuerySet[Seek]:
        """Searches of every studio: for whoever does the work behind the pages."""
        return cls._base_manager.all()

    def __str__(self) -> str:
        return f"search of {self.asked_at:%d %b %H:%M}: {self.state}"
