"""What moved lately, each posting as one plain sentence."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from api.web.shelves.words import moment_said
from inventory.science.saying import say
from sourcing.moved import Moved, Part
from sourcing.shelves import ShelvesFacts
from sourcing.week.words import amount, listed

PARTS_AT_MOST = 4
LONGEST_NOTE = 120


@dataclass(frozen=True, slots=True)
class MovedShown:
    """One thing that happened."""

    when: str
    words: str
    note: str
    taken_back: bool


def moved_shown(facts: ShelvesFacts) -> tuple[MovedShown, ...]:
    """The last postings, newest first."""
    return tuple(
        MovedShown(
            when=moment_said(row.at, facts.today, facts.zone).removesuffix(" 00:00"),
            words=moved_in_words(row),
            note=_note(row),
            taken_back=row.taken_back,
        )
        for row in facts.moved
    )


def moved_in_words(row: Moved) -> str:
    """One posting in a dyer's words: `200 mL drawn from J2 (iron liquor), 700 mL left`."""
    return SENTENCES.get(row.kind, _plainly)(row)


def _note(row: Moved) -> str:
    note = row.note if len(row.note) <= LONGEST_NOTE else f"{row.note[: LONGEST_NOTE - 1]}…"
    return (
        say("{note} ({by_whom})", note=note, by_whom=row.by_whom)
        if note and row.by_whom
        else note or row.by_whom
    )


# -- one sentence a kind -----------------------------------------------------------------------


def _received(row: Moved) -> str:
    where = say(", to the {place}", place=row.place) if row.place else ""
    aside = say("; set aside: {set_aside}", set_aside=row.set_aside) if row.set_aside else ""
    return say("{gains} came in{where}{aside}", gains=_gains(row), where=where, aside=aside)


def _drawn(row: Moved) -> str:
    return say("{took} drawn, {lefts}", took=_took(row), lefts=_lefts(row))


def _tipped(row: Moved) -> str:
    return say(
        "{took} tipped out, to {where_to}; {lefts}",
        took=_took(row),
        where_to=row.where_to,
        lefts=_lefts(row),
    )


def _put_by(row: Moved) -> str:
    where = say(", to the {place}", place=row.place) if row.place else ""
    state = say(" {state}", state=row.state) if row.state else ""
    made = [part for part in row.parts if part.amount > 0]
    if made:
        source = [part.code for part in row.parts if part.amount < 0]
        whence = say(", from {source}", source=listed(source)) if source else ""
        return say(
            "{each} put by{state}{where}{whence}",
            each=_each(made),
            state=state,
            where=where,
            whence=whence,
        )
    return say("{codes} put by{state}{where}", codes=_codes(row), state=state, where=where)


def _counted(row: Moved) -> str:
    found = [
        say("{left} of {name}", left=amount(part.left, part.unit), name=_name(part))
        for part in _some(row)
    ]
    return (
        say("{found} found there", found=listed(found))
        if found
        else say("{codes} counted", codes=_codes(row))
    )


def _dyed(row: Moved) -> str:
    made = [part for part in row.parts if part.amount > 0]
    return say(
        "dyed: {each}{kept_as}; took {took}",
        each=_each(made),
        kept_as=_kept_as(row),
        took=_took(row),
    )


def _worked(word: str) -> Callable[[Moved], str]:
    def said(row: Moved) -> str:
        made = [part for part in row.parts if part.amount > 0]
        took = [part for part in row.parts if part.amount < 0]
        text = (
            say("{each} {word}", each=_each(made), word=word)
            if made
            else say("{codes} {word}", codes=_codes(row), word=word)
        )
        text += (
            say(" with {mordant}", mordant=row.mordant)
            if row.mordant and word == "mordanted"
            else ""
        )
        return say("{text}; took {each}", text=text, each=_each(took)) if took else text

    return said


def _begun(row: Moved) -> str:
    aside = say("; set aside: {set_aside}", set_aside=row.set_aside) if row.set_aside else ""
    return say("{gains} begun{aside}", gains=_gains(row), aside=aside)


def _dipped(row: Moved) -> str:
    if row.grade is not None:
        return say("{codes} dipped: strip {grade} of 5", codes=_codes(row), grade=row.grade)
    if row.reading_mg_per_l is not None:
        return say(
            "{codes}: test strip read {reading_mg_per_l:,.0f} mg/L",
            codes=_codes(row),
            reading_mg_per_l=row.reading_mg_per_l,
        )
    return say("{codes} dipped", codes=_codes(row))


def _topped(row: Moved) -> str:
    return say(
        "{codes} topped up with {amounts}, {lefts}",
        codes=_codes(row),
        amounts=_amounts(row),
        lefts=_lefts(row),
    )


def _strained(row: Moved) -> str:
    lost = [part for part in row.parts if part.amount < 0]
    return say("{codes} strained", codes=_codes(row)) + (
        say(", {lefts}", lefts=_lefts(row)) if lost else ""
    )


def _aside(row: Moved) -> str:
    return say(
        "{codes} set aside: {set_aside}",
        codes=_codes(row),
        set_aside=row.set_aside or say("no reason given"),
    )


def _judged(row: Moved) -> str:
    if row.sound is None:
        return say("{codes} looked over again{kept_as}", codes=_codes(row), kept_as=_kept_as(row))
    return say(
        "{codes} looked {which}", codes=_codes(row), which=say("sound") if row.sound else say("bad")
    )


def _kept_as(row: Moved) -> str:
    """What dyed fibre is kept as, and why."""
    return (
        say(", kept as {quality}: {came_out}", quality=row.quality, came_out=row.came_out)
        if row.quality
        else ""
    )


def _went(row: Moved) -> str:
    said = {
        "iron": say("had iron in it"),
        "blank passed": say("passed its blank swatch"),
        "blank failed": say("failed its blank swatch"),
        "chipped": say("chipped"),
        "mended": say("mended"),
    }
    return say("{codes} {use}", codes=_codes(row), use=said.get(row.use, row.use))


def _corrected(row: Moved) -> str:
    return (
        say("an entry put right: {changes}", changes=_changes(row))
        if row.parts
        else say("an entry taken back")
    )


def _plainly(row: Moved) -> str:
    if row.parts:
        return say("{kind}: {changes}", kind=row.kind, changes=_changes(row))
    return say("{codes}: {kind}", codes=_codes(row), kind=row.kind)


def _just(words: str) -> Callable[[Moved], str]:
    return lambda row: say("{codes} {words}", codes=_codes(row), words=words)


SENTENCES: dict[str, Callable[[Moved], str]] = {
    "receive": _received,
    "draw": _drawn,
    "tip out": _tipped,
    "put by": _put_by,
    "weigh again": _counted,
    "recount": _counted,
    "correct": _corrected,
    "dye": _dyed,
    "scour": _worked(say("scoured")),
    "mordant": _worked(say("mordanted")),
    "begin": _begun,
    "dip": _dipped,
    "top up": _topped,
    "strain": _strained,
    "keep at": _just(say("moved to another warmth")),
    "evaporate": lambda row: say(
        "{codes} has evaporated some, {lefts}", codes=_codes(row), lefts=_lefts(row)
    ),
    "make bath": lambda row: say("{gains} made", gains=_gains(row)),
    "use bath": _just(say("used")),
    "set aside": _aside,
    "use again": _just(say("in use again")),
    "label": _just(say("labelled")),
    "judge": _judged,
    "arrive": _just(say("has arrived, or its day was set")),
    "check nest": _just(say("nests looked for")),
    "iron": _went,
    "clear": _went,
    "chip": _went,
    "swatch": _just(say("has a swatch in the book")),
    "read swatch": lambda row: say("a swatch was read"),
}


# -- parts of a sentence -----------------------------------------------------------------------


def _gains(row: Moved) -> str:
    return _each([part for part in row.parts if part.amount > 0]) or _codes(row)


def _took(row: Moved) -> str:
    return _each([part for part in row.parts if part.amount < 0]) or say("nothing")


def _lefts(row: Moved) -> str:
    parts = _some(row)
    if len(parts) == 1:
        return (
            say("{left} left", left=amount(parts[0].left, parts[0].unit))
            if parts[0].left
            else say("none left")
        )
    return say(
        "{words} left",
        words=listed(
            say("{left} of {code}", left=amount(part.left, part.unit), code=part.code)
            for part in parts
        ),
    )


def _amounts(row: Moved) -> str:
    return listed(amount(abs(part.amount), part.unit) for part in _some(row))


def _changes(row: Moved) -> str:
    return listed(
        say(
            "{code} {which}{amount}",
            code=part.code,
            which="+" if part.amount > 0 else "−",
            amount=amount(abs(part.amount), part.unit),
        )
        for part in _some(row)
    )


def _each(parts: Sequence[Part]) -> str:
    """`1,180 g of AV-1116 (avocado stones)`; many are summed."""
    said = [
        say("{amount} of {name}", amount=amount(abs(part.amount), part.unit), name=_name(part))
        for part in parts[:PARTS_AT_MOST]
    ]
    rest = len(parts) - PARTS_AT_MOST
    return listed([*said, say("{rest} more", rest=rest)] if rest > 0 else said) if parts else ""


def _name(part: Part) -> str:
    what = part.what.strip()
    return (
        part.code
        if what in ("", part.code, "liquor")
        else say("{code} ({what})", code=part.code, what=what)
    )


def _codes(row: Moved) -> str:
    codes = [*(part.code for part in row.parts), *row.about]
    return listed(codes[:PARTS_AT_MOST]) or say("an entry")


def _some(row: Moved) -> Sequence[Part]:
    return row.parts[:PARTS_AT_MOST]
