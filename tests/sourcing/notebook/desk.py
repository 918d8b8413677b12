"""Notebooks for tests: the demo studio's folder, small ones, and ones with a page changed."""

from __future__ import annotations

from pathlib import Path

from sourcing.notebook.notebook import Notebook, files_of, read_notebook
from sourcing.notebook.problem import Problem

YARD = Path(__file__).parents[3] / "fixtures" / "pellitory-yard"
STUDIO = "studio,zone,country,begins\nWash House,Europe/London,GB,1 Jan 2026\n"


def yard_files() -> dict[str, bytes]:
    """The demo studio's files."""
    files, problems = files_of(YARD)
    assert problems == []
    return files


def without_readers(files: dict[str, bytes]) -> dict[str, bytes]:
    """The same files without those who are written to."""
    return {name: raw for name, raw in files.items() if name != "reminders.csv"}


def yard() -> Notebook:
    """The demo studio's notebook."""
    notebook, problems = read_notebook(yard_files())
    assert problems == []
    return notebook


def pages(**texts: str) -> dict[str, bytes]:
    """A small notebook: the studio and the pages that are given."""
    return {f"{name}.csv": text.encode() for name, text in {"studio": STUDIO, **texts}.items()}


def altered(file: str, old: str, new: str) -> dict[str, bytes]:
    """The demo studio's files with a piece of one page written otherwise."""
    files = yard_files()
    text = files[file].decode()
    assert old in text, (file, old)
    return {**files, file: text.replace(old, new, 1).encode()}


def sentences(problems: list[Problem]) -> list[str]:
    """Problems as they are shown."""
    return [str(problem) for problem in problems]


def without_suppliers() -> dict[str, bytes]:
    """The demo studio's files as of a studio that buys of nobody yet."""
    return {name: text for name, text in yard_files().items()
            if name not in ("suppliers.csv", "offers.csv")}  # fmt: skip
