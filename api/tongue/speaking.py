"""A sentence of any floor, said in the language of whoever reads it.

Every floor says its sentences with `inventory.science.saying`; here they meet the catalogues in
`api/locale/`. A pattern without a translation is said in English, never left out.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from decimal import Decimal
from fractions import Fraction
from string import Formatter
from typing import Any

from django.utils.translation import get_language, gettext, ngettext, override

from api.tongue import measures, moments, numbers
from api.tongue.trade import trade
from inventory.science.saying import Capital, Kept, Measured, Row, Said, Sentence, Trimmed

ENGLISH = "en"
# A sentence that ends with a shortened word has its full stop already: “da Mo 30. Nov.”
TWO_STOPS = re.compile(r"(?<=[^\W\d_])\.\.(?!\.)")
# As the floors write one: 1,180 or 0.5, with a decimal point. A code such as 2026-003 is none.
NUMBER = re.compile(r"[-−]?(?:\d{1,3}(?:,\d{3})+|\d+)(?:\.\d+)?")


def aloud(text: str) -> str:
    """A text in the language that is spoken just now; what is no sentence of ours as it is."""
    if not isinstance(text, Said):
        return text
    if said_as_written():
        return text[:]
    return TWO_STOPS.sub(".", _said(text, Spoken(get_language() or ENGLISH)))


def said_as_written() -> bool:
    """Whether all is read as the floors write it: in English, with points, in grams and litres."""
    language = get_language() or ENGLISH
    plain = language.startswith(ENGLISH) and numbers.form_wanted(language) == numbers.POINT
    return plain and measures.are_metric()


def in_language(text: str, language: str) -> str:
    """A text in a language, whatever is spoken just now."""
    with override(language):
        return aloud(text)


class Spoken(Formatter):
    """Fills the holes of a pattern as one language writes numbers, moments and sentences."""

    def __init__(self, language: str) -> None:
        self.language = language

    def word(self, text: str) -> str:
        """What fills a hole as plain text: a trade word or a number, or a name that stays."""
        if NUMBER.fullmatch(text):
            return numbers.rewritten(text, self.language)
        known = trade(text)
        return _said(known, self) if isinstance(known, Said) else text

    def format_field(self, value: Any, format_spec: str) -> str:
        """One hole filled."""
        if isinstance(value, str):
            return format(_said(value, self), format_spec)
        if isinstance(value, bool):
            return format(value, format_spec)
        if isinstance(value, int | float | Decimal | Fraction):
            return numbers.written(value, format_spec, self.language)
        if isinstance(value, date | datetime | time):
            return moments.written(value, format_spec)
        return format(value, format_spec)

    def get_value(self, key: int | str, args: Sequence[Any], kwargs: Mapping[str, Any]) -> Any:
        """What fills a hole, by its name."""
        return kwargs[str(key)]


def _said(text: str, spoken: Spoken) -> str:
    if isinstance(text, Sentence):
        return _filled(text, spoken)
    if isinstance(text, Row):
        return "".join(_said(piece, spoken) for piece in text.pieces)
    if isinstance(text, Kept):
        return text[:]
    if isinstance(text, Measured):
        return _said(measures.written(text) or text.metric, spoken)
    if isinstance(text, Capital):
        said = _said(text.small, spoken)
        return said[:1].upper() + said[1:]
    if isinstance(text, Trimmed):
        said = _said(text.whole, spoken)
        if text.way == "removesuffix":
            return said.removesuffix(text.signs or "")
        if text.way == "before":
            return said.partition(text.signs or "")[0]
        return said.rstrip(text.signs) if text.way == "rstrip" else said.strip(text.signs)
    return spoken.word(text)


def _filled(said: Sentence, spoken: Spoken) -> str:
    if said.many:
        pattern = ngettext(said.pattern, said.many, said.number)
    else:
        pattern = gettext(said.pattern) if said.pattern else ""
    return spoken.vformat(pattern, (), said.values) if said.values else pattern
