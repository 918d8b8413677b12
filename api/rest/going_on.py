"""Lists that go on: behind which row, and at which address."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from rest_framework.request import Request

from api.question import Question
from api.records.cursors import cells_after, cursor_after


def row_before(request: Request, question: Question, noun: str) -> Any:
    """The cell that names the last row shown, of a list with one such; None: from the start.

    Raises
    ------
    CursorUnreadable
        If the cursor does not belong to the same question.
    """
    cursor = request.GET.get("cursor")
    if cursor is None:
        return None
    (cell,) = cells_after(cursor, question=_asked(question, noun))
    return cell


def address_behind(request: Request, question: Question, noun: str, cell: Any) -> str:
    """The address that goes on behind the row that a cell names."""
    return next_address(request, cursor_after((cell,), question=_asked(question, noun)))


def next_address(request: Request, cursor: str) -> str:
    """The address that asks the same from a cursor on."""
    words = {**request.GET.dict(), "cursor": cursor}
    return request.build_absolute_uri(f"{request.path}?{urlencode(words)}")


def _asked(question: Question, noun: str) -> tuple[object, ...]:
    return (noun, question.studio.pk, question.said)
