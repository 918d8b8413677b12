"""What to see to this morning, each with the word and mark of its kind and its day."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from api.web.note.deeds import Deed, flag_deed
from inventory.science.cautions import Caution, cautions_for_jar
from inventory.science.facts import JarFacts
from inventory.science.saying import first_large, say
from sourcing.week.plan import Flag
from sourcing.week.words import day_within

# Kind of flag: the mark that is drawn, and the word beside it.
KINDS = {
    "use today": ("leaf", say("use today")),
    "past": ("leaf", say("past")),
    "dip": ("jar", say("dip")),
    "retest": ("jar", say("dip again")),
    "no label": ("jar", say("no label")),
    "bath ends": ("pot", say("bath ends")),
    "damp fibre": ("drop", say("damp")),
    "damp lot": ("drop", say("damp")),
    "ends before its use": ("leaf", say("ends too soon")),
    "room": ("room", say("room")),
    "put by": ("leaf", say("put by")),
    "pick-up": ("parcel", say("pick-up")),
    "pot": ("pot", say("pot")),
    "order": ("parcel", say("order")),
    "promise": ("hand", say("promise")),
}


AT_THE_JAR = ("dip", "retest")


@dataclass(frozen=True, slots=True)
class FlagLine:
    """One line of the morning."""

    mark: str
    word: str
    text: str
    when: str  # today, Tue, Mon 30 Nov; empty: whenever
    today: bool
    what: str  # code of the lot, jar, bath, pot or run
    deed: Deed  # the form that sees to it, filled
    cautions: tuple[Caution, ...]  # of the jar that is to be opened; each metal's once


def flag_lines(
    flags: Iterable[Flag], *, jars: Iterable[JarFacts], today: date, carried: str = ""
) -> tuple[FlagLine, ...]:
    """The morning's flags in their order."""
    metals, told = {jar.code: jar.metal for jar in jars}, set[str]()
    lines = []
    for flag in flags:
        metal = metals.get(flag.what, "") if flag.kind in AT_THE_JAR else ""
        lines.append(_line(flag, today, "" if metal in told else metal, carried))
        told.add(metal)
    return tuple(lines)


def _line(flag: Flag, today: date, metal: str, carried: str) -> FlagLine:
    mark, word = KINDS.get(flag.kind, ("leaf", flag.kind))
    when = "" if flag.by is None else day_within(flag.by, today)
    cautions = cautions_for_jar(metal) if metal else ()
    deed = flag_deed(flag, carried=carried)
    text = begun_large(flag.text)
    return FlagLine(mark, word, text, when, flag.by == today, flag.what, deed, cautions)


def begun_large(text: str) -> str:
    """A sentence with its first letter large."""
    return first_large(text)
