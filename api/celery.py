"""The Celery app that workers run: `celery -A api.celery worker`, and nothing beside it.

Only tasks import it, so that a command does not pay for Celery.
"""

import os

from celery import Celery
from celery.signals import worker_ready, worker_shutting_down
from kombu.transport import redis

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
app = Celery("dye_larder")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(["api"])

# A worker that had jobs in hand when the broker went away would give them back over the line that
# is closed already, and end for it (celery 5.7.0: AttributeError, 'NoneType' has no 'hostname').
# Nothing is lost by keeping them: the table tells again what was not done.
redis.QoS.restore_at_shutdown = False

# The settings must be named before it.
from api.reminders import clock  # noqa: E402

worker_ready.connect(clock.start)
worker_shutting_down.connect(clock.stop)
