"""Reads a page as a browser would and says what is wrong with it."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise

from django.http import HttpResponse
from justhtml import Element, JustHTML

POLICY = {
    "default-src 'none'",
    "style-src 'self'",
    "img-src 'self'",
    "font-src 'self'",
    "manifest-src 'self'",
    "script-src 'self'",
    "worker-src 'self'",
    "connect-src 'self'",
    "form-action 'self'",
    "base-uri 'none'",
    "frame-ancestors 'none'",
}
# Where an id is named by another element.
POINTERS = ("for", "aria-labelledby", "aria-describedby", "aria-controls")


def read(page: HttpResponse) -> JustHTML:
    """The page as a tree; what a browser would have to mend is kept in `errors`."""
    return JustHTML(page.content.decode(), collect_errors=True, sanitize=False)


def sound(page: HttpResponse) -> list[str]:
    """Everything that is wrong with a page: empty when it is sound."""
    tree = read(page)
    found = [f"{error.code} in line {error.line}" for error in tree.errors]
    policy = page.headers.get("Content-Security-Policy", "")
    if set(policy.split("; ")) != POLICY:  # django-csp writes them in any order
        found.append(f"policy: {policy}")
    nodes = list(_elements(tree))
    found += [fault for node in nodes for fault in _inline(node)]
    found += _headings(nodes)
    return [*found, *_ids(nodes)]


def words(page: HttpResponse) -> str:
    """What a page says, with single spaces."""
    return as_read(read(page).to_text())


def as_read(text: str) -> str:
    """Single spaces, none before a comma: the parser puts one at the end of every element."""
    return re.sub(r"\s+([,.:;)])", r"\1", " ".join(text.split()))


def _elements(tree: JustHTML) -> Iterator[Element]:
    yield from (node for node in tree.query("*") if isinstance(node, Element))


def _inline(node: Element) -> Iterator[str]:
    """No style and no script but from a file of ours."""
    attrs = node.attrs or {}
    for name in attrs:
        if name == "style" or name.startswith("on"):
            yield f"<{node.name} {name}=…>"
    if node.name == "style" or (node.name == "script" and not _is_our_file(node)):
        yield f"<{node.name}>"
    for name in ("src", "href", "action"):
        address = attrs.get(name) or ""
        if address.startswith(("http:", "https:", "//", "javascript:", "data:")):
            yield f"<{node.name} {name}={address[:40]}>"


def _is_our_file(node: Element) -> bool:
    """A script that is named, not written into the page; where it lies is looked at with `src`."""
    return bool((node.attrs or {}).get("src")) and not node.to_text().strip()


def _headings(nodes: list[Element]) -> Iterator[str]:
    """One h1, and no level left out on the way down."""
    levels = [int(node.name[1]) for node in nodes if node.name in ("h1", "h2", "h3", "h4", "h5")]
    if levels.count(1) != 1:
        yield f"{levels.count(1)} first headings"
    for above, below in pairwise(levels):
        if below > above + 1:
            yield f"h{below} under h{above}"


def _ids(nodes: list[Element]) -> Iterator[str]:
    """Each id once, and what is pointed at is there."""
    ids = Counter(node.attrs["id"] for node in nodes if node.attrs.get("id"))
    yield from (f"id {name} {count} times" for name, count in ids.items() if count > 1)
    for node in nodes:
        named = [each for name in POINTERS for each in (node.attrs.get(name) or "").split()]
        href = node.attrs.get("href") or ""
        if node.name == "a" and href.startswith("#"):
            named.append(href[1:])
        yield from (f"<{node.name}> points at {name}" for name in named if name not in ids)
