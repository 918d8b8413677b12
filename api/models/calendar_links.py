"""Links to the calendar of a studio: one a member, ended with the membership."""

from __future__ import annotations

from django.db import models
from django.db.models import Q

from api.models.links import SecretLink
from inventory.models.scope import SameStudio, points_at


class CalendarLink(SecretLink):
    """A link by which a member's calendar program reads; of it only a digest is kept.

    It also knows what it said last, so that an unchanged week is said with the same bytes.
    """

    membership = points_at("api.Membership")
    last_used_on = models.DateField(null=True, blank=True)
    said_sha256 = models.CharField(max_length=64, blank=True)
    revision = models.PositiveIntegerField(default=0)  # how often it said something else
    changed_at = models.DateTimeField()  # when it last did

    class Meta:
        ordering = ("-made_at", "-id")
        constraints = (
            SameStudio(field="membership", name="calendar_link_and_its_membership_share_a_studio"),
            models.UniqueConstraint(fields=["digest"], name="calendar_link_digest_is_its_own"),
            models.UniqueConstraint(
                fields=["membership"],
                condition=Q(ended_at__isnull=True),
                name="calendar_link_once_a_member",
            ),
        )

    def __str__(self) -> str:
        return f"calendar of member {self.membership_id}"
