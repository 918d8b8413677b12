"""How much is read: how long an address may be, how large a body there, and no file in a form.

All but the file is decided from the headers, before a byte of the body is read. An address that
shall read more has its row in `LARGEST_BODIES`; which kinds of body it reads its parsers say.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from django.core.handlers.wsgi import LimitedStream
from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase

from api.asked import shown
from api.rest.parsers import LARGEST_BODY_BYTES
from api.web.errors import turned_away
from inventory.science.saying import say

LONGEST_ADDRESS = 16_000  # RFC 9110, 4.1: at least 8,000 should do
LENGTH = re.compile(r"[0-9]{1,18}")
# The first that fits holds: how an address begins, and the bytes that a body there may have.
LARGEST_BODIES = (
    ("/api/v1/notebook.zip", 40_000_000),  # a whole studio
    ("/api/v1/notebook/", 8_000_000),  # a page of it
    ("/api/", LARGEST_BODY_BYTES),  # JSON
    ("/note/waiting/", 400_000),  # what a phone kept
    ("/", 64_000),  # a form
)
# The most of a refused body that is still taken off the line.
DRAINED_BYTES = 8_000_000


class Bounds:
    """Middleware that refuses what nobody here would read."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        refusal = _address_refused(request) or _body_refused(request)
        if refusal is None:
            return self.get_response(request)
        refusal["Content-Length"] = str(len(refusal.content))
        _close_the_line(request, refusal)
        return refusal


def largest_body_at(path: str) -> int:
    """How many bytes a body may have at an address."""
    fits = (most for begins, most in LARGEST_BODIES if path.startswith(begins))
    return next(fits, LARGEST_BODIES[-1][1])


def _address_refused(request: HttpRequest) -> HttpResponse | None:
    length = len(request.path) + len(request.META.get("QUERY_STRING", ""))
    if length > LONGEST_ADDRESS:
        detail = say(
            "The address has {length:,} characters, {longest_address:,} at most. Ask with "
            "fewer or shorter words.",
            length=length,
            longest_address=LONGEST_ADDRESS,
        )
        return turned_away(request, "address_too_long", detail)
    if "\x00" in request.path:  # No address of ours, and no database takes it.
        return turned_away(request, "not_found", say("Nothing is kept at this address."))
    return None


def _body_refused(request: HttpRequest) -> HttpResponse | None:
    if request.META.get("HTTP_TRANSFER_ENCODING"):
        detail = say("Send the body with its Content-Length, not in chunks.")
        return turned_away(request, "length_needed", detail)
    length = request.META.get("CONTENT_LENGTH") or "0"
    if not LENGTH.fullmatch(length):
        detail = say(
            "{shown} is no length of a body. Send it with its Content-Length once.",
            shown=shown(length),
        )
        return turned_away(request, "request_unreadable", detail)
    most = largest_body_at(request.path)
    if int(length) > most:
        detail = say(
            "The body has {length:,} bytes, {most:,} at most here. Send less at once.",
            length=int(length),
            most=most,
        )
        values = {"bytes": int(length), "most_bytes": most}
        return turned_away(request, "body_too_large", detail, **values)
    return _packing_refused(request)


def _packing_refused(request: HttpRequest) -> HttpResponse | None:
    """A packed body may unfold to any size."""
    packed = request.META.get("HTTP_CONTENT_ENCODING", "").strip()
    if packed.lower() in ("", "identity"):
        return None
    detail = say("The body is packed as {shown}. Send it unpacked.", shown=shown(packed))
    refusal = turned_away(request, "body_refused", detail)
    refusal["Accept-Encoding"] = "identity"  # RFC 9110, 15.5.16
    return refusal


def _close_the_line(request: HttpRequest, refusal: HttpResponse) -> None:
    """Let a server not take what follows on the line for the next request.

    A body of known and moderate length the server takes off the line itself, so that the answer
    is not lost on the way. Of any other nobody knows where it ends.
    """
    length = request.META.get("CONTENT_LENGTH") or "0"
    in_chunks = request.META.get("HTTP_TRANSFER_ENCODING")
    if LENGTH.fullmatch(length) and int(length) <= DRAINED_BYTES and not in_chunks:
        return
    # A server closes the line behind an answer that does not say how long it is.
    del refusal["Content-Length"]
    stream = request.META.get("wsgi.input")
    if isinstance(stream, LimitedStream):  # The small server of the demo would read all of it.
        stream.limit = 0
