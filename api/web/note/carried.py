"""All forms in one answer, for a phone that carries them along into a garden.

One by one they would be seventy pages with the same frame. So the frame comes once, with marks
where title, middle and word for sending go (`carrying.js` puts them in), and its tag tells what is
to choose from and nothing of the minute: a phone that has the same already is told so.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import replace
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.middleware.csrf import get_token
from django.template.loader import get_template, render_to_string
from django.utils.cache import patch_vary_headers
from django.utils.html import escape
from django.utils.safestring import mark_safe
from django.views.decorators.csrf import csrf_protect

from api.question import question_of
from api.tongue.reader import language_spoken
from api.visitor import Right, visitor_of
from api.web.note.door import CARRIED
from api.web.note.hand import Hand
from api.web.note.page import form_shown
from api.web.note.registry import FORMS, GROUPS
from api.web.page import frame_of, page
from inventory.science.saying import say

KIND = "application/json"
# What a phone puts something else in the place of. Nothing that somebody wrote can look so, as its
# signs are made harmless.
TITLE, MIDDLE, WORD = map(mark_safe, ("<!--title-->", "<!--middle-->", "<!--word-->"))


@csrf_protect  # for the cookie that goes with the word
@page
def carried_forms(request: HttpRequest) -> HttpResponse:
    """Every form that whoever asks may send, with nothing filled in."""
    visitor = visitor_of(request, least=Right.HELPER)
    question = question_of(request, what=say("What a phone carries along"))
    # A phone writes beside its copy how old it is.
    frame = replace(frame_of(question, "notes"), as_of="", at="")
    hand = Hand(question.studio, question.at)
    hidden = tuple((name, text) for name, text in question.said if name in CARRIED)
    middle = get_template("note/form_main.html")

    def shown(verb: str) -> dict[str, str]:
        form = form_shown(FORMS[verb], question, {}, entry=None, hand=hand)
        values = {"frame": frame, "form": form, "hidden": hidden, "csrf_token": WORD}
        address, title = form.address, escape(form.heading)
        return {"address": address, "title": title, "middle": middle.render(values)}

    around = {"frame": frame, "title": TITLE, "main": MIDDLE}
    verbs = [name for _, names in GROUPS for name in names]
    said: dict[str, Any] = {
        "page": render_to_string("note/carried.html", around),
        "forms": [shown(name) for name in verbs if visitor.right.covers(FORMS[name].entry.least)],
    }
    tag = hashlib.sha256(json.dumps(said).encode()).hexdigest()[:32]
    text = json.dumps({**said, "word": get_token(request)}, ensure_ascii=False)
    answer = HttpResponse(text, content_type=KIND, headers={"Cache-Control": "no-cache"})
    answer["ETag"] = f'"{tag}"'
    answer["Content-Language"] = language_spoken()
    patch_vary_headers(answer, ("Accept-Language", "Cookie"))
    return answer
