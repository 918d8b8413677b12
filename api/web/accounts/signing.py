"""The page for signing in, and the button for signing out."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.utils import timezone
from django.views.decorators.csrf import csrf_protect
from django.views.decorators.http import require_POST

from api.asked import StudioUnknown, Unreadable
from api.credentials import at_this_machine
from api.models import Account
from api.signing_in import NotRecognised, sign_in, sign_out
from api.tries import TooOften
from api.visitor import visitor_of
from api.web.accounts.frame import form_page, private_page, see, too_often, way_on
from api.web.page import answering
from api.whose import whose_visitor
from inventory.errors import LarderError

PAGE = "accounts/sign_in.html"


@private_page
def sign_in_page(request: HttpRequest) -> HttpResponse:
    """E-mail and password, and on to the page that was wanted."""
    way = way_on(request)
    if request.method != "POST":
        nobody = not Account.objects.exists()
        house = _open_house(request) if nobody else None
        first = {"way": way, "email": "", "nobody": nobody, "back": house is not None}
        return form_page(request, PAGE, first, house=house)
    email = request.POST.get("email", "")
    shown = email if email.isprintable() and len(email) < 255 else ""
    again = {"way": way, "email": shown, "nobody": False}
    try:
        sign_in(request, email=email, password=request.POST.get("password", ""), at=timezone.now())
    except NotRecognised as error:
        return form_page(request, PAGE, again, faults=(str(error),))
    except TooOften as error:
        return too_often(request, PAGE, again, error)
    return see(way)


def _open_house(request: HttpRequest) -> str | None:
    """The mark of whoever sits at this machine, so that their phone keeps what it carries along;
    empty where no studio is named, None for somebody at another machine."""
    if not at_this_machine(request):
        return None
    try:
        return whose_visitor(visitor_of(request))
    except (LarderError, StudioUnknown, Unreadable):
        return ""


@require_POST
@csrf_protect
@answering
def sign_out_page(request: HttpRequest) -> HttpResponse:
    """Ends the session, and back to the page for signing in."""
    sign_out(request)
    return see("/sign-in/")
