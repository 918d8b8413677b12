"""How a phone comes to trust this larder: what it means, where to tap, and the file itself."""

from __future__ import annotations

from pathlib import Path

from django.conf import settings
from django.http import Http404, HttpRequest, HttpResponse

from api.https.place import authority_file
from api.https.words import MEANING, STEPS, WITHOUT
from api.question import check_words
from api.web.page import page, plainly_shown
from inventory.science.saying import say

CERTIFICATE = "application/x-x509-ca-cert"  # by which a phone knows what to do with it


@page
def trust_page(request: HttpRequest) -> HttpResponse:
    """The steps on each sort of phone, and the fingerprint to compare."""
    check_words(request.GET, (), what=say("The page on trust"))
    answer = plainly_shown(
        "phone/trust.html",
        fingerprint=_fingerprint(authority_file(Path(settings.STATE))),
        meaning=MEANING,
        steps=STEPS,
        without=WITHOUT,
    )
    answer["Cache-Control"] = "no-store"
    return answer


@page
def trust_file(request: HttpRequest) -> HttpResponse:
    """The authority's certificate, which is no secret."""
    check_words(request.GET, (), what=say("The file to trust"))
    file = authority_file(Path(settings.STATE))
    if not file.exists():
        raise Http404
    return HttpResponse(
        file.read_bytes(),
        content_type=CERTIFICATE,
        headers={
            "Cache-Control": "no-store",
            "Content-Disposition": 'attachment; filename="larder.crt"',
        },
    )


def _fingerprint(file: Path) -> str:
    """Empty where https was never served from here."""
    if not file.exists():
        return ""
    # Only whoever opens this page pays for the library.
    from cryptography import x509

    from api.https.authority import fingerprint

    return fingerprint(x509.load_pem_x509_certificate(file.read_bytes()))
