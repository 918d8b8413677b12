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
from inventory.science.saying import joined, say
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
        return fitting(
            say(
                "{studio} · {day}: the morning sheet",
                studio=facts.week.studio,
                day=day_in_words(day),
            ),
            "",
        )
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
    when = say(
        "{day}, {astimezone:%H:%M}",
        day=day_in_words(day),
        astimezone=thing.at.astimezone(facts.week.zone),
    )
    what = listed(thing.gives)
    text = say(
        "{when}: we come for the {what} and bring a clean tub. {thanks}",
        when=when,
        what=what,
        thanks=_thanks(thing, given, facts),
    )
    return say(
        "{when}: {what} for {studio}", when=when, what=what, studio=facts.week.studio
    ), f"{text}\n"


def _thanks(thing: Meeting, given: Sequence[Given], facts: ReminderFacts) -> str:
    saved = [_saved(row, facts, day=facts.today) for row in given if row.pieces or row.weighed_mg]
    if not saved:
        return say("Thank you for saving them.")
    return say("Thank you: {saved} saved so far.", saved=listed(saved))


def _saved(row: Given, facts: ReminderFacts, *, day: date) -> str:
    """Counted pieces with what they come to, weighed ones as weighed.

    >>> _saved(Given("onion skins", 3, 0, 590_000), None, day=date(2026, 11, 23))
    '590 g of onion skins'
    """
    if not row.pieces:
        return say("{weight} of {gives}", weight=_weight(row.weighed_mg), gives=row.gives)
    counted = say("{pieces:,} {gives}", pieces=row.pieces, gives=row.gives)
    piece = facts.week.figures.find(row.gives, "piece_mass_g", on=day) if facts else None
    if piece is None:
        more = (
            say(" and {weight} more by weight", weight=_weight(row.weighed_mg))
            if row.weighed_mg
            else ""
        )
        return counted + more
    mg = round(Fraction(piece.value) * 1000 * row.pieces) + row.weighed_mg
    if row.weighed_mg:
        return say(
            "about {weight} of {gives} ({pieces:,} counted, the rest weighed)",
            weight=_weight(mg),
            gives=row.gives,
            pieces=row.pieces,
        )
    return say("{counted}, about {weight},", counted=counted, weight=_weight(mg))


def _weight(mg: int) -> str:
    """In grams below a kilo, then in kilos to the tenth.

    >>> _weight(590_000), _weight(25_704_000)
    ('590 g', '25.7 kg')
    """
    return grams(mg) if mg < 1_000_000 else kilos(round(mg, -5))


# -- jars ----------------------------------------------------------------------------------------


def _dip(thing: DipDue, facts: ReminderFacts, day: date) -> Words:
    if thing.again:
        why = say("nobody has dipped it since the days that count without a strip ran out")
        if thing.strip_age_days is not None:
            why = say(
                "its last strip is {strip_age_days} old and counts no more",
                strip_age_days=days_in_words(thing.strip_age_days),
            )
        text = say(
            "Dip a strip in {jar} again: {why}. Until then no run counts on it.\n",
            jar=thing.jar,
            why=why,
        )
        return say("Dip {jar} again, from {day}", jar=thing.jar, day=day_in_words(day)), text
    age = "" if thing.age_days is None else say(": day {age_days}", age_days=thing.age_days)
    lines = [
        say(
            "Dip a strip in {jar}: it is time for it from {day} on.",
            jar=thing.jar,
            day=day_in_words(day),
        )
    ]
    if thing.grade is not None:
        lines.append(
            say(
                "The last strip was {grade}, {least_grade} is wanted.",
                grade=thing.grade,
                least_grade=thing.least_grade,
            )
        )
    lines.append(
        say("A strip of {least_grade} or more makes it usable.", least_grade=thing.least_grade)
    )
    if thing.by_clock_on is not None:
        guess = (
            "" if thing.by_rule else say(", as worked out from its vinegar and the shed's warmth")
        )
        lines.append(
            say(
                "By the clock alone it is usable on {by_clock_on}{guess}.",
                by_clock_on=day_in_words(thing.by_clock_on),
                guess=guess,
            )
        )
    return say("Dip {jar}{age}", jar=thing.jar, age=age), joined(" ", lines) + "\n"


# -- lots and baths ------------------------------------------------------------------------------


def _lot_ends(thing: LotEnds, facts: ReminderFacts, day: date) -> Words:
    lot = thing.lot
    what = say(
        "{code} ({dyestuff}, {left_mg})",
        code=lot.code,
        dyestuff=lot.dyestuff,
        left_mg=grams(lot.left_mg),
    )
    do = "Use"
    if lot.stay.state == "fresh":
        do = "Freeze or use" if is_frozen_to_keep(facts.week, lot) else "Dry or use"
    kept = (
        say(" {state} in the {place_kind}", state=lot.stay.state, place_kind=lot.stay.place_kind)
        if lot.stay.place_kind
        else ""
    )
    text = say(
        "{do} {what}: {day} is its last good day, kept{kept} as it is now.",
        do=do,
        what=what,
        day=day_in_words(day),
        kept=kept,
    )
    return (
        say(
            "{code} ({dyestuff}): last good day {day}",
            code=lot.code,
            dyestuff=lot.dyestuff,
            day=day_in_words(day),
        ),
        say("{text} {reckoned}\n", text=text, reckoned=_reckoned(thing.good)),
    )


def _bath_ends(thing: BathEnds, facts: ReminderFacts, day: date) -> Words:
    bath = thing.bath
    what = say(
        "{code} ({what}, {left_ul})",
        code=bath.code,
        what=bath.what,
        left_ul=amount(bath.left_ul, "µL"),
    )
    text = say(
        "Use {what} or tip it out: {day} is its last good day.", what=what, day=day_in_words(day)
    )
    return (
        say(
            "{code} ({what}): last good day {day}",
            code=bath.code,
            what=bath.what,
            day=day_in_words(day),
        ),
        say("{text} {reckoned}\n", text=text, reckoned=_reckoned(thing.good)),
    )


def _reckoned(good: LastGood) -> str:
    """What the day rests on: somebody's eye, the studio's own figure, or one from elsewhere."""
    if good.by_eye:
        return say("It was looked at and found {by_eye}.", by_eye=good.by_eye)
    figure = good.figure
    words = words_for(figure.name)
    said = say(
        "{item}, {words}: {shown_value} {unit}",
        item=figure.item,
        words=words.words,
        shown_value=shown_value(figure.name, figure.value),
        unit=words.unit,
    )
    if figure.own:
        return say("Reckoned by the studio's own figure ({said}).", said=said.strip())
    return say(
        "Reckoned by a figure from elsewhere ({said}; {basis}): look at it.",
        said=said.strip(),
        basis=figure.basis,
    )


# -- orders and light tests ----------------------------------------------------------------------


def _order_by(thing: OrderBy, facts: ReminderFacts, day: date) -> Words:
    sold = say(" as it is sold, unscoured") if thing.unscoured else ""
    text = say(
        "Order {fibre} for run {run} from {supplier} by {day}: short by {short_mg}{sold}, "
        "needed by {needed_by}. Ordered later it comes too late, by the working days that the "
        "supplier says it takes.",
        fibre=thing.fibre,
        run=thing.run,
        supplier=thing.supplier,
        day=day_in_words(day),
        short_mg=grams(thing.short_mg),
        sold=sold,
        needed_by=day_in_words(thing.needed_by),
    )
    return (
        say(
            "Order {fibre} by {day} from {supplier} (run {run})",
            fibre=thing.fibre,
            day=day_in_words(day),
            supplier=thing.supplier,
            run=thing.run,
        ),
        f"{text}\n",
    )


def _card_out(thing: CardOut, facts: ReminderFacts, day: date) -> Words:
    run, wish = thing.run, thing.wish
    read = (
        "no reading yet"
        if wish.reading is None
        else say("reading so far {reading}", reading=wish.reading)
    )
    text = say(
        "Take in the light test of {shade} (run {code}) and read it: its {days} are out on "
        "{day}. {wanted} is wanted, {read}; a reading counts from that day on.",
        shade=run.shade,
        code=run.code,
        days=days_in_words(wish.days),
        day=day_in_words(day),
        wanted=wish.wanted,
        read=read,
    )
    return say(
        "Light test of {shade} ({code}): days out {day}",
        shade=run.shade,
        code=run.code,
        day=day_in_words(day),
    ), f"{text}\n"


WORDS: dict[type[Any], Callable[[Any, ReminderFacts, date], Words]] = {
    DipDue: _dip,
    LotEnds: _lot_ends,
    BathEnds: _bath_ends,
    OrderBy: _order_by,
    CardOut: _card_out,
}
