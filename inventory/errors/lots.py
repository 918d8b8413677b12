"""What can go wrong with what stands on the shelves and where it stands."""

from __future__ import annotations

from datetime import datetime

from inventory.errors.larder import LarderError
from inventory.errors.words import in_words, on
from inventory.science.saying import say


class NotAnAmount(LarderError):
    """An amount that is no whole number of mg or µL within bounds."""

    code = "not_an_amount"

    def __init__(self, amount: object, *, least: int, most: int) -> None:
        self.amount, self.least, self.most = amount, least, most
        super().__init__(
            say(
                "{amount!r} is no amount. Give a whole number of mg or µL from {least:,} to "
                "{most:,}.",
                amount=amount,
                least=least,
                most=most,
            )
        )


class NoSuchLot(LarderError):
    """A code that no lot of the studio has."""

    code = "no_such_lot"

    def __init__(self, lot: str) -> None:
        self.lot = lot
        super().__init__(
            say("No lot has the code {lot}. Look at its label, or receive it first.", lot=lot)
        )


class NoSuchVessel(LarderError):
    """A code that no vessel of the studio has."""

    code = "no_such_vessel"

    def __init__(self, vessel: str) -> None:
        self.vessel = vessel
        super().__init__(
            say(
                "No vessel has the code {vessel}. Look at its handle, or add it first.",
                vessel=vessel,
            )
        )


class NoSuchSite(LarderError):
    """A code that no site of the studio has."""

    code = "no_such_site"

    def __init__(self, site: str) -> None:
        self.site = site
        super().__init__(say("No site has the code {site}. Add the site first.", site=site))


class CodeTaken(LarderError):
    """A code that another lot already has."""

    code = "code_taken"

    def __init__(self, lot: str) -> None:
        self.lot = lot
        super().__init__(
            say("There is a lot {lot} already. Give the new one a code of its own.", lot=lot)
        )


class NamedTwice(LarderError):
    """One lot named twice in one entry."""

    code = "named_twice"

    def __init__(self, lot: str) -> None:
        self.lot = lot
        super().__init__(
            say("Lot {lot} is named twice in one entry. Name it once, with the sum.", lot=lot)
        )


class WrongSort(LarderError):
    """A lot of another sort than the entry is for."""

    code = "wrong_sort"

    def __init__(self, lot: str, *, kind: str, wanted: str) -> None:
        self.lot, self.kind, self.wanted = lot, kind, wanted
        super().__init__(
            say(
                "{lot} is a lot of {kind}, and this entry is for a {wanted}.",
                lot=lot,
                kind=kind,
                wanted=wanted,
            )
        )


class NotEnough(LarderError):
    """More asked for than is left."""

    code = "not_enough"

    def __init__(
        self, *, lot: str, what: str, asked: int, left: int, unit: str, at: datetime
    ) -> None:
        self.lot, self.what, self.asked, self.left = lot, what, asked, left
        self.unit, self.at, self.short = unit, at, asked - left
        super().__init__(
            say(
                "Lot {lot}, {what}: {asked} asked for, {left} left on {at}, short by {short}. "
                "Draw less or weigh again.",
                lot=lot,
                what=what,
                asked=in_words(asked, unit),
                left=in_words(left, unit),
                at=on(at),
                short=in_words(self.short, unit),
            )
        )


class IsSetAside(LarderError):
    """A lot that is set aside and asked for."""

    code = "set_aside"

    def __init__(self, *, lot: str, what: str, reason: str) -> None:
        self.lot, self.what, self.reason = lot, what, reason
        super().__init__(
            say(
                "Lot {lot}, {what}, is set aside: {reason}. Check it and take it into use first.",
                lot=lot,
                what=what,
                reason=reason,
            )
        )


class NotHereYet(LarderError):
    """A lot that is confirmed but has not come."""

    code = "not_here_yet"

    def __init__(self, *, lot: str, what: str, arrives_at: datetime) -> None:
        self.lot, self.what, self.arrives_at = lot, what, arrives_at
        super().__init__(
            say(
                "Lot {lot}, {what}, comes on {arrives_at}. Say that it has arrived first.",
                lot=lot,
                what=what,
                arrives_at=on(arrives_at),
            )
        )


class BeforeItBegan(LarderError):
    """Something said to have happened to a lot before there was one."""

    code = "before_it_began"

    def __init__(self, *, lot: str, what: str, began_at: datetime, at: datetime) -> None:
        self.lot, self.what, self.began_at, self.at = lot, what, began_at, at
        super().__init__(
            say(
                "Lot {lot}, {what}, began on {began_at}, after {at}. Look at the date again.",
                lot=lot,
                what=what,
                began_at=on(began_at),
                at=on(at),
            )
        )
