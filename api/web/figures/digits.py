"""A figure's digits as people write them."""

from __future__ import annotations

from decimal import Decimal


def in_digits(value: Decimal) -> str:
    """Digits with a comma between thousands and without noughts at the end.

    >>> in_digits(Decimal("1095.00")), in_digits(Decimal("0.50")), in_digits(Decimal("1E+3"))
    ('1,095', '0.5', '1,000')
    """
    said = f"{value:,f}"
    return said.rstrip("0").rstrip(".") if "." in said else said
