"""`manage.py catalogue`: what is said in other languages, written down anew or checked."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandError

from api.management.door import Door
from api.tongue.catalogue.faults import faults
from api.tongue.catalogue.files import (
    LANGUAGES,
    compiled_of,
    compiled_path,
    path_of,
    written_anew,
)

MOST_SHOWN = 200


class Command(Door):
    help = "Say whether every sentence can be said in every language that we answer in."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument(
            "--write", action="store_true", help="write the files anew, keeping translations"
        )
        parser.add_argument("--check", action="store_true", help="only look (as without it)")

    def handle(self, *args: Any, **options: Any) -> None:
        for language in LANGUAGES:
            if options["write"]:
                _write(language)
            found = list(faults(language))
            for fault in found[:MOST_SHOWN]:
                self.stdout.write(fault)
            if found:
                raise CommandError(f"{len(found)} sentences are not right in {language}.")
            self.stdout.write(f"Every sentence can be said in {language}.")


def _write(language: str) -> None:
    """The files that people edit first, then the one that is read."""
    for name, text in written_anew(language).items():
        path_of(language, name).parent.mkdir(parents=True, exist_ok=True)
        path_of(language, name).write_text(text, encoding="utf-8")
    compiled_path(language).parent.mkdir(parents=True, exist_ok=True)
    compiled_path(language).write_bytes(compiled_of(language))
