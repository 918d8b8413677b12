"""One card of the day: what stands on it, and the words that every card uses."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime

from api.web.note.deeds import Deed
from inventory.science.cautions import Caution
from inventory.science.saying import say
from sourcing.week.words import day_in_words

Fields = tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Tap:
    """A button that records an entry as it was planned."""

    words: str
    verb: str
    fields: Fields  # hidden
    quiet: bool = False  # not what the card is about


@dataclass(frozen=True, slots=True)
class LoadLine:
    """One pot-load: the pot, and what goes on in it."""

    where: str
    what: str


@dataclass(frozen=True, slots=True)
class StepCard:
    """One step of one run, or what else the day holds, ready to show."""

    at: str  # 09:00
    heading: str
    until: str = ""  # 10:48; empty: no time of its own
    run: str = ""
    shade: str = ""
    state: str = ""  # done, late, now; empty: still to come
    word: str = ""  # the state in a word, with its hour
    loads: tuple[LoadLine, ...] = ()
    takes: tuple[str, ...] = ()
    hands: str = ""
    there: str = ""  # until when somebody has to be there
    stays: str = ""  # till when it stands afterwards
    cautions: tuple[Caution, ...] = ()
    sheet: str = ""  # address of the run's sheet
    done: Fields = ()  # hidden fields of *Done*; empty: none here
    begin: Fields = ()  # of *Begun*, for a run's first step
    undo: Fields = ()  # of *Not done after all*
    otherwise: str = ""  # address of the whole form
    taps: tuple[Tap, ...] = ()  # entries of other verbs, where nothing differed
    leads: Deed | None = None  # another form


def minutes_of_hands(minutes: int) -> str:
    """Minutes of hands, where there are any."""
    return say("{minutes} min of hands", minutes=minutes) if minutes else ""


def done_said(at: datetime, day: date) -> str:
    """The word of what is done, with its hour."""
    return say("done {hour}", hour=hour(at, day))


def hour(at: datetime, day: date) -> str:
    """The hour, with its day where that is another."""
    return (
        f"{at:%H:%M}"
        if at.date() == day
        else say("{date} {at:%H:%M}", date=day_in_words(at.date()), at=at)
    )
