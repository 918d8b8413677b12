"""`{% kept "shelves/lot.html" lot=lot %}`: a template with these values alone, written out once.

Most of what stands on a shelf is told today in the words of an hour ago. Its piece of the page is
found again by equal values and by how its reader has it said; so it cannot be stale. Such a
template reads nothing but the values that it is given, which are frozen.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, is_dataclass
from functools import lru_cache
from typing import Any

from django.template import Library, Node, TemplateSyntaxError, engines
from django.template.base import FilterExpression, Parser, Token, token_kwargs
from django.template.context import Context
from django.utils.translation import get_language

from api.templating import lately
from api.templating.lately import Lately
from api.tongue.measures import units_written
from api.tongue.numbers import form_wanted
from api.tongue.speaking import said_as_written
from inventory.science.saying import Said

PIECES_KEPT = 1024  # of one to eight kB: some megabytes a process

register = Library()
Values = tuple[tuple[str, object], ...]


class KeptNode(Node):
    """A template and the values that it is given."""

    def __init__(self, name: str, values: Mapping[str, FilterExpression]) -> None:
        self.name, self.values = name, values

    def render(self, context: Context) -> str:
        """The piece, written out anew only where no equal one is kept."""
        values = tuple((name, value.resolve(context)) for name, value in self.values.items())
        reader = _reader_of(context)
        if len(values) == 1 and is_dataclass(values[0][1]):
            return _THE_SAME.of(
                (self.name, The(values[0][1]), reader), _found, self.name, values, reader
            )
        return _found(self.name, values, reader)


@register.tag
def kept(parser: Parser, token: Token) -> KeptNode:
    """The name of a template, and each value that it reads by its name."""
    _, name, *bits = token.split_contents()
    values = token_kwargs(bits, parser)
    if bits or not values or name[0] != name[-1] or name[0] not in "\"'":
        raise TemplateSyntaxError('kept takes a template and its values: "a/jar.html" jar=jar')
    return KeptNode(name[1:-1], values)


def _reader_of(context: Context) -> tuple[str, str, str]:
    """How whoever reads a page has it said; asked once a page."""
    known: tuple[str, str, str] | None = getattr(context, "reader", None)
    if known is None:
        language = get_language() or ""
        known = (language, form_wanted(language), units_written())
        context.reader = known  # type: ignore[attr-defined]
    return known


class The:
    """A thing that is equal to itself alone: what is kept lately comes as the very same."""

    __slots__ = ("thing",)

    def __init__(self, thing: object) -> None:
        self.thing = thing

    def __hash__(self) -> int:
        return id(self.thing)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, The) and other.thing is self.thing


_THE_SAME: Lately[str] = Lately(at_most=PIECES_KEPT)


def _found(name: str, values: Values, reader: tuple[str, str, str]) -> str:
    """The piece of equal values."""
    shape = None if said_as_written() else _shape(values)
    return _written(name, values, reader, shape)


@lru_cache(maxsize=PIECES_KEPT)
def _written(name: str, values: Values, reader: tuple[str, str, str], shape: object) -> str:
    # Said to the reader that the key tells of. Bare numbers stay as they are, as in `page.html`.
    template = engines["django"].engine.get_template(name)  # type: ignore[attr-defined]
    written: str = template.render(Context(dict(values), use_l10n=False))
    return written


def forget() -> None:
    """Write everything out anew, for whoever measures how long that takes."""
    _written.cache_clear()
    lately.forget()


def _shape(value: Any) -> object:
    """What values that are equal in English may differ in when they are said: all they hold."""
    if isinstance(value, Said):
        return type(value), _shape(value.__reduce__()[1])
    if isinstance(value, tuple):
        return tuple(map(_shape, value))
    if isinstance(value, Mapping):
        return tuple((name, _shape(each)) for name, each in value.items())
    if is_dataclass(value) and not isinstance(value, type):
        return tuple(_shape(getattr(value, field.name)) for field in fields(value))
    return type(value), value
