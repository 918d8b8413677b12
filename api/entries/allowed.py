"""Whether a visitor may enter what they ask for."""

from __future__ import annotations

from api.rights import NoRight, Right
from api.visitor import Visitor


def must(visitor: Visitor, least: Right) -> None:
    """Refuse a visitor whose right does not cover `least`."""
    if not visitor.right.covers(least):
        raise NoRight(studio=visitor.studio.name, has=visitor.right, needs=least)
