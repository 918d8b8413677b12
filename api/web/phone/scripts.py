"""The two scripts of the house, each joined from the files of `api/scripts/` that it needs.

They share how notes are kept and handed over, and a page asks for one file only. Nothing is built
before serving: the files are joined when first asked for, and the name carries the content.
"""

from __future__ import annotations

import hashlib
import json
from functools import cache
from pathlib import Path

from django.templatetags.static import static
from django.urls import reverse

from api.web.addresses import address_of
from api.web.sheets.joined import sheets_address

FOLDER = Path(__file__).resolve().parents[2] / "scripts"
OF_A_PAGE = ("keeping", "sending", "taking", "showing", "counting", "watching", "larder")
OF_THE_WORKER = ("keeping", "sending", "carrying", "worker")
# What the page without a signal looks like, fetched as soon as there is a worker.
SHEETS, PICTURE = ("larder", "phone"), "mark.svg"
MARK_LENGTH = 12


@cache
def page_script() -> str:
    """The script of every page."""
    return _joined(OF_A_PAGE)


@cache
def page_mark() -> str:
    """The mark of its content, which stands in its address."""
    return _mark(page_script())


def page_script_address() -> str:
    """Where a page finds its script."""
    return address_of("script", page_mark())


@cache
def worker_script() -> str:
    """The worker, which says by its content that the files laid in first have changed."""
    first = [reverse("no-signal"), page_script_address(), sheets_address(SHEETS), static(PICTURE)]
    text = _joined(OF_THE_WORKER)
    head = f"const FIRST = {json.dumps(first)};\nconst EDITION = {json.dumps(_mark(text))};\n"
    return head + text


def _joined(names: tuple[str, ...]) -> str:
    return "\n".join((FOLDER / f"{name}.js").read_text(encoding="utf-8") for name in names)


def _mark(text: str) -> str:
    return hashlib.sha256(text.encode()).hexdigest()[:MARK_LENGTH]
