"""The links of a source and what came by them, in words."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from django.urls import reverse

from api.models import SourceLink, SourceWord
from api.question import Question
from api.source_links.links import MOST_LINKS, links_of
from api.web.sources.words import full_day
from inventory.science.saying import say
from sourcing.models import Source
from sourcing.week.words import moment_in_words

WORDS_SHOWN = 24
WISH = say("In the clean tub that we left, rinsed, without food scraps.")


@dataclass(frozen=True, slots=True)
class LinkRow:
    """One link that was not ended."""

    key: int
    called: str  # made Fri 27 Nov 2026 by Ada
    good: bool
    until: str
    used: str
    asks: str
    wish: str


@dataclass(frozen=True, slots=True)
class WordRow:
    """One thing that was told by a link."""

    said: str
    amount: str
    what: str
    when: str
    word: str


@dataclass(frozen=True, slots=True)
class LinksShown:
    """The whole page."""

    source: str
    page: str  # the address of the source's own page
    rows: tuple[LinkRow, ...]
    words: tuple[WordRow, ...]
    usual_wish: str = WISH


def links_shown(source: Source, question: Question, *, at: datetime) -> LinksShown:
    """The links of a source, the newest first, and the last things that were told by any."""
    zone = ZoneInfo(question.studio.zone)
    rows = links_of(question.studio, source.pk)[:MOST_LINKS]
    words = SourceWord.objects.of(question.studio).filter(link__source_id=source.pk)[:WORDS_SHOWN]
    return LinksShown(
        source=source.name,
        page=reverse("source", args=[source.pk]) + question.carried,
        rows=tuple(_link(row, zone, at) for row in rows),
        words=tuple(_word(row, zone) for row in words),
    )


def _link(row: SourceLink, zone: ZoneInfo, at: datetime) -> LinkRow:
    by = say(" by {made_by}", made_by=row.made_by) if row.made_by else ""
    times = say("once") if row.uses == 1 else say("{uses:,} times", uses=row.uses)
    last = moment_in_words(row.last_used_at, zone) if row.last_used_at else ""
    return LinkRow(
        key=row.pk,
        called=say("made {day}{by}", day=_day(row.made_at, zone), by=by),
        good=row.expires_at > at,
        until=_day(row.expires_at, zone),
        used=say("opened {times}, last {last}", times=times, last=last)
        if last
        else say("not opened yet"),
        asks=row.asks,
        wish=row.wish,
    )


def _word(row: SourceWord, zone: ZoneInfo) -> WordRow:
    return WordRow(
        said=moment_in_words(row.said_at, zone),
        amount=row.amount or say("none this time"),
        what=row.gives,
        when=moment_in_words(row.due_at, zone),
        word=row.word,
    )


def _day(at: datetime, zone: ZoneInfo) -> str:
    return full_day(at.astimezone(zone).date())
