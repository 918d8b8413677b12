"""A card for a kitchen's wall: a square that a phone reads, and two sentences; printed on A6."""

from __future__ import annotations

from dataclasses import dataclass

from django.http import HttpRequest
from django.urls import reverse

from api.models import SourceLink
from api.rest.members import whole_address
from api.web.drawing.qr import QrDrawing, draw_qr
from inventory.science.saying import say


@dataclass(frozen=True, slots=True)
class CardShown:
    """A new link, shown once."""

    address: str
    code: QrDrawing
    words: str  # what the code is, for who cannot see it
    source: str
    studio: str
    wish: str


def card_of(request: HttpRequest, link: SourceLink, secret: str) -> CardShown:
    """The card of a link that was made just now."""
    address = whole_address(request, reverse("source-link", args=[secret]))
    words = say("A square code that opens {address}", address=address)
    name, studio = link.source.name, link.studio.name
    return CardShown(address, draw_qr(address), words, name, studio, link.wish)
