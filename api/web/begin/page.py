"""*Begin*: five short steps to a first answer, each kept at once, each to be taken up again."""

from __future__ import annotations

from http import HTTPStatus
from urllib.parse import urlencode
from uuid import uuid4

from django.db import transaction
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string

from api.asked import StudioUnknown
from api.asker import asker_of, begin_own_studio
from api.names import checked_name
from api.question import Question, moment_now, question_of
from api.visitor import Right, visitor_of
from api.web.begin.days import days_form, keep_days
from api.web.begin.places import Place, place_of, places
from api.web.begin.room import keep_room, room_form
from api.web.begin.saved import keep_saved, saved_form
from api.web.begin.shade import ask_first, shade_form
from api.web.begin.steps import STEPS, next_after, step_address, way
from api.web.form_unclear import FormUnclear
from api.web.forms import REFUSALS, form_view, on_to, sentences_of, with_form
from api.web.page import Frame, refused
from api.web.runs.address import run_address
from inventory.models import Studio
from inventory.science.saying import say
from inventory.studios import begin_studio

TYPED = ("name", "place", "zone", "money", "other")


@form_view
def begin_page(request: HttpRequest) -> HttpResponse:
    """The first step: the studio's name and where it is; then the way through the others."""
    studio = _studio(request)
    if studio is not None and request.method != "POST":
        question = question_of(request, what=say("The page for beginning"))
        return with_form(request, "begin/way.html", question, here="begin",
                         way=way(studio, "", question.carried))  # fmt: skip
    asker_of(request)  # whoever is not known is sent to sign in
    faults: tuple[str, ...] = ()
    if request.method == "POST":
        try:
            _begin(request)
            return on_to(step_address(STEPS[0][0], _named(request)))
        except REFUSALS as error:
            faults = sentences_of(error)
    return _first(request, faults)


def _studio(request: HttpRequest) -> Studio | None:
    """The studio that is being begun; None where there is none yet."""
    try:
        return visitor_of(request).studio
    except StudioUnknown as error:
        if error.name is not None:
            raise
        return None


def _begin(request: HttpRequest) -> None:
    """A studio of one's own; where nobody has an account it belongs to this machine."""
    name = checked_name(request.POST.get("name", ""))
    place = place_of(request.POST.get("place", "")) or _elsewhere(request)
    asker = asker_of(request)
    with transaction.atomic():
        if asker.account is None and asker.token is None:
            studio = begin_studio(name, zone=place.zone, currency=place.currency)
        else:
            studio = begin_own_studio(asker, name=name, zone=place.zone, currency=place.currency,
                                      at=moment_now()).studio  # fmt: skip
        studio.country = place.country
        studio.save(update_fields=["country"])


def _elsewhere(request: HttpRequest) -> Place:
    zone = request.POST.get("zone", "").strip()
    money = request.POST.get("money", "").strip().upper()
    if not zone:
        detail = say("Say where the studio is, or write its time zone under “elsewhere”.")
        raise FormUnclear("place", "", detail)
    return Place("", "", zone, money or "EUR")


def _named(request: HttpRequest) -> str:
    """Which studio goes on being begun, where there are several."""
    asker = asker_of(request)
    return f"?{urlencode({'studio': request.POST['name'].strip()})}" if asker.studios else ""


def _typed(request: HttpRequest) -> dict[str, str]:
    """What was typed, for a form that is shown again."""
    return {name: request.POST.get(name, "") for name in TYPED}


def _first(request: HttpRequest, faults: tuple[str, ...]) -> HttpResponse:
    """The form of the first step, in a frame of no studio."""
    frame = Frame(())
    context = {
        "frame": frame, "faults": faults, "way": way(None, "", ""), "places": places(),
        "typed": _typed(request), "entry": uuid4(),
    }  # fmt: skip
    status = HTTPStatus.UNPROCESSABLE_ENTITY if faults else HTTPStatus.OK
    text = render_to_string("begin/studio.html", context, request)
    return HttpResponse(text, status=status, headers={"Cache-Control": "no-cache"})


@form_view
def begin_step_page(request: HttpRequest, step: str) -> HttpResponse:
    """One of the steps behind the first."""
    question = question_of(request, what=say("The page for beginning"))
    if step not in {name for name, _, _ in STEPS}:
        return refused(
            HTTPStatus.NOT_FOUND, say("There is no such step. The way begins at /begin/.")
        )
    faults: tuple[str, ...] = ()
    if request.method == "POST":
        visitor_of(request, least=Right.OWNER)
        try:
            return on_to(_keep(request, step, question))
        except REFUSALS as error:
            faults = sentences_of(error)
    return with_form(request, f"begin/{step}.html", question, here="begin", faults=faults,
                     way=way(question.studio, step, question.carried),
                     form=_form(request, step, question.studio), typed=_typed(request),
                     action=step_address(step, question.carried))  # fmt: skip


def _form(request: HttpRequest, step: str, studio: Studio) -> object:
    if step == "room":
        return room_form(studio)
    if step == "days":
        return days_form(studio)
    if step == "saved":
        return saved_form(studio, request.POST)
    return shade_form(studio, request.POST.get("shade", ""), request.POST.get("weight", ""))


def _keep(request: HttpRequest, step: str, question: Question) -> str:
    """What a step says written down, and the address of the next."""
    studio, now = question.studio, moment_now()
    if step == "room":
        keep_room(studio, request.POST, now)
    elif step == "days":
        keep_days(studio, request.POST, now)
    elif step == "saved":
        keep_saved(request, studio, now)
    else:
        return run_address(ask_first(request, studio, now), question.carried)
    return step_address(next_after(step), question.carried)
