"""Who does the work of a search: a thread beside the pages, or the workers where there is a broker.

The row of the search is all that a page leaves behind. Workers find it at their next round; an
embedded larder begins a thread, and again where the one that had it in hand is gone.
"""

from __future__ import annotations

import logging
import threading

from django.conf import settings
from django.db import connections

from api.seeking.work import waiting, work
from inventory.errors import LarderError
from inventory.hindrance import said_in_words

LOG = logging.getLogger(__name__)
_one = threading.Lock()  # one search at a time: it takes a whole processor


def begin() -> None:
    """See to it that what is asked for is looked for; returns at once."""
    if settings.CELERY_BROKER_URL.startswith("memory:"):
        threading.Thread(target=_seek_all, name="seeking", daemon=True).start()


def _seek_all() -> None:
    if not _one.acquire(blocking=False):
        return
    try:
        with said_in_words():
            while pks := waiting():
                work(pks[0])
    except LarderError as hindrance:
        LOG.warning("A search for a better week waits: %s", hindrance)
    finally:
        _one.release()
        connections.close_all()
