"""Pots with their history, rings, line and cold places with how full they are."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from api.web.drawing.bar import FillBar, fill_bar
from api.web.drawing.pot import PotDrawing, draw_pot
from api.web.note.deeds import Deed, pot_deed
from api.web.shelves.words import day_said, one_or
from inventory.science.facts import ColdPlaceFacts, VesselFacts
from inventory.science.room import Tonight
from inventory.science.saying import joined, say
from inventory.science.wording import warmth
from sourcing.shelves import ShelvesFacts, VesselPast
from sourcing.week.words import grams, kilos, listed, litres

PAST_AT_MOST = 6
WENT_THROUGH = {
    "iron": say("iron in it"),
    "blank passed": say("blank swatch passed"),
    "blank failed": say("blank swatch failed"),
    "chipped": say("chipped"),
    "mended": say("mended"),
}


@dataclass(frozen=True, slots=True)
class PotShown:
    """One vessel, ready to be put on the page."""

    code: str
    what: str
    brim: str
    working: str
    text: str
    drawing: PotDrawing
    tone: str  # yes, see, no, plain
    verdict: str  # say("clean"), "iron pot", "chipped"
    bars: str  # what it must not hold; empty: nothing
    past: tuple[str, ...]
    more_past: str
    site: str
    deed: Deed  # the form that sees to it, filled


@dataclass(frozen=True, slots=True)
class PlaceShown:
    """A cold place or a line with what is in it."""

    name: str
    words: str
    bar: FillBar | None  # None: without limit
    key: tuple[tuple[str, str], ...]  # kind of stretch, words
    over: str  # empty: it fits
    do: str
    free: str


@dataclass(frozen=True, slots=True)
class RingShown:
    """One heat place."""

    code: str
    words: str


def pots_shown(
    facts: ShelvesFacts, rows: Sequence[VesselFacts], *, carried: str = ""
) -> tuple[PotShown, ...]:
    """Vessels in their sizes beside each other."""
    largest = max((row.brim_ml for row in rows), default=0)
    past: dict[str, list[VesselPast]] = {}
    for each in facts.past:
        past.setdefault(each.vessel, []).append(each)
    return tuple(_pot(facts, row, past.get(row.code, []), largest, carried) for row in rows)


def rings_shown(facts: ShelvesFacts) -> tuple[RingShown, ...]:
    """Rings with what they do not take."""
    found = []
    for row in facts.shelf.rings:
        words = say("{watts:g} kW", watts=row.watts / 1000)
        words += (
            say(", not for {not_for}", not_for=listed(row.not_for))
            if row.not_for
            else say(", any pot")
        )
        if row.site and len(facts.sites) > 1:
            words += say(", {site}", site=row.site)
        found.append(RingShown(row.code, words))
    return tuple(found)


def lines_shown(facts: ShelvesFacts) -> tuple[PlaceShown, ...]:
    """Each line with what hangs on it now."""
    found = []
    for row in facts.shelf.lines:
        hangs = facts.hangs_mg.get(row.code, 0)
        words = say(
            "{hangs} of {holds_mg} dry weight hang on it now",
            hangs=kilos(hangs),
            holds_mg=kilos(row.holds_mg),
        )
        words += say(", out of doors") if row.outdoors else ""
        free = (
            say("{holds_mg} free", holds_mg=kilos(row.holds_mg - hangs))
            if hangs < row.holds_mg
            else ""
        )
        over = (
            say("over by {hangs}", hangs=kilos(hangs - row.holds_mg))
            if hangs > row.holds_mg
            else ""
        )
        bar = fill_bar(row.holds_mg, (("now", hangs),))
        name = (
            say("{code}, {site}", code=row.code, site=row.site)
            if row.site and len(facts.sites) > 1
            else row.code
        )
        found.append(PlaceShown(name, words, bar, (), over, "", free))
    return tuple(found)


def cold_shown(facts: ShelvesFacts) -> tuple[PlaceShown, ...]:
    """Cold places with what lies in them; the freezers as they will be tonight."""
    found = []
    freezers = [room for room in facts.rooms if room.place.kind == "freezer"]
    for room in facts.rooms:
        if facts.tonight is not None and freezers == [room]:
            found.append(_tonight(room.place.code, facts.tonight))
            continue
        place, inside = room.place, one_or(room.lots, "lot", "lots")
        words = say("{now_mg} in it, {inside}", now_mg=grams(room.now_mg), inside=inside)
        if place.holds_mg is None:
            words += say("; no limit written down")
            found.append(PlaceShown(_place_name(place, facts), words, None, (), "", "", ""))
            continue
        words = say(
            "{now_mg} of {holds_mg} in it, {inside}",
            now_mg=grams(room.now_mg),
            holds_mg=grams(place.holds_mg),
            inside=inside,
        )
        over = room.now_mg - place.holds_mg
        bar = fill_bar(place.holds_mg, (("now", room.now_mg),))
        said = say("over by {over}", over=grams(over)) if over > 0 else ""
        free = say("{over} free", over=grams(-over)) if over < 0 else ""
        found.append(PlaceShown(_place_name(place, facts), words, bar, (), said, "", free))
    if facts.tonight is not None and len(freezers) > 1:
        found.append(_tonight(say("all freezers together"), facts.tonight))
    return tuple(found)


def _tonight(name: str, row: Tonight) -> PlaceShown:
    """A freezer tonight: what is in it, what comes, what has to be put by today."""
    key = [("now", say("{now_mg} in it now", now_mg=grams(row.now_mg)))]
    if row.comes_mg:
        key.append(
            (
                "comes",
                say(
                    "{comes_mg} come today ({comes})",
                    comes_mg=grams(row.comes_mg),
                    comes=listed(row.comes),
                ),
            )
        )
    if row.put_by_mg:
        key.append(
            (
                "put-by",
                say(
                    "{put_by_mg} to freeze today ({put_by})",
                    put_by_mg=grams(row.put_by_mg),
                    put_by=listed(row.put_by),
                ),
            )
        )
    over = say("over by {over_mg} tonight", over_mg=grams(row.over_mg)) if row.over_mg else ""
    parts = (("now", row.now_mg), ("comes", row.comes_mg), ("put-by", row.put_by_mg))
    return PlaceShown(
        name=name,
        words=say(
            "{inside_mg} of {holds_mg} tonight",
            inside_mg=grams(row.inside_mg),
            holds_mg=grams(row.holds_mg),
        ),
        bar=fill_bar(row.holds_mg, parts),
        key=tuple(key),
        over=over,
        do=say("use some, dry it, or keep it in the fridge") if over else "",
        free="" if row.over_mg else say("{free_mg} free", free_mg=grams(row.free_mg)),
    )


def _place_name(place: ColdPlaceFacts, facts: ShelvesFacts) -> str:
    warm = (
        say(", {warmth}", warmth=warmth(place.temperature_c))
        if place.temperature_c is not None
        else ""
    )
    kind = say(" ({kind})", kind=place.kind) if place.kind != place.code else ""
    site = say(", {site}", site=place.site) if place.site and len(facts.sites) > 1 else ""
    return joined("", (place.code, kind, site, warm))


# -- pots --------------------------------------------------------------------------------------


def _pot(
    facts: ShelvesFacts, row: VesselFacts, past: list[VesselPast], largest: int, carried: str
) -> PotShown:
    tone, verdict, bars = _verdict(facts, row)
    what = say("{material} {kind}", material=row.material, kind=row.kind).strip()
    brim, working = litres(row.brim_ml), litres(row.working_ml)
    rest = len(past) - PAST_AT_MOST
    return PotShown(
        code=row.code,
        what=what,
        brim=brim,
        working=working,
        text=say(
            "{code}, {what}: {brim} to the brim, filled to {working}; {verdict}",
            code=row.code,
            what=what,
            brim=brim,
            working=working,
            verdict=verdict,
        ),
        drawing=draw_pot(row, largest_ml=largest),
        tone=tone,
        verdict=verdict,
        bars=bars,
        past=tuple(_history(facts, row, past)),
        more_past=say("and {rest} more in the year", rest=rest) if rest > 0 else "",
        site=row.site if len(facts.sites) > 1 else "",
        deed=pot_deed(row, carried=carried),
    )


def _verdict(facts: ShelvesFacts, row: VesselFacts) -> tuple[str, str, str]:
    """What a vessel is fit for, as the week judges it."""
    if row.food:
        return "no", say("used for food"), say("no dye in it, ever")
    if row.iron_pot:
        return "plain", say("iron pot"), say("no brights in it")
    if row.chipped:
        return "no", say("chipped"), say("no brights in it")
    if row.iron_on and (row.blank_passed_on is None or row.blank_passed_on < row.iron_on):
        return "see", say("had iron"), say("no brights until a blank swatch passes")
    if row.blank_passed_on:
        return "yes", say("clean"), ""
    return "plain", say("no iron noted"), ""


def _history(facts: ShelvesFacts, row: VesselFacts, past: Sequence[VesselPast]) -> Iterator[str]:
    """What it went through, newest first; last uses of more than a year ago too."""
    for each in past[:PAST_AT_MOST]:
        yield say(
            "{day_said}: {what}",
            day_said=day_said(each.day, facts.today),
            what=WENT_THROUGH.get(each.what, each.what),
        )
    told = {each.what for each in past}
    if row.iron_on and "iron" not in told:
        yield say("{day_said}: iron in it", day_said=day_said(row.iron_on, facts.today))
    if row.blank_passed_on and "blank passed" not in told:
        yield say(
            "{day_said}: blank swatch passed", day_said=day_said(row.blank_passed_on, facts.today)
        )
