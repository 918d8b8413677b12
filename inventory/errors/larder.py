"""What the larder as a whole cannot do: the class of all refusals, and what passes."""

from __future__ import annotations

from inventory.errors.words import quoted
from inventory.science.saying import say


class LarderError(Exception):
    """Something that the shelves cannot do; `code` is for programs, the message for people."""

    code = "larder_error"


class NotKept(LarderError):
    """Something said that no table could keep."""

    code = "not_kept"

    def __init__(self, what: str, said: object, wrong: str, write: str) -> None:
        self.what, self.said = what, quoted(said)
        super().__init__(
            say(
                "{what}: {said} {wrong}. {write}",
                what=what.capitalize(),
                said=self.said,
                wrong=wrong,
                write=write,
            )
        )


class NotNow(LarderError):
    """Nothing asked was wrong; the same may be asked again later."""

    code = "not_now"


class Busy(NotNow):
    """Others were writing all the time; nothing was recorded."""

    code = "busy"

    def __init__(self, tries: int) -> None:
        self.tries = tries
        often = say(", {tries} tries", tries=tries) if tries > 1 else ""
        super().__init__(
            say(
                "The larder is busy: others were writing all the while{often}. Nothing was "
                "recorded; try again.",
                often=often,
            )
        )


class NoRoom(NotNow):
    """The disk under the larder is full, or cannot be written."""

    code = "no_room"

    def __init__(self) -> None:
        super().__init__(
            say(
                "The larder cannot be written: its disk is full or at fault. Nothing was "
                "recorded; make room and try again."
            )
        )


class NoTables(NotNow):
    """A database in which no table of ours was made yet."""

    code = "no_tables"

    def __init__(self) -> None:
        super().__init__(
            say("The larder has no shelves yet. Call python3 manage.py migrate, then ask again.")
        )


class OutOfReach(NotNow):
    """The database does not answer, or was lost on the way."""

    code = "out_of_reach"

    def __init__(self) -> None:
        super().__init__(
            say(
                "The larder does not answer. What was being recorded is there whole or not at "
                "all; enter the same again, it counts once."
            )
        )
