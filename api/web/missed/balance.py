"""Two bars against what is wanted: what is likely there with a visit, and without it."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal

from inventory.science.saying import say
from sourcing.week.ripple import Balance, SumMoved, balance_in_words
from sourcing.week.words import grams

WIDTH = 300  # of the widest, in units of the drawing


@dataclass(frozen=True, slots=True)
class BalanceBar:
    """One bar: how long it is, and the same in words."""

    name: str  # with it, without it
    width: str
    text: str
    short: bool


def bars_of(row: SumMoved) -> tuple[tuple[BalanceBar, ...], str]:
    """The bars of a sum, and where the line of what is wanted stands."""
    rows = [(say("with it"), row.before), (say("without it"), row.after)]
    widest = max(row.need_mg, *(each.there_mg for _, each in rows if each is not None), 1)
    bars = tuple(_bar(name, each, row, widest) for name, each in rows if each is not None)
    return bars, _x(row.need_mg, widest)


def _bar(name: str, each: Balance, row: SumMoved, widest: int) -> BalanceBar:
    text = say(
        "{there_mg}, {balance_in_words}",
        there_mg=grams(each.there_mg),
        balance_in_words=balance_in_words(row.what, each),
    )
    return BalanceBar(name, _x(each.there_mg, widest), text, short=each.short_mg > 0)


def _x(mg: int, widest: int) -> str:
    return f"{(Decimal(WIDTH) * max(mg, 0) / widest).quantize(Decimal('0.1'))}"
