"""What has to be bought: each fibre with its runs and its suppliers side by side, in words."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import date

from api.question import Question
from api.web.note.deeds import Deed
from api.web.note.ways import ways_from
from api.web.orders.words import (
    day_said,
    days_said,
    lines_said,
    money_said,
    stuff_said,
    weight_of,
    weight_said,
)
from inventory.science.saying import counted, say
from sourcing.ordering.order import Quote
from sourcing.ordering.shopping import LeftOut, ToBuy
from sourcing.week.words import listed

QUOTES_AT_MOST = 12  # suppliers of one fibre on the page
NEEDS_AT_MOST = 12  # days of one fibre
RUNS_AT_MOST = 8  # named for one day
EDGES = {"wait": "wait", "see": "no", "no": "no"}
LATE_NAMED = 3  # whose order-by day is told in the sentence


@dataclass(frozen=True, slots=True)
class QuoteShown:
    """One supplier beside the others."""

    supplier: str
    word: str
    tone: str  # yes, see, no; names the mark
    packs: str
    arrives: str
    order_by: str
    cost: str
    carriage: str
    over: str


@dataclass(frozen=True, slots=True)
class NeedShown:
    """What is lacking by one day, and for which runs."""

    amount: str
    by: str
    runs: str
    said: str  # whose day that is


@dataclass(frozen=True, slots=True)
class ToBuyShown:
    """One fibre that is lacking."""

    anchor: str
    name: str
    amount: str  # ready to dye
    bought: str  # the same as it is bought; empty where the suppliers' wool loses differently
    word: str
    tone: str
    edge: str  # of the ticket
    advice: tuple[str, ...]
    needs: tuple[NeedShown, ...]
    quotes: tuple[QuoteShown, ...]
    left_out: tuple[LeftOut, ...]
    more: int  # suppliers that are not shown
    ways: tuple[Deed, ...] = ()  # to the order, of the supplier in front


def to_buy_shown(
    rows: Iterable[ToBuy],
    *,
    on: date,
    currency: str,
    said: Mapping[str, str] | None = None,
    question: Question | None = None,
) -> tuple[ToBuyShown, ...]:
    """Each fibre that is lacking, in words.

    Parameters
    ----------
    said : whose day it is by which a run needs its fibre, by run
    question : of a page, from which ways lead to the forms; None: of no page
    """
    found = [_shown(row, number, on, currency, said or {}) for number, row in enumerate(rows, 1)]
    if question is None:
        return tuple(found)
    return tuple(replace(row, ways=_ways(row, question)) for row in found)


def _ways(row: ToBuyShown, question: Question) -> tuple[Deed, ...]:
    """To the order, from the supplier who is best."""
    if not row.quotes:
        return ways_from(question, "add-supplier", "add-offer")
    return ways_from(question, "write-order", supplier=row.quotes[0].supplier)


def _shown(
    row: ToBuy, number: int, on: date, currency: str, said: Mapping[str, str]
) -> ToBuyShown:  # fmt: skip
    word, tone = word_of(row, on)
    return ToBuyShown(
        anchor=f"buy-{number}",
        name=stuff_said(row.stuff),
        amount=weight_said(row.scoured_mg),
        bought=_bought(row),
        word=word,
        tone=tone,
        edge=EDGES[tone],
        advice=tuple(advice(row, on=on, currency=currency)),
        needs=needs_shown(row, on=on, said=said),
        quotes=tuple(_quote(each, on, currency) for each in row.quotes[:QUOTES_AT_MOST]),
        left_out=row.left_out[:QUOTES_AT_MOST],
        more=max(0, len(row.quotes) - QUOTES_AT_MOST),
    )


def needs_shown(row: ToBuy, *, on: date, said: Mapping[str, str]) -> tuple[NeedShown, ...]:
    """By which day how much, and for which runs."""
    return tuple(
        NeedShown(
            amount=weight_said(need.scoured_mg),
            by=day_said(need.by, on),
            runs=runs_said(need.runs),
            said=listed(dict.fromkeys(said[run] for run in need.runs if run in said)),
        )
        for need in row.needs[:NEEDS_AT_MOST]
    )


def runs_said(runs: tuple[str, ...]) -> str:
    """Runs by their code: `run G`, `runs F and G`.

    >>> runs_said(("G",)), runs_said(("F", "G")), runs_said(())
    ('run G', 'runs F and G', '')
    """
    if not runs:
        return ""
    shown = list(runs[:RUNS_AT_MOST])
    if len(runs) > RUNS_AT_MOST:
        shown.append(say("{count} more", count=len(runs) - RUNS_AT_MOST))
    return counted("run {shown}", "runs {shown}", count=len(runs), shown=listed(shown))


def word_of(row: ToBuy, on: date) -> tuple[str, str]:
    """How a fibre stands, as a word and the tone of its mark."""
    if not row.quotes:
        return say("nobody brings it"), "no"
    best = row.quotes[0]
    if best.plan.late:
        return say("too late for all"), "no"
    if best.order_by == on:
        return say("order today, the last day"), "see"
    return say("order by {day_said}", day_said=day_said(best.order_by, on)), "wait"


def advice(row: ToBuy, *, on: date, currency: str) -> Iterator[str]:
    """What to do about a fibre, a sentence each."""
    if not row.quotes:
        yield (
            say(
                "Nobody who is written down can bring it. Write a supplier and an offer, or "
                "ask for the run on another fibre."
            )
        )
        return
    best = row.quotes[0]
    yield _order(row, best, on, currency)
    for quote in [each for each in row.quotes[1:] if each.late_working_days][:LATE_NAMED]:
        yield say(
            "For {supplier} {order_by}.", supplier=quote.supplier, order_by=_order_by(quote, on)
        )


def _order(row: ToBuy, best: Quote, on: date, currency: str) -> str:
    (order,) = best.plan.orders
    said = say(
        "Order today from {supplier}: {weight_of} for {money_said}, there on {day_said}",
        supplier=best.supplier,
        weight_of=weight_of(order.lines),
        money_said=money_said(order.minor, currency),
        day_said=day_said(best.arrives_on, on),
    )
    if best.plan.late:
        days = days_said((best.arrives_on - row.by).days)
        return say(
            "{said}, {days} after it is needed; {order_by}.",
            said=said,
            days=days,
            order_by=_order_by(best, on),
        )
    last = "today" if best.order_by == on else day_said(best.order_by, on)
    return say("{said}. The last day to order there is {last}.", said=said, last=last)


def _order_by(quote: Quote, on: date) -> str:
    ago = days_said(quote.late_working_days, working=True)
    return say(
        "the order-by day was {day_said}, {ago} ago", day_said=day_said(quote.order_by, on), ago=ago
    )


def _quote(quote: Quote, on: date, currency: str) -> QuoteShown:
    (order,) = quote.plan.orders
    late = quote.late_working_days
    (over,) = quote.plan.surplus
    return QuoteShown(
        supplier=quote.supplier,
        word=say("late by {days_said}", days_said=days_said(late, working=True))
        if late
        else say("in time"),
        tone="no" if late else ("see" if quote.order_by == on else "yes"),
        packs=lines_said(order),
        arrives=day_said(quote.arrives_on, on),
        order_by=say("was {day}", day=day_said(quote.order_by, on))
        if late
        else day_said(quote.order_by, on),
        cost=money_said(order.minor, currency),
        carriage=_carriage(order.carriage_minor, currency),
        over=weight_said(over.surplus_mg),
    )


def _carriage(minor: int, currency: str) -> str:
    return (
        say("{money_said} of it carriage", money_said=money_said(minor, currency))
        if minor
        else say("no carriage")
    )


def _bought(row: ToBuy) -> str:
    """What is lacking as it is bought, where everybody's loses the same in scouring."""
    losses = {
        line.offer.scour_loss
        for quote in row.quotes
        for order in quote.plan.orders
        for line in order.lines
    }
    if len(losses) != 1 or not (loss := losses.pop()):
        return ""
    return weight_said(row.scoured_mg / (1 - loss))
