"""The settings of the service, with what is due as the tests lay it down."""

from api.settings import *  # noqa: F403

REMINDERS = "tests.api.reminders.what_is_due"
