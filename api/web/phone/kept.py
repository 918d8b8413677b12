"""What this phone keeps: the page on which its own script lists the notes that wait."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string
from django.views.decorators.csrf import csrf_protect

from api.question import question_of
from api.web.page import frame_of, page
from inventory.science.saying import say


@csrf_protect  # for the cookie that goes with the word
@page
def kept_page(request: HttpRequest) -> HttpResponse:
    """The list is drawn from the phone; the larder adds who is asked, and the word for sending."""
    frame = frame_of(question_of(request, what=say("What this phone keeps")), "kept")
    text = render_to_string("phone/kept.html", {"frame": frame}, request)
    return HttpResponse(text, headers={"Cache-Control": "no-cache"})
