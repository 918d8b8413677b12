"""What a browser keeps of a link that it opened: for its one page, for half a day.

The secret of a link is traded for it at once, so it stands in no history and in nobody's log
behind a page. It opens nothing by itself: the link is looked up at every request.
"""

from __future__ import annotations

from django.conf import settings
from django.core.signing import BadSignature, TimestampSigner
from django.http import HttpRequest, HttpResponse

from api.models import SourceLink

GOOD_FOR_S = 12 * 3600  # a kitchen's day


def keep(answer: HttpResponse, link: SourceLink, *, path: str, https: bool) -> None:
    """Have a browser keep a link for the page at `path`; two links are kept side by side."""
    answer.set_cookie(
        name_of(link.mark),
        _signer().sign(link.mark),
        max_age=GOOD_FOR_S,
        path=path,
        secure=https or settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )


def kept(request: HttpRequest, mark: str) -> bool:
    """Whether a browser opened the link of that mark today."""
    try:
        return _signer().unsign(request.COOKIES.get(name_of(mark), ""), max_age=GOOD_FOR_S) == mark
    except BadSignature:
        return False


def name_of(mark: str) -> str:
    """What the cookie of a link is called."""
    return f"source-link-{mark}"


def _signer() -> TimestampSigner:
    return TimestampSigner(salt="api.source_links")
