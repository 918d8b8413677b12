"""What moved lately, each posting as one plain sentence."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from api.web.shelves.words import moment_said
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
    return f"{note} ({row.by_whom})" if note and row.by_whom else note or row.by_whom


# -- one sentence a kind -----------------------------------------------------------------------


def _received(row: Moved) -> str:
    where = f", to the {row.place}" if row.place else ""
    aside = f"; set aside: {row.set_aside}" if row.set_aside else ""
    return f"{_gains(row)} came in{where}{aside}"


def _drawn(row: Moved) -> str:
    return f"{_took(row)} drawn, {_lefts(row)}"


def _tipped(row: Moved) -> str:
    return f"{_took(row)} tipped out, to {row.where_to}; {_lefts(row)}"


def _put_by(row: Moved) -> str:
    where = f", to the {row.place}" if row.place else ""
    state = f" {row.state}" if row.state else ""
    made = [part for part in row.parts if part.amount > 0]
    if made:
        source = [part.code for part in row.parts if part.amount < 0]
        whence = f", from {listed(source)}" if source else ""
        return f"{_each(made)} put by{state}{where}{whence}"
    return f"{_codes(row)} put by{state}{where}"


def _counted(row: Moved) -> str:
    found = [f"{amount(part.left, part.unit)} of {_name(part)}" for part in _some(row)]
    return f"{listed(found)} found there" if found else f"{_codes(row)} counted"


def _dyed(row: Moved) -> str:
    made = [part for part in row.parts if part.amount > 0]
    return f"dyed: {_each(made)}{_kept_as(row)}; took {_took(row)}"


def _worked(word: str) -> Callable[[Moved], str]:
    def said(row: Moved) -> str:
        made = [part for part in row.parts if part.amount > 0]
        took = [part for part in row.parts if part.amount < 0]
        text = f"{_each(made)} {word}" if made else f"{_codes(row)} {word}"
        text += f" with {row.mordant}" if row.mordant and word == "mordanted" else ""
        return f"{text}; took {_each(took)}" if took else text

    return said


def _begun(row: Moved) -> str:
    aside = f"; set aside: {row.set_aside}" if row.set_aside else ""
    return f"{_gains(row)} begun{aside}"


def _dipped(row: Moved) -> str:
    if row.grade is not None:
        return f"{_codes(row)} dipped: strip {row.grade} of 5"
    if row.reading_mg_per_l is not None:
        return f"{_codes(row)}: test strip read {row.reading_mg_per_l:,.0f} mg/L"
    return f"{_codes(row)} dipped"


def _topped(row: Moved) -> str:
    return f"{_codes(row)} topped up with {_amounts(row)}, {_lefts(row)}"


def _strained(row: Moved) -> str:
    lost = [part for part in row.parts if part.amount < 0]
    return f"{_codes(row)} strained" + (f", {_lefts(row)}" if lost else "")


def _aside(row: Moved) -> str:
    return f"{_codes(row)} set aside: {row.set_aside or 'no reason given'}"


def _judged(row: Moved) -> str:
    if row.sound is None:
        return f"{_codes(row)} looked over again{_kept_as(row)}"
    return f"{_codes(row)} looked {'sound' if row.sound else 'bad'}"


def _kept_as(row: Moved) -> str:
    """What dyed fibre is kept as, and why."""
    return f", kept as {row.quality}: {row.came_out}" if row.quality else ""


def _went(row: Moved) -> str:
    said = {
        "iron": "had iron in it",
        "blank passed": "passed its blank swatch",
        "blank failed": "failed its blank swatch",
        "chipped": "chipped",
        "mended": "mended",
    }
    return f"{_codes(row)} {said.get(row.use, row.use)}"


def _corrected(row: Moved) -> str:
    return f"an entry put right: {_changes(row)}" if row.parts else "an entry taken back"


def _plainly(row: Moved) -> str:
    if row.parts:
        return f"{row.kind}: {_changes(row)}"
    return f"{_codes(row)}: {row.kind}"


def _just(words: str) -> Callable[[Moved], str]:
    return lambda row: f"{_codes(row)} {words}"


SENTENCES: dict[str, Callable[[Moved], str]] = {
    "receive": _received,
    "draw": _drawn,
    "tip out": _tipped,
    "put by": _put_by,
    "weigh again": _counted,
    "recount": _counted,
    "correct": _corrected,
    "dye": _dyed,
    "scour": _worked("scoured"),
    "mordant": _worked("mordanted"),
    "begin": _begun,
    "dip": _dipped,
    "top up": _topped,
    "strain": _strained,
    "keep at": _just("moved to another warmth"),
    "evaporate": lambda row: f"{_codes(row)} has evaporated some, {_lefts(row)}",
    "make bath": lambda row: f"{_gains(row)} made",
    "use bath": _just("used"),
    "set aside": _aside,
    "use again": _just("in use again"),
    "label": _just("labelled"),
    "judge": _judged,
    "arrive": _just("has arrived, or its day was set"),
    "check nest": _just("nests looked for"),
    "iron": _went,
    "clear": _went,
    "chip": _went,
    "swatch": _just("has a swatch in the book"),
    "read swatch": lambda row: "a swatch was read",
}


# -- parts of a sentence -----------------------------------------------------------------------


def _gains(row: Moved) -> str:
    return _each([part for part in row.parts if part.amount > 0]) or _codes(row)


def _took(row: Moved) -> str:
    return _each([part for part in row.parts if part.amount < 0]) or "nothing"


def _lefts(row: Moved) -> str:
    parts = _some(row)
    if len(parts) == 1:
        return f"{amount(parts[0].left, parts[0].unit)} left" if parts[0].left else "none left"
    return f"{listed(f'{amount(part.left, part.unit)} of {part.code}' for part in parts)} left"


def _amounts(row: Moved) -> str:
    return listed(amount(abs(part.amount), part.unit) for part in _some(row))


def _changes(row: Moved) -> str:
    return listed(
        f"{part.code} {'+' if part.amount > 0 else '−'}{amount(abs(part.amount), part.unit)}"
        for part in _some(row)
    )


def _each(parts: Sequence[Part]) -> str:
    """`1,180 g of AV-1116 (avocado stones)`; many are summed."""
    said = [
        f"{amount(abs(part.amount), part.unit)} of {_name(part)}" for part in parts[:PARTS_AT_MOST]
    ]
    rest = len(parts) - PARTS_AT_MOST
    return listed([*said, f"{rest} more"] if rest > 0 else said) if parts else ""


def _name(part: Part) -> str:
    what = part.what.strip()
    return part.code if what in ("", part.code, "liquor") else f"{part.code} ({what})"


def _codes(row: Moved) -> str:
    codes = [*(part.code for part in row.parts), *row.about]
    return listed(codes[:PARTS_AT_MOST]) or "an entry"


def _some(row: Moved) -> Sequence[Part]:
    return row.parts[:PARTS_AT_MOST]
