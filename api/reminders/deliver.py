"""One letter from the outbox to the mail server: looked at again, taken, handed over, marked."""

from __future__ import annotations

import logging
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Protocol

from api.environment import Mail
from api.models.outbox import STOPPED
from api.reminders import outbox
from api.reminders.errors import NeverTaken, NotTaken, OutOfHand, PerhapsTaken
from api.reminders.letter import Letter
from api.reminders.message import message_of
from api.reminders.outbox import InHand
from api.reminders.post import hand_over
from inventory.errors import NotNow
from inventory.models import Studio

LOG = logging.getLogger(__name__)
SENT, NOT_TO_BE_HAD = "sent", "not to be had"
MARKED_TRIES = 3
Clock = Callable[[], datetime]


class Wanted(Protocol):
    """Whether a letter is still wanted at a moment: not stopped, and still true."""

    def __call__(self, studio: Studio, letter: Letter, *, at: datetime) -> bool: ...


def deliver(pk: int, *, mail: Mail, clock: Clock, wanted: Wanted) -> str:
    """Bring one letter out; in a word what became of it.

    Safe to call for any letter, by any number of processes, any number of times.
    """
    seen = outbox.found(pk, at=clock())
    if seen is None:
        return NOT_TO_BE_HAD
    studio, letter = seen
    at = clock()
    # Asked before the letter is taken, as it reads much and must not keep anybody waiting.
    if letter.until > at and not wanted(studio, letter, at=at):
        return STOPPED if outbox.stop(pk, at=clock()) else NOT_TO_BE_HAD
    # Twice the longest talk: who has it in hand has ended before it comes free.
    one = outbox.take(pk, at=clock(), hold=timedelta(seconds=2 * mail.wait_s))
    if isinstance(one, InHand):
        return _carry(one, mail, clock)
    return one or NOT_TO_BE_HAD


def _carry(one: InHand, mail: Mail, clock: Clock) -> str:
    try:
        said = hand_over(
            mail,
            message_of(one, mail),
            to=one.letter.to,
            name=one.message_id.strip("<>").split("@")[0],
            before_text=lambda: outbox.begin_to_hand(one, at=clock()),
        )
    except OutOfHand:
        return NOT_TO_BE_HAD
    except NeverTaken as refusal:
        return outbox.refuse(one, at=clock(), said=refusal.said)
    except NotTaken as refusal:
        perhaps = isinstance(refusal, PerhapsTaken)
        return outbox.put_off(one, at=clock(), said=refusal.said, perhaps=perhaps)
    return _mark(one, said, clock)


def _mark(one: InHand, said: str, clock: Clock) -> str:
    """The yes is not to be lost for a busy moment: else the letter goes out once more."""
    for tries in range(MARKED_TRIES):
        try:
            outbox.mark_sent(one, at=clock(), said=said)
        except NotNow as hindrance:
            if tries == MARKED_TRIES - 1:
                raise
            LOG.warning("A letter is out and not marked yet: %s", hindrance)
        else:
            break
    return SENT
