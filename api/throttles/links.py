"""Pages behind a link that is its own key: counted by the link, and by who tries links."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps

from django.http import HttpRequest, HttpResponse

from api.throttles.addresses import told
from api.throttles.door import TooManyRequests, let_through
from api.whence import whence

View = Callable[..., HttpResponse]


def by_link(view: View) -> View:
    """A view that is asked so often a minute under each of its links, and from each address."""

    @wraps(view)
    def counted(request: HttpRequest, *args: object, **named: object) -> HttpResponse:
        try:
            let_through(request, "link", request.path)
            let_through(request, "stranger", whence(request))
        except TooManyRequests as error:
            return told(request, error)
        return view(request, *args, **named)

    return counted
