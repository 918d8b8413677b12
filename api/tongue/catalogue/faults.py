"""What is wrong with the catalogues, in words: nothing, when every page can be said."""

from __future__ import annotations

from collections.abc import Iterator

from api.tongue.catalogue.files import (
    ROOT,
    compiled_of,
    compiled_path,
    path_of,
    read_all,
    written_anew,
)
from api.tongue.catalogue.found import messages
from api.tongue.catalogue.message import Entry, holes_of

WRITE = "python3 manage.py catalogue --write"


def faults(language: str) -> Iterator[str]:
    """Sentences about what is missing or does not fit."""
    known = read_all(language)
    for message, places in messages(ROOT).items():
        entry = known.get(message)
        if entry is None or not entry.complete:
            yield f"{places[0]}: not said in {language}: {message.text}"
        else:
            yield from _holes(entry, places[0])
    yield from stale(language)


def stale(language: str) -> Iterator[str]:
    """Files that are not as the code and the translations would have them."""
    for name, text in written_anew(language).items():
        path = path_of(language, name)
        if not path.exists() or path.read_text(encoding="utf-8") != text:
            yield f"{path.relative_to(ROOT)} is not what the code says. {WRITE}"
    path = compiled_path(language)
    if not path.exists() or path.read_bytes() != compiled_of(language):
        yield f"{path.relative_to(ROOT)} is not what the translations say. {WRITE}"


def _holes(entry: Entry, place: str) -> Iterator[str]:
    for pattern, said in zip(entry.message.patterns, entry.said, strict=True):
        if holes_of(pattern) != holes_of(said):
            yield f"{place}: “{pattern}” and “{said}” have other holes"
