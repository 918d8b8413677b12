"""What the server does beside serving: the certificate is made anew in time, without a restart.

Read by gunicorn. Each connection reads the file afresh, so the next one after a renewal has it.
"""

from __future__ import annotations

import logging
import os
import threading
import time
from pathlib import Path

from django.utils import timezone

LOG = logging.getLogger("gunicorn.error")
EVERY_S = 6 * 3600
NAMES = "CERTIFICATE_NAMES"  # set by `manage.py serve --https` for its own server


def when_ready(server: object) -> None:
    """The sockets are open: begin to look after the certificate."""
    if os.environ.get(NAMES):
        threading.Thread(target=_look_after, name="certificate", daemon=True).start()


def _look_after() -> None:
    while True:
        time.sleep(EVERY_S)
        try:
            renew()
        except Exception:
            LOG.exception("The certificate could not be made anew.")


def renew() -> None:
    """Make the certificate anew if it ends soon or the machine got another address."""
    from django.conf import settings

    from api.https.keeping import keep_certificate
    from api.https.names import names_of_machine

    added = os.environ[NAMES].split(",")
    keep_certificate(Path(settings.STATE), names_of_machine(filter(None, added)), at=timezone.now())
