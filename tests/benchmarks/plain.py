"""Bare pages and lists of Django beside our own addresses: the least that shows as many rows.

Same service, same middleware, the studio and one query, no sums: a template of eight cells a row,
and the same columns of a lot as JSON.
"""

from __future__ import annotations

from typing import Any

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.template import engines
from django.urls import path

from api.urls import handler400, handler404
from api.urls import urlpatterns as ours
from inventory.models import Lot, Studio

__all__ = ["handler400", "handler404", "urlpatterns"]

COLUMNS = ("code", "kind", "what", "source", "gathered_on", "permission", "foraged",
           "posting__occurred_at")  # fmt: skip
PAGE = """{% load static %}<!doctype html><html lang="en"><head><title>Lots</title>
<link rel="stylesheet" href="{% static 'larder.css' %}"></head><body><main><h1>Lots</h1><table>
{% for row in rows %}<tr>{% for cell in row.values %}<td>{{ cell }}</td>{% endfor %}</tr>
{% endfor %}</table></main></body></html>"""
_page = engines["django"].from_string(PAGE)


def plain_page(request: HttpRequest, many: int) -> HttpResponse:
    """So many lots in a table."""
    return HttpResponse(_page.render({"rows": _rows(many)}))


def plain_list(request: HttpRequest, many: int) -> JsonResponse:
    """So many lots as JSON."""
    return JsonResponse({"rows": list(_rows(many))})


def _rows(many: int) -> Any:
    """Lots of the only studio, which is looked up first as our own addresses do."""
    studio = Studio.objects.get()
    return Lot.objects.of(studio).order_by("code").values(*COLUMNS)[:many]


urlpatterns = [
    path("plain/page/<int:many>/", plain_page),
    path("plain/list/<int:many>/", plain_list),
    *ours,
]
