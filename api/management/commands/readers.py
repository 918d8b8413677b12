"""Door: who is told what by letter, and what goes out next."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management.base import CommandError, CommandParser

from api.asked import StudioUnknown, Unreadable, days_asked, moment_asked, studio_asked
from api.management.door import Door
from api.question import moment_now
from api.reminders.readers import kind_in_words, quiet_in_words, since_in_words
from api.reminders.words import words_of
from api.tables import make_ready
from sourcing.reminder_facts import reminder_facts
from sourcing.reminding.due import reminders_between
from sourcing.reminding.facts import ReminderFacts, Wish
from sourcing.week.words import days_in_words, moment_in_words


class Command(Door):
    help = "Who is told what by letter, what they have stopped, and what goes out next."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--at", metavar="MOMENT", help="such as 2026-11-23T07:30; now where not given"
        )
        parser.add_argument("--days", metavar="N", help="what goes out in so many days; 7")
        parser.add_argument("--studio", metavar="NAME", help="needed where there are several")

    def handle(self, *args: Any, **options: Any) -> None:
        make_ready()
        try:
            days = days_asked(options["days"])
            studio = studio_asked(options["studio"])
            zone = ZoneInfo(studio.zone)
            at = moment_asked(options["at"], zone) if options["at"] else moment_now()
        except (Unreadable, StudioUnknown) as error:
            raise CommandError(str(error)) from error
        facts = reminder_facts(studio, at=at)
        if not facts.wishes:
            self.stdout.write(f"{studio.name} writes to nobody yet.")
            return
        for wish in facts.wishes:
            self.stdout.write("\n".join(_reader(wish)))
        self.stdout.write(f"In {days_in_words(days)}, as things stand now:")
        for line in next_lines(facts, days=days):
            self.stdout.write(f"  {line}")


def next_lines(facts: ReminderFacts, *, days: int) -> Iterator[str]:
    """What goes out in so many days, one line each."""
    since, zone = facts.week.at, facts.week.zone
    for row in reminders_between(facts, since=since, until=since + timedelta(days=days)):
        subject = words_of(row, facts)[0]
        yield f"{moment_in_words(row.at, zone)}  {row.wish.reader}: {subject}"


def _reader(wish: Wish) -> Iterator[str]:
    """Who it is, then what is wanted and what was stopped."""
    of = f", for {wish.source}" if wish.source else ""
    quiet = f", {quiet_in_words(wish)}" if wish.quiet else ""
    yield f"{wish.reader} <{wish.address}>{of}, {since_in_words(wish)}{quiet}"
    for kind in wish.kinds:
        stands = "goes out" if wish.wants(kind) else "stopped"
        yield f"  {stands:<9} {kind_in_words(wish, kind)}"
