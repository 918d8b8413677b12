"""Which letters of a studio fall due, with their words; and whether one is still wanted."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from api.reminders.letter import Letter
from api.reminders.stopping import stop_path
from api.reminders.words import words_of
from api.sheet import sheet
from api.source_links.words import unseen_words
from api.tongue.reader import studio_reads
from api.tongue.speaking import aloud
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.outlook import week_at
from sourcing.reminder_facts import Given, given_so_far, reminder_facts
from sourcing.reminders import wishes_of
from sourcing.reminding import due as reminding
from sourcing.reminding.due import Reminder
from sourcing.reminding.facts import ReminderFacts

SHEET_DAYS = 7
LONGEST_SHEET = 50_000  # characters; a week of twenty runs has some eight thousand
CUT = "\n… The rest stands on the page.\n"
OVER = say("This sheet is of no use any more.\n")


def letters_due(studio: Studio, *, since: datetime, until: datetime) -> tuple[Letter, ...]:
    """The letters that fall due from a moment until another, in order.

    Parameters
    ----------
    studio : whose
    since, until : aware; `until` is the moment of looking, which facts are read for, and is not
        included
    """
    wishes = wishes_of(studio)
    if not any(set(wish.kinds) - wish.stopped for wish in wishes):
        return ()
    facts = reminder_facts(studio, at=until, wishes=wishes)
    rows = reminding.reminders_between(facts, since=since, until=until)
    return tuple(letters_of(studio, rows, facts))


def letters_of(studio: Studio, rows: Iterable[Reminder], facts: ReminderFacts) -> Iterable[Letter]:
    """Reminders with their words; a sheet is worked out once for all who get it."""
    rows = list(rows)
    given = _given(studio, rows, facts)
    sheets: dict[datetime, str] = {}
    for row in rows:
        with studio_reads(studio):
            subject, text = map(aloud, words_of(row, facts, given=given.get(row.what.source, ())))
        if row.kind == "morning sheet":
            text = _sheet(studio, row, facts, sheets)
        yield Letter(
            key=row.key,
            kind=row.kind,
            to=row.wish.address,
            at=row.at,
            until=row.until,
            subject=subject,
            text=text,
            stop=stop_path(row.wish.mark, row.kind),
        )


def still_wanted(studio: Studio, letter: Letter, *, at: datetime) -> bool:
    """Whether a letter is still to go out: its reader did not stop it, and it is still true."""
    if letter.kind == "new password":
        return True  # Its link ends by itself.
    wishes = wishes_of(studio)
    wish = reminding.reader_of(letter.key, wishes)
    if wish is None or wish.address != letter.to or not wish.wants(letter.kind):
        return False
    if letter.kind == "morning sheet":
        return True  # The morning is the same, whatever became of it since.
    facts = reminder_facts(studio, at=at, wishes=(wish,))
    return reminding.still_wanted(facts, letter.key, at=letter.at)


def _given(
    studio: Studio, rows: Iterable[Reminder], facts: ReminderFacts
) -> dict[str, tuple[Given, ...]]:
    sources = {row.what.source for row in rows if row.what.source}
    return given_so_far(studio, sources, at=facts.week.at) if sources else {}


def _wrote(studio: Studio, at: datetime) -> str:
    """What sources wrote and nobody has looked at yet, a line each; empty where nothing is new."""
    rows = unseen_words(studio, at=at)
    if not rows:
        return ""
    lines = [aloud(say("They wrote:")), *(f"  {aloud(row.text)}" for row in rows)]
    return "\n".join(lines) + "\n\n"


def _sheet(studio: Studio, row: Reminder, facts: ReminderFacts, sheets: dict[datetime, str]) -> str:
    """The sheet of the reader's morning; one that comes too late is not worked out."""
    if row.until <= facts.week.at:
        return aloud(OVER)
    at = row.wanted_at
    if at not in sheets:
        week = week_at(studio, at=at, days=SHEET_DAYS)
        with studio_reads(studio):
            sheets[at] = _wrote(studio, at) + sheet(week)
    text = sheets[at]
    return text if len(text) <= LONGEST_SHEET else text[: LONGEST_SHEET - len(CUT)] + CUT
