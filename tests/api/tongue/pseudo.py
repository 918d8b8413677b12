"""A language of tests: what comes from a catalogue stands in brackets, what fills its holes not.

So whatever stands outside brackets on a page is a word that no catalogue has, or a name, a code or
a number that somebody wrote down.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from gettext import NullTranslations
from typing import Any

from django.template import engines
from django.utils.translation import trans_real
from justhtml import Element, JustHTML

from api.templating import kept

OPEN, CLOSE = "⟦", "⟧"
HOLE = re.compile(r"\{[^{}]+\}|%\(\w+\)[a-z]|<[^<>]*>")
# Attributes that are read out or seen.
SEEN = ("title", "alt", "aria-label", "placeholder")
# What a program reads and writes stands in `code`, the same for all.
UNSEEN = {"script", "style", "template", "code"}
WORD = re.compile(r"[^\W\d_]{2,}")


class Bracketed(NullTranslations):
    """Every message in brackets, which its holes and marks interrupt."""

    def gettext(self, message: str) -> str:
        return bracketed(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        return bracketed(msgid1 if n == 1 else msgid2)

    def pgettext(self, context: str, message: str) -> str:
        return bracketed(message)

    def npgettext(self, context: str, msgid1: str, msgid2: str, n: int) -> str:
        return bracketed(msgid1 if n == 1 else msgid2)

    def to_language(self) -> str:
        return "de"

    def language(self) -> str:
        return "de"


def bracketed(message: str) -> str:
    """A message between brackets, with its holes between the inner ones.

    >>> bracketed("Lot {lot} is gone.")
    '⟦Lot ⟧{lot}⟦ is gone.⟧'
    """
    parts = HOLE.split(message)
    holes = [*HOLE.findall(message), ""]
    said = (f"{OPEN}{part}{CLOSE}" if part.strip() else part for part in parts)
    return "".join(text + hole for text, hole in zip(said, holes, strict=True))


@contextmanager
def spoken() -> Iterator[None]:
    """German is this language for as long as it lasts."""
    known: dict[str, Any] = trans_real._translations
    german, known["de"] = known.get("de"), Bracketed()
    _forget_templates()
    try:
        yield
    finally:
        known.pop("de")
        if german is not None:
            known["de"] = german
        _forget_templates()


def _forget_templates() -> None:
    for loader in engines["django"].engine.template_loaders:
        loader.reset()
    kept.forget()


def outside(page: str) -> list[str]:
    """Every run of words of a page that stands outside brackets."""
    tree = JustHTML(page, sanitize=False)
    texts = [text for node in tree.query("*") for text in _texts(node)]
    # What is shown only up to a comma has no closing one.
    said = re.compile(rf"{OPEN}[^{OPEN}{CLOSE}]*(?:{CLOSE}|(?={OPEN})|$)")
    found = (said.sub("|", text) for text in texts)
    return [run for text in found for run in map(str.strip, text.split("|")) if WORD.search(run)]


def _texts(node: object) -> Iterator[str]:
    """What a node says itself: its own text, and the attributes that are read out."""
    if not isinstance(node, Element) or node.name in UNSEEN or node.attrs.get("lang") == "en":
        return
    for child in node.children:
        if child.name == "#text":
            yield str(child.data or "")
    for name in SEEN:
        if node.attrs.get(name):
            yield str(node.attrs[name])
