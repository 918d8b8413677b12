"""The first page: this week's sheet as plain text."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from api.asked import StudioUnknown, Unreadable
from api.rest.week import week_asked
from api.sheet import sheet
from inventory.science.figures import NoFigure

PLAIN = "text/plain; charset=utf-8"


@require_safe
def sheet_page(request: HttpRequest) -> HttpResponse:
    """The sheet of the only studio, or of the one that the address names."""
    try:
        text, status = sheet(week_asked(request.GET)), 200
    except StudioUnknown as error:
        text, status = f"{error}\n", 404
    except Unreadable as error:
        text, status = f"{error}\n", 400
    except NoFigure as error:
        text, status = f"{error}\n", 409
    return HttpResponse(text, status=status, content_type=PLAIN)
