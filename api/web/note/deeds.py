"""The one thing to do about what stands on a shelf or in the morning's flags: a form, filled.

Each gives the words of a link and its address; moment and studio are asked for along with it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from urllib.parse import parse_qsl, urlencode

from api.web.addresses import address_of
from inventory.science.counting import Counted
from inventory.science.facts import BathFacts, FibreFacts, VesselFacts
from inventory.science.jar_story import JarStory
from inventory.science.saying import say
from sourcing.week.plan import Flag

NEAR_DAYS = 3  # within these a lot is put by


@dataclass(frozen=True, slots=True)
class Deed:
    """A link to a form that is filled already."""

    words: str
    address: str


# Kind of flag: words of the link, verb, and the field that the flag's thing goes into.
BY_FLAG = {
    "dip": (say("Dip it"), "dip", "jar"),
    "retest": (say("Dip it"), "dip", "jar"),
    "no label": (say("Label it"), "label", "lot"),
    "bath ends": (say("Use it"), "use-bath", "bath"),
    "damp fibre": (say("It is dry"), "dry", "lot"),
    "damp lot": (say("It is dry"), "put-by", "lot"),
    "ends before its use": (say("Put it by"), "put-by", "lot"),
    "pot": (say("It is mended"), "chip", "vessel"),
}
MORE = {"damp lot": {"state": "dried"}, "pot": {"mended": "yes"}}
# What is seen to on a page of its own.
PAGES = {"order": (say("To the orders"), "orders"), "put by": (say("To the plan"), "put_by"),
         "pick-up": (say("To the sources"), "sources")}  # fmt: skip


def flag_deed(flag: Flag, *, carried: str = "") -> Deed:
    """What to do about one flag of the morning."""
    if flag.kind == "use today":
        return _use_today(flag, carried)
    if flag.kind == "past":
        tips = {"where_to": "compost"} if flag.text.startswith("compost") else {}
        return to_form(say("Tip it out"), "tip-out", carried, {"lot": flag.what, **tips})
    if flag.kind in BY_FLAG:
        words, verb, name = BY_FLAG[flag.kind]
        return to_form(words, verb, carried, {name: flag.what, **MORE.get(flag.kind, {})})
    if flag.kind in PAGES:
        words, page = PAGES[flag.kind]
        return Deed(words, address_of(page) + carried)
    if flag.kind == "promise":
        return to_form(say("Read its swatch"), "read-swatch", carried, {"what": "light"})
    return to_form(say("Put by"), "put-by", carried, {})


def lot_deed(row: Counted, *, carried: str = "") -> Deed:
    """What to do about a lot of dyestuff."""
    lot = row.lot
    said = {"lot": lot.code}
    if row.comes is not None:
        return to_form(say("It has come"), "arrive", carried, said)
    if not lot.labelled:
        return to_form(say("Label it"), "label", carried, said)
    if lot.stay.state == "damp" or lot.set_aside == "damp":
        return to_form(say("It is dry"), "put-by", carried, {**said, "state": "dried"})
    if lot.set_aside:
        return to_form(say("Use it again"), "use-again", carried, said)
    if row.days_left < 0:
        return to_form(say("Tip it out"), "tip-out", carried, {**said, "where_to": "compost"})
    if row.days_left <= NEAR_DAYS and lot.stay.state == "fresh":
        return to_form(say("Put it by"), "put-by", carried, said)
    return to_form(say("Take of it"), "draw", carried, said)


def jar_deed(story: JarStory, *, carried: str = "") -> Deed:
    """What to do about a jar."""
    jar, state = story.jar, story.state.word
    if not jar.labelled:
        return to_form(say("Label it"), "label", carried, {"lot": jar.code})
    if jar.set_aside:
        return to_form(say("Use it again"), "use-again", carried, {"lot": jar.code})
    if state == "matured":
        return to_form(say("Draw from it"), "draw-liquor", carried, {"jar": jar.code})
    if state == "spent":
        tips = {"lot": jar.code, "where_to": "kept for collection"}
        return to_form(say("Tip it out"), "tip-out", carried, tips)
    return to_form(say("Dip it"), "dip", carried, {"jar": jar.code})


def bath_deed(row: BathFacts, *, is_past: bool, carried: str = "") -> Deed:
    """What to do about a bath."""
    if row.set_aside:
        return to_form(say("Use it again"), "use-again", carried, {"lot": row.code})
    if is_past:
        return to_form(say("Tip it out"), "tip-out", carried, {"lot": row.code})
    return to_form(say("Use it"), "use-bath", carried, {"bath": row.code})


def fibre_deed(row: FibreFacts, *, is_here: bool = True, carried: str = "") -> Deed:
    """What to do about a lot of fibre, by what has been done to it."""
    said = {"lot": row.code}
    if not is_here:
        return to_form(say("It has come"), "arrive", carried, said)
    if not row.labelled:
        return to_form(say("Label it"), "label", carried, said)
    if row.set_aside:
        return to_form(say("Use it again"), "use-again", carried, said)
    if row.damp:
        return to_form(say("It is dry"), "dry", carried, said)
    if row.shade:
        return to_form(say("Keep a swatch"), "keep-swatch", carried, {**said, "shade": row.shade})
    if not row.scoured:
        return to_form(say("Scoured"), "scour", carried, said)
    if not row.mordant:
        return to_form(say("Mordanted"), "mordant", carried, said)
    return to_form(say("Weigh it again"), "recount", carried, said)


def pot_deed(row: VesselFacts, *, carried: str = "") -> Deed:
    """What to do about a pot."""
    said = {"vessel": row.code}
    if row.chipped:
        return to_form(say("It is mended"), "chip", carried, {**said, "mended": "yes"})
    passed = row.blank_passed_on
    if row.iron_on is not None and not row.iron_pot and (passed is None or passed < row.iron_on):
        return to_form(say("A blank swatch"), "blank-swatch", carried, said)
    return to_form(say("It had iron in it"), "mark-iron", carried, said)


def to_form(words: str, verb: str, carried: str, said: dict[str, str]) -> Deed:
    """A link to the form of a verb with some answers in it."""
    return Deed(words, _filled(verb, carried, tuple(said.items())))


@lru_cache(maxsize=2048)
def _filled(verb: str, carried: str, said: tuple[tuple[str, str], ...]) -> str:
    query = "&".join(filter(None, (urlencode(said), _going_on(carried))))
    address = address_of("note", verb)
    return f"{address}?{query}" if query else address


@lru_cache(maxsize=16)
def _going_on(carried: str) -> str:
    """What a form goes on asking of what the page was asked: its moment and its studio."""
    said = parse_qsl(carried.removeprefix("?"))
    return urlencode([pair for pair in said if pair[0] != "days"])


def _use_today(flag: Flag, carried: str) -> Deed:
    """A lot on its last good day: put by where that keeps it, else used."""
    first = flag.text.partition(" ")[0]
    if first == "use":
        return to_form(say("Take of it"), "draw", carried, {"lot": flag.what})
    state = {"freeze": "frozen", "dry": "dried"}.get(first, "frozen")
    return to_form(say("Put it by"), "put-by", carried, {"lot": flag.what, "state": state})
