"""What stands overnight and where, and when the last flame goes out."""

from __future__ import annotations

from datetime import date

from inventory.science.saying import say
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week
from sourcing.week.words import moment_in_words


def tonight(facts: WeekFacts, week: Week, day: date) -> tuple[str, ...]:
    """The evening in lines, pots first."""
    zone, lines, out = facts.zone, [], []
    for answer in week.answers:
        for row in answer.steps:
            start, held = row.start.astimezone(zone), row.held_until.astimezone(zone)
            if row.ring and start.date() == day:
                out.append(max(row.end.astimezone(zone), start))
            if row.vessel and start.date() <= day < held.date() and row.held_until > facts.at:
                lines.append(
                    say(
                        "{vessel}: {shade} stands in {step} till {held}",
                        vessel=row.vessel,
                        shade=answer.shade,
                        step=row.step,
                        held=moment_in_words(held, zone),
                    )
                )
    said = say("Light nothing overnight.")
    if out:
        said = say("The last flame is out at {out:%H:%M}; light nothing overnight.", out=max(out))
    return (*dict.fromkeys(lines), said)
