"""What somebody at the desk says of an order, as text: its number, lines, packs, days, weights."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from datetime import date
from uuid import UUID, uuid4

from api.asked import Unreadable, shown
from api.web.orders.words import stuff_said, weight_said
from inventory.entries import Weighed
from inventory.science.saying import say
from sourcing.notebook.moments import read_day
from sourcing.notebook.problem import Unclear
from sourcing.notebook.quantities import read_weight
from sourcing.ordered import NUMBERS_A_YEAR, OfferFacts
from sourcing.orders import Came, Ordered
from sourcing.week.words import listed

NUMBER = re.compile(r"(?P<year>\d{4})-?(?P<number>\d{3})", re.ASCII)
LINE = re.compile(r"(?P<packs>\d{1,6}) ?[x×] ?(?P<what>\S.*)", re.ASCII | re.IGNORECASE)
PACKS = re.compile(r"\d{1,6}", re.ASCII)
OFFERS_NAMED = 8


class OrderUnreadable(Unreadable):
    """A number, line, day or weight of an order that cannot be read."""

    code = "order_unreadable"


def number_asked(text: str) -> int:
    """The number of an order as it is written on it, `2026-003`."""
    found = NUMBER.fullmatch(text.strip())
    if found is None:
        raise _unreadable("number", text, say("no number of an order"), "2026-003, as stands on it")
    return int(found["year"]) * NUMBERS_A_YEAR + int(found["number"])


def day_asked(text: str) -> date:
    """A day as a notebook writes it."""
    try:
        return read_day(text)
    except Unclear as unclear:
        raise OrderUnreadable(
            "day", text, say("{shown}: {unclear}", shown=shown(text), unclear=unclear)
        ) from None


def entry_asked(text: str | None) -> UUID:
    """The entry's own number; a new one where none is given."""
    if text is None:
        return uuid4()
    try:
        return UUID(text)
    except ValueError:
        example = "32 letters and digits as in 7d1b9a1e-0c5f-4a53-9a3e-3a7b1d0f5c11"
        raise _unreadable("entry", text, say("no number of an entry"), example) from None


def line_asked(text: str, offers: Iterable[OfferFacts]) -> Ordered:
    """A line as in `4 x wool yarn`, `4 x 1 kg wool yarn` or `4 x WY 4/9`, the supplier's code.

    Parameters
    ----------
    offers : of one supplier
    """
    found = LINE.fullmatch(" ".join(text.split()))
    if found is None:
        raise _unreadable("line", text, say("no line of an order"), "4 x 1 kg wool yarn")
    offers, what = tuple(offers), found["what"].casefold()
    meant = [row for row in offers if what in _names(row)]
    if len(meant) == 1:
        return Ordered(meant[0].key, int(found["packs"]))
    known = listed(f"“{_called(row)}”" for row in (meant or offers)[:OFFERS_NAMED])
    if meant:
        detail = say(
            "{shown} may be several packs. Say which: {known}.",
            shown=shown(found["what"]),
            known=known,
        )
    elif offers:
        detail = say(
            "Nothing of theirs is called {shown}. They have {known}.",
            shown=shown(found["what"]),
            known=known,
        )
    else:
        detail = say("They have no price list that holds today. Write an offer of theirs first.")
    raise OrderUnreadable("line", text, detail)


def came_asked(words: Sequence[str], country: str) -> Came:
    """What came of one line, in four words: line, packs, weight, lot.

    The weight is that of the fibre, `4,012 g`, or that of fibre and bag and what the bag weighs,
    `4,112 g less 100 g`.
    """
    line, packs, weight, lot = words
    for what, word in (("line", line), ("packs", packs)):
        if not PACKS.fullmatch(word.strip()):
            raise _unreadable(what, word, say("no number of {what}", what=what), "1")
    return Came(int(line), int(packs), lot.strip(), _weighed(weight, country))


def _weighed(text: str, country: str) -> Weighed:
    """A weight with its words, and with gross and tare where both are said."""
    gross, less, tare = text.partition(" less ")
    gross_mg, tare_mg = _mg(gross, country), _mg(tare, country) if less else None
    if tare_mg is None:
        return Weighed(gross_mg, words=text.strip())
    if tare_mg >= gross_mg:
        detail = say(
            "{shown} leaves nothing: the bag weighs as much as all of it. Weigh again.",
            shown=shown(text),
        )
        raise OrderUnreadable("weight", text, detail)
    return Weighed(gross_mg - tare_mg, words=text.strip(), gross=gross_mg, tare=tare_mg)


def _mg(text: str, country: str) -> int:
    try:
        return read_weight(text, country)
    except Unclear as unclear:
        raise OrderUnreadable(
            "weight", text, say("{shown}: {unclear}", shown=shown(text), unclear=unclear)
        ) from None


def _names(row: OfferFacts) -> set[str]:
    """All that an offer may be called."""
    stuff = stuff_said(row.offer.stuff)
    names = {
        stuff,
        _called(row),
        row.offer.code,
        say("{code} {stuff}", code=row.offer.code, stuff=stuff),
    }
    return {name.casefold() for name in names if name}


def _called(row: OfferFacts) -> str:
    return say(
        "{weight_said} {stuff_said}",
        weight_said=weight_said(row.offer.pack_mg),
        stuff_said=stuff_said(row.offer.stuff),
    )


def _unreadable(name: str, text: str, what: str, example: str) -> OrderUnreadable:
    return OrderUnreadable(
        name,
        text,
        say("{shown} is {what}. Write {example}.", shown=shown(text), what=what, example=example),
    )
