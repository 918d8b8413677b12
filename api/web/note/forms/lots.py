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

STATES = options("fresh", "frozen", "dried", "damp")
MARKS = {"frozen": "F", "dried": "D"}
LOT = Pick(name="lot", words="Which lot?", among=lots)


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
        return ", ".join(text for text in (str(body.get("state", "")), place) if text)


def _keeps(code: str, hand: Hand) -> str:
    """The state that keeps a lot, or the likely one where none is named: frozen or dried."""
    facts = hand.shelves
    code = code or next((choice.value for choice in fresh_lots(hand)), "")
    what = next((row.lot.dyestuff for row in facts.lots if row.lot.code == code), "")
    return "frozen" if facts.freezes(what) else "dried"


def ways(hand: Hand) -> Sequence[Choice]:
    """Into the freezer, onto a tray, dried into the store, or to another place as it is."""
    colds = [(kind, code, f"{kind}:{code}") for kind, code in hand.cold]
    freezers = [Choice(f"frozen|{at}", "freeze it", code) for kind, code, at in colds
                if kind == "freezer"]  # fmt: skip
    trays = [Choice(f"damp|{at}", "spread it to dry", code) for kind, code, at in colds
             if kind == "tray"]  # fmt: skip
    fridges = [Choice(f"fresh|{at}", "as it is now", f"into the {code}") for kind, code, at in colds
               if kind == "fridge"]  # fmt: skip
    dried = Choice("dried|dry store:", "it is dry now", "dry store")
    bench = Choice("fresh|bench:", "as it is now", "onto the bench")
    return [*freezers, dried, *trays, *fridges, bench]


def part_of(body: Body, filling: Filling) -> str | None:
    """A code for a part; the whole lot keeps its own."""
    if "amount" not in body or not isinstance(body.get("lot"), str):
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
    return [*names, *(Choice(f"supply:{name}", name, "supply") for name in hand.supplies)]


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
    words="Where does it go?",
    among=lambda hand: options(
        "compost",
        ("kept for collection", "kept for collection", "metal baths: copper, tin, chrome"),
        "council site",
        ("foul drain", "foul drain", "cooled and thinned; check your local rules"),
    ),
    typed_words="Where else",
    first=False,
)
REASON = Pick(
    name="reason",
    words="Why?",
    among=lambda hand: options("smells sour", "mould on it", "damp", "no label", "not sure of it"),
    typed_words="Why else",
    first=False,
)
FORMS = (
    Form(
        verb="put-by",
        heading="Put by",
        button="It is put by",
        done="It is put by",
        asks=(
            Pick(name="lot", words="Which lot?", among=fresh_lots),
            HowPutBy(name="how", words="How?", among=ways),
            Amount(name="becomes", words="What does it weigh now?", needed=False,
                   hint="Dried: weigh it again. Frozen: leave this empty."),
        ),
        more=(
            Amount(name="amount", words="How much of it?", needed=False,
                   hint="left empty: all of it; a part gets a code of its own"),
            Text(name="code", words="Code of the part", most=40, needed=False,
                 hint="left empty: that of the lot with a letter"),
            NOTE,
        ),
        fills={"code": part_of},
    ),
    Form(
        verb="weigh-again",
        heading="Weigh again",
        button="That is what it weighs",
        done="The new weight is written down",
        asks=(
            LOT,
            Amount(name="amount", words="What does it weigh?", needed=False),
        ),
        more=(*IN_TUB, NOTE),
        into=in_tub,
        out_of=out_of_tub,
        reminder="A count that is weighed teaches what one piece weighs.",
    ),
    Form(
        verb="recount",
        heading="Recount",
        button="That is what there is",
        done="What there is is written down",
        asks=(
            Pick(name="lot", words="What?", among=everything),
            Amount(name="amount", words="How much is there?", units=(*MASS, *VOLUME),
                   needed=False),
        ),
        more=(*IN_TUB, NOTE),
        into=in_tub,
        out_of=out_of_tub,
    ),
    Form(
        verb="draw",
        heading="Take by hand",
        button="It is taken",
        done="What was taken is written down",
        asks=(
            Pick(name="lot", words="Of what?", among=lots_and_supplies),
            Amount(name="amount", words="How much?", units=(*MASS, "mL"), needed=False,
                   hint="left empty: all of it"),
        ),
        more=(RUN, NOTE),
        into=one_take,
        out_of=said_take,
        reminder="What runs were promised stays.",
    ),
    Form(
        verb="tip-out",
        heading="Tip out",
        button="It is tipped out",
        done="The tipping out is written down",
        asks=(
            Pick(name="lot", words="What?", among=lots_past_first),
            WHERE_TO,
        ),
        more=(
            Amount(name="amount", words="How much of it?", units=(*MASS, *VOLUME), needed=False,
                   hint="left empty: all of it"),
            NOTE,
        ),
        into=one_take,
        out_of=said_take,
        cautions=drains,
    ),
    Form(
        verb="receive",
        heading="A new lot of one's own",
        button="It is here",
        done="The new lot is written down",
        asks=(
            Amount(name="amount", words="How much?", units=lambda hand: (*MASS, *hand.pieces),
                   needed=False),
            What(name="what", words="Of what?", among=stuffs, typed_words="Its name"),
            One(name="state", words="In which state?", options=STATES, default="fresh",
                needed=False),
            Where(name="place", words="Where does it stand?", among=places),
        ),
        more=(
            *IN_TUB,
            Text(name="permission", words="Who said yes, and when", most=200, needed=False,
                 hint="of what was gathered on somebody's land"),
            Text(name="gathered_on", words="Gathered on", kind="date", needed=False,
                 hint="left empty: today"),
            yes_or_no("foraged", "Gathered wild?", "yes", "no, given or grown"),
            yes_or_no("nest_checked", "Looked over for nests?", "looked, and none",
                      "nobody looked"),
            Text(name="lot", words="Its code", most=40, needed=False,
                 hint="left empty: its letters and today's date"),
            NOTE,
        ),
        fills={"lot": new_code},
        into=lambda body: received(in_tub(body)),
        out_of=out_of_tub,
        cautions=lot_cautions,
    ),
    Form(
        verb="set-aside",
        heading="Set aside",
        button="It is set aside",
        done="It is set aside",
        asks=(Pick(name="lot", words="What?", among=everything), REASON),
        more=(NOTE,),
    ),
    Form(
        verb="use-again",
        heading="Use again",
        button="It is good to use",
        done="It is in use again",
        asks=(Pick(name="lot", words="What was set aside?", among=aside),),
        more=(NOTE,),
    ),
    Form(
        verb="label",
        heading="A label",
        button="Keep it so",
        done="Its label is written down",
        asks=(
            Pick(name="lot", words="What?", among=unlabelled),
            yes_or_no("labelled", "Has it a label?", "it has one now", "it was found without",
                      default="yes"),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="arrive",
        heading="It has come",
        button="Keep it so",
        done="Its coming is written down",
        asks=(Pick(name="lot", words="What was on its way?", among=on_the_way),),
        more=(
            Text(name="arrives_at", words="Comes later instead", kind="datetime-local",
                 needed=False, hint="left empty: it is here"),
            NOTE,
        ),
    ),
    Form(
        verb="check-nest",
        heading="Looked for nests",
        button="Keep it so",
        done="The look for nests is written down",
        asks=(
            Pick(name="lot", words="What was cut?", among=cut_lots),
            yes_or_no("checked", "Was it looked over before the cut?", "looked, and none",
                      "nobody looked", default="yes"),
        ),
        more=(NOTE,),
    ),
    Form(
        verb="judge",
        heading="Sound or bad",
        button="So it looks",
        done="How it looks is written down",
        asks=(
            LOT,
            One(name="looks", words="How does it look?",
                options=options(("sound", "sound", "good to use, whatever its days say"),
                                ("bad", "bad", "counts nothing from now on"))),
        ),
        more=(NOTE,),
    ),
)  # fmt: skip
