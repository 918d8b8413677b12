"""What will come, in words that page and JSON share: what it rests on, what may be hoped for."""

from __future__ import annotations

from sourcing.week.coming import Coming, RestsOn
from sourcing.week.facts import PickUpExpected
from sourcing.week.words import day_in_words, grams

GUESS = "a forecast, not on the shelf"


def state_of(row: PickUpExpected) -> str:
    """told of, likely, missed or shut."""
    if row.missed:
        return "missed"
    if row.confirmed_mg is not None:
        return "told of"
    return "likely" if row.in_window else "shut"


def rests_in_words(row: RestsOn) -> str:
    """What the forecast of one source rests on, as a sentence."""
    if row.silent:
        seen = "no visit is on record" if not row.visits else "its visits brought nothing"
        return f"{row.source}: {seen} and nothing was promised, so nothing is counted on."
    if not row.visits:
        return f"{row.source}: no visit is on record yet; it rests on what the source promised."
    if row.thin:
        more = "it rests on that and on what the source promised" if row.promised else (
            "it rests on that alone")  # fmt: skip
        return f"{row.source}: one visit is on record; {more}."
    missed = f", {row.missed} of them missed" if row.missed else ", none of them missed"
    return f"{row.source}: it rests on {row.visits} visits on record{missed}."


def gist_of(row: Coming) -> str:
    """How much will have come by the last day, as a sentence; why nothing is said, else."""
    if row.unweighed:
        return (
            f"{row.dyestuff} come by the piece and nobody knows what a piece weighs: "
            "weigh a count once, or write a mass of one piece in the studio's rules."
        )
    if not row.rests_on:
        return "Nothing may be fetched: no leave is on record."
    if not row.days:
        return "Nothing is expected in these four weeks."
    last = row.days[-1]
    return (
        f"By {day_in_words(last.day)} likely {grams(last.middle)}, nine times in ten at least "
        f"{grams(last.worst)}: {GUESS}."
    )
