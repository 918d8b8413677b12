"""Fibre orders as one text screen: what to buy, the cheapest order, what is on its way.

At most 100 columns, no colour; how something stands is a word and a mark.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from textwrap import wrap

from api.shopping import FIBRES_AT_MOST, shopping_of
from api.web.orders.cheapest import CheapestShown, cheapest_shown
from api.web.orders.orders import CLOSED_AT_MOST, OPEN_AT_MOST, OrderRow, rows_of
from api.web.orders.to_buy import QuoteShown, ToBuyShown, to_buy_shown
from sourcing.buying import Buying
from sourcing.ordered import OrderFacts
from sourcing.ordering.shopping import Together
from sourcing.week.words import day_in_words

COLUMNS = 100
MARKS = {"yes": "●", "wait": "◐", "see": "!", "no": "○", "plain": "·"}
ENOUGH = "what is on the shelf, in the post and on order is enough for every run asked for"
HEADS = ("supplier", "in time?", "arrives", "order-by day", "packs", "cost", "left over")


def buying_text(buying: Buying, found: Together) -> str:
    """The whole screen, each line at most 100 columns."""
    on, currency = buying.today, buying.currency
    said = {row.run: row.by_said for row in buying.wanted}
    rows = to_buy_shown(shopping_of(buying), on=on, currency=currency, said=said)
    cheapest = cheapest_shown(found, on=on, currency=currency)
    open_, closed = (
        [order for order in buying.orders if order.is_open is still] for still in (True, False)
    )
    blocks = [
        [f"{buying.studio} · {day_in_words(on)} {on.year}, {buying.at:%H:%M} · fibre orders"],
        ["TO BUY", *_to_buy(rows, len(buying.stuffs))],
        ["THE CHEAPEST ORDER FOR ALL OF IT", *_cheapest(cheapest, found)] if rows else [""],
        ["WRITTEN, OR ON ITS WAY", *_orders(open_, OPEN_AT_MOST, buying)],
        ["COME OR CALLED OFF", *_orders(closed, CLOSED_AT_MOST, buying)],
    ]
    shown = ["\n".join(block) for number, block in enumerate(blocks) if number == 0 or block[1:]]
    return printable("\n\n".join(shown) + "\n")


def printable(text: str) -> str:
    """Text without signs that would steer a terminal."""
    return "".join(sign if sign == "\n" or sign.isprintable() else "\N{REPLACEMENT CHARACTER}"
                   for sign in text)  # fmt: skip


def wrapped(first: str, text: str) -> list[str]:
    """A paragraph behind its mark, further lines set in as far."""
    return wrap(text, COLUMNS, initial_indent=first, subsequent_indent=" " * len(first),
                break_on_hyphens=False) or [first.rstrip()]  # fmt: skip


# -- what to buy ---------------------------------------------------------------------------------


def _to_buy(rows: tuple[ToBuyShown, ...], stuffs: int) -> Iterator[str]:
    if not rows:
        yield from wrapped("  ● ", f"nothing: {ENOUGH}")
    for row in rows:
        bought = f" = {row.bought} as it is bought" if row.bought else ""
        text = f"{row.name}: {row.amount} ready to dye{bought}: {row.word.upper()}"
        yield from wrapped(f"  {MARKS[row.tone]} ", text)
        for need in row.needs:
            for_ = f" for {need.runs}" if need.runs else ""
            why = f" ({need.said})" if need.said else ""
            yield from wrapped("      ", f"{need.amount} by {need.by}{for_}{why}")
        for sentence in row.advice:
            yield from wrapped("      ", sentence)
        yield from _beside(row.quotes)
        for left in row.left_out:
            yield from wrapped("      ○ ", f"not counted: {left.supplier}. {left.why}")
    if (more := stuffs - FIBRES_AT_MOST) > 0:
        fibres = "fibre" if more == 1 else "fibres"
        yield f"  {more} more {fibres}, needed later, not shown here; the order below counts all."


def _beside(quotes: tuple[QuoteShown, ...]) -> Iterator[str]:
    """The suppliers as columns, or one under the other where they are too wide for that."""
    table = [HEADS, *(_cells(quote) for quote in quotes)]
    widths = [max(len(row[n]) for row in table) for n in range(len(HEADS))]
    if sum(widths) + 2 * len(widths) + 8 > COLUMNS:
        for cells in table[1:]:
            named = ", ".join(f"{head} {cell}" for head, cell in zip(HEADS, cells, strict=True))
            yield from wrapped("      ", named)
        return
    for row in table if quotes else ():
        padded = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        yield f"      {'  '.join(padded)}".rstrip()


def _cells(quote: QuoteShown) -> tuple[str, ...]:
    return (quote.supplier, f"{MARKS[quote.tone]} {quote.word}", quote.arrives, quote.order_by,
            quote.packs, quote.cost, quote.over)  # fmt: skip


# -- the cheapest order --------------------------------------------------------------------------


def _cheapest(plan: CheapestShown | None, found: Together) -> Iterator[str]:
    if plan is None:
        yield from wrapped("  ○ ", f"no order: {found.why}")
        return
    if plan.why_empty:
        yield from wrapped("  ○ ", f"no order: {plan.why_empty}")
    else:
        said = f"{plan.total} with carriage, {plan.word}. {plan.said} {plan.gap}".rstrip()
        yield from wrapped(f"  {MARKS[plan.tone]} ", said)
    for order in plan.orders:
        carriage = f"carriage {order.carriage}" if order.carriage else "no carriage"
        head = f"{order.supplier}, there on {order.arrives}: {order.total}, {carriage}"
        yield from wrapped("      ", head)
        for line in order.lines:
            text = f"{line.name} {line.packs} = {line.weight}, {line.price}"
            yield from wrapped("        ", text)
        if order.more:
            yield f"        {order.more} more lines"
    if plan.over:
        yield from wrapped("      ", f"left over: {', '.join(plan.over)}")
    for text in plan.late:
        yield from wrapped("      ○ ", f"late: {text}")
    for text in plan.not_sold:
        yield from wrapped("      ○ ", f"not in it: {text}, as nobody asked sells so much of it")
    for left in plan.left_out:
        yield from wrapped("      ", f"not asked: {left.supplier}. {left.why}")


# -- orders --------------------------------------------------------------------------------------


def _orders(orders: Sequence[OrderFacts], at_most: int, buying: Buying) -> Iterator[str]:
    rows = rows_of(orders[:at_most], on=buying.today, carried="")
    for row in rows:
        yield from order_lines(row)
    if (more := len(orders) - at_most) > 0:
        yield f"  {more} older ones are not shown."


def order_lines(row: OrderRow) -> Iterable[str]:
    """One order: how it stands, what it brings, what has become of it."""
    state = f"{row.state.upper()}, {row.overdue}" if row.overdue else row.state.upper()
    tone = "see" if row.overdue else row.tone
    yield from wrapped(f"  {MARKS[tone]} ", f"{row.label} {row.supplier}, {row.total}: {state}")
    runs = f" for {row.runs}" if row.runs else ""
    came = f"; {row.came}" if row.came else ""
    yield from wrapped("      ", f"{row.brings}{runs}{came}. {row.when}.")
