"""What can go wrong with jars and baths."""

from __future__ import annotations

from datetime import datetime

from inventory.errors.larder import LarderError
from inventory.errors.words import on
from inventory.science.saying import say


class NothingLeft(LarderError):
    """A lot of which nothing is left."""

    code = "nothing_left"

    def __init__(self, *, lot: str, what: str, at: datetime) -> None:
        self.lot, self.what, self.at = lot, what, at
        super().__init__(
            say("Lot {lot}, {what}: none left on {at}.", lot=lot, what=what, at=on(at))
        )


class NotAStrip(LarderError):
    """A dip that says nothing readable."""

    code = "not_a_strip"

    def __init__(self, grade: object) -> None:
        self.grade = grade
        super().__init__(
            say("{grade!r} is no strip grade. Give 1 (faint) to 5 (black), or mg/L.", grade=grade)
        )


class NoWhereTo(LarderError):
    """A tip-out that does not say where to."""

    code = "no_where_to"

    def __init__(self) -> None:
        super().__init__(say("Say where it was tipped out: compost, drain, held for collection."))
