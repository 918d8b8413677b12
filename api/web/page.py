"""How a page plugs in: read the address, call one function, show a template in the common frame.

A page is one view, one template that extends `page.html`, one line in `api/urls.py` with a name,
and one in `PLACES` if it stands in the navigation:

    @page
    def shelves_page(request: HttpRequest) -> HttpResponse:
        question = question_of(request, what="The shelves")
        return shown("shelves/page.html", question, here="shelves", shelves=view_of(question))

    {% extends "page.html" %}
    {% block title %}The shelves{% endblock %}
    {% block styles %}shelves{% endblock %}
    {% block main %}<h1>The shelves</h1> … {% endblock %}

A template has `frame` (a `Frame`: studio, moment, places, `carried`) and what the view hands over,
always frozen dataclasses with words and numbers ready to show. Links go on asking the same:
`<a href="{{ frame.figures }}#wool-scour_loss_fraction">` (`figure_anchor` names the place).

`page` turns our errors into pages in the same look with their sentence (404, 400, 409, and 503
while the database is busy or gone) and answers GET and HEAD only. The policy of `api/settings.py`
lets no inline script or style through: no `style=`, no `on…=`, no `<style>`; in an SVG geometry
stands in attributes and colour in classes of the style sheet. A page names the sheets that it
needs beside `larder`, and asks for all of them as one file (`api/web/sheets/`). Each page has the
one script of the house (`api/scripts/`), and needs it for nothing but comfort and where there is
no signal.
`tests/api/web/pages.py` reads any page for that: `sound(page)`.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import wraps
from http import HTTPStatus
from typing import TypedDict
from urllib.parse import urlencode

from django.db.utils import Error
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.template.loader import render_to_string
from django.urls import reverse
from django.views.decorators.http import require_safe

from api.asked import StudioUnknown, Unreadable
from api.hindered import AGAIN_AFTER_S, not_now
from api.question import Question
from api.rights import NotSignedIn, TurnedAway
from api.tongue.reader import language_spoken
from api.visitor import StudioNotSaid
from api.web.addresses import address_of
from api.web.phone.scripts import page_script_address
from api.whose import whose_of
from inventory.errors import LarderError, NotNow
from inventory.science.figures import NoFigure
from inventory.science.saying import say
from sourcing.week.words import day_in_words

View = Callable[..., HttpResponse]
# Name of the address, and the words of the link.
PLACES = (
    ("today", say("Today")),
    ("week", say("Week")),
    ("shelves", say("Shelves")),
    ("notes", say("Write down")),
    ("another", say("Another week")),
    ("ask", say("Ask for a run")),
    ("recipes", say("Recipes")),
    ("rules", say("Studio rules")),
    ("sources", say("Sources")),
    ("coming", say("What will come")),
    ("orders", say("Fibre orders")),
    ("put_by", say("Put by")),
    ("season", say("Season wheel")),
    ("labels", say("Labels")),
    ("totals", say("Totals")),
    ("reminders", say("Reminders")),
    ("figures", say("Figures and cautions")),
)
# The style sheet of a page, named within so many bytes of its beginning.
SHEET, HEAD_AT_MOST = re.compile(rb'<link rel="stylesheet" href="([^"]+)">'), 4000
AHEAD = "<{}>; rel=preload; as=style"
# What a wet hand wants at once; the others are folded under *More*.
UP_FRONT = ("today", "week", "shelves", "notes")
HEADINGS = {
    HTTPStatus.BAD_REQUEST: say("That cannot be read"),
    HTTPStatus.FORBIDDEN: say("Not from there"),
    HTTPStatus.NOT_FOUND: say("Not here"),
    HTTPStatus.METHOD_NOT_ALLOWED: say("Not in that way"),
    HTTPStatus.REQUEST_ENTITY_TOO_LARGE: say("Too much at once"),
    HTTPStatus.REQUEST_URI_TOO_LONG: say("The address is too long"),
    HTTPStatus.TOO_MANY_REQUESTS: say("Too often"),
    HTTPStatus.CONFLICT: say("The shelves say otherwise"),
    HTTPStatus.SERVICE_UNAVAILABLE: say("Not just now"),
}


@dataclass(frozen=True, slots=True)
class Place:
    """A link of the navigation."""

    name: str
    words: str
    address: str
    here: bool


@dataclass(frozen=True, slots=True)
class Frame:
    """What stands round every page; on a page about nothing in particular most of it is empty."""

    places: tuple[Place, ...]  # up front
    more: tuple[Place, ...] = ()  # folded away
    carried: str = ""  # to be put behind an address
    studio: str = ""
    as_of: str = ""  # Mon 23 Nov 2026, 07:30
    at: str = ""  # 2026-11-23T07:30, for the field that asks for another moment
    days: int = 0
    figures: str = ""  # the address of the page on which figures have their range and source
    asked_at: bool = False  # False: the clock was read
    asked_studio: bool = False
    who: str = ""  # is signed in; empty: nobody has to be
    whose: str = ""  # a mark of who asks and of the studio, for what a phone keeps
    script: str = field(default_factory=page_script_address)
    language: str = field(default_factory=language_spoken)  # en-GB

    @property
    def folded_here(self) -> str:
        """The words of the page that is looked at, if its link is folded away."""
        return next((place.words for place in self.more if place.here), "")


def page(view: View) -> View:
    """A view that answers GET and HEAD, and our errors as pages."""
    return require_safe(answering(view))


def answering(view: View) -> View:
    """A view that answers our errors as pages."""

    @wraps(view)
    def answered(request: HttpRequest, *args: object, **named: object) -> HttpResponse:
        try:
            return _with_its_sheet_ahead(view(request, *args, **named))
        except NotSignedIn:
            return to_sign_in(request)
        except TurnedAway as error:
            return refused(HTTPStatus.FORBIDDEN, str(error), heading=say("Not for you to do"))
        except StudioNotSaid:
            return HttpResponseRedirect(reverse("account"), status=HTTPStatus.SEE_OTHER)
        except StudioUnknown as error:
            if error.name is None and request.method in ("GET", "HEAD"):
                return HttpResponseRedirect(reverse("begin"), status=HTTPStatus.SEE_OTHER)
            return refused(HTTPStatus.NOT_FOUND, str(error))
        except Unreadable as error:
            return refused(HTTPStatus.BAD_REQUEST, str(error))
        except (NotNow, Error) as error:
            return _try_again(error)
        except (NoFigure, LarderError) as error:
            return refused(HTTPStatus.CONFLICT, str(error))

    return answered


def _with_its_sheet_ahead(answer: HttpResponse) -> HttpResponse:
    """An answer whose head names the style sheet of the page in it (RFC 8288).

    A browser asks for it with the first bytes that come, and not once it has read the page so far.
    """
    if not answer.streaming and answer.headers.get("Content-Type", "").startswith("text/html"):
        found = SHEET.search(answer.content[:HEAD_AT_MOST])
        if found is not None:
            answer.headers["Link"] = AHEAD.format(found[1].decode())
    return answer


def to_sign_in(request: HttpRequest) -> HttpResponse:
    """The way to the page for signing in, and from there back to what was asked for."""
    way = f"/sign-in/?{urlencode({'next': request.get_full_path()})}"
    safe = request.method in ("GET", "HEAD")
    answer = HttpResponseRedirect(way if safe else "/sign-in/", status=HTTPStatus.SEE_OTHER)
    answer["Cache-Control"] = "no-store"
    return answer


def _try_again(error: NotNow | Error) -> HttpResponse:
    """The database is busy, full or gone; what else it says is a fault of ours."""
    hindrance = not_now(error)
    if hindrance is None:
        raise error
    answer = refused(HTTPStatus.SERVICE_UNAVAILABLE, str(hindrance))
    answer["Retry-After"] = str(AGAIN_AFTER_S)
    return answer


def shown(template: str, question: Question, *, here: str, **context: object) -> HttpResponse:
    """A template in its frame; `here` is the name of the page's own address."""
    text = render_to_string(template, {"frame": frame_of(question, here), **context})
    # Asked for again it is looked at again: the shelves may have changed, and the clock has.
    return HttpResponse(text, headers={"Cache-Control": "no-cache"})


def refused(status: HTTPStatus, sentence: str, *, heading: str = "") -> HttpResponse:
    """A page that says why there is no other."""
    heading = heading or HEADINGS.get(status, say("That was refused"))
    answer = plainly_shown("refused.html", heading=heading, sentence=sentence, status=int(status))
    answer.status_code = status
    return answer


def plainly_shown(template: str, **context: object) -> HttpResponse:
    """A template in a frame of no studio, for a page that asks nothing of the shelves."""
    frame = Frame(**places(here="", carried=""))
    return HttpResponse(render_to_string(template, {"frame": frame, **context}))


def frame_of(question: Question, here: str) -> Frame:
    """What stands round the page of a question."""
    at, said = question.at, dict(question.said)
    return Frame(
        **places(here=here, carried=question.carried),
        carried=question.carried,
        studio=question.studio.name,
        as_of=say("{day} {at:%Y}, {at:%H:%M}", day=day_in_words(at.date()), at=at),
        at=f"{at:%Y-%m-%dT%H:%M}",
        days=question.days,
        figures=address_of("figures") + question.carried,
        asked_at="at" in said,
        asked_studio="studio" in said,
        who=question.who,
        whose=whose_of(question.account, question.studio),
    )


class Places(TypedDict):
    """The links of the navigation, as a frame takes them."""

    places: tuple[Place, ...]
    more: tuple[Place, ...]


def places(*, here: str, carried: str) -> Places:
    """The links of the navigation: those up front, and those that are folded away."""
    rows = [Place(name, words, address_of(name) + carried, name == here) for name, words in PLACES]
    return Places(
        places=tuple(row for row in rows if row.name in UP_FRONT),
        more=tuple(row for row in rows if row.name not in UP_FRONT),
    )
