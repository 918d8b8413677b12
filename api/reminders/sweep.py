"""What falls due since a studio was last looked at goes into its outbox, with a mark how far.

Once an hour a look goes back a day behind the mark: what was written down late, such as a pick-up
agreed this afternoon for tomorrow, is still told, and what was filed before stays the one letter.
Letters and mark are written in one transaction, so whoever is killed has done both or neither.
What is due is asked before it, as that reads much; had another swept meanwhile, the mark has moved
and what was found here is dropped.
"""

from __future__ import annotations

import logging
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Protocol

from django.db import transaction
from django.db.models import OuterRef, Q, Subquery

from api.models import Sweep
from api.reminders.letter import Letter
from api.reminders.outbox import check_letter, file_letters
from inventory.errors import LarderError
from inventory.hindrance import said_in_words
from inventory.models import Studio

LOG = logging.getLogger(__name__)
EVERY = timedelta(minutes=5)  # on the clock: at 07:00, 07:05, …
AGAIN, AGAIN_EVERY = timedelta(days=1), timedelta(hours=1)  # behind the mark, on the clock
LOOK_BACK = timedelta(days=7)  # after a longer rest nothing older is of use
MOST_STUDIOS = 1000  # in one round


class Due(Protocol):
    """The letters of a studio that fall due between two moments, `until` not included."""

    def __call__(
        self, studio: Studio, *, since: datetime, until: datetime
    ) -> tuple[Letter, ...]: ...


@dataclass(frozen=True, slots=True)
class Swept:
    """What one look at a studio brought."""

    filed: int = 0
    passed_over: int = 0  # of no use any more, as nobody looked in time
    unfit: int = 0  # could not go out as they were written


def to_sweep(*, at: datetime) -> list[Studio]:
    """Studios that were not looked at since the clock last struck, the longest ago first."""
    mark = Sweep._base_manager.filter(studio=OuterRef("pk")).values("until")
    studios = Studio.objects.annotate(swept=Subquery(mark))
    waiting = studios.filter(Q(swept__isnull=True) | Q(swept__lte=_last_stroke(at, EVERY)))
    return list(waiting.order_by("swept", "pk")[:MOST_STUDIOS])


def _last_stroke(at: datetime, every: timedelta) -> datetime:
    return at - timedelta(seconds=at.timestamp() % every.total_seconds())


def sweep(studio: Studio, *, at: datetime, due: Due, domain: str) -> Swept | None:
    """File what fell due since the last look, as far as it is still of use.

    The first look at a studio only sets the mark: what was due before is not sent late.

    Returns
    -------
    What it brought; None when another looked meanwhile.
    """
    row = Sweep.objects.of(studio).first()
    # A moment that is due just now is in: `until` of what is due is not included.
    until = at + timedelta(microseconds=1)
    if row is None:
        _begin(studio, until)
        return Swept()
    if row.until >= until:
        return None
    letters = due(studio, since=_since(row, at), until=until)
    of_use = [letter for letter in letters if letter.until > at]
    fit = list(_fit(studio, of_use))
    with said_in_words(), transaction.atomic():
        if not _still(studio, row.until):
            return None
        filed = file_letters(studio, fit, at=at, domain=domain)
        Sweep.objects.of(studio).update(until=until)
    late = [letter for letter in letters if letter.until <= at and letter.at >= row.until]
    return Swept(filed, len(late), len(of_use) - len(fit))


def _since(row: Sweep, at: datetime) -> datetime:
    again = row.until <= _last_stroke(at, AGAIN_EVERY)
    return max(row.since, row.until - AGAIN if again else row.until, at - LOOK_BACK)


def _still(studio: Studio, mark: datetime) -> bool:
    """Whether the mark is where it was; locked till the end of the transaction."""
    return Sweep.objects.of(studio).select_for_update().filter(until=mark).exists()


@said_in_words()
def _begin(studio: Studio, until: datetime) -> None:
    row = Sweep(studio=studio, since=until, until=until)
    Sweep.objects.of(studio).bulk_create([row], ignore_conflicts=True)


def _fit(studio: Studio, letters: list[Letter]) -> Iterator[Letter]:
    """One letter that cannot go out does not keep the others in."""
    for letter in letters:
        try:
            check_letter(letter)
        except LarderError as refusal:
            LOG.error("%s: %s", studio.name, refusal)
        else:
            yield letter
