"""The Celery app that workers run: `celery -A api.celery worker`.

Only tasks import it, so that a command does not pay for Celery.
"""

import os

from celery import Celery

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
app = Celery("dye_larder")
app.config_from_object("django.conf:settings", namespace="CELERY")
app.autodiscover_tasks(["api"])
