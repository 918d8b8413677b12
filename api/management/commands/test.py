"""Door: the whole suite, or the tests that are named."""

from __future__ import annotations

import signal
import sys
from typing import Any

from django.core.management.base import BaseCommand

from api import suite


class Command(BaseCommand):
    help = (
        "Run everything: format, lint, types, missing migrations, then the tests on SQLite and on "
        "PostgreSQL. What follows `test` is handed to pytest: `test tests/test_floors.py -x`."
    )
    requires_system_checks = []

    def run_from_argv(self, argv: list[str]) -> None:
        # Taken as they come: pytest's own options are not ours to parse.
        if argv[2:] in (["--help"], ["-h"]):
            self.print_help(argv[0], argv[1])
            return
        # Ended from outside, we end as by Ctrl+C: what we started is ended too.
        signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
        sys.exit(suite.run_some(argv[2:]) if argv[2:] else suite.run_all(self._say))

    def handle(self, *args: str, **options: Any) -> None:
        if code := suite.run_all(self._say):
            sys.exit(code)

    def _say(self, line: str) -> None:
        self.stdout.write(line)
        self.stdout.flush()
