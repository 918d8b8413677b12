"""What can go wrong with tubs that stand with a source."""

from __future__ import annotations

from datetime import datetime

from inventory.errors import LarderError, on
from inventory.science.saying import say


class TubsNotThere(LarderError):
    """More tubs taken from a source than stood there."""

    code = "tubs_not_there"

    def __init__(self, *, source: str, asked: int, there: int, at: datetime) -> None:
        self.source, self.asked, self.there, self.at = source, asked, there, at
        tubs = "tub" if asked == 1 else "tubs"
        super().__init__(
            say(
                "{asked} {tubs} taken from {source} on {at}, and {there} stood there. Take "
                "fewer, or write down first what was left there.",
                asked=asked,
                tubs=tubs,
                source=source,
                at=on(at),
                there=there,
            )
        )


class TubsSaidBefore(LarderError):
    """Another number of tubs for a move that is on record."""

    code = "tubs_said_before"

    def __init__(self, *, at: datetime, how: str, tubs: int) -> None:
        self.at, self.how, self.tubs = at, how, tubs
        said = "tub is" if tubs == 1 else "tubs are"
        super().__init__(
            say(
                "{tubs} {said} on record as {how} on {at}. Give another moment for more.",
                tubs=tubs,
                said=said,
                how=how,
                at=on(at),
            )
        )
