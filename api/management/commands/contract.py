"""`manage.py contract`: the contract with programs, written down or compared with what was."""

from __future__ import annotations

import json
from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandError

from api.contract.breaks import breaks
from api.contract.paper import COMMITTED, RELEASED, paper, text_of
from api.management.door import Door


class Command(Door):
    help = "Say whether the contract with programs (OpenAPI) stands as the addresses keep it."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--write", action="store_true", help="write it down anew")
        parser.add_argument(
            "--release", action="store_true", help="keep it as what programs now rely on"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        text = text_of(paper())
        if options["write"] or options["release"]:
            COMMITTED.write_text(text, encoding="utf-8")
        if options["release"]:
            _refuse_breaks(text)
            RELEASED.write_text(text, encoding="utf-8")
        if not COMMITTED.exists() or COMMITTED.read_text(encoding="utf-8") != text:
            raise CommandError(
                "The contract is not what the addresses say. python3 manage.py contract --write"
            )
        self.stdout.write("The contract is written down as the addresses keep it.")


def _refuse_breaks(text: str) -> None:
    """What is released is only added to: a break wants an address of its own beside the old one."""
    if not RELEASED.exists():
        return
    found = breaks(json.loads(RELEASED.read_text(encoding="utf-8")), json.loads(text))
    if found:
        raise CommandError("Programs that work now would not any more:\n" + "\n".join(found))
