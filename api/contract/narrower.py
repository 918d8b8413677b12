"""Which values fitted a form and fit it no more: one question, asked both ways.

What comes in may not be taken less than before; what goes out may not be more than before, which
is the same question with the two forms swapped.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

Form = Mapping[str, Any]
KINDS = frozenset(("array", "boolean", "integer", "null", "number", "object", "string"))
LEAST = ("minimum", "exclusiveMinimum", "minLength", "minItems", "minProperties")
MOST = ("maximum", "exclusiveMaximum", "maxLength", "maxItems", "maxProperties")
# Whoever kept to the old one may not keep to another one.
EXACT = ("pattern", "format", "multipleOf", "uniqueItems", "not", "contentEncoding")
CHOICES = ("anyOf", "oneOf")


@dataclass(frozen=True, slots=True)
class Lost:
    """Something that fitted before and does not now: where in the value, and what."""

    where: str
    what: str


@dataclass(frozen=True, slots=True)
class Narrowing:
    """Two forms with the papers in which they stand, for what they point at."""

    was: Form  # paper
    now: Form

    def lost(self, was: Form, now: Form, where: str = "", seen: frozenset[Any] = frozenset()) -> (
        Iterator[Lost]
    ):  # fmt: skip
        """What fits `was` and not `now`, in the order of the forms."""
        both = (was.get("$ref"), now.get("$ref"))
        if both != (None, None):
            if both in seen:
                return
            seen = seen | {both}
        was, now = followed(self.was, was), followed(self.now, now)
        if any(word in form for word in CHOICES for form in (was, now)):
            yield from self._choices(was, now, where, seen)
            return
        yield from _kinds(was, now, where)
        yield from _words(was, now, where)
        yield from _bounds(was, now, where)
        yield from self._members(was, now, where, seen)
        if "items" in now:
            yield from self.lost(was.get("items", {}), now["items"], f"{where}/*", seen)

    def _choices(self, was: Form, now: Form, where: str, seen: frozenset[Any]) -> Iterator[Lost]:
        """Each way in which it could be must still be one of the ways."""
        for one in choices(was):
            lost = [list(self.lost(one, other, where, seen)) for other in choices(now)]
            if all(lost):
                # What the nearest one lacks says most.
                yield from min(lost, key=len)

    def _members(self, was: Form, now: Form, where: str, seen: frozenset[Any]) -> Iterator[Lost]:
        had, has = was.get("properties", {}), now.get("properties", {})
        for name in sorted(set(now.get("required", ())) - set(was.get("required", ()))):
            yield Lost(f"{where}/{name}", "has to be there")
        rest = now.get("additionalProperties", True)
        for name, form in had.items():
            if name in has:
                yield from self.lost(form, has[name], f"{where}/{name}", seen)
            elif rest is False:
                yield Lost(f"{where}/{name}", "is not known any more")
        other = was.get("additionalProperties", True)
        if rest is False and other is not False and "object" in kinds(was):
            yield Lost(where, "knows no other member any more")
        if isinstance(rest, Mapping) and isinstance(other, Mapping):
            yield from self.lost(other, rest, f"{where}/*", seen)


def followed(paper: Form, form: Form) -> Form:
    """The form that a form points at, with what stands beside the pointer."""
    while "$ref" in form:
        place: Any = paper
        for step in str(form["$ref"]).removeprefix("#/").split("/"):
            place = place[step]
        form = {**place, **{name: value for name, value in form.items() if name != "$ref"}}
    return form


def choices(form: Form) -> list[Form]:
    """The ways in which a value can be; the form itself where it knows only one."""
    for word in CHOICES:
        if word in form:
            around = {name: value for name, value in form.items() if name != word}
            return [{**around, **one} for one in form[word]]
    return [form]


def kinds(form: Form) -> frozenset[str]:
    """The kinds of value that fit; all of them where none is said."""
    said = form.get("type")
    if said is None:
        return KINDS
    found = frozenset([said] if isinstance(said, str) else said)
    return found | {"integer"} if "number" in found else found


def _kinds(was: Form, now: Form, where: str) -> Iterator[Lost]:
    for kind in sorted(kinds(was) - kinds(now)):
        yield Lost(where, f"may not be {kind} any more")


def _words(was: Form, now: Form, where: str) -> Iterator[Lost]:
    had, has = _enum(was), _enum(now)
    if has is None:
        return
    if had is None:
        yield Lost(where, f"may only be one of {has}")
        return
    for word in had:
        if word not in has:
            yield Lost(where, f"may not be {word!r} any more")


def _enum(form: Form) -> list[object] | None:
    if "const" in form:
        return [form["const"]]
    return list(form["enum"]) if "enum" in form else None


def _bounds(was: Form, now: Form, where: str) -> Iterator[Lost]:
    for word in EXACT:
        if word in now and now[word] != was.get(word):
            yield Lost(where, f"has another {word}")
    for word in LEAST:
        if word in now and (word not in was or now[word] > was[word]):
            yield Lost(where, f"has a {word} of {now[word]}")
    for word in MOST:
        if word in now and (word not in was or now[word] < was[word]):
            yield Lost(where, f"has a {word} of {now[word]}")
