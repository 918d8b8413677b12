"""The Celery app that workers run: `celery -A api.celery worker`, and nothing beside it.

Only tasks import it, so that a command does not pay for Celery.
"""

import os
from typing import Any

from celery import Celery
from celery.signals import worker_ready, worker_shutting_down
from kombu.transport import redis
from redis.exceptions import ConnectionError

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
app = Celery("dye_larder")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.set_default()  # for every thread; on its own it is known to the one that made it
app.autodiscover_tasks(["api"])


class Line(redis.Channel):
    """A line to the broker on which nothing more can be said says so, and the worker lives on.

    A worker to whom the broker was lost while it had jobs in hand acknowledges them, or gives them
    back, over the line that is closed already. Kombu 5.7.0 answers with an AttributeError, and the
    worker ends for it; an error of the connection it bears.
    """

    def _connparams(self, *words: Any, **options: Any) -> Any:
        if self.connection is None or self.connection.client is None:
            raise ConnectionError("The line to the broker is closed.")
        as_shipped: Any = super()
        return as_shipped._connparams(*words, **options)


redis.Transport.Channel = Line
# Nothing is lost by keeping what is in hand: the table tells again what was not done.
redis.QoS.restore_at_shutdown = False

# The settings must be named before it.
from api.reminders import clock  # noqa: E402

worker_ready.connect(clock.start)
worker_shutting_down.connect(clock.stop)
