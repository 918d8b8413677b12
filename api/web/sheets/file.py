"""The door through which a browser gets the style sheets of a page."""

from __future__ import annotations

from http import HTTPStatus

from django.http import HttpRequest, HttpResponse

from api.question import check_words
from api.web.page import page, refused
from api.web.phone.files import FOR_EVER
from api.web.sheets.joined import BETWEEN, are_sheets, joined, mark_of
from inventory.science.saying import say

SHEET = "text/css; charset=utf-8"


@page
def sheets_file(request: HttpRequest, names: str, mark: str) -> HttpResponse:
    """Style sheets as one; under a mark that is no longer theirs they are looked at again."""
    check_words(request.GET, (), what=say("A style sheet"))
    asked = tuple(names.split(BETWEEN))
    if not are_sheets(asked):
        return refused(HTTPStatus.NOT_FOUND, say("There are no such style sheets."))
    kept = FOR_EVER if mark == mark_of(asked) else "no-cache"
    return HttpResponse(joined(asked), content_type=SHEET, headers={"Cache-Control": kept})
