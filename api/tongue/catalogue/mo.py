"""Translations as the file that is read at run time, in the form of gettext's MO.

References
----------
The GNU gettext manual, "The Format of GNU MO Files": magic number, revision, count, two tables of
lengths and offsets, then the texts, each with a zero behind it, sorted by the original.
"""

from __future__ import annotations

import struct
from collections.abc import Iterable

from api.tongue.catalogue.message import Entry

MAGIC = 0x950412DE
START = 28  # bytes before the tables


def compiled(language: str, entries: Iterable[Entry]) -> bytes:
    """The bytes of a file with every complete entry."""
    head = (
        f"Language: {language}\nContent-Type: text/plain; charset=UTF-8\n"
        "Plural-Forms: nplurals=2; plural=(n != 1);\n"
    )
    pairs = {b"": head.encode()}
    pairs |= {_key(entry): "\0".join(entry.said).encode() for entry in entries if entry.complete}
    return _packed(sorted(pairs.items()))


def _key(entry: Entry) -> bytes:
    message = entry.message
    context = f"{message.context}\x04" if message.context else ""
    return (context + "\0".join(message.patterns)).encode()


def _packed(pairs: list[tuple[bytes, bytes]]) -> bytes:
    count = len(pairs)
    tables, texts = [], b""
    begin = START + 16 * count
    for side in (0, 1):
        for pair in pairs:
            tables.append(struct.pack("<II", len(pair[side]), begin + len(texts)))
            texts += pair[side] + b"\0"
    head = struct.pack("<7I", MAGIC, 0, count, START, START + 8 * count, 0, START + 16 * count)
    return head + b"".join(tables) + texts
