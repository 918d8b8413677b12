"""Invitations: a link that lets one person into a studio, once."""

from __future__ import annotations

from django.db import models
from django.db.models import F, Q

from api.models.accounts import LONGEST_EMAIL
from api.models.links import SecretLink
from api.rights import RIGHTS
from inventory.models.scope import SameStudio, points_at


class Invitation(SecretLink):
    """Somebody whom an owner lets in with a right; of the link only a digest is kept."""

    email = models.EmailField(max_length=LONGEST_EMAIL)
    right = models.CharField(max_length=12)
    made_by = points_at("api.Membership")
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at", "-id")
        constraints = (
            SameStudio(field="made_by", name="invitation_and_its_owner_share_a_studio"),
            models.UniqueConstraint(fields=["digest"], name="invitation_digest_is_its_own"),
            models.CheckConstraint(
                condition=Q(right__in=RIGHTS), name="invitation_with_a_known_right"
            ),
            models.CheckConstraint(
                condition=Q(expires_at__gt=F("made_at")), name="invitation_good_for_some_time"
            ),
        )

    def __str__(self) -> str:
        return f"{self.email}: {self.right}"
