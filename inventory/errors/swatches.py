"""What can go wrong with a swatch and its readings."""

from __future__ import annotations

from inventory.errors.larder import LarderError
from inventory.science.saying import say


class NoSuchSwatch(LarderError):
    """A number that no swatch of the studio has."""

    code = "no_such_swatch"

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(
            say(
                "No swatch has the number {number}. Look at its tag, or keep it first.",
                number=number,
            )
        )


class SwatchTaken(LarderError):
    """A number that another swatch already has."""

    code = "swatch_taken"

    def __init__(self, number: int) -> None:
        self.number = number
        super().__init__(
            say(
                "There is a swatch {number} already. Give the new one its own number.",
                number=number,
            )
        )


class NotAReading(LarderError):
    """A reading that nobody could have read off a swatch."""

    code = "not_a_reading"

    def __init__(self, what: str, *, write: str) -> None:
        self.what = what
        super().__init__(
            say("That is no reading of {what}. Write {write}.", what=what, write=write)
        )
