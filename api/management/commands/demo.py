"""Door: an invented studio in the week that it is now, its sheet, and the pages on this machine."""

from __future__ import annotations

import sys
from typing import Any

from django.core.management import call_command
from django.core.management.base import CommandError, CommandParser
from django.utils import timezone

from api import demo
from api.management.door import Door


class Command(Door):
    help = "Make the database, load the demo studio, print this week's sheet and serve the pages."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--no-serve", action="store_true", help="Stop after the sheet; serve nothing."
        )
        parser.add_argument(
            "--as-written",
            action="store_true",
            help="Keep dates and codes as the notebook has them, instead of this week's.",
        )

    def handle(self, *args: Any, no_serve: bool, as_written: bool, **options: Any) -> None:
        notebook, at = demo.read(now=None if as_written else timezone.now())
        try:
            if aside := demo.keep(notebook):
                self.stderr.write(aside)
            call_command("week", at=at.isoformat(), studio=notebook.name, stdout=self.stdout)
            self.stdout.flush()
            if not no_serve:
                demo.serve(self._say_address)
        except demo.DemoFailed as error:
            raise CommandError(str(error)) from error
        except KeyboardInterrupt:
            sys.exit(0)

    def _say_address(self, address: str) -> None:
        self.stdout.write(f"\n{address} (Ctrl+C ends it)")
        self.stdout.flush()
