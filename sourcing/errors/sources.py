"""What can go wrong with who gives what, and when."""

from __future__ import annotations

from datetime import date

from inventory.errors import LarderError
from inventory.science.saying import say
from sourcing.errors.words import day_said


class NoSuchSource(LarderError):
    """A name that no source of the studio has."""

    code = "no_such_source"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            say("No source is called {source}. Look at its name, or add it first.", source=source)
        )


class NoSourceThere(LarderError):
    """An address of a source that the studio does not have."""

    code = "no_source_there"

    def __init__(self, source: int) -> None:
        self.source = source
        super().__init__(
            say("No source of this studio is kept there. Look in the list of sources.")
        )


class TooMuchGiven(LarderError):
    """More hand-overs in the time asked for than one answer holds."""

    code = "too_much_given"

    def __init__(self, since: date, most: int) -> None:
        self.since, self.most = since.isoformat(), most
        super().__init__(
            say(
                "More than {most:,} hand-overs since {day} {since:%B %Y}. Say a later day.",
                most=most,
                day=since.day,
                since=since,
            )
        )


class SourceTaken(LarderError):
    """A name that another source already has."""

    code = "source_taken"

    def __init__(self, source: str) -> None:
        self.source = source
        super().__init__(
            say(
                "There is a source called {source} already. Give the new one a name of its own.",
                source=source,
            )
        )


class NoSuchAgreement(LarderError):
    """Something that a source never agreed to give."""

    code = "no_such_agreement"

    def __init__(self, *, source: str, gives: str) -> None:
        self.source, self.gives = source, gives
        super().__init__(
            say(
                "{source} has not agreed to give {gives}. Agree what it gives first.",
                source=source,
                gives=gives or "anything",
            )
        )


class NoPermission(LarderError):
    """A permission taken back that nobody had given."""

    code = "no_permission"

    def __init__(self, *, source: str, gives: str) -> None:
        self.source, self.gives = source, gives
        super().__init__(
            say(
                "No permission is on record for {gives} from {source}, so there is none to "
                "withdraw.",
                gives=gives,
                source=source,
            )
        )


class WrongWayRound(LarderError):
    """A last day before the first."""

    code = "wrong_way_round"

    def __init__(self, first: date, last: date) -> None:
        self.first, self.last = first, last
        super().__init__(
            say(
                "{day_said} comes before {day_said_2}. Give the earlier day first, or look at "
                "the years.",
                day_said=day_said(last),
                day_said_2=day_said(first),
            )
        )


class TooManyDays(LarderError):
    """More single days, or closed stretches of days, than one agreement holds."""

    code = "too_many_days"

    def __init__(self, days: int, *, most: int) -> None:
        self.days, self.most = days, most
        super().__init__(
            say(
                "That makes {days} days or stretches of days; an agreement holds {most}. Say a "
                "weekday, or one longer stretch.",
                days=days,
                most=most,
            )
        )
