"""Letters in the words of the trade: a subject of one line and a plain text.

What is worked out or guessed says so; what was counted or weighed does not.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date
from fractions import Fraction
from typing import Any

from inventory.science.figure_words import shown_value, words_for
from inventory.science.keeping import LastGood
from sourcing.reminder_facts import Given
from sourcing.reminding.due import Reminder
from sourcing.reminding.facts import (
    BathEnds,
    CardOut,
    DipDue,
    LotEnds,
    OrderBy,
    ReminderFacts,
)
from sourcing.week.facts import Meeting
from sourcing.week.freezer import is_frozen_to_keep
from sourcing.week.words import (
    amount,
    day_in_words,
    days_in_words,
    grams,
    kilos,
    listed,
)

LONGEST_SUBJECT = 150
Words = tuple[str, str]  # subject, text


def words_of(row: Reminder, facts: ReminderFacts, *, given: Sequence[Given] = ()) -> Words:
    """Subject and text of a reminder; of a morning sheet the subject alone.

    Parameters
    ----------
    given : what the source of a pick-up has given so far; empty for the others
    """
    thing, day = row.what.thing, row.what.day
    if thing is None:
        return fitting(f"{facts.week.studio} · {day_in_words(day)}: the morning sheet", "")
    if isinstance(thing, Meeting):
        return fitting(*_meeting(thing, given, facts, day))
    return fitting(*WORDS[type(thing)](thing, facts, day))


def fitting(subject: str, text: str) -> Words:
    """A subject in one line that is not too long, signs that nobody sees left out."""
    line = "".join(sign if sign.isprintable() else " " for sign in subject)
    if len(line) > LONGEST_SUBJECT:
        line = f"{line[: LONGEST_SUBJECT - 1]}…"
    return line, text


# -- the day before a pick-up --------------------------------------------------------------------


def _meeting(thing: Meeting, given: Sequence[Given], facts: ReminderFacts, day: date) -> Words:
    """One line: day, hour, thing, the clean tub, thanks with what was saved so far."""
    when = f"{day_in_words(day)}, {thing.at.astimezone(facts.week.zone):%H:%M}"
    what = listed(thing.gives)
    text = f"{when}: we come for the {what} and bring a clean tub. {_thanks(thing, given, facts)}"
    return f"{when}: {what} for {facts.week.studio}", f"{text}\n"


def _thanks(thing: Meeting, given: Sequence[Given], facts: ReminderFacts) -> str:
    saved = [_saved(row, facts, day=facts.today) for row in given if row.pieces or row.weighed_mg]
    if not saved:
        return "Thank you for saving them."
    return f"Thank you: {listed(saved)} saved so far."


def _saved(row: Given, facts: ReminderFacts, *, day: date) -> str:
    """Counted pieces with what they come to, weighed ones as weighed.

    >>> _saved(Given("onion skins", 3, 0, 590_000), None, day=date(2026, 11, 23))
    '590 g of onion skins'
    """
    if not row.pieces:
        return f"{_weight(row.weighed_mg)} of {row.gives}"
    counted = f"{row.pieces:,} {row.gives}"
    piece = facts.week.figures.find(row.gives, "piece_mass_g", on=day) if facts else None
    if piece is None:
        more = f" and {_weight(row.weighed_mg)} more by weight" if row.weighed_mg else ""
        return f"{counted}{more}"
    mg = round(Fraction(piece.value) * 1000 * row.pieces) + row.weighed_mg
    if row.weighed_mg:
        return f"about {_weight(mg)} of {row.gives} ({row.pieces:,} counted, the rest weighed)"
    return f"{counted}, about {_weight(mg)},"


def _weight(mg: int) -> str:
    """In grams below a kilo, then in kilos to the tenth.

    >>> _weight(590_000), _weight(25_704_000)
    ('590 g', '25.7 kg')
    """
    return grams(mg) if mg < 1_000_000 else kilos(round(mg, -5))


# -- jars ----------------------------------------------------------------------------------------


def _dip(thing: DipDue, facts: ReminderFacts, day: date) -> Words:
    if thing.again:
        why = "nobody has dipped it since the days that count without a strip ran out"
        if thing.strip_age_days is not None:
            why = f"its last strip is {days_in_words(thing.strip_age_days)} old and counts no more"
        text = f"Dip a strip in {thing.jar} again: {why}. Until then no run counts on it.\n"
        return f"Dip {thing.jar} again, from {day_in_words(day)}", text
    age = "" if thing.age_days is None else f": day {thing.age_days}"
    lines = [f"Dip a strip in {thing.jar}: it is time for it from {day_in_words(day)} on."]
    if thing.grade is not None:
        lines.append(f"The last strip was {thing.grade}, {thing.least_grade} is wanted.")
    lines.append(f"A strip of {thing.least_grade} or more makes it usable.")
    if thing.by_clock_on is not None:
        guess = "" if thing.by_rule else ", as worked out from its vinegar and the shed's warmth"
        lines.append(
            f"By the clock alone it is usable on {day_in_words(thing.by_clock_on)}{guess}."
        )
    return f"Dip {thing.jar}{age}", " ".join(lines) + "\n"


# -- lots and baths ------------------------------------------------------------------------------


def _lot_ends(thing: LotEnds, facts: ReminderFacts, day: date) -> Words:
    lot = thing.lot
    what = f"{lot.code} ({lot.dyestuff}, {grams(lot.left_mg)})"
    do = "Use"
    if lot.stay.state == "fresh":
        do = "Freeze or use" if is_frozen_to_keep(facts.week, lot) else "Dry or use"
    kept = f" {lot.stay.state} in the {lot.stay.place_kind}" if lot.stay.place_kind else ""
    text = f"{do} {what}: {day_in_words(day)} is its last good day, kept{kept} as it is now."
    return (
        f"{lot.code} ({lot.dyestuff}): last good day {day_in_words(day)}",
        f"{text} {_reckoned(thing.good)}\n",
    )


def _bath_ends(thing: BathEnds, facts: ReminderFacts, day: date) -> Words:
    bath = thing.bath
    what = f"{bath.code} ({bath.what}, {amount(bath.left_ul, 'µL')})"
    text = f"Use {what} or tip it out: {day_in_words(day)} is its last good day."
    return (
        f"{bath.code} ({bath.what}): last good day {day_in_words(day)}",
        f"{text} {_reckoned(thing.good)}\n",
    )


def _reckoned(good: LastGood) -> str:
    """What the day rests on: somebody's eye, the studio's own figure, or one from elsewhere."""
    if good.by_eye:
        return f"It was looked at and found {good.by_eye}."
    figure = good.figure
    words = words_for(figure.name)
    said = f"{figure.item}, {words.words}: {shown_value(figure.name, figure.value)} {words.unit}"
    if figure.own:
        return f"Reckoned by the studio's own figure ({said.strip()})."
    return f"Reckoned by a figure from elsewhere ({said.strip()}; {figure.basis}): look at it."


# -- orders and light tests ----------------------------------------------------------------------


def _order_by(thing: OrderBy, facts: ReminderFacts, day: date) -> Words:
    sold = " as it is sold, unscoured" if thing.unscoured else ""
    text = (
        f"Order {thing.fibre} for run {thing.run} from {thing.supplier} by {day_in_words(day)}: "
        f"short by {grams(thing.short_mg)}{sold}, needed by {day_in_words(thing.needed_by)}. "
        "Ordered later it comes too late, by the working days that the supplier says it takes."
    )
    return (
        f"Order {thing.fibre} by {day_in_words(day)} from {thing.supplier} (run {thing.run})",
        f"{text}\n",
    )


def _card_out(thing: CardOut, facts: ReminderFacts, day: date) -> Words:
    run, wish = thing.run, thing.wish
    read = "no reading yet" if wish.reading is None else f"reading so far {wish.reading}"
    text = (
        f"Take in the light test of {run.shade} (run {run.code}) and read it: its "
        f"{days_in_words(wish.days)} are out on {day_in_words(day)}. {wish.wanted} is wanted, "
        f"{read}; a reading counts from that day on."
    )
    return f"Light test of {run.shade} ({run.code}): days out {day_in_words(day)}", f"{text}\n"


WORDS: dict[type[Any], Callable[[Any, ReminderFacts, date], Words]] = {
    DipDue: _dip,
    LotEnds: _lot_ends,
    BathEnds: _bath_ends,
    OrderBy: _order_by,
    CardOut: _card_out,
}
