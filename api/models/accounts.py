"""Who may come in: accounts, their memberships of studios, and the tokens of their programs."""

from __future__ import annotations

from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models
from django.db.models import F, Q, QuerySet

from api.rights import RIGHTS
from inventory.models.scope import OfStudio, SameStudio, points_at

LONGEST_EMAIL, LONGEST_NAME = 254, 80


def email_key(text: str) -> str:
    """An e-mail as it is kept and compared: without case, without spaces round it."""
    return text.strip().lower()


class Accounts(BaseUserManager["Account"]):
    """The way to accounts; an e-mail finds its account in any case of letters."""

    def get_by_natural_key(self, username: str | None) -> Account:
        return self.get(email=email_key(username or ""))


class Account(AbstractBaseUser):
    """One person who signs in; what they may do stands in their memberships."""

    email = models.EmailField(max_length=LONGEST_EMAIL)  # as `email_key` writes it
    name = models.CharField(max_length=LONGEST_NAME)
    is_active = models.BooleanField(default=True)
    made_at = models.DateTimeField()

    objects: ClassVar[Accounts] = Accounts()

    EMAIL_FIELD = USERNAME_FIELD = "email"
    REQUIRED_FIELDS = ["name"]

    class Meta:
        ordering = ("email",)
        constraints = (
            models.UniqueConstraint(fields=["email"], name="account_email_is_its_own"),
            models.CheckConstraint(
                condition=~Q(email="") & ~Q(name=""), name="account_has_email_and_name"
            ),
        )

    def __str__(self) -> str:
        return f"{self.name} <{self.email}>"


class Membership(OfStudio):
    """An account that belongs to a studio, with a right; who comes back has the same row."""

    account = models.ForeignKey(Account, on_delete=models.PROTECT, related_name="+")
    right = models.CharField(max_length=12)
    since = models.DateTimeField()
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("since", "id")
        constraints = (
            models.UniqueConstraint(fields=["studio", "account"], name="member_once_a_studio"),
            models.UniqueConstraint(fields=["studio", "id"], name="membership_key_in_its_studio"),
            models.CheckConstraint(
                condition=Q(right__in=RIGHTS), name="membership_with_a_known_right"
            ),
            models.CheckConstraint(
                condition=Q(ended_at__isnull=True) | Q(ended_at__gte=F("since")),
                name="membership_ends_after_it_begins",
            ),
        )

    def __str__(self) -> str:
        return f"{self.account_id}: {self.right}"

    @classmethod
    def everywhere(cls) -> QuerySet[Membership]:
        """The memberships of every studio: who asks is known before the studio is."""
        return cls._base_manager.all()


class ProgramToken(OfStudio):
    """A token that a program shows; of it only a digest is kept.

    It belongs to a membership, and so to one studio; it ends with it, and never may more than its
    member.
    """

    membership = points_at("api.Membership")
    name = models.CharField(max_length=LONGEST_NAME)
    right = models.CharField(max_length=12)
    reads_only = models.BooleanField(default=False)
    digest = models.CharField(max_length=64)  # SHA-256, hexadecimal
    made_at = models.DateTimeField()
    expires_at = models.DateTimeField()
    last_used_on = models.DateField(null=True, blank=True)
    ended_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ("-made_at", "-id")
        constraints = (
            SameStudio(field="membership", name="token_and_its_membership_share_a_studio"),
            models.UniqueConstraint(fields=["digest"], name="token_digest_is_its_own"),
            models.CheckConstraint(condition=~Q(name=""), name="token_has_a_name"),
            models.CheckConstraint(condition=Q(right__in=RIGHTS), name="token_with_a_known_right"),
            models.CheckConstraint(
                condition=Q(expires_at__gt=F("made_at")), name="token_good_for_some_time"
            ),
        )

    def __str__(self) -> str:
        return f"{self.name}: {self.right}, until {self.expires_at:%d %B %Y}"

    @classmethod
    def everywhere(cls) -> QuerySet[ProgramToken]:
        """The tokens of every studio: which one is asked about is known by its token."""
        return cls._base_manager.all()
