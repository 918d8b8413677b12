"""Forms about lots and supplies: put by, weighed, drawn, set aside, tipped out, received."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from api.web.note.ask import (
    MASS,
    VOLUME,
    Amount,
    Body,
    Fields,
    One,
    Pick,
    Shown,
    Text,
    options,
    yes_or_no,
)
from api.web.note.form import NOTE, Filling, Form
from api.web.note.hand import Choice, Hand
from api.web.note.places import Where, places
from api.web.note.takes import RUN, one_take, said_take
from api.web.note.things import (
    aside,
    cut_lots,
    everything,
    fresh_lots,
    lots,
    lots_and_supplies,
    lots_past_first,
    on_the_way,
    unlabelled,
)
from api.web.note.weighing import IN_TUB, in_tub, out_of_tub
from inventory.codes import dated_code, free_code, part_code
from inventory.science.cautions import Caution, cautions_for_lot, shipped_cautions
from inventory.science.saying import joined, say

STATES = options("fresh", "frozen", "dried", "damp")
MARKS = {"frozen": "F", "dried": "D"}
LOT = Pick(name="lot", words=say("Which lot?"), among=lots)


@dataclass(frozen=True, kw_only=True)
class HowPutBy(Where):
    """How it is put by and where to: state and place in one choice."""

    @property
    def names(self) -> tuple[str, ...]:
        return (self.name, "state")

    def said(self, fields: Mapping[str, str]) -> Body:
        state, _, place = fields.get(self.name, "").partition("|")
        found = self.chosen(place)
        return {"state": state, "place": found["how"]} if "how" in found else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        place = super().fields({"how": body.get("place")})
        return {"how": f"{body.get('state', '')}|{place['how']}"} if place else {}

    def shown(self, fields: Fields, hand: Hand) -> Shown:
        """With the way that an address names by its state, else that which keeps the lot."""
        shown = super().shown(fields, hand)
        if fields.get(self.name):
            return shown
        state = fields.get("state") or _keeps(fields.get("lot", ""), hand)
        fits = next((row for row in shown.choices if row.value.startswith(f"{state}|")), None)
        return shown if fits is None else replace(shown, value=fits.value)

    def in_words(self, body: Mapping[str, Any]) -> str:
        place = super().in_words({"how": body.get("place")})
        return joined(", ", (text for text in (str(body.get("state", "")), place) if text))


def _keeps(code: str, hand: Hand) -> str:
    """The state that keeps a lot, or the likely one where none is named: frozen or dried."""
    facts = hand.shelves
    code = code or next((choice.value for choice in fresh_lots(hand)), "")
    what = next((row.lot.dyestuff for row in facts.lots if row.lot.code == code), "")
    return "frozen" if facts.freezes(what) else "dried"


def ways(hand: Hand) -> Sequence[Choice]:
    """Into the freezer, onto a tray, dried into the store, or to another place as it is."""
    colds = [(kind, code, f"{kind}:{code}") for kind, code in hand.cold]
    freezers = [
        Choice(f"frozen|{at}", say("freeze it"), code)
        for kind, code, at in colds
        if kind == "freezer"
    ]
    trays = [
        Choice(f"damp|{at}", say("spread it to dry"), code)
        for kind, code, at in colds
        if kind == "tray"
    ]
    fridges = [
        Choice(f"fresh|{at}", say("as it is now"), say("into the {code}", code=code))
        for kind, code, at in colds
        if kind == "fridge"
    ]
    dried = Choice("dried|dry store:", say("it is dry now"), say("dry store"))
    bench = Choice("fresh|bench:", say("as it is now"), say("onto the bench"))
    return [*freezers, dried, *trays, *fridges, bench]


def part_of(body: Body, filling: Filling) -> str | None:
    """A code for a part, or for what goes to another site; else the whole lot keeps its own."""
    if not body.keys() & {"amount", "site"} or not isinstance(body.get("lot"), str):
        return None
    mark = MARKS.get(body.get("state", ""), "P")
    return part_code(filling.studio, body["lot"], mark, taken=filling.taken)


def new_code(body: Body, filling: Filling) -> str | None:
    """A code of the dyestuff and the day; a supply is called by its name."""
    what = body.get("what")
    if not what:
        return None
    if body.get("kind") == "supply":
        return free_code(filling.studio, what[:30], taken=filling.taken)
    return dated_code(filling.studio, what, on=filling.at.date(), taken=filling.taken)


@dataclass(frozen=True, kw_only=True)
class What(Pick):
    """A dyestuff or a supply by its name; one that is typed is a dyestuff."""

    def said(self, fields: Mapping[str, str]) -> Body:
        typed = fields.get("what_typed", "")
        kind, _, name = fields.get("what", "").partition(":")
        if typed or (kind and not name):
            return {"what": typed or kind}
        return {"what": name, "kind": kind} if name else {}

    def fields(self, body: Mapping[str, Any]) -> dict[str, str]:
        what, kind = body.get("what"), body.get("kind", "dyestuff")
        return {"what": f"{kind}:{what}"} if what else {}


def stuffs(hand: Hand) -> Sequence[Choice]:
    """Dyestuffs of the studio, then its supplies."""
    names = [Choice(f"dyestuff:{name}", name) for name in hand.dyestuffs]
    return [*names, *(Choice(f"supply:{name}", name, say("supply")) for name in hand.supplies)]


def received(body: Body) -> Body:
    """A supply has neither state nor place."""
    if body.get("kind") != "supply":
        return body
    return {name: said for name, said in body.items() if name not in ("state", "place")}


def lot_cautions(body: Mapping[str, Any]) -> tuple[Caution, ...]:
    """What belongs to a dyestuff."""
    what = body.get("what")
    return cautions_for_lot(what) if isinstance(what, str) else ()


def drains(body: Mapping[str, Any]) -> tuple[Caution, ...]:
    """What belongs to a tipping out."""
    return tuple(row for what, row in shipped_cautions() if what == "tip-out")


WHERE_TO = Pick(
    name="where_to",
    words=say("Where does it go?"),
    among=lambda hand: options(
        "compost",
        (
            "kept for collection",
            say("kept for collection"),
            say("metal baths: copper, tin, chrome"),
        ),
        "council site",
        ("foul drain", say("foul drain"), say("cooled and thinned; check your local rules")),
    ),
    typed_words=say("Where else"),
    first=False,
)
REASON = Pick(
    name="reason",
    words=say("Why?"),
    among=lambda hand: options("smells sour", "mould on it", "damp", "no label", "not sure of it"),
    typed_words=say("Why else"),
    first=False,
)
FORMS = (
    Form(
        verb="put-by",
        heading=say("Put by"),
        button=say("It is put by"),
        done=say("It is put by"),
        asks=(
            Pick(name="lot", words=say("Which lot?"), among=fresh_lots),
            HowPutBy(name="how", words=say("How?"), among=ways),
            Amount(
                name="becomes",
                words=say("What does it weigh now?"),
                needed=False,
                hint=say("Dried: weigh it again. Frozen: leave this empty."),
            ),
        ),
        more=(
            Amount(
                name="amount",
                words=say("How much of it?"),
                needed=False,
                hint=say("left empty: all of it; a part gets a code of its own"),
            ),
            Text(
                name="code",
                words=say("Code of the part"),
                most=40,
                needed=False,
                hint=say("left empty: that of the lot with a letter"),
            ),
            Text(
                name="site",
                words=say("Carried to which other site?"),
                most=40,
                needed=False,
                hint=say("left empty: it stays where it is; else weigh it again on arrival"),
            ),
            RUN,
            NOTE,
        ),
        fills={"code": part_of},
    ),
    Form(
        verb="weigh-again",
        heading=say("Weigh again"),
        button=say("That is what it weighs"),
        done=say("The new weight is written down"),
        asks=(
            LOT,
            Amount(name="amount", words=say("What does it weigh?"), needed=False),
        ),
        more=(*IN_TUB, NOTE),
        into=in_tub,
        out_of=out_of_tub,
        reminder=say("A count that is weighed teaches what one piece weighs."),
    ),
    Form(
        verb="recount",
        heading=say("Recount"),
        button=say("That is what there is"),
        done=say("What there is is written down"),
        asks=(
            Pick(name="lot", words=say("What?"), among=everything),
            Amount(
                name="amount", words=say("How much is there?"), units=(*MASS, *VOLUME), needed=False
            ),
        ),
        more=(*IN_TUB, NOTE),
        into=in_tub,
        out_of=out_of_tub,
    ),
    Form(
        verb="draw",
        heading=say("Take by hand"),
        button=say("It is taken"),
        done=say("What was taken is written down"),
        asks=(
            Pick(name="lot", words=say("Of what?"), among=lots_and_supplies),
            Amount(
                name="amount",
                words=say("How much?"),
                units=(*MASS, "mL"),
                needed=False,
                hint=say("left empty: all of it"),
            ),
        ),
        more=(RUN, NOTE),
        into=one_take,
        out_of=said_take,
        reminder=say("What runs were promised stays."),
    ),
    Form(
        verb="tip-out",
        heading=say("Tip out"),
        button=say("It is tipped out"),
        done=say("The tipping out is written down"),
        asks=(
            Pick(name="lot", words=say("What?"), among=lots_past_first),
            WHERE_TO,
        ),
        more=(
            Amount(
                name="amount",
                words=say("How much of it?"),
                units=(*MASS, *VOLUME),
                needed=False,
                hint=say("left empty: all of it"),
            ),
            NOTE,
        ),
        into=one_take,
        out_of=said_take,
        cautions=drains,
    ),
    Form(
        verb="receive",
        heading=say("A new lot of one's own"),
        button=say("It is here"),
        done=say("The new lot is written down"),
        asks=(
            Amount(
                name="amount",
                words=say("How much?"),
                units=lambda hand: (*MASS, *hand.pieces),
                needed=False,
            ),
            What(name="what", words=say("Of what?"), among=stuffs, typed_words=say("Its name")),
            One(
                name="state",
                words=say("In which state?"),
                options=STATES,
                default="fresh",
                needed=False,
            ),
            Where(name="place", words=say("Where does it stand?"), among=places),
        ),
        more=(
            *IN_TUB,
            Text(
                name="permission",
                words=say("Who said yes, and when"),
                most=200,
                needed=False,
                hint=say("of what was gathered on somebody's land"),
            ),
            Text(
                name="gathered_on",
                words=say("Gathered on"),
                kind="date",
                needed=False,
                hint=say("left empty: today"),
            ),
            yes_or_no("foraged", say("Gathered wild?"), say("yes"), say("no, given or grown")),
            yes_or_no(
                "nest_checked",
                say("Looked over for nests?"),
                say("looked, and none"),
                say("nobody looked"),
            ),
            Text(
                name="lot",
                words=say("Its code"),
                most=40,
                needed=False,
                hint=say("left empty: its letters and today's date"),
            ),
            NOTE,
        ),
        fills={"lot": new_code},
        into=lambda body: received(in_tub(body)),
        out_of=out_of_tub,
        cautions=lot_cautions,
    ),
    Form(
        verb="set-aside",
        heading=say("Set aside"),
        button=say("It is set aside"),
        done=say("It is set aside"),
        asks=(Pick(name="lot", words=say("What?"), among=everything), REASON),
        more=(NOTE,),
    ),
    Form(
        verb="use-again",
        heading=say("Use again"),
        button=say("It is good to use"),
        done=say("It is in use again"),
        asks=(Pick(name="lot", words=say("What was set aside?"), among=aside),),
        more=(NOTE,),
    ),
    Form(
        verb="label",
        heading=say("A label"),
        button=say("Keep it so"),
        done=say("Its label is written down"),
        asks=(
            Pick(name="lot", words=say("What?"), among=unlabelled),
            yes_or_no(
                "labelled",
                say("Has it a label?"),
                say("it has one now"),
                say("it was found without"),
                default="yes",
            ),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="arrive",
        heading=say("It has come"),
        button=say("Keep it so"),
        done=say("Its coming is written down"),
        asks=(Pick(name="lot", words=say("What was on its way?"), among=on_the_way),),
        more=(
            Text(
                name="arrives_at",
                words=say("Comes later instead"),
                kind="datetime-local",
                needed=False,
                hint=say("left empty: it is here"),
            ),
            NOTE,
        ),
    ),
    Form(
        verb="check-nest",
        heading=say("Looked for nests"),
        button=say("Keep it so"),
        done=say("The look for nests is written down"),
        asks=(
            Pick(name="lot", words=say("What was cut?"), among=cut_lots),
            yes_or_no(
                "checked",
                say("Was it looked over before the cut?"),
                say("looked, and none"),
                say("nobody looked"),
                default="yes",
            ),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="judge",
        heading=say("Sound or bad"),
        button=say("So it looks"),
        done=say("How it looks is written down"),
        asks=(
            LOT,
            One(
                name="looks",
                words=say("How does it look?"),
                options=options(
                    ("sound", say("sound"), say("good to use, whatever its days say")),
                    ("bad", say("bad"), say("counts nothing from now on")),
                ),
            ),
        ),
        more=(NOTE,),
    ),
)
