"""The question as the sums take it: which fibre by when, who could bring it, on which day."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from fractions import Fraction
from functools import cached_property

from inventory.science.saying import joined, say
from inventory.science.unclear import OutOfRange
from sourcing.ordering.answer import Late
from sourcing.ordering.facts import PACKS_AT_MOST, Need, Offer, Stuff, Supplier
from sourcing.ordering.working_days import arrives_on, order_by_day

DAYS_AT_MOST = 1_200  # from the day of asking to the last need
SLOTS_AT_MOST = 2_000  # suppliers times days of ordering


@dataclass(frozen=True, slots=True)
class Slot:
    """A supplier on a day on which an order could be written."""

    supplier: str
    order_on: date
    arrives_on: date
    carriage_minor: int
    carriage_free_from_minor: int | None = None
    least_minor: int = 0


@dataclass(frozen=True)
class Problem:
    """Needs that can be met, and all that could meet them.

    Every need can be met by one of its suppliers alone, as long as no least value of an order
    stands against a limit of packs.
    """

    needs: tuple[Need, ...]  # by stuff, then day; one a stuff and day
    slots: tuple[Slot, ...]
    offers: tuple[Offer, ...]
    keeping: Fraction = Fraction(0)  # minor units a kg ready to dye and day, 0 or more
    late: tuple[Late, ...] = ()
    not_sold: tuple[Need, ...] = ()

    @cached_property
    def wanted(self) -> dict[Stuff, tuple[tuple[date, Fraction], ...]]:
        """Of each fibre how much is wanted in all by each of its days [mg], rising."""
        found: dict[Stuff, list[tuple[date, Fraction]]] = {}
        for need in self.needs:
            rows = found.setdefault(need.stuff, [])
            rows.append((need.by, need.scoured_mg + (rows[-1][1] if rows else 0)))
        return {stuff: tuple(rows) for stuff, rows in found.items()}

    @cached_property
    def slots_of(self) -> dict[str, tuple[Slot, ...]]:
        """The days of each supplier, earliest arrival first."""
        found: dict[str, list[Slot]] = {}
        for slot in sorted(self.slots, key=lambda row: (row.arrives_on, row.order_on)):
            found.setdefault(slot.supplier, []).append(slot)
        return {name: tuple(rows) for name, rows in found.items()}

    @cached_property
    def ways(self) -> dict[tuple[Stuff, str], tuple[Offer, ...]]:
        """Of each fibre and supplier who could meet all of its needs: the offers."""
        found: dict[tuple[Stuff, str], list[Offer]] = {}
        for offer in dict.fromkeys(self.offers):
            found.setdefault((offer.stuff, offer.supplier), []).append(offer)
        return {
            key: tuple(rows)
            for key, rows in found.items()
            if key[0] in self.wanted and self._in_time(*key) and self._enough(key[0], rows)
        }

    def open_slots(self, stuff: Stuff, supplier: str) -> tuple[Slot, ...]:
        """The days of a supplier that still serve some need of a fibre."""
        last = self.wanted[stuff][-1][0]
        return tuple(row for row in self.slots_of.get(supplier, ()) if row.arrives_on <= last)

    def _in_time(self, stuff: Stuff, supplier: str) -> bool:
        first = self.wanted[stuff][0][0]
        slots = self.slots_of.get(supplier, ())
        return bool(slots) and slots[0].arrives_on <= first

    def _enough(self, stuff: Stuff, offers: list[Offer]) -> bool:
        return has_enough(offers, self.wanted[stuff][-1][1])


def has_enough(offers: Iterable[Offer], scoured_mg: Fraction) -> bool:
    """Whether a supplier's packs of one fibre reach an amount, stock counted."""
    left = scoured_mg
    for offer in offers:
        if offer.most_packs is None:
            return True
        if offer.most_packs >= offer.least_packs:
            left -= offer.most_packs * offer.scoured_mg
    return left <= 0


def most_packs(offer: Offer, slot: Slot, scoured_mg: Fraction) -> int:
    """A number of packs that no cheapest order goes beyond.

    Beyond it one pack less would still meet the need alone, the least of the line, the last price
    tier, the least value of the order and the value that goes free of carriage; it would cost no
    more, as no price is below nothing.

    Raises
    ------
    OutOfRange
        If that is more than 20,000 packs.
    """
    last = offer.tiers[-1]
    price = last.pack_minor
    goods = max(slot.least_minor, slot.carriage_free_from_minor or 0)
    packs = max(
        -(-scoured_mg // offer.scoured_mg),
        offer.least_packs,
        -(-last.from_mg // offer.pack_mg),
        -(-goods // price) if price else 0,
    )
    if offer.most_packs is not None:
        packs = min(packs, offer.most_packs)
    if packs > PACKS_AT_MOST:
        raise OutOfRange(
            say("packs of one line"),
            packs,
            say("{packs_at_most} at most", packs_at_most=PACKS_AT_MOST),
        )
    return int(packs)


def now(
    needs: Iterable[Need], suppliers: Iterable[Supplier], offers: Iterable[Offer], *, on: date
) -> Problem:
    """One order a supplier, all written on one day.

    Parameters
    ----------
    needs, suppliers, offers : any order, may be empty; an offer of somebody else is left out
    on : the day of ordering

    Raises
    ------
    NoWorkingDays, UnknownCountry
        From the counting of days.
    """
    slots = [slot_of(supplier, on) for supplier in _named_once(suppliers)]
    return _problem(tuple(needs), slots, tuple(offers), Fraction(0))


def ahead(
    needs: Iterable[Need], suppliers: Iterable[Supplier], offers: Iterable[Offer],
    *, on: date, keeping: Fraction,
) -> Problem:  # fmt: skip
    """Orders on one day and later, each as late as some need allows.

    Parameters
    ----------
    needs, suppliers, offers : any order, may be empty
    on : the first day of ordering
    keeping : what a kg ready to dye costs a day while it lies there [minor units], 0 or more
        With 0 nothing speaks for a later order but a shorter stay.

    Raises
    ------
    OutOfRange
        If a need lies more than 1,200 days ahead or there are too many days of ordering.

    References
    ----------
    Days of ordering: an order that arrives between two needs may as well arrive at the later of
    its first uses, so the order-by days of the needs are all that has to be looked at.
    """
    needs = tuple(needs)
    _check_days(needs, on)
    if keeping < 0:
        raise OutOfRange("cost of keeping", keeping, "0 or more")
    days = {need.by for need in needs}
    slots = [slot for row in _named_once(suppliers) for slot in _slots_ahead(row, days, on)]
    if len(slots) > SLOTS_AT_MOST:
        raise OutOfRange(
            "days of ordering",
            len(slots),
            say("{slots_at_most} at most", slots_at_most=SLOTS_AT_MOST),
        )
    return _problem(needs, slots, tuple(offers), Fraction(keeping))


def _named_once(suppliers: Iterable[Supplier]) -> tuple[Supplier, ...]:
    suppliers = tuple(suppliers)
    names = [supplier.name for supplier in suppliers]
    if len(set(names)) < len(names):
        raise OutOfRange("suppliers", joined(", ", names), "one a name")
    return suppliers


def slot_of(supplier: Supplier, on: date) -> Slot:
    """A supplier on a day."""
    return Slot(
        supplier.name, on, arrives_on(supplier, ordered_on=on), supplier.carriage_minor,
        supplier.carriage_free_from_minor, supplier.least_minor,
    )  # fmt: skip


def _slots_ahead(supplier: Supplier, days: set[date], on: date) -> list[Slot]:
    latest = {order_by_day(supplier, needed_by=day) for day in days}
    found = (slot_of(supplier, day) for day in sorted({on, *(d for d in latest if d > on)}))
    return list({slot.arrives_on: slot for slot in found}.values())


def _check_days(needs: tuple[Need, ...], on: date) -> None:
    for need in needs:
        if (need.by - on).days > DAYS_AT_MOST:
            raise OutOfRange(
                say("day of a need"),
                need.by,
                say("within {days_at_most} days of {on}", days_at_most=DAYS_AT_MOST, on=on),
            )


def _problem(
    needs: tuple[Need, ...], slots: list[Slot], offers: tuple[Offer, ...], keeping: Fraction
) -> Problem:
    """What can be met, moved to the earliest arrival where it is late; the rest told apart."""
    earliest = {slot.supplier: slot.arrives_on for slot in reversed(sorted(slots, key=_arrival))}
    offers = tuple(row for row in offers if row.supplier in earliest)
    sold, not_sold = _split(needs, offers)
    first = {
        stuff: min(earliest[name] for name in _sellers(stuff, sold, offers))
        for stuff in {need.stuff for need in sold}
    }
    late = tuple(Late(row, first[row.stuff]) for row in sold if row.by < first[row.stuff])
    met = _merged(need if need.by >= first[need.stuff] else _moved(need, first) for need in sold)
    return Problem(met, tuple(slots), offers, keeping, late, not_sold)


def _arrival(slot: Slot) -> date:
    return slot.arrives_on


def _sellers(stuff: Stuff, needs: Iterable[Need], offers: Iterable[Offer]) -> list[str]:
    """Who has enough of a fibre for all of its needs."""
    total = sum((need.scoured_mg for need in needs if need.stuff == stuff), Fraction(0))
    by_name: dict[str, list[Offer]] = {}
    for offer in offers:
        if offer.stuff == stuff:
            by_name.setdefault(offer.supplier, []).append(offer)
    return [name for name, rows in by_name.items() if has_enough(rows, total)]


def _split(
    needs: tuple[Need, ...], offers: tuple[Offer, ...]
) -> tuple[tuple[Need, ...], tuple[Need, ...]]:
    sold = {stuff for stuff in {need.stuff for need in needs} if _sellers(stuff, needs, offers)}
    met = tuple(need for need in needs if need.stuff in sold)
    return met, tuple(need for need in needs if need.stuff not in sold)


def _moved(need: Need, first: dict[Stuff, date]) -> Need:
    return Need(need.stuff, first[need.stuff], need.scoured_mg, need.runs)


def _merged(needs: Iterable[Need]) -> tuple[Need, ...]:
    """One need a fibre and day."""
    found: dict[tuple[Stuff, date], Need] = {}
    for need in needs:
        key = (need.stuff, need.by)
        if (same := found.get(key)) is not None:
            total, runs = same.scoured_mg + need.scoured_mg, (*same.runs, *need.runs)
            need = Need(need.stuff, need.by, total, tuple(dict.fromkeys(runs)))
        found[key] = need
    return tuple(found[key] for key in sorted(found))
