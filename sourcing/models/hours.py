"""Who is in, what takes the room, fixed work, weather, and what hangs on the line."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q
from django.db.models.functions import Now

from inventory.models.scope import OfStudio, SameStudio, points_at


class Hours(OfStudio):
    """Who is in on a day of every week, or on one day, with how much time at the pots."""

    who = models.CharField(max_length=80)
    weekday = models.PositiveSmallIntegerField(null=True, blank=True)  # 0 Monday to 6 Sunday
    day = models.DateField(null=True, blank=True)
    hands_min = models.PositiveIntegerField()
    opens = models.TimeField(null=True, blank=True)
    closes = models.TimeField(null=True, blank=True)
    since = models.DateField(null=True, blank=True)
    last_on = models.DateField(null=True, blank=True)
    site = points_at("inventory.Site", null=True, blank=True)
    note = models.CharField(max_length=500, blank=True)

    class Meta:
        ordering = ("who", "day", "weekday", "since", "id")
        constraints = (
            SameStudio(field="site", name="hours_and_their_site_share_a_studio"),
            models.CheckConstraint(
                condition=Q(weekday__isnull=True, day__isnull=False)
                | Q(weekday__isnull=False, day__isnull=True),
                name="hours_of_a_weekday_or_a_day",
            ),
            models.CheckConstraint(
                condition=Q(weekday__isnull=True) | Q(weekday__lte=6), name="hours_weekday_to_6"
            ),
            models.CheckConstraint(
                condition=Q(hands_min=0)
                | Q(
                    hands_min__lte=1440,
                    opens__isnull=False,
                    closes__isnull=False,
                    opens__lt=F("closes"),
                ),
                name="hours_open_before_they_close",
            ),
        )

    def __str__(self) -> str:
        return f"{self.who}, {self.hands_min} min"


class Block(OfStudio):
    """Something that takes the room: group day, teaching, holiday, power cut."""

    code = models.CharField(max_length=40)
    what = models.CharField(max_length=80)
    since = models.DateTimeField()
    until = models.DateTimeField()
    rings = models.JSONField(default=list)
    vessels = models.JSONField(default=list)
    line_mg = models.PositiveBigIntegerField(default=0)
    hands_min = models.PositiveIntegerField(default=0)
    no_iron = models.BooleanField(default=False)
    group = models.BooleanField(default=False)

    class Meta:
        ordering = ("since", "code")
        constraints = (
            models.UniqueConstraint(fields=["studio", "code"], name="block_code_is_its_own"),
            models.UniqueConstraint(fields=["studio", "id"], name="block_key_in_its_studio"),
            models.CheckConstraint(
                condition=Q(since__lt=F("until")), name="block_begins_before_it_ends"
            ),
        )

    def __str__(self) -> str:
        return self.what


class Chore(OfStudio):
    """Fixed work with minutes of hands on a day, outside any run."""

    day = models.DateField()
    what = models.CharField(max_length=80)
    hands_min = models.PositiveIntegerField()
    clears = models.CharField(max_length=40, blank=True)  # code of a lot
    at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("day", "what")
        constraints = (
            models.UniqueConstraint(fields=["studio", "day", "what"], name="chore_once_a_day"),
        )

    def __str__(self) -> str:
        return self.what


class ChoreDone(OfStudio):
    """What was said of a chore: done, or not done after all; the last word holds.

    It names the chore as the day's list does, so that a list that is written anew keeps its words.
    """

    never_changed = True

    entry = models.UUIDField()
    day = models.DateField()
    what = models.CharField(max_length=80)
    done = models.BooleanField(default=True)
    at = models.DateTimeField()
    recorded_at = models.DateTimeField(db_default=Now(), editable=False)
    note = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ("recorded_at", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "entry"], name="chore_done_entered_once"),
        )

    def __str__(self) -> str:
        return f"{self.what} {'done' if self.done else 'not done after all'}"


class Weather(OfStudio):
    """A day on which outdoor work or an outdoor line is barred."""

    day = models.DateField()
    frost = models.BooleanField(default=False)
    aired = models.BooleanField(default=True)

    class Meta:
        ordering = ("day",)
        constraints = (
            models.UniqueConstraint(fields=["studio", "day"], name="weather_once_a_day"),
        )

    def __str__(self) -> str:
        return f"{self.day:%d %B %Y}"


class Hanging(OfStudio):
    """Cloth that hangs on a line."""

    line = models.CharField(max_length=40)  # code of the line
    since = models.DateTimeField()
    until = models.DateTimeField()
    weight_mg = models.PositiveBigIntegerField()
    what = models.CharField(max_length=80, blank=True)

    class Meta:
        ordering = ("since", "line", "id")
        constraints = (
            models.UniqueConstraint(
                fields=["studio", "line", "since", "what"], name="hanging_once_at_a_moment"
            ),
            models.CheckConstraint(
                condition=Q(since__lt=F("until")), name="hanging_up_before_it_is_down"
            ),
        )

    def __str__(self) -> str:
        return self.what
