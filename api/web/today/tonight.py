"""What stands overnight and where, and when the last flame goes out."""

from __future__ import annotations

from datetime import date

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
                    f"{row.vessel}: {answer.shade} stands in {row.step} till "
                    f"{moment_in_words(held, zone)}"
                )
    last = f"The last flame is out at {max(out):%H:%M}; " if out else ""
    return (*dict.fromkeys(lines), f"{last}{'l' if last else 'L'}ight nothing overnight.")
