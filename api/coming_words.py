"""What will come, in words that page and JSON share: what it rests on, what may be hoped for."""

from __future__ import annotations

from inventory.science.saying import say
from sourcing.week.coming import Coming, RestsOn
from sourcing.week.facts import PickUpExpected
from sourcing.week.words import day_in_words, grams

GUESS = say("a forecast, not on the shelf")


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
        seen = say("no visit is on record") if not row.visits else say("its visits brought nothing")
        return say(
            "{source}: {seen} and nothing was promised, so nothing is counted on.",
            source=row.source,
            seen=seen,
        )
    if not row.visits:
        return say(
            "{source}: no visit is on record yet; it rests on what the source promised.",
            source=row.source,
        )
    if row.thin:
        more = say("it rests on that and on what the source promised") if row.promised else (
            say("it rests on that alone"))  # fmt: skip
        return say("{source}: one visit is on record; {more}.", source=row.source, more=more)
    missed = (
        say(", {missed} of them missed", missed=row.missed)
        if row.missed
        else say(", none of them missed")
    )
    return say(
        "{source}: it rests on {visits} visits on record{missed}.",
        source=row.source,
        visits=row.visits,
        missed=missed,
    )


def gist_of(row: Coming) -> str:
    """How much will have come by the last day, as a sentence; why nothing is said, else."""
    if row.unweighed:
        return say(
            "{dyestuff} come by the piece and nobody knows what a piece weighs: weigh a count "
            "once, or write a mass of one piece in the studio's rules.",
            dyestuff=row.dyestuff,
        )
    if not row.rests_on:
        return say("Nothing may be fetched: no leave is on record.")
    if not row.days:
        return say("Nothing is expected in these four weeks.")
    last = row.days[-1]
    return say(
        "By {day} likely {middle}, nine times in ten at least {worst}: {guess}.",
        day=day_in_words(last.day),
        middle=grams(last.middle),
        worst=grams(last.worst),
        guess=GUESS,
    )
