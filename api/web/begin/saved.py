"""What is saved already: dyestuffs of the shipped shades, alum, and fibre to dye."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID, uuid5

from django.db import transaction
from django.http import HttpRequest, QueryDict

from api.entries.clock import Clock
from api.entries.reading import read_entry
from api.entries.record import find, record
from api.entries.registry import VERBS
from api.tongue.customs import custom_of
from api.visitor import Right, visitor_of
from api.web.ask.asked import weight_of
from api.web.ask.choices import Choice
from api.web.form_unclear import FormUnclear
from inventory.models import Lot, Studio
from inventory.science.saying import say
from sourcing.starts.starts import starts

# How it is kept when somebody saves it up; each may be said otherwise later.
KEPT = {"avocado stones": ("frozen", "freezer")}
USUALLY = ("dried", "dry store")
SUPPLIES = ("alum", "soda ash")
FIBRES = ("wool", "silk", "cotton", "linen", "lyocell")
FORMS = ("yarn", "cloth", "fleece")
LONGEST = 40


@dataclass(frozen=True, slots=True)
class Field:
    """One thing with its amount."""

    name: str
    words: str
    more: str
    value: str


@dataclass(frozen=True, slots=True)
class SavedForm:
    """What may be written down, beside what is on the shelf."""

    stuffs: tuple[Field, ...]
    supplies: tuple[Field, ...]
    fibres: tuple[Choice, ...]
    forms: tuple[Choice, ...]
    fibre: str
    scoured: bool
    there: tuple[str, ...]


def saved_form(studio: Studio, post: QueryDict) -> SavedForm:
    """The form, with what was typed where it was refused."""
    there = Lot.objects.of(studio).order_by("code").values_list("code", "what")[:MOST_SHOWN]
    return SavedForm(
        stuffs=tuple(_field(post, name, "".join(_state(name))) for name in stuffs()),
        supplies=tuple(_field(post, name, "") for name in SUPPLIES),
        fibres=tuple(
            Choice(name, name, chosen=name == (post.get("fibre") or "wool")) for name in FIBRES
        ),
        forms=tuple(
            Choice(name, name, chosen=name == (post.get("form") or "yarn")) for name in FORMS
        ),
        fibre=post.get("weight", "")[:LONGEST],
        scoured=bool(post.get("scoured")),
        there=tuple(say("{code} {what}", code=code, what=what) for code, what in there),
    )


MOST_SHOWN = 20


def stuffs() -> tuple[str, ...]:
    """What gives the shipped shades their colour."""
    return tuple(dict.fromkeys(start.dyestuff["what"] for start in starts()))


def keep_saved(request: HttpRequest, studio: Studio, at: datetime) -> None:
    """Each amount as a lot of its own, all of them or none.

    Raises
    ------
    FormUnclear
        If there is no fibre, on the shelf or in the form.
    """
    post, visitor = request.POST, visitor_of(request, least=Right.DYER)
    has_fibre = Lot.objects.of(studio).filter(kind="fibre").exists()
    if not post.get("weight", "").strip() and not has_fibre:
        raise FormUnclear("weight", "", say("Say how much fibre you have, dry, such as 300 g."))
    form = _mark_of(post)
    with transaction.atomic():
        for number, (verb, said) in enumerate(_entries(studio, post)):
            what, entry = VERBS[verb], uuid5(form, str(number))
            if find(visitor, entry) is not None:  # the same form once more
                continue
            body = {"id": str(entry), "occurred_at": at.isoformat(timespec="seconds"), **said}
            record(what, read_entry(what, body, studio), body, visitor=visitor, clock=Clock(at))


def _entries(studio: Studio, post: QueryDict) -> Iterator[tuple[str, dict[str, object]]]:
    """The entries that the form says, as a program would send them."""
    taken = set(Lot.objects.of(studio).values_list("code", flat=True)[:100_000])
    for name in (*stuffs(), *SUPPLIES):
        text = post.get(name, "").strip()[:LONGEST]
        if not text:
            continue
        _, words = weight_of(text, "g", custom=custom_of(studio), what="it")
        said: dict[str, object] = {"what": name, "amount": words, "labelled": True}
        if name in SUPPLIES:
            yield "receive", {**said, "lot": _code(name, taken), "kind": "supply"}
            continue
        state, place = _state(name)
        yield "receive", {**said, "lot": _code(name, taken), "kind": "dyestuff", "state": state,
                          "place": {"kind": place}}  # fmt: skip
    text = post.get("weight", "").strip()[:LONGEST]
    if text:
        fibre = post.get("fibre", "")
        fibre = fibre if fibre in FIBRES else FIBRES[0]
        form = post.get("form", "")
        _, words = weight_of(text, "g", custom=custom_of(studio), what="it")
        yield "receive-fibre", {
            "lot": _code(fibre, taken), "fibre": fibre, "amount": words,
            "form": form if form in FORMS else FORMS[0],
            "state": {"scoured": bool(post.get("scoured"))},
        }  # fmt: skip


def _state(name: str) -> tuple[str, str]:
    return KEPT.get(name, USUALLY)


def _code(name: str, taken: set[str]) -> str:
    """`ON-1` for the first lot of onion skins."""
    sign = "".join(sign for sign in name.upper() if sign.isalpha())[:2]
    code = next(code for number in range(1, 10_000)
                if (code := f"{sign}-{number}") not in taken)  # fmt: skip
    taken.add(code)
    return code


def _field(post: QueryDict, name: str, more: str) -> Field:
    return Field(name, name, more, post.get(name, "")[:LONGEST])


def _mark_of(post: QueryDict) -> UUID:
    try:
        return UUID(post.get("entry", ""))
    except ValueError:
        raise FormUnclear(
            "entry", "", say("Open this page again, and send it from there.")
        ) from None
