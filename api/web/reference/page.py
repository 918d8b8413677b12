"""For whoever writes a program: how to log a pick-up, ask the week, send a day's entries.

Open to everyone, as the contract is. The snippets stand in files beside the template, and a test
takes them out of the page and runs them.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

from django.http import HttpRequest, HttpResponse

from api.question import check_words
from api.web.page import page, plainly_shown
from inventory.science.saying import say

SNIPPETS = Path(__file__).parent / "snippets"


@page
def reference_page(request: HttpRequest) -> HttpResponse:
    """The page with the address of this service in its snippets."""
    check_words(request.GET, (), what=say("The page for programs"))
    here = request.build_absolute_uri("/").rstrip("/")
    return plainly_shown("reference/page.html", here=here, **_snippets())


@cache
def _snippets() -> dict[str, str]:
    """The snippets by the names of their files."""
    return {
        file.name.partition(".")[0]: file.read_text(encoding="utf-8").strip()
        for file in SNIPPETS.glob("*.txt")
    }
