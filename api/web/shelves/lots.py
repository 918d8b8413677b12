"""Lots of dyestuff by what spoils first, what each dyestuff comes to, and supplies."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from api.web.drawing.bar import LifeBar, life_bar
from api.web.note.deeds import Deed, lot_deed
from api.web.shelves.anchors import anchor_of, label_address
from api.web.shelves.figures import FigureShown, figure_shown
from api.web.shelves.words import TONES, day_said, life_said, moment_said, mood_of, one_or
from inventory.science.cautions import Caution, cautions_for_lot
from inventory.science.counting import Counted, Total
from inventory.science.facts import SupplyFacts
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


def lots_shown(
    facts: ShelvesFacts, rows: Sequence[Counted], *, carried: str
) -> tuple[LotShown, ...]:
    """Lots in the order in which they should be used."""
    return tuple(_lot(facts, row, carried) for row in rows)


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
    stuffs = listed(names) if len(names) <= 3 else f"{len(names)} dyestuffs"
    return f"{one_or(len(rows), 'lot', 'lots')} more of {stuffs}, {grams(_mg(rows))} in all"


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
        said = f" since {moment_said(since, facts.today, facts.zone)}" if since else ""
        damp = ": dry it and weigh it again" if row.lot.set_aside == "damp" else ""
        return f"set aside{said}, {row.lot.set_aside}{damp}"
    if row.left_out == "comes later":
        assert row.comes is not None
        return f"comes {moment_said(row.comes, facts.today, facts.zone)}"
    return {
        "no label": "no label: find out what it is",
        "damp": "damp: dry it and weigh it again",
        "past": "past its last good day: compost",
        "nests not checked": "cut in the nesting season without a nest check",
    }.get(row.left_out, "")


def _kept(facts: ShelvesFacts, row: Counted) -> str:
    stay = row.lot.stay
    parts = [stay.state]
    place = stay.place or stay.place_kind
    if place != stay.state:
        parts.append(place)
    if stay.temperature_c is not None:
        parts.append(f"{stay.temperature_c:g} °C")
    if row.lot.site and len(facts.sites) > 1:
        parts.append(row.lot.site)
    word = "from" if row.comes is not None else "since"
    since = moment_said(stay.since, facts.today, facts.zone)
    return f"{', '.join(parts)}, {word} {since.removesuffix(' 00:00')}"


def _came(facts: ShelvesFacts, row: Counted) -> str:
    lot, parts = row.lot, []
    if lot.gathered_on is not None and row.comes is None:
        parts.append(f"gathered {day_said(lot.gathered_on, facts.today)}")
    if lot.source:
        parts.append(f"from {lot.source}")
    return ", ".join(parts)


def _notes(facts: ShelvesFacts, row: Counted) -> Iterator[str]:
    lot = row.lot
    if row.comes is not None and row.usable:
        yield f"comes {moment_said(row.comes, facts.today, facts.zone)}, confirmed"
    if lot.permission:
        yield f"permission: {lot.permission}"
    elif lot.foraged:
        yield "no permission on record: not for a client"
    if lot.foraged and lot.nest_checked:
        yield "nests checked before it was cut"


def _out(facts: ShelvesFacts, row: Total) -> str:
    if not row.out:
        return ""
    whys = [f"{each.lot.code} {_short(each)}" for each in row.out[:4]]
    if len(row.out) > 4:
        whys.append(one_or(len(row.out) - 4, "other lot", "other lots"))
    return f"{grams(row.out_mg)}: {listed(whys)}"


def _short(row: Counted) -> str:
    if row.left_out == "set aside":
        return f"set aside ({row.lot.set_aside})"
    if row.left_out == "past":
        return f"past by {days_in_words(-row.days_left)}"
    return row.left_out


def _mg(rows: Sequence[Counted]) -> int:
    return sum(row.lot.left_mg for row in rows)
