"""Whose page it is: a mark of account and studio that tells neither, the same from day to day."""

from __future__ import annotations

from django.utils.crypto import salted_hmac

from api.visitor import Visitor
from inventory.models import Studio

LENGTH = 32


def whose_of(account: int | None, studio: Studio) -> str:
    """The mark of somebody at a studio; a phone keeps what was noted under it."""
    who = f"{account or 0}/{studio.pk}"
    return salted_hmac("dye larder: whose page", who, algorithm="sha256").hexdigest()[:LENGTH]


def whose_visitor(visitor: Visitor) -> str:
    """The mark of a visitor."""
    return whose_of(visitor.account, visitor.studio)
