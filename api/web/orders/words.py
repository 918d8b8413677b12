"""Money, packs, weights and days as a fibre order says them."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from fractions import Fraction

from inventory.science.saying import counted, say
from inventory.science.units import whole
from sourcing.ordering.answer import Line, Order
from sourcing.ordering.facts import Stuff
from sourcing.week.words import MONTHS, day_in_words, grams, in_currency, kilos, listed, money

MINOR = 100  # pence to the pound; money is kept in hundredths everywhere
KG_MG = 1_000_000
NEAR_DAYS = 180  # within these a weekday helps, beyond them the year does


def money_said(minor: int | Fraction, currency: str) -> str:
    """Money as on a price list: without pence where there are none.

    >>> money_said(11_200, "GBP"), money_said(1_450, "GBP"), money_said(98_765, "CHF")
    ('£112', '£14.50', 'CHF 987.65')
    """
    full = money_in_full(minor, currency)
    if not full.endswith(".00"):
        return full
    sum_ = say("{sum:,}", sum=int(Decimal(money(Fraction(minor) / MINOR))))
    return in_currency(sum_, currency)


def money_in_full(minor: int | Fraction, currency: str) -> str:
    """Money to the penny, as an order is written.

    >>> money_in_full(11_200, "GBP"), money_in_full(123_456_789, "EUR")
    ('£112.00', '€1,234,567.89')
    """
    sum_ = Decimal(money(Fraction(minor) / MINOR))
    return in_currency(say("{sum:,.2f}", sum=sum_), currency)


def weight_said(mg: int | Fraction) -> str:
    """A weight to the gram, from whole kilos on in kg.

    >>> weight_said(3_915_789), weight_said(4_000_000), weight_said(250_000)
    ('3,916 g', '4 kg', '250 g')
    """
    rounded = whole(Fraction(mg))
    return kilos(rounded) if rounded >= KG_MG and rounded % KG_MG == 0 else grams(rounded)


def stuff_said(stuff: Stuff) -> str:
    """A fibre in its form.

    >>> stuff_said(Stuff("wool", "yarn"))
    'wool yarn'
    """
    return say("{fibre} {form}", fibre=stuff.fibre, form=stuff.form).strip()


def packs_said(packs: int, pack_mg: int) -> str:
    """Packs by their weight.

    >>> packs_said(4, 1_000_000), packs_said(12, 250_000)
    ('4 × 1 kg', '12 × 250 g')
    """
    return say("{packs:,} × {weight_said}", packs=packs, weight_said=weight_said(pack_mg))


def lines_said(order: Order) -> str:
    """All that one order brings: `4 × 1 kg`, or `2 × 1 kg and 1 × 250 g`."""
    return listed(packs_said(line.packs, line.offer.pack_mg) for line in order.lines)


def weight_of(lines: tuple[Line, ...]) -> str:
    return weight_said(sum(line.mg for line in lines))


def day_said(day: date, on: date) -> str:
    """A day near at hand with its weekday, one further off with its year.

    >>> day_said(date(2026, 12, 9), date(2026, 11, 23)), day_said(date(2027, 9, 1),
    ...     date(2026, 11, 23))
    ('Wed 9 Dec', '1 Sep 2027')
    """
    if abs((day - on).days) <= NEAR_DAYS:
        return day_in_words(day)
    return say("{day} {months} {year}", day=day.day, months=MONTHS[day.month - 1], year=day.year)


def days_said(days: int, *, working: bool = False) -> str:
    """A count of days.

    >>> days_said(2, working=True), days_said(1)
    ('2 working days', '1 day')
    """
    if working:
        return counted("{count:,} working day", "{count:,} working days", count=days)
    return counted("{count:,} day", "{count:,} days", count=days)
