"""Money and price lists as a notebook writes them, and back again.

Money is in the studio's own currency, to the hundredth.
"""

from __future__ import annotations

import re
from decimal import Decimal
from fractions import Fraction
from itertools import pairwise

from sourcing.notebook.problem import Unclear
from sourcing.notebook.quantities import read_number, read_weight, write_weight
from sourcing.notebook.saying import say

MOST_MINOR = 10**11  # a thousand million, in hundredths
WRITE_MONEY = say("Write money such as 28.00.")
WRITE_PRICES = say("Write the price of a pack, such as 22.00; from 10 kg 20.00.")
_FROM = re.compile(r"from (?P<weight>.+) (?P<price>[£€$]? ?[\d.,]+)", re.IGNORECASE)

Prices = tuple[tuple[int, int], ...]  # from so many mg of the line, minor units of a pack


def read_money(text: str) -> int:
    """Whole minor units, 0 or more.

    >>> read_money("£28"), read_money("1,250.50")
    (2800, 125050)
    """
    plain = re.sub(r"^[£€$] ?", "", text.strip())
    try:
        minor = read_number(plain) * 100
    except Unclear:
        raise Unclear(WRITE_MONEY) from None
    if minor != minor.to_integral_value() or not 0 <= minor <= MOST_MINOR:
        raise Unclear(WRITE_MONEY)
    return int(minor)


def write_money(minor: int) -> str:
    """Minor units with their point.

    >>> write_money(2800), write_money(125050)
    ('28.00', '1250.50')
    """
    return f"{minor // 100}.{minor % 100:02}"


def read_prices(text: str, country: str) -> Prices:
    """The tiers of a price list: the first from nothing on, then by weight of the line.

    >>> read_prices("22.00; from 10 kg 20.00", "GB")
    ((0, 2200), (10000000, 2000))
    """
    first, *rest = (part.strip() for part in text.split(";"))
    tiers = [(0, read_money(first))]
    for part in rest:
        found = _FROM.fullmatch(part)
        if found is None:
            raise Unclear(WRITE_PRICES)
        tiers.append((read_weight(found["weight"], country), read_money(found["price"])))
    for smaller, larger in pairwise(tiers):
        if larger[0] <= smaller[0] or larger[1] > smaller[1]:
            raise Unclear(
                say(
                    "Weights rise from tier to tier, and prices do not. {write_prices}",
                    write_prices=WRITE_PRICES,
                )
            )
    return tuple(tiers)


def write_prices(tiers: Prices) -> str:
    """The tiers of a price list in words.

    >>> write_prices(((0, 2200), (10000000, 2000)))
    '22.00; from 10,000 g 20.00'
    """
    (_, first), *rest = tiers
    return "; ".join(
        [
            write_money(first),
            *(f"from {write_weight(mg)} {write_money(minor)}" for mg, minor in rest),
        ]
    )


def share_of(percent: Decimal | None) -> Fraction | None:
    """Percent as a fraction."""
    return None if percent is None else Fraction(percent) / 100


def percent_of(share: Fraction | None) -> Decimal | None:
    """A fraction as percent, exact where a decimal can say it."""
    if share is None:
        return None
    percent = share * 100
    return (Decimal(percent.numerator) / Decimal(percent.denominator)).normalize() + 0
