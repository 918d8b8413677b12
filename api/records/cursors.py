"""Cursors: where a list goes on, said so that nobody but us can say it.

A cursor names the last row that was shown by the cells that the list is ordered by, never by how
many rows came before. So rows that are added or taken away meanwhile make nothing come twice and
nothing be passed over. It is signed, and holds for the question that it came from.
"""

from __future__ import annotations

import json
from base64 import urlsafe_b64decode, urlsafe_b64encode
from collections.abc import Callable
from datetime import date, datetime
from hashlib import sha256
from hmac import compare_digest
from typing import Any
from uuid import UUID

from django.utils.crypto import salted_hmac

from api.asked import Unreadable

MARK_BYTES = 12
LONGEST_CURSOR = 1_000
READ: dict[str, Callable[[str], Any]] = {
    "at": datetime.fromisoformat,
    "on": date.fromisoformat,
    "uuid": UUID,
}
SALT = "dye larder, where a list goes on"


class CursorUnreadable(Unreadable):
    """Not a cursor that we gave out, or not for what is asked now."""

    code = "cursor_unreadable"


def cursor_after(cells: tuple[Any, ...], *, question: tuple[object, ...]) -> str:
    """The cursor that goes on after a row.

    Parameters
    ----------
    cells : of the row, those of the order: texts, whole numbers, moments, days, UUIDs
    question : what the list was asked; the cursor holds for nothing else
    """
    body = json.dumps([_said(cell) for cell in cells], separators=(",", ":")).encode()
    return urlsafe_b64encode(_mark(body, question) + body).decode().rstrip("=")


def cells_after(cursor: str, *, question: tuple[object, ...]) -> tuple[Any, ...]:
    """The cells of the last row shown.

    Raises
    ------
    CursorUnreadable
        If it was changed, cut, made elsewhere, or belongs to another question.
    """
    try:
        if not cursor.isascii() or len(cursor) > LONGEST_CURSOR:
            raise ValueError
        whole = urlsafe_b64decode(cursor + "=" * (-len(cursor) % 4))
    except ValueError:
        raise _refused(cursor) from None
    mark, body = whole[:MARK_BYTES], whole[MARK_BYTES:]
    if not compare_digest(mark, _mark(body, question)):
        raise _refused(cursor)
    return tuple(_read(cell) for cell in json.loads(body))


def _mark(body: bytes, question: tuple[object, ...]) -> bytes:
    asked = sha256(json.dumps(question, default=str).encode()).digest()
    return salted_hmac(SALT, asked + body, algorithm="sha256").digest()[:MARK_BYTES]


def _said(cell: Any) -> Any:
    if isinstance(cell, datetime):
        return ["at", cell.isoformat()]
    if isinstance(cell, date):
        return ["on", cell.isoformat()]
    return ["uuid", cell.hex] if isinstance(cell, UUID) else cell


def _read(cell: Any) -> Any:
    if not isinstance(cell, list):
        return cell
    kind, said = cell
    return READ[kind](said)


def _refused(cursor: str) -> CursorUnreadable:
    return CursorUnreadable(
        "cursor",
        cursor,
        "This cursor does not belong to this question. Follow `next` as it was answered, with the "
        "same words, or leave the cursor out to begin again.",
    )
