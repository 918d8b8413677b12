"""The page of a source's link in words: who asks, what for, when, what was told, and the forms."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from urllib.parse import urlencode
from uuid import uuid4

from api.source_links.offer import Offer, Offered, Told
from api.web.sources.words import amount_said
from inventory.science.cautions import Caution, cautions_for_lot
from inventory.science.saying import say
from sourcing.arrivals import why_closed
from sourcing.sources_seen import GiftFacts
from sourcing.week.words import day_in_words, grams, kilos, moment_in_words

KILO_MG = 1_000_000


@dataclass(frozen=True, slots=True)
class Sent:
    """What a form sent, to be shown again with what is wrong with it."""

    fields: Mapping[str, str]
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ChoiceShown:
    """One moment at which something can be fetched."""

    value: str
    words: str
    chosen: bool


@dataclass(frozen=True, slots=True)
class FormShown:
    """The three fields about one thing."""

    number: int  # tells the fields of one thing from those of another
    id: str
    gives: str
    amount: str
    example: str
    choices: tuple[ChoiceShown, ...]
    word: str
    instead_of: str
    changing: str  # the hand-over that is changed; empty: a new one
    faults: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ToldShown:
    """One hand-over that was told of."""

    when: str
    amount: str
    word: str
    none: bool
    change: str  # where it is changed


@dataclass(frozen=True, slots=True)
class ThingShown:
    """One thing that is saved."""

    name: str
    next: str
    closed: str  # why nothing may be fetched just now
    told: tuple[ToldShown, ...]
    form: FormShown | None
    saved: str
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class LinkShown:
    """The whole page."""

    studio: str
    source: str
    asks: str  # Ada of Pellitory Yard
    wish: str
    thanked: bool
    things: tuple[ThingShown, ...]


def link_shown(
    offer: Offer, *, thanked: bool = False, change: str = "", sent: Sent | None = None
) -> LinkShown:
    """The page of one link.

    Parameters
    ----------
    thanked : something was told just now
    change : `2026-11-30T17:00:00+00:00 avocado stones`, the hand-over that is to be changed
    sent : a form that was refused
    """
    link = offer.link
    asks = (
        say("{asks} of {name}", asks=link.asks, name=link.studio.name)
        if link.asks
        else link.studio.name
    )
    things = tuple(
        _thing(offer, thing, number, change, sent) for number, thing in enumerate(offer.things, 1)
    )
    return LinkShown(link.studio.name, link.source.name, asks, link.wish, thanked, things)


def _thing(offer: Offer, thing: Offered, number: int, change: str, sent: Sent | None) -> ThingShown:
    gift = thing.gift
    name = gift.promise.gives
    mine = sent if sent is not None and sent.fields.get("gives") == name else None
    form = _sent_again(thing, number, mine) if mine else _fresh(thing, number, change)
    return ThingShown(
        name=name,
        next=_when(thing.moments[0], offer) if thing.moments else "",
        closed="" if thing.moments else _closed(gift, offer),
        told=tuple(_told(row, gift, offer) for row in thing.told),
        form=form if thing.moments else None,
        saved=_saved(gift),
        cautions=cautions_for_lot(name, foraged=gift.foraged),
    )


def _fresh(thing: Offered, number: int, change: str) -> FormShown:
    """An empty form, or one that holds what was told of a hand-over to be changed."""
    told = {f"{row.at.isoformat()} {thing.gift.promise.gives}": row for row in thing.told}
    row = told.get(change)
    news = [at for at in thing.moments if at not in {each.at for each in thing.told}]
    first = next(iter(news or thing.moments), None)
    chosen = row.at if row is not None else first
    fields = {"id": str(uuid4())}
    if row is not None:
        amount = "none this time" if row.none else row.amount or _confirmed(row, thing.gift)
        fields |= {"amount": amount, "word": row.word, "instead_of": row.at.isoformat()}
    if chosen is not None:
        fields["at"] = chosen.isoformat()
    return _form(thing, number, fields)


def _sent_again(thing: Offered, number: int, sent: Sent) -> FormShown:
    return _form(thing, number, sent.fields, sent.faults)


def _form(
    thing: Offered, number: int, fields: Mapping[str, str], faults: tuple[str, ...] = ()
) -> FormShown:
    moments = {at.isoformat(): at for at in thing.moments}
    before = moments.get(fields.get("instead_of", ""))
    return FormShown(
        number=number,
        id=fields.get("id", ""),
        gives=thing.gift.promise.gives,
        amount=fields.get("amount", ""),
        example=thing.kind.example,
        choices=tuple(
            ChoiceShown(value, _clock(at), value == fields.get("at"))
            for value, at in moments.items()
        ),
        word=fields.get("word", ""),
        instead_of=before.isoformat() if before is not None else "",
        changing=_clock(before) if before is not None else "",
        faults=faults,
    )


def _told(row: Told, gift: GiftFacts, offer: Offer) -> ToldShown:
    asked = urlencode({"change": f"{row.at.isoformat()} {gift.promise.gives}"})
    amount = say("none this time") if row.none else row.amount or _confirmed(row, gift)
    return ToldShown(_when(row.at, offer), amount, row.word, row.none, f"?{asked}")


def _confirmed(row: Told, gift: GiftFacts) -> str:
    return grams(row.confirmed_mg or 0)


def _closed(gift: GiftFacts, offer: Offer) -> str:
    foraged = frozenset((gift.promise.gives,)) if gift.foraged else frozenset[str]()
    today = offer.at.date()
    nests = gift.nesting is not None and gift.nesting.holds(today)
    return why_closed(gift.promise, today, foraged) or (
        say("birds may be nesting") if nests else ""
    )


def _saved(gift: GiftFacts) -> str:
    """All that came so far; empty before anything has."""
    ever = gift.record.ever
    made = ever.times - ever.missed
    if not made:
        return ""
    times = "1 hand-over" if made == 1 else say("{made:,} hand-overs", made=made)
    if not ever.total_mg:
        return times
    pieces = ever.total_pieces
    said = amount_said(gift, 0, pieces) if pieces else ""
    mass = kilos(ever.total_mg) if ever.total_mg >= KILO_MG else grams(ever.total_mg)
    return (
        say("{said}, {mass}, in {times}", said=said, mass=mass, times=times)
        if said
        else say("{mass} in {times}", mass=mass, times=times)
    )


def _when(at: datetime, offer: Offer) -> str:
    return moment_in_words(at, offer.zone)


def _clock(at: datetime) -> str:
    return say("{date}, {at:%H:%M}", date=day_in_words(at.date()), at=at)
