"""Door: one file with everything in it, proved by opening it."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.core.management.base import CommandError, CommandParser
from django.db import connection

from api.backup import BackupFailed, back_up
from api.management.door import Door


class Command(Door):
    help = "Copy the database into FILE while others go on writing, and open the copy to prove it."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("file", type=Path, metavar="FILE")

    def handle(self, *args: Any, file: Path, **options: Any) -> None:
        try:
            self.stdout.write(back_up(connection, file))
        except BackupFailed as error:
            raise CommandError(str(error)) from error
