"""What every link is that is its own key: of its secret only a digest is kept."""

from __future__ import annotations

from typing import Self

from django.db import models
from django.db.models import QuerySet

from inventory.models.scope import OfStudio


class SecretLink(OfStudio):
    """A link into one studio, found by the digest of its secret, until it is ended."""

    digest = models.CharField(max_length=64)  # SHA-256, hexadecimal
    made_at = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        abstract = True

    @classmethod
    def everywhere(cls) -> QuerySet[Self]:
        """The links of every studio: which one is meant is known by the link."""
        return cls._base_manager.all()
