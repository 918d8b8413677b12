"""Forms about pick-ups: a tub carried in, one that was told of, one that did not come."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any
from urllib.parse import parse_qs, urlencode
from zoneinfo import ZoneInfo

from api.web.note.ask import MASS, Amount, Body, Fields, One, Pick, Shown, Text, options
from api.web.note.form import NOTE, Button, Filling, Form
from api.web.note.hand import Choice, Hand
from api.web.note.places import Where, places
from api.web.note.weighing import IN_TUB, in_tub, out_of_tub
from inventory.codes import dated_code
from inventory.science.cautions import Caution, cautions_for_lot
from inventory.science.saying import joined, say
from sourcing.giving import Gift, gifts_at, last_brought
from sourcing.week.words import day_within

STATES = options("fresh", "frozen", "dried", "damp")


@dataclass(frozen=True, kw_only=True)
class FromWhom(Pick):
    """Who gives, and what: two fields of the body in one choice."""

    can_type: bool = False

    @property
    def names(self) -> tuple[str, ...]:
        return (self.name, "source", "gives")

    def said(self, fields: Fields) -> Body:
        if fields.get(self.name):
            found = parse_qs(fields[self.name])
            return {name: found[name][0] for name in ("source", "gives") if name in found}
        return {name: fields[name] for name in ("source", "gives") if fields.get(name)}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        pair = {name: str(body[name]) for name in ("source", "gives") if body.get(name)}
        return {self.name: urlencode(pair)} if pair else {}

    def in_words(self, body: Mapping[str, Any]) -> str:
        return joined(": ", (str(body[name]) for name in ("source", "gives") if body.get(name)))

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        """With the gift that an address names, or of the only source that it names, in front."""
        if fields.get(self.name):
            return super().shown(fields, hand)
        named = {name: fields[name] for name in ("source", "gives") if fields.get(name)}
        fits = [gift for gift in hand.gifts if all(getattr(gift, k) == v for k, v in named.items())]
        if named and fits:
            return super().shown({**fields, self.name: _pair(fits[0])}, hand)
        return super().shown(fields, hand)


@dataclass(frozen=True, kw_only=True)
class WhereItWent(Where):
    """A place, where the last one of the likely source went chosen already."""

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        gift = next(iter(hand.gifts), None)
        if fields.get(self.name) or gift is None or not gift.place_kind:
            return super().shown(fields, hand)
        code = gift.place if gift.place != gift.place_kind else ""
        wish = f"{gift.place_kind}:{code}"
        known = [f"{kind}:{code}" for kind, code in hand.cold if kind == gift.place_kind]
        return super().shown({**fields, self.name: wish if code else (known or [wish])[0]}, hand)


def givers(hand: Hand) -> Sequence[Choice]:
    """Everything that is given, what is due nearest in front."""
    zone = ZoneInfo(hand.studio.zone)
    return [_choice(gift, hand.at.astimezone(zone)) for gift in hand.gifts]


def _choice(gift: Gift, at: datetime) -> Choice:
    parts = [gift.source]
    if gift.due is not None:
        parts.append(
            say(
                "{day_within} {due:%H:%M}",
                day_within=day_within(gift.due.date(), at.date()),
                due=gift.due,
            )
        )
    if gift.told is not None:
        parts.append(say("told of {words}", words=gift.told.words))
    if gift.last is not None:
        parts.append(say("last time {words}", words=gift.last.words))
    return Choice(_pair(gift), gift.gives, joined(", ", parts))


def _pair(gift: Gift) -> str:
    return urlencode({"source": gift.source, "gives": gift.gives})


def units(hand: Hand) -> Sequence[str]:
    """Stones where the likely source counts them, else grams in front."""
    first = next(iter(hand.gifts), None)
    said = None if first is None else (first.told or first.last)
    counts = said is None or said.pieces is not None
    own = [word for word in hand.pieces if first is not None and word in first.gives.split()]
    words = (*own, *(word for word in hand.pieces if word not in own))
    return (*words, *MASS) if counts else (*MASS, *words)


def amount_again(body: Body, filling: Filling) -> str | None:
    """The amount of last time, or the one told of, where that button was pressed."""
    asked = {"same": "made", "as_told": "reported"}
    how = next((how for name, how in asked.items() if filling.fields.get(name)), None)
    if how is None or not body.get("source") or "weighed_in" in body:
        return None
    last = last_brought(
        filling.studio, body["source"], body.get("gives", ""), before=filling.at, how=how
    )
    return None if last is None else last.amount


def lot_code(body: Body, filling: Filling) -> str | None:
    """A code of the dyestuff and the day."""
    if not body.get("gives"):
        return None
    return dated_code(filling.studio, body["gives"], on=filling.at.date(), taken=filling.taken)


def due_moment(body: Body, filling: Filling) -> str | None:
    """The hour at which it was due nearest to now."""
    for gift in gifts_at(filling.studio, at=filling.at):
        if (gift.source, gift.gives) == (body.get("source"), body.get("gives")) and gift.due:
            return gift.due.isoformat(timespec="minutes")
    return filling.at.isoformat(timespec="minutes")


def cautions(body: Mapping[str, Any]) -> tuple[Caution, ...]:
    """What belongs to what was carried in."""
    gives = body.get("gives")
    return cautions_for_lot(gives) if isinstance(gives, str) else ()


NESTS = (
    Text(
        name="nests_by",
        words=say("Who looked for nests before the cut"),
        most=80,
        needed=False,
        hint=say("of a hedge or a tree, March to August most of all"),
    ),
    Text(
        name="nests_on",
        words=say("On which day they looked"),
        kind="date",
        needed=False,
        hint=say("left empty: the day of the cut"),
    ),
)


def without_nests(body: Body) -> Body:
    """Who looked and when is made into one part of the body afterwards."""
    return {name: said for name, said in body.items() if name not in ("nests_by", "nests_on")}


def with_nests(body: Mapping[str, Any]) -> Body:
    """Who looked and when, as the questions have it."""
    nests = body.get("nests")
    said = nests if isinstance(nests, Mapping) else {}
    more = {"nests_by": said.get("by"), "nests_on": said.get("on")}
    return {**body, **{name: text for name, text in more.items() if text}}


def looked_for_nests(body: Body, filling: Filling) -> Body | None:
    """Who looked for nests and when: on the day of the cut unless another is named."""
    by = filling.fields.get("nests_by")
    if not by:
        return None
    day = filling.fields.get("nests_on") or body.get("cut_on") or filling.at.date().isoformat()
    return {"by": by, "on": day}


WHO = FromWhom(name="from", words=say("From whom?"), among=givers)
SAME = (Button("same", say("The same as last time")), Button("as_told", say("As much as was told")))
FORMS = (
    Form(
        verb="pick-up",
        heading=say("A pick-up"),
        button=say("It is here"),
        done=say("The pick-up is written down"),
        asks=(
            Amount(name="amount", words=say("How much?"), units=units),
            WHO,
            WhereItWent(name="place", words=say("Where does it stand?"), among=places),
        ),
        more=(
            *IN_TUB,
            One(name="state", words=say("In which state?"), options=STATES, needed=False),
            Text(
                name="cut_on",
                words=say("Cut on which day?"),
                kind="date",
                needed=False,
                hint=say("left empty: today"),
            ),
            *NESTS,
            Text(
                name="lot",
                words=say("Its code"),
                most=40,
                needed=False,
                hint=say("left empty: its letters and today's date"),
            ),
            NOTE,
        ),
        also=SAME,
        fills={"amount": amount_again, "lot": lot_code, "nests": looked_for_nests},
        into=lambda body: without_nests(in_tub(body)),
        out_of=lambda body: with_nests(out_of_tub(body)),
        cautions=cautions,
    ),
    Form(
        verb="report-pick-up",
        heading=say("A pick-up that is told of"),
        button=say("It is told of"),
        done=say("It is written down for its day"),
        asks=(
            Amount(name="amount", words=say("How much will there be?"), units=units),
            WHO,
            Text(
                name="comes_at",
                words=say("When does it come?"),
                kind="datetime-local",
                needed=False,
                hint=say("left empty: the next hour that was agreed"),
            ),
            WhereItWent(name="place", words=say("Where will it stand?"), among=places),
        ),
        more=(*NESTS, Text(name="lot", words=say("Its code"), most=40, needed=False)),
        fills={"comes_at": due_moment, "lot": lot_code, "nests": looked_for_nests},
        into=without_nests,
        out_of=with_nests,
        cautions=cautions,
        undo="",
        instead=say("Say it again with another amount, or as missed: the last word holds."),
    ),
    Form(
        verb="miss-pick-up",
        heading=say("A pick-up that was missed"),
        button=say("It was missed"),
        done=say("The missed pick-up is written down"),
        asks=(WHO,),
        more=(
            Text(
                name="due_at",
                words=say("When was it due?"),
                kind="datetime-local",
                needed=False,
                hint=say("left empty: the nearest hour that was agreed"),
            ),
        ),
        fills={"due_at": due_moment},
        reminder=say("It counts as none, and what will come is reckoned anew."),
        undo="",
        instead=say("If it came after all, write down the pick-up: then it counts as made."),
    ),
)
