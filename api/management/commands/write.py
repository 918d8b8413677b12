"""`manage.py write FOLDER`: a studio written out as the notebook that it can be loaded from."""

from __future__ import annotations

from argparse import ArgumentParser
from pathlib import Path
from typing import Any

from django.core.management.base import CommandError
from django.utils import timezone

from api.asked import shown, studio_called
from api.management.door import Door, named
from api.tables import make_ready
from inventory.models import Studio
from sourcing.notebook.writing import files_for, notebook_of


class Command(Door):
    """Writes one file a page; a folder that holds other files is left alone."""

    help = "Write a studio out as a notebook, a folder of CSV files."

    def add_arguments(self, parser: ArgumentParser) -> None:
        parser.add_argument("folder", type=Path)
        parser.add_argument("--studio", default="", help="its name, where there are several")

    def handle(self, *args: Any, **options: Any) -> None:
        make_ready()
        studio = _studio(options["studio"])
        folder: Path = options["folder"]
        files = files_for(notebook_of(studio, at=timezone.now()))
        if folder.exists() and (not folder.is_dir() or _others(folder, files)):
            raise CommandError(f"{folder} holds other things. Name a new or an empty folder.")
        folder.mkdir(parents=True, exist_ok=True)
        _write(folder, files)
        self.stdout.write(f"{studio.name}: {len(files)} pages written to {folder}.")


def _write(folder: Path, files: dict[str, bytes]) -> None:
    """All of the pages, or none of them: each is written beside its place and named last."""
    beside = {name: folder / f".{name}.part" for name in files}
    try:
        for name, content in files.items():
            with named(beside[name]):
                beside[name].write_bytes(content)
        for name, part in beside.items():
            part.replace(folder / name)
    finally:
        for part in beside.values():
            part.unlink(missing_ok=True)


def _others(folder: Path, files: dict[str, bytes]) -> list[Path]:
    return [path for path in folder.iterdir() if path.name not in files]


def _studio(name: str) -> Studio:
    named = [studio_called(name)] if name else Studio.objects.all()[:2]
    found = [studio for studio in named if studio is not None]
    if len(found) == 1:
        return found[0]
    names = ", ".join(studio.name for studio in Studio.objects.order_by("name")) or "none yet"
    if name:
        raise CommandError(f"There is no studio {shown(name)}. There are: {names}.")
    raise CommandError(f"Say which studio with --studio. There are: {names}.")
