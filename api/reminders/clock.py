"""The workers' clock: a thread in each worker that asks for a round every few seconds.

It runs in the worker's first process and touches no table, as the processes that do the jobs are
forked from there. Several workers ask several times; the turn in the table lets one look.
"""

from __future__ import annotations

import logging
import threading
from typing import Any

from django.conf import settings
from kombu.exceptions import OperationalError

LOG = logging.getLogger(__name__)
_ended = threading.Event()


def start(**_: Any) -> None:
    """Begin to strike as soon as the worker is ready."""
    if settings.MAIL is None:
        LOG.warning("No mail is set up here, so no reminder goes out.")
    _ended.clear()
    threading.Thread(target=_strike_on, name="clock", daemon=True).start()


def stop(**_: Any) -> None:
    """Strike no more."""
    _ended.set()


def _strike_on() -> None:
    from api.tasks import ROUND_EVERY_S, strike

    answers = True
    while True:
        try:
            strike()
            answers = True
        except OperationalError as error:
            if answers:
                LOG.warning("The broker does not answer; the clock goes on: %s", error)
            answers = False
        if _ended.wait(ROUND_EVERY_S):
            return
