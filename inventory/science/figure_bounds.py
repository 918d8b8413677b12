"""How far a figure may go before the sums that ask for it have nothing left to work with."""

from __future__ import annotations

from decimal import Decimal

# By the end of a rule's name, the first that fits. Where all is lost nothing is left to work with,
# what is all used up within the days of a jar has no pace, and starts that fall on every no
# minutes fall nowhere.
BOUNDS: tuple[tuple[str, Decimal | None, Decimal | None], ...] = (
    ("_loss_fraction", Decimal(0), Decimal("0.9")),
    ("usable_fraction", Decimal(0), Decimal("0.99")),
    ("_fraction", Decimal(0), Decimal(1)),
    ("_percent", Decimal(0), Decimal(100)),
    ("carry_in_plan", Decimal(0), Decimal(1)),
    ("night_ends_h", Decimal(0), Decimal(23)),
    ("starts_fall_on_min", Decimal(1), None),
)


def bounds_of(rule: str) -> tuple[Decimal | None, Decimal | None]:
    """The least and the most that the sums can work with; None where they can with any.

    Examples
    --------
    >>> bounds_of("scour_loss_fraction")
    (Decimal('0'), Decimal('0.9'))
    >>> bounds_of("piece_mass_g")
    (None, None)
    """
    return next((row[1:] for row in BOUNDS if rule.endswith(row[0])), (None, None))
