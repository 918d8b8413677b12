"""Run one of the studio's commands: `python3 manage.py demo`, `week`, `load`, `audit`, `test`."""

import os
import sys

OLDEST, NEWEST = (3, 11), (3, 13)


def main() -> None:
    """Say when this Python does not fit, enter the environment, then hand over to the command."""
    here = sys.version_info[:2]
    if not OLDEST <= here <= NEWEST:
        oldest, newest, mine = (f"{major}.{minor}" for major, minor in (OLDEST, NEWEST, here))
        sys.exit(
            f"Dye Larder runs on Python {oldest} to {newest} and this is Python {mine}; "
            f"call it with one of those, as in `python{newest} manage.py demo`."
        )
    from api.first_run import enter_environment

    enter_environment(sys.argv)
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "api.settings")
    from django.conf import settings
    from django.core.exceptions import ImproperlyConfigured
    from django.core.management import execute_from_command_line

    try:
        _ = settings.INSTALLED_APPS  # reads the environment
    except ImproperlyConfigured as error:
        sys.exit(str(error))
    execute_from_command_line(sys.argv)


if __name__ == "__main__":
    main()
