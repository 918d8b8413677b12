"""How numbers are written: with a decimal point, as in English, or with a decimal comma."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

POINT, COMMA = "point", "comma"
SWAPPED = str.maketrans(".,", ",.")
# What the studio of the page wants; empty: as the language has it.
_form: ContextVar[str] = ContextVar("number_form", default="")


def set_form(form: str) -> None:
    """Write numbers so from here on, till another form is set."""
    _form.set(form)


def form_wanted(language: str) -> str:
    """How numbers are written for a reader of a language."""
    return _form.get() or (COMMA if language.startswith("de") else POINT)


def written(number: object, spec: str, language: str) -> str:
    """A number in the form that is wanted.

    >>> written(1180.5, ",", "de"), written(1180.5, ",", "en")
    ('1.180,5', '1,180.5')
    """
    return rewritten(format(number, spec), language)


def rewritten(text: str, language: str) -> str:
    """A number that was written with a decimal point, in the form that is wanted."""
    return text.translate(SWAPPED) if form_wanted(language) == COMMA else text


@contextmanager
def numbers_written(form: str) -> Iterator[None]:
    """Numbers in a form for as long as something is written."""
    before = _form.set(form)
    try:
        yield
    finally:
        _form.reset(before)
