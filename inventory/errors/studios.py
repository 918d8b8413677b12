"""What can go wrong with a studio, its clock and its money."""

from __future__ import annotations

from datetime import datetime

from inventory.errors.larder import LarderError
from inventory.science.saying import say


class NoZone(LarderError):
    """A moment without a time zone."""

    code = "no_zone"

    def __init__(self, at: datetime) -> None:
        self.at = at
        super().__init__(
            say("{at:%d %B %Y %H:%M} has no time zone. Say where it was that time.", at=at)
        )


class StudioTaken(LarderError):
    """A name that another studio has."""

    code = "studio_taken"

    def __init__(self, studio: str) -> None:
        self.studio = studio
        super().__init__(
            say("There is a studio {studio} already. Take another name.", studio=studio)
        )


class NoSuchZone(LarderError):
    """No such time zone."""

    code = "zone_unknown"

    def __init__(self, zone: str) -> None:
        self.zone = zone[:60]
        super().__init__(
            say(
                "There is no time zone {zone}. Write its full name, such as Europe/London.",
                zone=self.zone,
            )
        )


class NotMoney(LarderError):
    """No code of a currency."""

    code = "not_money"

    def __init__(self, currency: str) -> None:
        self.currency = currency[:20]
        super().__init__(
            say(
                "{currency} is no currency. Write three letters, such as GBP.",
                currency=self.currency,
            )
        )
