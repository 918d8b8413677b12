"""What can go wrong with an order."""

from __future__ import annotations

from datetime import date, datetime

from inventory.errors import LarderError, in_words, on
from inventory.science.saying import say
from sourcing.errors.words import day_said


class NothingOrdered(LarderError):
    """An order without a line, or a delivery without one."""

    code = "nothing_ordered"

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(
            say("{what} without a line says nothing. Name one at least.", what=what.capitalize())
        )


class TooManyLines(LarderError):
    """More lines than one order may have."""

    code = "too_many_lines"

    def __init__(self, *, lines: int, most: int) -> None:
        self.lines, self.most = lines, most
        super().__init__(
            say(
                "{lines} lines in one order, {most} at most. Write two orders.",
                lines=lines,
                most=most,
            )
        )


class LineTwice(LarderError):
    """The same offer or line named twice."""

    code = "line_twice"

    def __init__(self, what: str) -> None:
        self.what = what
        super().__init__(say("{what} is named twice. Name it once, with all its packs.", what=what))


class NotWholePacks(LarderError):
    """A weight that is no whole number of packs."""

    code = "not_whole_packs"

    def __init__(self, *, what: str, asked_mg: int, pack_mg: int) -> None:
        self.what, self.asked_mg, self.pack_mg = what, asked_mg, pack_mg
        fewer = asked_mg // pack_mg
        around = (
            say("{fewer} or {fewer_2} packs", fewer=fewer, fewer_2=fewer + 1) if fewer else "1 pack"
        )
        super().__init__(
            say(
                "{what}: {asked_mg} asked for, a pack holds {pack_mg}. Order {around}.",
                what=what,
                asked_mg=in_words(asked_mg, "mg"),
                pack_mg=in_words(pack_mg, "mg"),
                around=around,
            )
        )


class BelowLeastOfLine(LarderError):
    """Fewer packs than a supplier sells of it."""

    code = "below_least_of_line"

    def __init__(self, *, supplier: str, what: str, packs: int, least: int, pack_mg: int) -> None:
        self.supplier, self.what, self.packs, self.least = supplier, what, packs, least
        super().__init__(
            say(
                "{supplier}, {what}: {packs} asked for, {least} is the least that is sold. "
                "Order {least_2} packs, or ask another supplier.",
                supplier=supplier,
                what=what,
                packs=in_words(packs * pack_mg, "mg"),
                least=in_words(least * pack_mg, "mg"),
                least_2=least,
            )
        )


class MoreThanOffered(LarderError):
    """More packs than a supplier has."""

    code = "more_than_offered"

    def __init__(self, *, supplier: str, what: str, packs: int, most: int) -> None:
        self.supplier, self.what, self.packs, self.most = supplier, what, packs, most
        super().__init__(
            say(
                "{supplier}, {what}: {packs} packs asked for, {most} there. Order fewer, or "
                "ask another supplier.",
                supplier=supplier,
                what=what,
                packs=packs,
                most=most,
            )
        )


class BelowLeastOfOrder(LarderError):
    """An order of less value than a supplier takes."""

    code = "below_least_of_order"

    def __init__(self, *, supplier: str, goods_minor: int, least_minor: int, currency: str) -> None:
        self.supplier, self.goods_minor, self.least_minor = supplier, goods_minor, least_minor
        self.currency = currency
        super().__init__(
            say(
                "{supplier} takes orders from {least_minor} on, this one comes to "
                "{goods_minor}. Order more at once, or ask another supplier.",
                supplier=supplier,
                least_minor=_money(least_minor, currency),
                goods_minor=_money(goods_minor, currency),
            )
        )


class TooManyOrders(LarderError):
    """A year whose order numbers are used up."""

    code = "too_many_orders"

    def __init__(self, *, year: int, most: int) -> None:
        self.year, self.most = year, most
        super().__init__(
            say(
                "{most} orders were written in {year}, and there are no more numbers for that "
                "year. Put several fibres into one order.",
                most=most,
                year=year,
            )
        )


class NoSuchOrder(LarderError):
    """A number that no order of the studio has."""

    code = "no_such_order"

    def __init__(self, order: str) -> None:
        self.order = order
        super().__init__(
            say(
                "No order has the number {order}. Look at its number, or write it first.",
                order=order,
            )
        )


class OrderNotSent(LarderError):
    """Something said of an order that has not been sent."""

    code = "order_not_sent"

    def __init__(self, *, order: str, what: str) -> None:
        self.order, self.what = order, what
        super().__init__(
            say(
                "Order {order} has not been sent, so it cannot be {what}. Say first when it "
                "was sent.",
                order=order,
                what=what,
            )
        )


class AlreadySent(LarderError):
    """An order sent twice."""

    code = "already_sent"

    def __init__(self, *, order: str, at: datetime) -> None:
        self.order, self.at = order, at
        super().__init__(
            say(
                "Order {order} was sent on {at}. For more of the fibre write a new order.",
                order=order,
                at=on(at),
            )
        )


class OrderOver(LarderError):
    """Something said of an order of which nothing more is to come."""

    code = "order_over"

    def __init__(self, *, order: str, state: str) -> None:
        self.order, self.state = order, state
        super().__init__(
            say(
                "Order {order} is {state}: nothing more is to come of it. Write a new order.",
                order=order,
                state=state,
            )
        )


class BeforeTheOrder(LarderError):
    """Something said to have happened to an order before it was written or sent."""

    code = "before_the_order"

    def __init__(self, *, order: str, what: str, at: datetime, since: datetime) -> None:
        self.order, self.what, self.at, self.since = order, what, at, since
        super().__init__(
            say(
                "Order {order} was {what} on {since}; {at} is before that. Look at the day and "
                "the hour again.",
                order=order,
                what=what,
                since=on(since),
                at=on(at),
            )
        )


class ArrivesBeforeSaid(LarderError):
    """A day of arrival that lies before the day on which it was said."""

    code = "arrives_before_said"

    def __init__(self, *, order: str, day: date, said: date) -> None:
        self.order, self.day, self.said = order, day, said
        super().__init__(
            say(
                "Order {order}: {day_said} was confirmed on {day_said_2}, which is later. Look "
                "at the day again.",
                order=order,
                day_said=day_said(day),
                day_said_2=day_said(said),
            )
        )


class NoSuchLine(LarderError):
    """A line that an order does not have."""

    code = "no_such_line"

    def __init__(self, *, order: str, line: int, lines: int) -> None:
        self.order, self.line, self.lines = order, line, lines
        has = "1 line" if lines == 1 else say("{lines} lines", lines=lines)
        super().__init__(
            say(
                "Order {order} has {has}, and no line {line}. Look at the order again.",
                order=order,
                has=has,
                line=line,
            )
        )


class MoreThanOrdered(LarderError):
    """More packs said to have come than are still to come."""

    code = "more_than_ordered"

    def __init__(self, *, order: str, what: str, packs: int, ordered: int, came: int) -> None:
        self.order, self.what, self.packs = order, what, packs
        self.ordered, self.came = ordered, came
        before = say(", of which {came} have come before", came=came) if came else ""
        super().__init__(
            say(
                "Order {order}, {what}: {packs} packs weighed in, {ordered} ordered{before}. "
                "Count the packs again; what nobody ordered goes on the shelf as fibre "
                "received by itself.",
                order=order,
                what=what,
                packs=packs,
                ordered=ordered,
                before=before,
            )
        )


def _money(minor: int, currency: str) -> str:
    return say(
        "{currency} {minor:,}.{minor_2:02}",
        currency=currency,
        minor=minor // 100,
        minor_2=minor % 100,
    )
