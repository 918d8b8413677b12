"""What can go wrong with an entry as such, whatever it says."""

from __future__ import annotations

from uuid import UUID

from inventory.errors import LarderError
from inventory.science.saying import say


class StillRecording(LarderError):
    """The same entry came a moment ago and is not answered yet."""

    code = "still_running"

    def __init__(self, entry: UUID) -> None:
        self.entry = entry
        super().__init__(
            say(
                "Entry {entry} came a moment ago and is still being recorded. Nothing is lost; "
                "send it again in a few seconds and you get its answer.",
                entry=entry,
            )
        )


class EntryClashes(LarderError):
    """The database has something already that rules an entry out, and no verb foresaw it."""

    code = "entry_clashes"

    def __init__(self, verb: str) -> None:
        self.verb = verb
        super().__init__(
            say(
                "Something of the same name, or said of the same moment, is there already, so "
                "“{verb}” was not recorded. Look at what is there, and give another code or "
                "moment.",
                verb=verb,
            )
        )


class NoSuchVerb(LarderError):
    """An entry says a verb that nobody knows."""

    code = "no_such_verb"

    def __init__(self, verb: str) -> None:
        self.verb = verb[:40]
        super().__init__(
            say(
                "Nothing is entered as “{verb}”. The verbs stand in the contract, one address "
                "each under /api/v1/entries/.",
                verb=self.verb,
            )
        )


class EntryUnknown(LarderError):
    """No entry of the studio has that id."""

    code = "entry_unknown"

    def __init__(self, entry: UUID) -> None:
        self.entry = entry
        super().__init__(
            say(
                "No entry {entry} was kept. If it was sent and never answered, send it again: "
                "it counts once.",
                entry=entry,
            )
        )


class NothingToSettle(LarderError):
    """An entry that does not need a look."""

    code = "nothing_to_settle"

    def __init__(self, entry: UUID, state: str) -> None:
        self.entry, self.state = entry, state
        super().__init__(
            say(
                "Entry {entry} is {state}; only one that needs a look can be settled. To put a "
                "recorded one right, enter a correction.",
                entry=entry,
                state=state,
            )
        )
