"""A studio's calendar behind a link of a member's: the next four weeks, for calendar programs."""

from __future__ import annotations

from datetime import datetime, timedelta
from hashlib import sha256
from http import HTTPStatus

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase
from django.utils import timezone
from django.utils.cache import get_conditional_response
from django.utils.http import http_date, quote_etag
from django.views.decorators.http import require_safe

from api.calendar_links import CalendarClosed, calendar_of, revise
from api.feeds.ics import calendar, digest_of_rows
from api.rest.conditional import KEPT
from api.throttles.links import by_link
from api.tongue.reader import studio_reads
from api.web.page import answering, refused
from inventory.science.saying import say
from sourcing.outlook import facts_at
from sourcing.remembered import week_of
from sourcing.week.calendar import dated

DAYS = 28
GRID = timedelta(minutes=5)  # on which steps begin
UNKNOWN = say(
    "No calendar is behind this link, or it is no longer. Make a new link on the page /account/."
)


@by_link
@require_safe
@answering
def calendar_feed(request: HttpRequest, token: str) -> HttpResponse:
    """The calendar, or 304 to whoever has it as it is."""
    now = timezone.now()
    try:
        link = calendar_of(token)
    except CalendarClosed:
        return _unlisted(refused(HTTPStatus.NOT_FOUND, UNKNOWN))
    facts = facts_at(link.studio, at=_on_the_grid(now), days=DAYS)
    rows = dated(facts, week_of(facts, days=DAYS, unlocks=False), days=DAYS)
    studio = link.studio.name
    with studio_reads(link.studio):
        revise(link, digest_of_rows(studio, rows), at=now)
        said = calendar(studio, rows, changed_at=link.changed_at, revision=link.revision)
    return _unlisted(_answer(request, said, link.changed_at))


def _answer(request: HttpRequest, said: bytes, changed_at: datetime) -> HttpResponse:
    """With both marks of its state (RFC 9110, 8.8), which a program sends back to ask again."""
    answer = HttpResponse(said, content_type="text/calendar; charset=utf-8")
    tag, changed_s = quote_etag(sha256(said).hexdigest()[:24]), int(changed_at.timestamp())
    answer["ETag"], answer["Last-Modified"] = tag, http_date(changed_s)
    answer["Content-Disposition"] = 'inline; filename="dye-larder.ics"'
    answer["Cache-Control"] = KEPT
    found: HttpResponseBase | None = get_conditional_response(request, tag, changed_s, answer)
    assert isinstance(found, HttpResponse), found
    return found


def _on_the_grid(now: datetime) -> datetime:
    """The next moment at which a step could begin: so long nothing moves by itself."""
    over = (now - datetime(1970, 1, 1, tzinfo=now.tzinfo)) % GRID
    return now if not over else now + GRID - over


def _unlisted(answer: HttpResponse) -> HttpResponse:
    if not answer.has_header("Cache-Control"):
        answer["Cache-Control"] = "no-store"
    answer["X-Robots-Tag"] = "noindex"
    answer["Referrer-Policy"] = "no-referrer"
    return answer
