"""What can go wrong with a pick-up."""

from __future__ import annotations

from datetime import date

from inventory.errors import LarderError
from inventory.science.saying import say
from sourcing.errors.words import day_said


class TwoAmounts(LarderError):
    """What a source expects to give, said twice over."""

    code = "two_amounts"

    def __init__(self) -> None:
        super().__init__(say("Say what is likely to come by weight or by count: one of the two."))


class NoPieceMass(LarderError):
    """A count of pieces of which nobody knows what one weighs."""

    code = "no_piece_mass"

    def __init__(self, dyestuff: str) -> None:
        self.dyestuff = dyestuff
        super().__init__(
            say(
                "Nobody knows what one piece of {dyestuff} weighs. Weigh what came, or write "
                "the mass of a piece in the studio's rules.",
                dyestuff=dyestuff,
            )
        )


class CutLater(LarderError):
    """Something said to be cut after it was handed over."""

    code = "cut_later"

    def __init__(self, *, gives: str, cut_on: date, came_on: date) -> None:
        self.gives, self.cut_on, self.came_on = gives, cut_on, came_on
        super().__init__(
            say(
                "{gives} came on {day_said} and cannot have been cut on {day_said_2}. Look at "
                "the dates again.",
                gives=gives,
                day_said=day_said(came_on),
                day_said_2=day_said(cut_on),
            )
        )


class NoNestCheck(LarderError):
    """A hedge cut in the nesting season, and nobody looked for nests."""

    code = "no_nest_check"

    def __init__(self, *, gives: str, cut_on: date, season: str) -> None:
        self.gives, self.cut_on, self.season = gives, cut_on, season
        super().__init__(
            say(
                "{gives} cut on {day_said} was cut in the nesting season here ({season}). Say "
                "who looked the hedge over for nests before the cut, and on which day.",
                gives=gives,
                day_said=day_said(cut_on),
                season=season,
            )
        )


class NestCheckElsewhen(LarderError):
    """A look for nests that was after the cut, or too long before it."""

    code = "nest_check_elsewhen"

    def __init__(self, *, gives: str, cut_on: date, looked_on: date, days: int) -> None:
        self.gives, self.cut_on, self.looked_on, self.days = gives, cut_on, looked_on, days
        counts = say("at most {days} days before it", days=days) if days else say("on the same day")
        super().__init__(
            say(
                "{gives} was cut on {day_said}, and nests were looked for on {day_said_2}: a "
                "look counts before the cut, {counts}. Say when the hedge was last looked over.",
                gives=gives,
                day_said=day_said(cut_on),
                day_said_2=day_said(looked_on),
                counts=counts,
            )
        )


class NoSuchPickUp(LarderError):
    """A pick-up struck that nobody expects."""

    code = "no_such_pick_up"

    def __init__(self, *, source: str, gives: str, on: str, why: str, expected: str) -> None:
        self.source, self.gives, self.on = source, gives, on
        what = say(" of {gives}", gives=gives) if gives else ""
        there = (
            say("Expected are {expected}.", expected=expected)
            if expected
            else say("None is expected of it at all.")
        )
        do = say("Choose one of these.") if expected else say("Look at its agreement.")
        super().__init__(
            say(
                "No pick-up{what} from {source} is expected on {on}{why}. {there} {do}",
                what=what,
                source=source,
                on=on,
                why=why,
                there=there,
                do=do,
            )
        )
