"""The files of a language: written anew from the code, with every translation that there is."""

from __future__ import annotations

from pathlib import Path

from api.tongue.catalogue import po
from api.tongue.catalogue.found import messages
from api.tongue.catalogue.message import Entry, Message
from api.tongue.catalogue.mo import compiled

ROOT = Path(__file__).resolve().parents[3]
LOCALE = ROOT / "api" / "locale"
LANGUAGES = ("de",)
# By where a message is said first: the pages, the other doors, the two floors below.
FILES = ("floors", "doors", "pages")
HEAD = 'msgid ""\nmsgstr ""\n"Language: {}\\n"\n"Content-Type: text/plain; charset=UTF-8\\n"\n'
HEAD += '"Plural-Forms: nplurals=2; plural=(n != 1);\\n"'


def file_of(places: list[str]) -> str:
    """In which of the files a message stands.

    >>> file_of(["sourcing/errors.py"]), file_of(["api/web/page.py"]), file_of(["api/rights.py"])
    ('floors', 'pages', 'doors')
    """
    first = places[0]
    if first.startswith(("api/templates/", "api/web/")):
        return "pages"
    return "doors" if first.startswith("api/") else "floors"


def read_all(language: str) -> dict[Message, Entry]:
    """Every entry that stands in a file of a language."""
    found: dict[Message, Entry] = {}
    for name in FILES:
        for entry in _read(language, name)[1]:
            if entry.message not in found or entry.complete:
                found[entry.message] = entry
    return found


def written_anew(language: str) -> dict[str, str]:
    """Each file as it is to be: a message of the code a block, none that is said no more."""
    known = read_all(language)
    sorted_out: dict[str, list[Entry]] = {name: [] for name in FILES}
    for message, places in messages(ROOT).items():
        had = known.get(message)
        entry = Entry(message, had.said if had else (), tuple(places[:3]), bool(had and had.fuzzy))
        sorted_out[file_of(places)].append(entry)
    return {
        name: po.written(_read(language, name)[0], entries) for name, entries in sorted_out.items()
    }


def compiled_of(language: str) -> bytes:
    """What the service is to read, made of the files of a language."""
    return compiled(language, read_all(language).values())


def path_of(language: str, name: str) -> Path:
    """Where a file with translations stands."""
    return LOCALE / language / f"{name}.po"


def compiled_path(language: str) -> Path:
    """Where the file stands that the service reads."""
    return LOCALE / language / "LC_MESSAGES" / "django.mo"


def _read(language: str, name: str) -> tuple[str, list[Entry]]:
    path = path_of(language, name)
    if not path.exists():
        return HEAD.format(language), []
    return po.read(path.read_text(encoding="utf-8"))
