"""The address in a printed code: it stays good wherever the page of a thing moves to.

Paper outlives a page's address, so a code leads to `/found/`, which knows the way. A moment is
never printed: whoever finds a jar asks about now.
"""

from __future__ import annotations

from urllib.parse import urlencode

from django.conf import settings
from django.http import HttpRequest
from django.urls import reverse

from api.question import Question
from api.web.drawing.qr import LONGEST

NEAR = frozenset({"localhost", "127.0.0.1", "[::1]"})


def found_address(request: HttpRequest, question: Question, **thing: str) -> str:
    """The whole address of a thing, as phones reach the service.

    Parameters
    ----------
    thing : `code="J1"` of what stands on the shelves, or `run="A"`
    """
    named = {name: text for name, text in question.said if name == "studio"}
    root = f"{own_root(request)}{reverse('found')}?"
    whole = f"{root}{urlencode({**thing, **named})}"
    # A studio's name may be too long to be printed; its reader then says which studio is meant.
    return whole if len(whole) <= LONGEST else f"{root}{urlencode(thing)}"


def own_root(request: HttpRequest) -> str:
    """`https://HOST` as the environment says it, else as this page was asked for."""
    return settings.ADDRESS or f"{request.scheme}://{request.get_host()}"


def reaches_no_phone(request: HttpRequest) -> bool:
    """Whether codes would lead to this very machine, where no phone looks."""
    host = own_root(request).partition("://")[2]
    return host.rpartition(":")[0] in NEAR or host in NEAR
