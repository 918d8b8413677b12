"""Lots of dyestuff by what spoils first, what each dyestuff comes to, and supplies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from django.utils.translation import get_language

from api.templating.lately import Lately
from api.web.drawing.bar import LifeBar, life_bar
from api.web.note.deeds import Deed, lot_deed
from api.web.shelves.anchors import anchor_of, label_address
from api.web.shelves.figures import FigureShown, figure_shown
from api.web.shelves.words import TONES, day_said, life_said, moment_said, mood_of, one_or
from inventory.science.cautions import Caution, cautions_for_lot
from inventory.science.counting import Counted, Total
from inventory.science.days import local_day
from inventory.science.facts import SupplyFacts
from inventory.science.saying import joined, say
from inventory.science.wording import warmth
from sourcing.shelves import ShelvesFacts
from sourcing.week.words import days_in_words, grams, listed

COLD = ("fridge", "freezer")


@dataclass(frozen=True, slots=True)
class LotShown:
    """One lot, ready to be put on the page."""

    anchor: str
    label: str  # where it is printed
    code: str
    dyestuff: str
    amount: str
    life: str
    mood: str  # of the end: fine, soon, today, past
    tone: str  # yes, wait, see, no: the word's colour
    bar: LifeBar
    kept: str  # "frozen, freezer, since 11 Sep 2026"
    came: str  # "gathered 1 Aug 2026, from the corner house"
    left_out: str  # why it does not count; empty when it does
    notes: tuple[str, ...]
    cautions: tuple[Caution, ...]
    figure: FigureShown
    deed: Deed  # the form that sees to it, filled


@dataclass(frozen=True, slots=True)
class TotalShown:
    """What one dyestuff comes to."""

    dyestuff: str
    now: str
    tonight: str  # empty where nothing comes today
    out: str  # "640 g left out: AV-1109 past by 11 days"


@dataclass(frozen=True, slots=True)
class SupplyShown:
    """A supply with what is left."""

    code: str
    what: str
    left: str
    site: str


_LOTS: Lately[LotShown] = Lately(at_most=1024)


def lots_shown(
    facts: ShelvesFacts, rows: Sequence[Counted], *, carried: str
) -> tuple[LotShown, ...]:
    """Lots in the order in which they should be used."""
    return tuple(
        _LOTS.of((row, *_seen(facts, row, carried)), _lot, facts, row, carried) for row in rows
    )


def totals_shown(facts: ShelvesFacts, rows: Sequence[Total]) -> tuple[TotalShown, ...]:
    """Each dyestuff by name."""
    return tuple(
        TotalShown(
            dyestuff=row.dyestuff,
            now=grams(row.now_mg),
            tonight=grams(row.tonight_mg) if row.tonight_mg != row.now_mg else "",
            out=_out(facts, row),
        )
        for row in rows
    )


def supplies_shown(rows: Sequence[SupplyFacts], facts: ShelvesFacts) -> tuple[SupplyShown, ...]:
    """Supplies in the order given."""
    many = len(facts.sites) > 1
    return tuple(
        SupplyShown(row.code, row.what, grams(row.left_mg), row.site if many else "")
        for row in rows
    )


def summed(rows: Sequence[Counted]) -> str:
    """Lots that are not shown one by one, in words."""
    last = rows[-1].lot if rows else None
    if last is None:
        return ""
    names = sorted({row.lot.dyestuff for row in rows})
    stuffs = listed(names) if len(names) <= 3 else say("{count} dyestuffs", count=len(names))
    return say(
        "{one_or} more of {stuffs}, {mg} in all",
        one_or=one_or(len(rows), "lot", "lots"),
        stuffs=stuffs,
        mg=grams(_mg(rows)),
    )


def _seen(facts: ShelvesFacts, row: Counted, carried: str) -> tuple[object, ...]:
    """All that a lot's words hang on beside the lot as it is counted."""
    code, dyestuff = row.lot.code, row.lot.dyestuff
    own = facts.cautions.get(dyestuff, ""), dyestuff in facts.fugitive
    where = facts.today, facts.zone, len(facts.sites) > 1
    return (*where, facts.aside_since.get(code), *own, carried, get_language())


def _lot(facts: ShelvesFacts, row: Counted, carried: str) -> LotShown:
    mood = mood_of(row.days_left)
    lot = row.lot
    return LotShown(
        anchor=anchor_of(lot.code),
        label=label_address(lot.code, carried=carried),
        code=lot.code,
        dyestuff=lot.dyestuff,
        amount=grams(lot.left_mg),
        life=life_said(row, facts.today),
        mood=mood,
        tone=TONES[mood],
        bar=life_bar(row.life, mood=mood),
        kept=_kept(facts, row),
        came=_came(facts, row),
        left_out=why_left_out(facts, row),
        notes=tuple(_notes(facts, row)),
        cautions=cautions_for_lot(
            lot.dyestuff,
            fugitive=lot.dyestuff in facts.fugitive,
            own=facts.cautions.get(lot.dyestuff, ""),
        ),
        figure=figure_shown(row.good.figure, carried=carried),
        deed=lot_deed(row, carried=carried),
    )


def why_left_out(facts: ShelvesFacts, row: Counted) -> str:
    """Why a lot does not count, with what to do; empty when it does."""
    if row.left_out == "set aside":
        since = facts.aside_since.get(row.lot.code)
        said = (
            say(" since {moment_said}", moment_said=moment_said(since, facts.today, facts.zone))
            if since
            else ""
        )
        damp = say(": dry it and weigh it again") if row.lot.set_aside == "damp" else ""
        return say(
            "set aside{said}, {set_aside}{damp}", said=said, set_aside=row.lot.set_aside, damp=damp
        )
    if row.left_out == "comes later":
        assert row.comes is not None
        return say(
            "comes {moment_said}", moment_said=moment_said(row.comes, facts.today, facts.zone)
        )
    return {
        "no label": say("no label: find out what it is"),
        "damp": say("damp: dry it and weigh it again"),
        "past": say("past its last good day: compost"),
        "nests not checked": say("cut in the nesting season without a nest check"),
    }.get(row.left_out, "")


def _kept(facts: ShelvesFacts, row: Counted) -> str:
    stay = row.lot.stay
    parts = [stay.state]
    place = stay.place or stay.place_kind
    if place != stay.state:
        parts.append(place)
    if stay.temperature_c is not None:
        parts.append(warmth(stay.temperature_c))
    if row.lot.site and len(facts.sites) > 1:
        parts.append(row.lot.site)
    word = say("from") if row.comes is not None else say("since")
    day = local_day(stay.since, zone=facts.zone)
    since = moment_said(stay.since, facts.today, facts.zone)
    return say(
        "{parts}, {word} {since}",
        parts=joined(", ", parts),
        word=word,
        since=day_said(day, facts.today) if since.endswith(" 00:00") else since,
    )


def _came(facts: ShelvesFacts, row: Counted) -> str:
    lot, parts = row.lot, []
    if lot.gathered_on is not None and row.comes is None:
        parts.append(say("gathered {day_said}", day_said=day_said(lot.gathered_on, facts.today)))
    if lot.source:
        parts.append(say("from {source}", source=lot.source))
    return joined(", ", parts)


def _notes(facts: ShelvesFacts, row: Counted) -> Iterator[str]:
    lot = row.lot
    if row.comes is not None and row.usable:
        yield say(
            "comes {moment_said}, confirmed",
            moment_said=moment_said(row.comes, facts.today, facts.zone),
        )
    if lot.permission:
        yield say("permission: {permission}", permission=lot.permission)
    elif lot.foraged:
        yield say("no permission on record: not for a client")
    if lot.foraged and lot.nest_checked:
        yield say("nests checked before it was cut")


def _out(facts: ShelvesFacts, row: Total) -> str:
    if not row.out:
        return ""
    whys: list[str] = [
        say("{code} {short}", code=each.lot.code, short=_short(each)) for each in row.out[:4]
    ]
    if len(row.out) > 4:
        whys.append(one_or(len(row.out) - 4, say("other lot"), say("other lots")))
    return say("{out_mg}: {whys}", out_mg=grams(row.out_mg), whys=listed(whys))


def _short(row: Counted) -> str:
    if row.left_out == "set aside":
        return say("set aside ({set_aside})", set_aside=row.lot.set_aside)
    if row.left_out == "past":
        return say("past by {days_left}", days_left=days_in_words(-row.days_left))
    return row.left_out


def _mg(rows: Sequence[Counted]) -> int:
    return sum(row.lot.left_mg for row in rows)
