"""One round: look at every studio, then bring out what is due, or tell the workers of it."""

from __future__ import annotations

import logging
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from importlib import import_module
from typing import Any, cast
from uuid import uuid4

from django.conf import settings

from api.environment import Mail
from api.recovery import file_recoveries, recovery_wished
from api.reminders import outbox
from api.reminders.deliver import NOT_TO_BE_HAD, Clock, Wanted, deliver
from api.reminders.sweep import Due, Swept, sweep, to_sweep
from api.reminders.turns import end_turn, take_turn
from inventory.errors import NotNow

LOG = logging.getLogger(__name__)
TURN = "reminders"
MOST_LETTERS = 200  # brought out in one round; the next one follows at once where there are more
GoesOn = Callable[[], bool]


@dataclass(slots=True)
class Round:
    """What one round did."""

    studios: int = 0
    swept: list[Swept] = field(default_factory=list)
    became: Counter[str] = field(default_factory=Counter)  # of letters, in a word each
    failed: int = 0  # studios or letters at which a fault of ours showed

    @property
    def filed(self) -> int:
        return sum(one.filed for one in self.swept)

    @property
    def is_full(self) -> bool:
        """Whether there may be more to bring out at once."""
        return self.became.total() >= MOST_LETTERS


def what_is_due() -> tuple[Due, Wanted]:
    """The two questions to those who know the studio's facts: what is due, is it still wanted."""
    module: Any = import_module(settings.REMINDERS)
    return cast(Due, module.letters_due), cast(Wanted, module.still_wanted)


def one_round(*, mail: Mail, clock: Clock, goes_on: GoesOn = lambda: True) -> Round | None:
    """Look at every studio and bring out what is due; None while another process is at it.

    Where there is nothing to do, nothing is written. The turn is renewed before each studio and
    each letter, so it is lost only to who stands still longer than a letter may take.
    """
    done, holder = Round(), uuid4()
    if not to_sweep(at=clock()) and not outbox.due(at=clock(), most=1) and not recovery_wished():
        return done
    due, wanted = what_is_due()

    def mine() -> bool:
        hold = timedelta(seconds=2 * mail.wait_s)
        return goes_on() and take_turn(TURN, holder=holder, at=clock(), hold=hold)

    if not mine():
        return None
    try:
        look(at=clock(), mail=mail, due=due, goes_on=mine, done=done)
        bring_out(mail=mail, clock=clock, wanted=wanted, goes_on=mine, done=done)
    finally:
        end_turn(TURN, holder=holder, at=clock())
    return done


def look(*, at: datetime, mail: Mail, due: Due, goes_on: GoesOn, done: Round) -> None:
    """Look at every studio that the clock says is due; one fault does not keep the others in."""
    domain = mail.sender.rpartition("@")[2]
    file_recoveries(at=at, address=mail.address, domain=domain)
    for studio in to_sweep(at=at):
        if not goes_on():
            return
        try:
            swept = sweep(studio, at=at, due=due, domain=domain)
        except NotNow:
            raise
        except Exception:
            LOG.exception("Reminders of %s could not be worked out.", studio.name)
            done.failed += 1
        else:
            done.studios += 1
            done.swept += [swept] if swept else []
    outbox.clear_away(at=at)


def bring_out(*, mail: Mail, clock: Clock, wanted: Wanted, goes_on: GoesOn, done: Round) -> None:
    """Bring out what is due, one letter after the other."""
    for pk in outbox.due(at=clock(), most=MOST_LETTERS):
        if not goes_on():
            return
        done.became[bring(pk, mail=mail, clock=clock, wanted=wanted, done=done)] += 1


def bring(pk: int, *, mail: Mail, clock: Clock, wanted: Wanted, done: Round) -> str:
    """What became of one letter; a fault at it puts it by, so that the others are not kept in."""
    try:
        return deliver(pk, mail=mail, clock=clock, wanted=wanted)
    except NotNow:
        raise
    except Exception:
        LOG.exception("A letter could not be brought out.")
        done.failed += 1
        one = outbox.take(pk, at=clock(), hold=outbox.FIRST_WAIT)
        if isinstance(one, outbox.InHand):
            return outbox.put_off(one, at=clock(), said="a fault of ours, told in the log")
        return one or NOT_TO_BE_HAD
