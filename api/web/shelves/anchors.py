"""Where on the page of the shelves a thing stands: a name made of its code, the same for ever."""

from __future__ import annotations

from urllib.parse import quote


def anchor_of(code: str) -> str:
    """The name of a thing's place, whatever signs its code is made of.

    >>> anchor_of("J1"), anchor_of("AV 11/16")
    ('of-J1', 'of-AV%2011%2F16')
    """
    return f"of-{quote(code, safe='')}"
