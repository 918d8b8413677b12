"""`manage.py load FOLDER`: a studio's notebook into the database, or the list of what is wrong."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError
from django.utils import timezone

from api.management.door import Door
from api.tables import make_ready
from sourcing.notebook.guide import guide
from sourcing.notebook.load import load
from sourcing.notebook.notebook import Notebook, files_of, read_notebook
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.shift import moved
from sourcing.notebook.to_come import to_come

MOST_SHOWN = 200  # problems; who has put these right calls again


class Command(Door):
    """Reads a folder, loads it whole or not at all, says what is new."""

    help = "Load a studio's notebook, a folder of CSV files."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path, nargs="?")
        parser.add_argument(
            "--columns", action="store_true", help="print the columns of every page"
        )
        parser.add_argument(
            "--dry-run", action="store_true", help="say what is wrong, keep nothing"
        )
        parser.add_argument(
            "--weeks-later",
            type=int,
            default=0,
            metavar="N",
            help="move every date by whole weeks, and the codes that carry a date",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        if options["columns"]:
            self.stdout.write(guide(), ending="")
            return
        make_ready()
        if options["folder"] is None:
            raise CommandError("Name the folder of the notebook.")
        files, problems = files_of(options["folder"])
        notebook, found = read_notebook(files)
        if options["weeks_later"]:
            notebook = _moved(notebook, options["weeks_later"])
        try:
            loaded = load(notebook, problems=[*problems, *found], dry_run=options["dry_run"])
        except NotebookRefused as refused:
            for problem in refused.problems[:MOST_SHOWN]:
                self.stderr.write(str(problem))
            if (more := len(refused.problems) - MOST_SHOWN) > 0:
                self.stderr.write(f"And {more:,} more.")
            raise CommandError(str(refused)) from None
        for problem in to_come(notebook, at=timezone.now())[:MOST_SHOWN]:
            self.stderr.write(f"To mind: {problem}")
        said = "Dry run, nothing was kept. " if options["dry_run"] else ""
        self.stdout.write(f"{said}{loaded}")


def _moved(notebook: Notebook, weeks: int) -> Notebook:
    try:
        return moved(notebook, weeks=weeks)
    except ValueError as refused:
        raise CommandError(str(refused)) from None
