"""What an order is made of: who sells what, what the runs want, what is there or on its way.

Frozen facts as a reader of rows can hand them over. Money is in whole minor units (pence, cents),
mass in whole milligrams; what scouring takes off is a fraction of the mass as bought.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from itertools import pairwise
from typing import NamedTuple

from inventory.science.saying import say
from inventory.science.unclear import OutOfRange

LEAD_AT_MOST = 400  # working days; a bespoke spin takes five months
LOSS_BELOW = Fraction(9, 10)  # a greasy fleece loses half at the most
PACKS_AT_MOST = 20_000  # in one line; more would lie beyond the solver's own tolerance


class Stuff(NamedTuple):
    """What one order line is of: a fibre in a form, as in wool yarn."""

    fibre: str
    form: str


@dataclass(frozen=True, slots=True)
class Tier:
    """The price of one pack from a quantity of the line on; it then holds for the whole line."""

    from_mg: int  # 0 or more
    pack_minor: int  # 0 or more

    def __post_init__(self) -> None:
        _at_least(say("a price tier's quantity"), self.from_mg, 0)
        _at_least(say("the price of a pack"), self.pack_minor, 0)


@dataclass(frozen=True, slots=True)
class Offer:
    """One fibre in one pack at one supplier's prices."""

    supplier: str
    stuff: Stuff
    pack_mg: int  # above 0; a metre of cloth by its weight
    tiers: tuple[Tier, ...]  # one or more, from 0 upwards; a larger quantity is never dearer
    least_mg: int = 0  # of the line
    scour_loss: Fraction = Fraction(0)  # of the mass as bought; 0 where sold ready to dye
    most_packs: int | None = None  # that the supplier has; None: as many as wanted
    code: str = ""  # as the supplier writes it; two offers that are equal in all count as one

    def __post_init__(self) -> None:
        _at_least(say("the weight of a pack"), self.pack_mg, 1)
        _at_least(say("the least of a line"), self.least_mg, 0)
        if not 0 <= self.scour_loss <= LOSS_BELOW:
            raise OutOfRange(
                "scour loss", self.scour_loss, say("0 to {loss_below}", loss_below=LOSS_BELOW)
            )
        if self.most_packs is not None:
            _at_least("packs in stock", self.most_packs, 0)
        _check_tiers(self.tiers)

    @property
    def scoured_mg(self) -> Fraction:
        """What is left of one pack after scouring [mg], exact."""
        return self.pack_mg * (1 - Fraction(self.scour_loss))

    @property
    def least_packs(self) -> int:
        """The fewest packs that a line may have."""
        return max(1, -(-self.least_mg // self.pack_mg))


@dataclass(frozen=True, slots=True)
class Supplier:
    """Who sells, how long it takes and what an order costs beside the fibre."""

    name: str
    lead_days: int  # working days; the day of ordering not counted, that of arrival counted
    country: str = ""  # two letters; empty: no public holidays are counted
    region: str = ""  # as the country writes its parts, ENG; empty: the whole country
    shutdowns: tuple[tuple[date, date], ...] = ()  # first and last day
    weekdays: tuple[int, ...] = (0, 1, 2, 3, 4)  # that they work, 0 Monday
    carriage_minor: int = 0  # an order
    carriage_free_from_minor: int | None = None  # value of the fibre; None: never
    least_minor: int = 0  # value of the fibre in one order

    def __post_init__(self) -> None:
        if not 0 <= self.lead_days <= LEAD_AT_MOST:
            raise OutOfRange(
                "lead time",
                self.lead_days,
                say("0 to {lead_at_most} working days", lead_at_most=LEAD_AT_MOST),
            )
        if not self.weekdays or not set(self.weekdays) <= set(range(7)):
            raise OutOfRange("working weekdays", self.weekdays, "one or more of 0 to 6")
        _at_least("carriage", self.carriage_minor, 0)
        _at_least(say("the least value of an order"), self.least_minor, 0)
        if self.carriage_free_from_minor is not None:
            _at_least(say("the value that goes free of carriage"), self.carriage_free_from_minor, 0)
        if any(last < first for first, last in self.shutdowns):
            raise OutOfRange("shutdowns", self.shutdowns, say("first day before last day"))


@dataclass(frozen=True, slots=True)
class Wanted:
    """Fibre that one run takes, by its weight ready to dye."""

    run: str
    stuff: Stuff
    scoured_mg: int  # above 0
    by: date  # the last day on which it may arrive

    def __post_init__(self) -> None:
        _at_least(say("the fibre of a run"), self.scoured_mg, 1)


@dataclass(frozen=True, slots=True)
class There:
    """Fibre on the shelf or on its way; only what may serve the runs, so none that is mordanted."""

    code: str
    stuff: Stuff
    left_mg: int  # 0 or more, as it lies there
    scour_loss: Fraction = Fraction(0)  # 0 where it is scoured
    arrives_on: date | None = None  # None: on the shelf
    meant_for: tuple[str, ...] = ()  # runs that name it; they take of it before anyone else
    others_too: bool = True  # what those leave may serve any run of its stuff

    def __post_init__(self) -> None:
        _at_least(say("what is left of a lot"), self.left_mg, 0)
        if not 0 <= self.scour_loss <= LOSS_BELOW:
            raise OutOfRange(
                "scour loss", self.scour_loss, say("0 to {loss_below}", loss_below=LOSS_BELOW)
            )

    @property
    def scoured_mg(self) -> Fraction:
        """What it comes to ready to dye [mg], exact."""
        return self.left_mg * (1 - Fraction(self.scour_loss))


@dataclass(frozen=True, slots=True)
class Coming:
    """What is still to come of one line of an order."""

    code: str  # "order 2026-003", and its line where it has several
    label: str  # "2026-003"
    supplier: str
    state: str  # written, sent, confirmed, received in part
    stuff: Stuff
    left_mg: int  # as it is ordered
    scoured: bool
    scour_loss: Fraction
    arrives_on: date  # as said, as counted when it was sent, or as if it were sent today
    confirmed: bool  # the supplier has said the day
    overdue_since: date | None = None  # the day on which it should have come

    @property
    def is_overdue(self) -> bool:
        return self.overdue_since is not None

    @property
    def there(self) -> There:
        """The same as something that serves runs."""
        return There(self.code, self.stuff, self.left_mg, self.scour_loss, self.arrives_on)


@dataclass(frozen=True, slots=True)
class Served:
    """What one run takes of what is there, and what it is short of, ready to dye [mg], exact."""

    want: Wanted
    takes: tuple[tuple[str, Fraction], ...]  # code and amount, in the order taken
    short_mg: Fraction  # 0 or more


@dataclass(frozen=True, slots=True)
class Need:
    """What has to be bought of one fibre by a day."""

    stuff: Stuff
    by: date
    scoured_mg: Fraction  # above 0, ready to dye
    runs: tuple[str, ...] = ()  # that are short of it

    def bought_mg(self, scour_loss: Fraction) -> Fraction:
        """The same as it is bought [mg], exact."""
        return self.scoured_mg / (1 - Fraction(scour_loss))


def _check_tiers(tiers: tuple[Tier, ...]) -> None:
    if not tiers or tiers[0].from_mg != 0:
        raise OutOfRange("price tiers", tiers, "one or more, the first from 0 on")
    for smaller, larger in pairwise(tiers):
        if larger.from_mg <= smaller.from_mg or larger.pack_minor > smaller.pack_minor:
            raise OutOfRange(
                "price tiers", tiers, say("in rising quantities, never at a higher price")
            )


def _at_least(name: str, value: int, least: int) -> None:
    if value < least:
        raise OutOfRange(name, value, say("{least} or more", least=least))
