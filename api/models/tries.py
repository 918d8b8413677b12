"""How often something was tried of late, by whom: of them only a digest is kept."""

from __future__ import annotations

from django.db import models
from django.db.models import Q


class Tries(models.Model):
    """What one e-mail tried from one address, or one address alone, and when last."""

    who = models.CharField(max_length=64)  # SHA-256 of what is counted, hexadecimal
    count = models.PositiveSmallIntegerField()
    last_at = models.DateTimeField()

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=["who"], name="tries_counted_once"),
            models.CheckConstraint(condition=Q(count__gte=1), name="tries_at_least_one"),
        )
        indexes = (models.Index(fields=["last_at"], name="tries_by_their_last"),)

    def __str__(self) -> str:
        return f"{self.count}, last {self.last_at:%d %B %Y %H:%M}"


class RecoveryWish(models.Model):
    """An e-mail for which a new password was asked for, until the letter is written.

    A wish is kept for an e-mail that nobody has too: so whoever asks learns nothing, not even from
    how long the answer took.
    """

    email = models.CharField(max_length=254)
    asked_at = models.DateTimeField()

    class Meta:
        constraints = (
            models.UniqueConstraint(fields=["email"], name="recovery_wished_once_an_email"),
        )

    def __str__(self) -> str:
        return f"asked {self.asked_at:%d %B %Y %H:%M}"
