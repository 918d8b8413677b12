"""The Celery app that workers run: `celery -A api.celery worker`, and nothing beside it.

Only tasks import it, so that a command does not pay for Celery.
"""

import os

from celery import Celery
from celery.signals import worker_ready, worker_shutting_down

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
app = Celery("dye_larder")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(["api"])

# The settings must be named before it.
from api.reminders import clock  # noqa: E402

worker_ready.connect(clock.start)
worker_shutting_down.connect(clock.stop)
