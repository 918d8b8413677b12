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
from inventory.science.saying import joined, say
from sourcing.buying import Buying
from sourcing.ordered import OrderFacts
from sourcing.ordering.shopping import Together
from sourcing.week.words import day_in_words

COLUMNS = 100
MARKS = {"yes": "●", "wait": "◐", "see": "!", "no": "○", "plain": "·"}
ENOUGH = say("what is on the shelf, in the post and on order is enough for every run asked for")
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
    blocks: list[list[str]] = [
        [
            say(
                "{studio} · {on} {year}, {at:%H:%M} · fibre orders",
                studio=buying.studio,
                on=day_in_words(on),
                year=on.year,
                at=buying.at,
            )
        ],
        ["TO BUY", *_to_buy(rows, len(buying.stuffs))],
        [say("THE CHEAPEST ORDER FOR ALL OF IT"), *_cheapest(cheapest, found)] if rows else [""],
        [say("WRITTEN, OR ON ITS WAY"), *_orders(open_, OPEN_AT_MOST, buying)],
        [say("COME OR CALLED OFF"), *_orders(closed, CLOSED_AT_MOST, buying)],
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
        yield from wrapped("  ● ", say("nothing: {enough}", enough=ENOUGH))
    for row in rows:
        bought = say(" = {bought} as it is bought", bought=row.bought) if row.bought else ""
        text = say(
            "{name}: {amount} ready to dye{bought}: {word}",
            name=row.name,
            amount=row.amount,
            bought=bought,
            word=row.word.upper(),
        )
        yield from wrapped(say("  {marks} ", marks=MARKS[row.tone]), text)
        for need in row.needs:
            for_ = say(" for {runs}", runs=need.runs) if need.runs else ""
            why = say(" ({said})", said=need.said) if need.said else ""
            yield from wrapped(
                "      ",
                say(
                    "{amount} by {by}{for_}{why}",
                    amount=need.amount,
                    by=need.by,
                    for_=for_,
                    why=why,
                ),
            )
        for sentence in row.advice:
            yield from wrapped("      ", sentence)
        yield from _beside(row.quotes)
        for left in row.left_out:
            yield from wrapped(
                "      ○ ",
                say("not counted: {supplier}. {why}", supplier=left.supplier, why=left.why),
            )
    if (more := stuffs - FIBRES_AT_MOST) > 0:
        fibres = "fibre" if more == 1 else "fibres"
        yield say(
            "  {more} more {fibres}, needed later, not shown here; the order below counts all.",
            more=more,
            fibres=fibres,
        )


def _beside(quotes: tuple[QuoteShown, ...]) -> Iterator[str]:
    """The suppliers as columns, or one under the other where they are too wide for that."""
    table = [HEADS, *(_cells(quote) for quote in quotes)]
    widths = [max(len(row[n]) for row in table) for n in range(len(HEADS))]
    if sum(widths) + 2 * len(widths) + 8 > COLUMNS:
        for cells in table[1:]:
            named = joined(
                ", ",
                (
                    say("{head} {cell}", head=head, cell=cell)
                    for head, cell in zip(HEADS, cells, strict=True)
                ),
            )
            yield from wrapped("      ", named)
        return
    for row in table if quotes else ():
        padded = (cell.ljust(width) for cell, width in zip(row, widths, strict=True))
        yield say("      {padded}", padded="  ".join(padded)).rstrip()


def _cells(quote: QuoteShown) -> tuple[str, ...]:
    return (
        quote.supplier,
        say("{marks} {word}", marks=MARKS[quote.tone], word=quote.word),
        quote.arrives,
        quote.order_by,
        quote.packs,
        quote.cost,
        quote.over,
    )


# -- the cheapest order --------------------------------------------------------------------------


def _cheapest(plan: CheapestShown | None, found: Together) -> Iterator[str]:
    if plan is None:
        yield from wrapped("  ○ ", say("no order: {why}", why=found.why))
        return
    if plan.why_empty:
        yield from wrapped("  ○ ", say("no order: {why_empty}", why_empty=plan.why_empty))
    else:
        said = say(
            "{total} with carriage, {word}. {said} {gap}",
            total=plan.total,
            word=plan.word,
            said=plan.said,
            gap=plan.gap,
        ).rstrip()
        yield from wrapped(say("  {marks} ", marks=MARKS[plan.tone]), said)
    for order in plan.orders:
        carriage = (
            say("carriage {carriage}", carriage=order.carriage) if order.carriage else "no carriage"
        )
        head = say(
            "{supplier}, there on {arrives}: {total}, {carriage}",
            supplier=order.supplier,
            arrives=order.arrives,
            total=order.total,
            carriage=carriage,
        )
        yield from wrapped("      ", head)
        for line in order.lines:
            text = say(
                "{name} {packs} = {weight}, {price}",
                name=line.name,
                packs=line.packs,
                weight=line.weight,
                price=line.price,
            )
            yield from wrapped("        ", text)
        if order.more:
            yield say("        {more} more lines", more=order.more)
    if plan.over:
        yield from wrapped("      ", say("left over: {over}", over=joined(", ", plan.over)))
    for late in plan.late:
        yield from wrapped("      ○ ", say("late: {text}", text=late))
    for unsold in plan.not_sold:
        yield from wrapped(
            "      ○ ", say("not in it: {text}, as nobody asked sells so much of it", text=unsold)
        )
    for left in plan.left_out:
        yield from wrapped(
            "      ", say("not asked: {supplier}. {why}", supplier=left.supplier, why=left.why)
        )


# -- orders --------------------------------------------------------------------------------------


def _orders(orders: Sequence[OrderFacts], at_most: int, buying: Buying) -> Iterator[str]:
    rows = rows_of(orders[:at_most], on=buying.today)
    for row in rows:
        yield from order_lines(row)
    if (more := len(orders) - at_most) > 0:
        yield say("  {more} older ones are not shown.", more=more)


def order_lines(row: OrderRow) -> Iterable[str]:
    """One order: how it stands, what it brings, what has become of it."""
    state = (
        say("{state}, {overdue}", state=row.state.upper(), overdue=row.overdue)
        if row.overdue
        else row.state.upper()
    )
    tone = "see" if row.overdue else row.tone
    yield from wrapped(
        say("  {marks} ", marks=MARKS[tone]),
        say(
            "{label} {supplier}, {total}: {state}",
            label=row.label,
            supplier=row.supplier,
            total=row.total,
            state=state,
        ),
    )
    runs = say(" for {runs}", runs=row.runs) if row.runs else ""
    came = say("; {came}", came=row.came) if row.came else ""
    yield from wrapped(
        "      ",
        say(
            "{brings}{runs}{came}. {when}.", brings=row.brings, runs=runs, came=came, when=row.when
        ),
    )
