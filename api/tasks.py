"""What the workers do: one looks what is due and tells the others, each letter is a job.

Only workers import it; a page files nothing here and waits for no broker. The job names a row of
the outbox, so that a job that is lost, doubled or late loses, doubles and delays nothing: the table
says what is to be done, and the look at it comes round by itself.
"""

from __future__ import annotations

import logging
from datetime import timedelta
from uuid import uuid4

from celery import shared_task
from django.conf import settings
from django.utils import timezone
from kombu.exceptions import OperationalError

from api.environment import Mail
from api.reminders import outbox
from api.reminders.round import TURN, Round, bring, look, what_is_due
from api.reminders.turns import end_turn, take_turn
from api.seeking.work import waiting, work
from inventory.errors import LarderError
from inventory.hindrance import said_in_words

LOG = logging.getLogger(__name__)
ROUND_EVERY_S = 5
ROUND_WITHIN = timedelta(seconds=60)
TOLD_AT_ONCE, MOST_TIMES = 100, 10  # jobs sent in one round: a thousand at most
# A broker that does not answer is left alone till the next round.
SENT_HOW = {"retry": True, "retry_policy": {"max_retries": 1, "interval_start": 0}}


def look_round() -> None:
    """Look at every studio and tell the workers what is due; one worker at a time."""
    mail: Mail | None = settings.MAIL
    if mail is None:
        return
    try:
        with said_in_words():
            _look_and_tell(mail)
    except LarderError as hindrance:
        LOG.warning("Reminders wait: %s", hindrance)
    except OperationalError as error:
        LOG.warning("The broker does not answer; the workers are told later: %s", error)


def _look_and_tell(mail: Mail) -> None:
    holder, ends, done = uuid4(), timezone.now() + ROUND_WITHIN, Round()
    hold = timedelta(seconds=min(2 * mail.wait_s, 3 * ROUND_EVERY_S))

    def mine() -> bool:
        now = timezone.now()
        return now < ends and take_turn(TURN, holder=holder, at=now, hold=hold)

    if not mine():
        return
    try:
        look(at=timezone.now(), mail=mail, due=what_is_due()[0], goes_on=mine, done=done)
        for _ in range(MOST_TIMES):
            if not mine() or not _tell(mail):
                return
    finally:
        end_turn(TURN, holder=holder, at=timezone.now())


def _tell(mail: Mail) -> bool:
    """Send a job for each of some letters; whether there may be more."""
    # Longer than a letter is in hand: one that a killed worker had is free by then.
    wait = timedelta(seconds=4 * mail.wait_s)
    pks = outbox.to_be_told(at=timezone.now(), most=TOLD_AT_ONCE, first_wait=wait)
    for place, pk in enumerate(pks):
        try:
            bring_one.apply_async((pk,), **SENT_HOW)
        except OperationalError:
            outbox.untell(pks[place:])
            raise
    return len(pks) == TOLD_AT_ONCE


def bring_letter(pk: int) -> None:
    """Bring one letter out, unless it is out, in another hand, or not wanted any more."""
    mail: Mail | None = settings.MAIL
    if mail is None:
        return
    try:
        with said_in_words():
            bring(pk, mail=mail, clock=timezone.now, wanted=what_is_due()[1], done=Round())
    except LarderError as hindrance:
        LOG.warning("A letter waits: %s", hindrance)


look_now = shared_task(name="reminders.look")(look_round)
bring_one = shared_task(name="reminders.bring")(bring_letter)


def seek_round() -> None:
    """Look for the better weeks that are asked for and in nobody's hand, one after the other."""
    try:
        with said_in_words():
            for pk in waiting():
                work(pk)
    except LarderError as hindrance:
        LOG.warning("A search for a better week waits: %s", hindrance)


seek_now = shared_task(name="seeking.look")(seek_round)


def strike() -> None:
    """Ask the workers for a round; one that nobody took up by the next but one is dropped."""
    if settings.MAIL is not None:
        look_now.apply_async(expires=2 * ROUND_EVERY_S, **SENT_HOW)
    seek_now.apply_async(expires=2 * ROUND_EVERY_S, **SENT_HOW)
