"""The page behind a letter's last line: stop these letters, or begin again; no account, one button.

Only a POST changes anything, since programs that look through mail follow every link. A mail
program posts `List-Unsubscribe=One-Click` without cookie or form (RFC 8058): that can stop and
nothing else. The button guards itself like any form.
"""

from __future__ import annotations

from dataclasses import dataclass
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.template.loader import render_to_string
from django.utils import timezone
from django.views.decorators.csrf import csrf_exempt, csrf_protect
from django.views.decorators.http import require_http_methods

from api.reminders.readers import shortened
from api.reminders.stopping import CALLED, read_token, stop_path
from api.throttles.links import by_link
from api.web.page import Frame, answering, refused
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.reminders import begin_reminders, readers_marked, stop_reminders
from sourcing.reminding.facts import ALL, Wish

UNKNOWN = say(
    "No letter of ours ends with this address. Open the address as it stands in the letter, whole."
)
ONE_CLICK = ("List-Unsubscribe", "One-Click")  # RFC 8058, 3.1
BEGIN = "begin"
Readers = tuple[tuple[Studio, Wish], ...]


@dataclass(frozen=True, slots=True)
class Stopping:
    """What the page shows: whose letters, which, whether they are stopped."""

    studio: str
    to: str  # address, shortened
    called: str
    stopped: bool
    all_path: str  # where every letter is stopped; empty: this is the place


@csrf_exempt
@by_link
@require_http_methods(["GET", "HEAD", "POST"])
@answering
def stop_page(request: HttpRequest, token: str) -> HttpResponse:
    """What would stop, with a button; POST stops it, or begins it again."""
    known = read_token(token)
    readers = readers_marked(known[0]) if known is not None else ()
    if known is None or not readers:
        return _unlisted(refused(HTTPStatus.NOT_FOUND, UNKNOWN))
    kind = known[1]
    if request.method == "POST" and request.POST.get(ONE_CLICK[0]) == ONE_CLICK[1]:
        _say(readers, kind, begin=False)
        return _shown(request, readers_marked(known[0]), kind)
    return _unlisted(_by_button(request, readers, kind))


@csrf_protect
def _by_button(request: HttpRequest, readers: Readers, kind: str) -> HttpResponse:
    if request.method != "POST":
        return _shown(request, readers, kind)
    _say(readers, kind, begin=request.POST.get("do") == BEGIN)
    # Asked for again by GET, so that a reload does not press the button once more.
    return HttpResponseRedirect(request.path, status=HTTPStatus.SEE_OTHER)


def _say(readers: Readers, kind: str, *, begin: bool) -> None:
    verb = begin_reminders if begin else stop_reminders
    for studio, wish in readers:
        verb(studio, reader=wish.reader, kind=kind, at=timezone.now())


def _shown(request: HttpRequest, readers: Readers, kind: str) -> HttpResponse:
    studio, wish = readers[0]
    shown = Stopping(
        studio=studio.name,
        to=shortened(wish.address),
        called=CALLED[kind],
        stopped=_is_stopped(wish, kind),
        all_path="" if kind == ALL else stop_path(wish.mark, ALL),
    )
    context = {"frame": Frame(()), "stopping": shown}
    return _unlisted(HttpResponse(render_to_string("stop/page.html", context, request=request)))


def _is_stopped(wish: Wish, kind: str) -> bool:
    return kind in wish.stopped if kind != ALL else set(wish.kinds) <= wish.stopped


def _unlisted(answer: HttpResponse) -> HttpResponse:
    """Neither kept by what stands between nor found by a search: the address is its reader's."""
    answer["Cache-Control"] = "no-store"
    answer["X-Robots-Tag"] = "noindex"
    # Told to nobody at all, a browser would send the button with `Origin: null`, which is refused.
    answer["Referrer-Policy"] = "same-origin"
    return answer
