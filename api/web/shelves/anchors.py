"""Where on the page of the shelves a thing stands, and where its label is printed."""

from __future__ import annotations

from functools import lru_cache
from urllib.parse import quote, urlencode

from api.web.addresses import address_of

CODES_KEPT = 2048  # whose addresses a process has put together lately


@lru_cache(maxsize=CODES_KEPT)
def anchor_of(code: str) -> str:
    """The name of a thing's place, whatever signs its code is made of.

    >>> anchor_of("J1"), anchor_of("AV 11/16")
    ('of-J1', 'of-AV%2011%2F16')
    """
    return f"of-{quote(code, safe='')}"


@lru_cache(maxsize=CODES_KEPT)
def label_address(*codes: str, carried: str) -> str:
    """Where the labels of one or several things are printed.

    Parameters
    ----------
    carried : `?at=…&studio=…`, to go on asking the same; empty for now and here
    """
    named = urlencode([("of", code) for code in codes])
    return f"{address_of('labels')}{carried}{'&' if carried else '?'}{named}"
