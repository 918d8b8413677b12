"""The page that a source opens by its link: no account, no script, three fields, and thanks.

The link itself only trades its secret for a cookie and leads on to an address without it. A link
that was never made and one that is good no longer are answered alike.
"""

from __future__ import annotations

from http import HTTPStatus
from uuid import UUID, uuid4

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_safe

from api.rest.fields import FieldsUnclear
from api.source_links.amounts import AmountUnclear, amount_told
from api.source_links.cookie import keep, kept
from api.source_links.links import SourceLinkClosed, count_use, marked, opened
from api.source_links.offer import Offer, Offered, offer_of
from api.source_links.tell import Saying, tell
from api.throttles.links import by_link
from api.tongue.customs import custom_of
from api.web.accounts.frame import private_page, see
from api.web.page import Frame, answering
from api.web.source_link.view import Sent, link_shown
from inventory.errors import LarderError, NotNow
from inventory.science.saying import say

FIELDS = ("id", "gives", "amount", "at", "word", "instead_of")
LONGEST_FIELD = 400
LONGEST_WORD = 200
NONE = "none this time"
OVER = say("That pick-up is over, or was made meanwhile. Choose another time.")
WORD_TOO_LONG = say(
    "Write the word to us in at most {longest_word} letters that can be printed.",
    longest_word=LONGEST_WORD,
)
NO_AMOUNT = say("Say how many there are, or how much; or press “None this time”.")
NOT_GIVEN = say("That is not among what you save for us. Open the page again.")


@by_link
@require_safe
@answering
def open_link(request: HttpRequest, token: str) -> HttpResponse:
    """Trades the secret of a link for a cookie, and leads on to its page."""
    now = timezone.now()
    try:
        link = opened(token, at=now)
    except SourceLinkClosed:
        return _unlisted(_closed(request))
    if request.method == "GET":
        count_use(link, at=now)
    path = reverse("source-link-page", args=[link.mark])
    answer = HttpResponseRedirect(path, status=HTTPStatus.SEE_OTHER)
    keep(answer, link, path=path, https=request.is_secure())
    return _unlisted(answer)


@private_page
@by_link
def link_page(request: HttpRequest, mark: str) -> HttpResponse:
    """What a source saves, when it is fetched next, and the fields to tell of it."""
    now = timezone.now()
    try:
        if not kept(request, mark):
            raise SourceLinkClosed
        offer = offer_of(marked(mark, at=now), at=now)
    except SourceLinkClosed:
        return _closed(request)
    if request.method != "POST":
        thanked, change = "told" in request.GET, request.GET.get("change", "")
        return _page(request, offer, thanked=thanked, change=change)
    fields = {name: request.POST.get(name, "")[:LONGEST_FIELD] for name in FIELDS}
    if "none" in request.POST:
        fields["amount"] = NONE
    return _told(request, offer, fields)


def _told(request: HttpRequest, offer: Offer, fields: dict[str, str]) -> HttpResponse:
    """What was sent is recorded and thanked for, or shown again with what is wrong."""
    saying, faults = _read(offer, fields)
    if saying is not None:
        try:
            tell(offer.link, saying, now=timezone.now())
        except NotNow:
            raise
        except FieldsUnclear as wrong:
            faults = tuple(sentence for _, sentence in wrong.errors)
        except LarderError as wrong:
            faults = (str(wrong),)
        else:
            return see(f"{request.path}?told=1")
    return _page(request, offer, sent=Sent(fields, faults))


def _read(offer: Offer, fields: dict[str, str]) -> tuple[Saying | None, tuple[str, ...]]:
    """What a form says, or every fault in it."""
    thing = offer.thing(fields["gives"])
    if thing is None:
        return None, (NOT_GIVEN,)
    amount, faults = _amount(offer, thing, fields["amount"])
    word = " ".join(fields["word"].split())
    moments = {at.isoformat(): at for at in thing.moments}
    at = moments.get(fields["at"])
    if at is None:
        faults.append(OVER)
    if len(word) > LONGEST_WORD or not word.isprintable():
        faults.append(WORD_TOO_LONG)
    if at is None or faults:
        return None, tuple(faults)
    before = moments.get(fields["instead_of"])
    form = _id(fields["id"])
    return Saying(form, thing.gift.promise.gives, at, amount, word, before), ()


def _amount(offer: Offer, thing: Offered, text: str) -> tuple[str, list[str]]:
    """How much there is; an empty field is nobody's word that there is none."""
    if not text.strip():
        return "", [NO_AMOUNT]
    try:
        return amount_told(text, thing.kind, custom=custom_of(offer.link.studio)), []
    except AmountUnclear as wrong:
        return "", [str(wrong)]


def _id(text: str) -> str:
    """The id of a form; one that is none counts as a form of its own."""
    try:
        return str(UUID(text))
    except ValueError:
        return str(uuid4())


def _page(
    request: HttpRequest,
    offer: Offer,
    *,
    thanked: bool = False,
    change: str = "",
    sent: Sent | None = None,
) -> HttpResponse:
    shown = link_shown(offer, thanked=thanked, change=change, sent=sent)
    wrong = NOT_GIVEN if sent is not None and offer.thing(sent.fields["gives"]) is None else ""
    context = {"frame": Frame(()), "link": shown, "wrong": wrong, "path": request.path}
    text = render_to_string("source_link/page.html", context, request)
    status = HTTPStatus.OK if sent is None else HTTPStatus.UNPROCESSABLE_ENTITY
    return HttpResponse(text, status=status)


def _closed(request: HttpRequest) -> HttpResponse:
    """The same for every link that opens nothing; what was written is shown, so it is not lost."""
    written = [request.POST.get(name, "")[:LONGEST_FIELD] for name in ("amount", "word")]
    context = {"frame": Frame(()), "written": [text for text in written if text]}
    text = render_to_string("source_link/closed.html", context)
    return HttpResponse(text, status=HTTPStatus.NOT_FOUND)


def _unlisted(answer: HttpResponse) -> HttpResponse:
    """Kept nowhere, found by no search, and the secret of the link told to no page behind it."""
    answer["Cache-Control"] = "no-store"
    answer["X-Robots-Tag"] = "noindex"
    answer["Referrer-Policy"] = "no-referrer"
    return answer
