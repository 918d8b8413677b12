"""The files that make a phone carry the larder along: script, worker, and what it is called."""

from __future__ import annotations

import json

from django.http import HttpRequest, HttpResponse
from django.templatetags.static import static
from django.urls import reverse

from api.question import check_words
from api.tongue.reader import language_spoken
from api.tongue.speaking import aloud
from api.web.page import page, plainly_shown
from api.web.phone.scripts import page_mark, page_script, worker_script
from inventory.science.saying import say

SCRIPT = "text/javascript; charset=utf-8"
FOR_EVER = "public, max-age=31536000, immutable"
CLOTH, INK = "#e7e4d8", "#1c2730"  # as in larder.css


@page
def script_file(request: HttpRequest, mark: str) -> HttpResponse:
    """The script of every page; under a mark that is no longer its own it is looked at again."""
    check_words(request.GET, (), what=say("The script"))
    kept = FOR_EVER if mark == page_mark() else "no-cache"
    return HttpResponse(page_script(), content_type=SCRIPT, headers={"Cache-Control": kept})


@page
def worker_file(request: HttpRequest) -> HttpResponse:
    """The worker; asked for again at every visit, so that a new one takes over soon."""
    check_words(request.GET, (), what=say("The worker"))
    return HttpResponse(worker_script(), content_type=SCRIPT, headers={"Cache-Control": "no-cache"})


@page
def manifest_file(request: HttpRequest) -> HttpResponse:
    """How the larder stands among the other things on a phone's first screen."""
    check_words(request.GET, (), what=say("What a phone is told"))
    said = {
        "name": "Dye Larder",
        "short_name": "Dye Larder",
        "description": aloud(say("What can I dye this week, in which pot, starting when?")),
        "lang": language_spoken(),
        "id": "/",
        "start_url": reverse("today"),
        "scope": "/",
        "display": "standalone",
        "background_color": CLOTH,
        "theme_color": INK,
        "icons": [
            {"src": static("mark.svg"), "sizes": "any", "type": "image/svg+xml"},
            *(
                {"src": static(f"mark-{side}.png"), "sizes": f"{side}x{side}", "type": "image/png"}
                for side in (192, 512)
            ),
        ],
    }
    return HttpResponse(
        json.dumps(said),
        content_type="application/manifest+json",
        headers={"Cache-Control": "no-cache"},
    )


@page
def no_signal_page(request: HttpRequest) -> HttpResponse:
    """What a phone shows where there is neither a signal nor a copy of the page."""
    check_words(request.GET, (), what=say("The page without a signal"))
    answer = plainly_shown("phone/no_signal.html")
    answer["Cache-Control"] = "no-cache"
    return answer
