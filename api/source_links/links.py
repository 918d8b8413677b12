"""Links of sources: made by a dyer, good for a year and once more, ended; found by their secret."""

from __future__ import annotations

import logging
import secrets
from datetime import datetime, timedelta

from django.db import transaction
from django.db.models import F, QuerySet

from api.members import LARGEST_KEY
from api.models import SourceLink
from api.models.source_links import LONGEST_ASKING, LONGEST_WISH
from api.rest.refused import Refused
from api.tokens import digest_of
from inventory.errors import NotNow
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.models.scope import StudioRows
from inventory.said import check_said
from inventory.science.saying import say
from sourcing.models import Source

LOG = logging.getLogger(__name__)
GOOD_FOR = timedelta(days=365)
MOST_LINKS = 12  # of one source that were not ended
LONGEST_SECRET = 100
MOST_USES = 2_000_000_000


class SourceLinkClosed(Exception):
    """A link that was never made, was ended, or whose time is past: nobody is told which."""


class SourceLinkNotThere(Refused):
    """No such link of the source, or it was ended before."""

    code = "source_link_not_there"

    def __init__(self, link: int) -> None:
        sentence = say(
            "There is no link {link} of this source, or it was ended. Look at the list.", link=link
        )
        super().__init__(sentence, link=link)


class TooManySourceLinks(Refused):
    """A source with as many links as it may have."""

    code = "too_many_source_links"

    def __init__(self, source: str) -> None:
        sentence = say(
            "{source} has {most_links} links that were not ended. End one first.",
            source=source,
            most_links=MOST_LINKS,
        )
        super().__init__(sentence, source=source, most=MOST_LINKS)


class SourceLinkWords(Refused):
    """A first name or a wish that cannot be shown on a link's page."""

    code = "source_link_words"

    def __init__(self, what: str, most: int) -> None:
        super().__init__(
            say(
                "{what} is one line of at most {most} signs that can be printed.",
                what=what,
                most=most,
            )
        )


@said_in_words()
def make_link(
    source: Source, *, asks: str, wish: str, made_by: str, at: datetime
) -> tuple[SourceLink, str]:
    """A new link of a source and its secret, which is kept nowhere.

    Parameters
    ----------
    asks : first name of who asks; empty: the studio asks
    wish : how it is wanted; empty: nothing is said of it

    Raises
    ------
    TooManySourceLinks, SourceLinkWords
    """
    check_said({"at": at})
    asks = _line(asks, "The first name", LONGEST_ASKING)
    wish = _line(wish, say("How it is wanted"), LONGEST_WISH)
    secret = secrets.token_urlsafe(24)
    with transaction.atomic():
        if links_of(source.studio, source.pk).count() >= MOST_LINKS:
            raise TooManySourceLinks(source.name)
        row = SourceLink.objects.of(source.studio).create(
            source=source,
            mark=secrets.token_hex(8),
            digest=digest_of(secret),
            asks=asks,
            wish=wish,
            made_by=made_by,
            made_at=at,
            expires_at=at + GOOD_FOR,
        )
    return row, secret


def links_of(studio: Studio, source: int) -> StudioRows[SourceLink]:
    """The links of a source that were not ended, those whose time is past too."""
    return SourceLink.objects.of(studio).filter(source_id=source, ended_at__isnull=True)


@said_in_words()
def renew_link(studio: Studio, source: int, key: int, *, at: datetime) -> None:
    """A link is good for a year from now; the card on the wall stays as it is."""
    _change(studio, source, key, expires_at=at + GOOD_FOR)


@said_in_words()
def end_link(studio: Studio, source: int, key: int, *, at: datetime) -> None:
    """A link opens nothing any more, for who has its page open neither."""
    _change(studio, source, key, ended_at=at)


def opened(secret: str, *, at: datetime) -> SourceLink:
    """The link of a secret.

    Raises
    ------
    SourceLinkClosed
    """
    known = secret.isascii() and len(secret) <= LONGEST_SECRET
    return _good(SourceLink.everywhere().filter(digest=digest_of(secret)) if known else None, at)


def marked(mark: str, *, at: datetime) -> SourceLink:
    """The link of a mark, for whoever has shown that they opened it.

    Raises
    ------
    SourceLinkClosed
    """
    return _good(SourceLink.everywhere().filter(mark=mark), at)


def count_use(link: SourceLink, *, at: datetime) -> None:
    """Note that a link was opened; nobody waits for it."""
    rows = SourceLink.everywhere().filter(pk=link.pk, uses__lt=MOST_USES)
    try:
        with said_in_words():
            rows.update(uses=F("uses") + 1, last_used_at=at)
    except NotNow as hindrance:
        LOG.info("A use of a link was not noted: %s", hindrance)


def _good(rows: QuerySet[SourceLink] | None, at: datetime) -> SourceLink:
    row = None if rows is None else rows.select_related("studio", "source").first()
    if row is None or row.ended_at is not None or row.expires_at <= at:
        raise SourceLinkClosed
    return row


def _change(studio: Studio, source: int, key: int, **values: datetime) -> None:
    rows = links_of(studio, source).filter(pk=key)
    if key > LARGEST_KEY or not rows.update(**values):
        raise SourceLinkNotThere(key)


def _line(text: str, what: str, most: int) -> str:
    line = " ".join(text.split())
    if len(line) > most or not line.isprintable():
        raise SourceLinkWords(what, most)
    return line
