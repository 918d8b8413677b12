"""What sources wrote by their links and nobody of the studio has looked at yet."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from api.models import SourceWord
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.week.words import moment_in_words

WORDS_AT_MOST = 20
OF_USE = timedelta(days=1)  # after the hand-over that it is about


@dataclass(frozen=True, slots=True)
class Unseen:
    """One thing that a source wrote."""

    key: int
    source: int
    name: str
    text: str


def unseen_words(studio: Studio, *, at: datetime) -> tuple[Unseen, ...]:
    """What was written up to a moment about hand-overs that are not over, the first in front."""
    rows = SourceWord.objects.of(studio).filter(
        seen_at__isnull=True, said_at__lte=at, due_at__gte=at - OF_USE
    )
    found = rows.order_by("said_at", "id").select_related("link__source")[:WORDS_AT_MOST]
    zone = ZoneInfo(studio.zone)
    return tuple(
        Unseen(row.pk, row.link.source_id, row.link.source.name, _text(row, zone)) for row in found
    )


@said_in_words()
def see_words(studio: Studio, source: int, *, up_to: int, at: datetime) -> None:
    """Somebody has looked at what a source wrote, up to one word; later ones are still new."""
    rows = SourceWord.objects.of(studio).filter(link__source_id=source, pk__lte=up_to)
    rows.filter(seen_at__isnull=True).update(seen_at=at)


def _text(row: SourceWord, zone: ZoneInfo) -> str:
    """`Lantern Steps café wrote Mon 23 Nov 07:12: 58 stones saved (avocado stones), for …`."""
    name, gives = row.link.source.name, row.gives
    when, due = moment_in_words(row.said_at, zone), moment_in_words(row.due_at, zone)
    if row.amount:
        text = say(
            "{name} wrote {when}: {amount} saved ({gives}), for {due}",
            name=name,
            when=when,
            amount=row.amount,
            gives=gives,
            due=due,
        )
    else:
        text = say(
            "{name} wrote {when}: no {gives} for {due}", name=name, when=when, gives=gives, due=due
        )
    return say("{text}: “{word}”", text=text, word=row.word) if row.word else text
