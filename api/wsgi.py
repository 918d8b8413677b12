"""Door for a WSGI server such as gunicorn; where mail is set up, reminders go out from here too."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
application = get_wsgi_application()

# The settings must be read before it.
from api.reminders import runner  # noqa: E402

runner.start()
