"""The runner of an embedded larder: a thread beside the pages that brings reminders out.

Every serving process has one, and the turn in the table lets one of them work at a time. Without
mail, or where workers listen to a broker, there is none.
"""

from __future__ import annotations

import atexit
import logging
import os
import threading

from django.conf import settings
from django.db import connections
from django.utils import timezone

from api.environment import Mail
from api.reminders.round import one_round
from inventory.errors import LarderError
from inventory.hindrance import said_in_words

LOG = logging.getLogger(__name__)
FIRST_AFTER_S, EVERY_S = 1, 15
END_WITHIN_S = 5


class Runner:
    """A thread that does one round after the other till it is told to stop."""

    def __init__(self, mail: Mail) -> None:
        self.mail = mail
        self._stopped = threading.Event()
        self._said = ""
        self._thread = threading.Thread(target=self._run, name="reminders", daemon=True)

    def start(self) -> None:
        """Begin, a moment later: the pages come first."""
        self._thread.start()

    def stop(self, *, wait: bool = True) -> None:
        """No further letter; the one in hand has a moment to get out."""
        self._stopped.set()
        if wait and self._thread is not threading.current_thread():
            self._thread.join(END_WITHIN_S)

    def _run(self) -> None:
        pause_s = FIRST_AFTER_S
        # Where another was killed, its turn lapses after twice the longest letter.
        every_s = min(EVERY_S, 2 * self.mail.wait_s)
        while not self._stopped.wait(pause_s):
            pause_s = 0 if self._round() else every_s

    def _round(self) -> bool:
        """Whether there is more to do at once."""
        try:
            with said_in_words():
                done = one_round(
                    mail=self.mail, clock=timezone.now, goes_on=lambda: not self._stopped.is_set()
                )
        except LarderError as hindrance:
            self._say_once(hindrance)
            return False
        except Exception:
            LOG.exception("Reminders stand still.")
            return False
        finally:
            connections.close_all()
        self._said = ""
        return done is not None and done.is_full

    def _say_once(self, hindrance: LarderError) -> None:
        """A database that is away for a night is not told of every quarter of a minute."""
        text = str(hindrance)
        if text != self._said:
            LOG.warning("Reminders wait: %s", text)
        self._said = text


_running: Runner | None = None


def start() -> None:
    """Begin to bring reminders out beside the pages, where mail is set up and no broker is."""
    global _running
    mail: Mail | None = settings.MAIL
    if mail is None or not settings.CELERY_BROKER_URL.startswith("memory:"):
        return
    if _running is None:
        atexit.register(stop)
        # A server that loads the pages once and forks: the thread does not come along, and the
        # one that forks only watches over its children.
        os.register_at_fork(after_in_parent=_leave_to_children, after_in_child=_begin_anew)
    _running = Runner(mail)
    _running.start()


def stop() -> None:
    """End with the process."""
    if _running is not None:
        _running.stop()


def _leave_to_children() -> None:
    if _running is not None:
        _running.stop(wait=False)


def _begin_anew() -> None:
    global _running
    if _running is not None:
        _running = Runner(_running.mail)
        _running.start()
