"""Translations as a file that people edit, in the form of gettext's PO."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from api.tongue.catalogue.message import Entry, Message

SIGNS = {"\\": "\\\\", '"': '\\"', "\n": "\\n", "\t": "\\t"}
BACK = {"\\": "\\", '"': '"', "n": "\n", "t": "\t"}
LINE = re.compile(r'^(?:(msgctxt|msgid_plural|msgid|msgstr)(?:\[(\d)\])? )?"(.*)"$')


def read(text: str) -> tuple[str, list[Entry]]:
    """What stands before the first message, and the entries.

    Raises
    ------
    ValueError
        If a line is none of this form; the message says which.
    """
    head, *blocks = [block for block in re.split(r"\n\s*\n", text) if block.strip()] or [""]
    return head, [_entry(block) for block in blocks]


def _entry(block: str) -> Entry:
    """One message from its lines."""
    fields: dict[tuple[str, int], str] = {}
    places: list[str] = []
    fuzzy, field = False, ("", 0)
    for line in block.splitlines():
        if line.startswith("#"):
            fuzzy = fuzzy or (line.startswith("#,") and "fuzzy" in line)
            places += line[2:].split() if line.startswith("#:") else []
            continue
        found = LINE.match(line.strip())
        if found is None:
            raise ValueError(f"This is no line of a catalogue: {line}")
        if found[1]:
            field = (found[1], int(found[2] or 0))
        fields[field] = fields.get(field, "") + _plain(found[3])
    said = tuple(text for (name, _), text in sorted(fields.items()) if name == "msgstr")
    message = Message(
        fields[("msgid", 0)], fields.get(("msgid_plural", 0), ""), fields.get(("msgctxt", 0), "")
    )
    return Entry(message, said, tuple(places), fuzzy)


def written(head: str, entries: Iterable[Entry]) -> str:
    """A whole file: its head, then every entry."""
    return "\n\n".join([head.strip(), *("\n".join(_lines(entry)) for entry in entries)]) + "\n"


def _lines(entry: Entry) -> Iterator[str]:
    message = entry.message
    for place in entry.places:
        yield f"#: {place}"
    if entry.fuzzy:
        yield "#, fuzzy"
    if message.context:
        yield f"msgctxt {_quoted(message.context)}"
    yield f"msgid {_quoted(message.text)}"
    if not message.many:
        yield f"msgstr {_quoted(entry.said[0] if entry.said else '')}"
        return
    yield f"msgid_plural {_quoted(message.many)}"
    for number in range(2):
        text = entry.said[number] if number < len(entry.said) else ""
        yield f"msgstr[{number}] {_quoted(text)}"


def _quoted(text: str) -> str:
    return '"' + "".join(SIGNS.get(sign, sign) for sign in text) + '"'


def _plain(text: str) -> str:
    return re.sub(r"\\(.)", lambda found: BACK.get(found[1], found[1]), text)
