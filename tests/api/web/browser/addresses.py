"""Every page there is, from the address book and the links that the pages themselves show."""

from __future__ import annotations

import re
from collections import Counter, deque
from collections.abc import Callable, Iterator
from functools import partial
from html import unescape
from http.client import HTTPConnection
from urllib.parse import parse_qsl, urlsplit

from django.urls import Resolver404, URLPattern, resolve

from api.urls import urlpatterns
from tests.api.web.browser.looks import at

Fetching = Callable[[str], str | None]
# Carried along by every link, so they make no other page.
CARRIED = {"at", "days", "studio", "next"}
# Those of which each is another form; a short look takes a few of them.
FORMS, FEW_FORMS = {"note"}, 6
MOST = 400
HREF = re.compile(r"<a\b[^>]*\bhref=\"([^\"#]+)")
REFUSED = ("/nothing-here/", "/?at=lots")


def pages(service: str, *, every_form: bool = False) -> list[str]:
    """Addresses of all pages that a service shows, of one thing where each has a page."""
    return [*walked(partial(_page, service), every_form=every_form), *REFUSED]


def walked(page: Fetching, *, every_form: bool = False) -> list[str]:
    """The same of whatever fetches pages: what one says, None where there is none to show."""
    waiting = deque(map(at, _plain()))
    asked, found, kinds = set(waiting), [], Counter[str]()
    while waiting and len(asked) < MOST:
        address = waiting.popleft()
        text = page(address)
        if text is None:
            # A page that is the same at any moment refuses to be asked for one.
            address = urlsplit(address).path
            text = page(address)
        if text is None:
            continue
        found.append(address)
        for link in _links(text, address):
            kind = _kind(link)
            if kind is None or link in asked or kinds[kind] >= _most(kind, every_form=every_form):
                continue
            kinds[kind] += 1
            asked.add(link)
            waiting.append(link)
    return found


def _plain() -> Iterator[str]:
    """Addresses of the book that need nothing else; what programs read is asked elsewhere."""
    for pattern in urlpatterns:
        route = str(pattern.pattern)
        if isinstance(pattern, URLPattern) and "<" not in route and not route.startswith("api/v"):
            yield f"/{route}"


def _links(text: str, address: str) -> Iterator[str]:
    for found in HREF.finditer(text):
        link = unescape(found.group(1))
        if link.startswith("?"):
            link = urlsplit(address).path + link
        if link.startswith("/"):
            yield link


def _kind(link: str) -> str | None:
    """Name of the page that a link leads to with what it asks besides; None for no page of ours."""
    path, query = urlsplit(link)[2:4]
    try:
        found = resolve(path)
    except Resolver404:
        return None
    asked = sorted({name for name, _ in parse_qsl(query)} - CARRIED)
    if found.route.startswith("api/v") or not (found.kwargs or asked):
        return None
    return " ".join([found.url_name or found.route, *asked])


def _most(kind: str, *, every_form: bool) -> int:
    if kind in FORMS:
        return MOST if every_form else FEW_FORMS
    return 1


def _page(service: str, address: str) -> str | None:
    """What a page says; None for a file and for a way on to another page."""
    to = urlsplit(service)
    assert to.hostname
    line = HTTPConnection(to.hostname, to.port, timeout=60)
    try:
        line.request("GET", address)
        answer = line.getresponse()
        text = answer.read().decode(errors="replace")
    finally:
        line.close()
    # It would be left out, and nobody would see that it is broken.
    assert answer.status < 500, f"{address} answered {answer.status}: {text[:400]}"
    is_page = answer.getheader("Content-Type", "").startswith("text/html")
    return text if answer.status == 200 and is_page else None
