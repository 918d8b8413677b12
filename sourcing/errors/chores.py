"""What can go wrong with the chores of a day."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime

from inventory.errors import LarderError, on, quoted
from inventory.science.saying import say
from sourcing.week.words import day_in_words, listed


class NoSuchChore(LarderError):
    """A chore that the list of a day does not have."""

    code = "no_such_chore"

    def __init__(self, *, what: str, day: date, there: Iterable[str]) -> None:
        self.what, self.day = quoted(what), day
        names = [quoted(name) for name in there]
        do = (
            say("It has {there}.", there=listed(names))
            if names
            else say("It has none. Look at the day again.")
        )
        super().__init__(
            say(
                "{day} has no chore {what}. {do}",
                day=day_in_words(day),
                what=self.what,
                do=do,
            )
        )


class ChoreIsDone(LarderError):
    """A chore said to be done that was done before."""

    code = "chore_is_done"

    def __init__(self, *, what: str, at: datetime) -> None:
        self.what, self.at = quoted(what), at
        super().__init__(
            say(
                "{what}: done on {at}. If that was a mistake, say “not done after all” first.",
                what=self.what,
                at=on(at),
            )
        )


class ChoreStillToDo(LarderError):
    """A chore to be taken back that nobody said was done."""

    code = "chore_still_to_do"

    def __init__(self, *, what: str, day: date) -> None:
        self.what, self.day = quoted(what), day
        super().__init__(
            say(
                "{what} on {day}: nobody said that it is done. Look at the day again.",
                what=self.what,
                day=day_in_words(day),
            )
        )
