"""Links to a studio's calendar: made by a member for themselves, ended, found by their secret."""

from __future__ import annotations

import logging
import secrets
from datetime import datetime

from django.db import transaction

from api.models import CalendarLink, Membership
from api.tokens import digest_of
from inventory.errors import NotNow
from inventory.hindrance import said_in_words
from inventory.models import Studio

LOG = logging.getLogger(__name__)
LONGEST_SECRET = 100


class CalendarClosed(Exception):
    """A link that was never made, was ended, or whose member has left: nobody is told which."""


@said_in_words()
def make_calendar(membership: Membership, *, at: datetime) -> str:
    """The secret of a new link, which is kept nowhere; the one before it ends."""
    secret = secrets.token_urlsafe(24)
    with transaction.atomic():
        end_calendar(membership, at=at)
        CalendarLink.objects.of(membership.studio).create(
            membership=membership,
            digest=digest_of(secret),
            made_at=at,
            changed_at=at.replace(microsecond=0),
        )
    return secret


@said_in_words()
def end_calendar(membership: Membership, *, at: datetime) -> None:
    """A member's link opens nothing any more; where there is none, nothing happens."""
    rows = CalendarLink.objects.of(membership.studio).filter(membership=membership)
    rows.filter(ended_at__isnull=True).update(ended_at=at)


def open_calendar(studio: Studio, account: int | None) -> CalendarLink | None:
    """The link of a member, if there is one."""
    if account is None:
        return None
    rows = CalendarLink.objects.of(studio).filter(membership__account_id=account)
    return rows.filter(ended_at__isnull=True).first()


def calendar_of(secret: str) -> CalendarLink:
    """The link of a secret, with its studio.

    Raises
    ------
    CalendarClosed
    """
    rows = CalendarLink.everywhere().select_related("studio", "membership__account")
    known = secret.isascii() and len(secret) <= LONGEST_SECRET
    row = rows.filter(digest=digest_of(secret)).first() if known else None
    if row is None or row.ended_at or row.membership.ended_at:
        raise CalendarClosed
    if not row.membership.account.is_active:
        raise CalendarClosed
    return row


def revise(link: CalendarLink, said_sha256: str, *, at: datetime) -> None:
    """Note the day, and that a calendar says something else than before, where it does.

    What the link says next is good also where nothing could be written: it is only said as of now
    once more.
    """
    before = link.said_sha256
    if said_sha256 != before:
        link.said_sha256, link.changed_at = said_sha256, at.replace(microsecond=0)
        link.revision += 1
    elif link.last_used_on == at.date():
        return
    link.last_used_on = at.date()
    rows = CalendarLink.everywhere().filter(pk=link.pk, said_sha256=before)
    try:
        with said_in_words():
            rows.update(
                said_sha256=said_sha256,
                revision=link.revision,
                changed_at=link.changed_at,
                last_used_on=link.last_used_on,
            )
    except NotNow as hindrance:
        LOG.info("What a calendar said was not noted: %s", hindrance)
