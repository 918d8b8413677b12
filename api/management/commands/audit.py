"""`manage.py audit`: prove the ledger from scratch and name the first bad row."""

from __future__ import annotations

from argparse import ArgumentParser
from typing import Any

from django.core.management.base import CommandError

from api.asked import shown, studio_called
from api.management.door import Door
from api.tables import make_ready
from inventory.audit import audit, tail
from inventory.models import Posting, Studio
from inventory.seal import seal_all


class Command(Door):
    help = "Prove the ledger from scratch, name the first bad row, show what is not sealed yet."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("--studio", default="", help="only this studio, by its name")
        parser.add_argument(
            "--seal", action="store_true", help="seal what is not sealed yet, if all holds"
        )

    def handle(self, *args: Any, **options: Any) -> None:
        make_ready()
        studio = _named(options["studio"])
        faults = audit(studio)
        for fault in faults:
            self.stdout.write(f"{fault.studio or 'all studios'}: {fault.text}")
        if faults:
            raise CommandError(f"{len(faults)} faults; the first bad row is {faults[0].row}.")
        for one in [studio] if studio else Studio.objects.order_by("name"):
            if options["seal"]:
                seal_all(one)
            self._show(one)

    def _show(self, studio: Studio) -> None:
        postings = Posting.objects.of(studio).count()
        left = tail(studio)
        since = f", since {left[0].recorded_at:%d %B %Y %H:%M}" if left else ""
        self.stdout.write(
            f"{studio.name}: all holds, {postings} entries, {len(left)} not sealed yet{since}."
        )


def _named(name: str) -> Studio | None:
    if not name:
        return None
    studio = studio_called(name)
    if studio is None:
        known = ", ".join(Studio.objects.values_list("name", flat=True)) or "none"
        raise CommandError(f"No studio is called {shown(name)}. There are: {known}.")
    return studio
