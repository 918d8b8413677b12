"""Weights and volumes in ounces and pounds, fluid ounces, pints and gallons, as people say them.

What is kept stays in milligrams and microlitres; here it is only written, each to the step of the
scale or the jug that it would be read from.
"""

from __future__ import annotations

from fractions import Fraction

from inventory.science.saying import Said, say
from inventory.science.units import POUND_MG, UK_GALLON_UL, US_GALLON_UL

OUNCES, TENTHS = 16, 10
THOUSAND = 1000  # an ounce that was read and rounded to the microlitre is one still
WHOLE_OUNCES_FROM_LB, TENTHS_OF_LB_FROM = 10, 100
# Fluid ounces of a pint, and what one holds.
FLUID = {
    "imperial": (20, UK_GALLON_UL / 160),  # 28.413 mL
    "us": (16, US_GALLON_UL / 128),  # 29.574 mL
}
PINTS = 8  # of a gallon, in both


def pounds_said(mg: int | Fraction) -> Said | None:
    """A weight in ounces and pounds; None below an ounce, which a scale for mordants shows in g.

    Parameters
    ----------
    mg : weight [mg]; below zero too, as of what is over

    Tenths of an ounce below ten pounds, whole ounces below a hundred, tenths of a pound above
    (common practice: the steps of kitchen, luggage and floor scales). Halves go up.

    References
    ----------
    The international avoirdupois pound, 0.45359237 kg: NIST SP 811 (2008), App. B.8.

    Examples
    --------
    >>> [pounds_said(mg) for mg in (28_000, 240_000, 992_233, 10_000_000, 60_000_000)]
    [None, '8.5 oz', '2 lb 3 oz', '22 lb 1 oz', '132.3 lb']
    """
    ounces = abs(Fraction(mg)) * OUNCES / POUND_MG
    sign = "-" if mg < 0 else ""
    if 0 < _half_up(ounces * THOUSAND) < THOUSAND:
        return None
    tenths = _half_up(ounces * TENTHS)
    if tenths < OUNCES * TENTHS:
        return say("{sign}{ounces:,} oz", sign=sign, ounces=_plain(tenths))
    if tenths < WHOLE_OUNCES_FROM_LB * OUNCES * TENTHS:
        pounds, rest = divmod(tenths, OUNCES * TENTHS)
        return _two(sign, pounds, _plain(rest))
    whole_ounces = _half_up(ounces)
    if whole_ounces < TENTHS_OF_LB_FROM * OUNCES:
        return _two(sign, *divmod(whole_ounces, OUNCES))
    return say("{sign}{pounds:,} lb", sign=sign, pounds=_plain(_half_up(ounces * TENTHS / OUNCES)))


def gallons_said(ul: int | Fraction, units: str) -> Said | None:
    """A volume in fluid ounces, pints and gallons; None below a fluid ounce, which stays in mL.

    Parameters
    ----------
    ul : volume [µL]; below zero too
    units : `imperial` or `us`: whose pint it is

    Tenths of a fluid ounce below a pint, whole ones below a gallon, tenths of a gallon above
    (common practice: the steps of measuring jugs and buckets). Halves go up.

    References
    ----------
    UK gallon 4.54609 L: Weights and Measures Act 1985, Schedule 1. US gallon 231 cubic inches,
    3.785411784 L: NIST Handbook 44, App. C.

    Examples
    --------
    >>> [gallons_said(ul, "imperial") for ul in (20_000, 450_000, 600_000, 36_000_000)]
    [None, '15.8 fl oz', '1 pt 1 fl oz', '7.9 gal']
    >>> [gallons_said(ul, "us") for ul in (450_000, 600_000, 36_000_000)]
    ['15.2 fl oz', '1 pt 4 fl oz', '9.5 gal']
    """
    of_pint, holds = FLUID[units]
    ounces = abs(Fraction(ul)) / holds
    sign = "-" if ul < 0 else ""
    if 0 < _half_up(ounces * THOUSAND) < THOUSAND:
        return None
    tenths = _half_up(ounces * TENTHS)
    if tenths < of_pint * TENTHS:
        return say("{sign}{ounces:,} fl oz", sign=sign, ounces=_plain(tenths))
    pints, rest = divmod(_half_up(ounces), of_pint)
    if pints < PINTS:
        if rest:
            return say("{sign}{pints} pt {ounces} fl oz", sign=sign, pints=pints, ounces=rest)
        return say("{sign}{pints} pt", sign=sign, pints=pints)
    gallons = _half_up(ounces * TENTHS / (of_pint * PINTS))
    return say("{sign}{gallons:,} gal", sign=sign, gallons=_plain(gallons))


def _two(sign: str, pounds: int, ounces: int | float) -> Said:
    if ounces:
        return say("{sign}{pounds} lb {ounces} oz", sign=sign, pounds=pounds, ounces=ounces)
    return say("{sign}{pounds} lb", sign=sign, pounds=pounds)


def _plain(tenths: int) -> int | float:
    """Tenths as a number, whole where it is; a float holds one decimal place exactly enough."""
    whole, rest = divmod(tenths, TENTHS)
    return tenths / TENTHS if rest else whole


def _half_up(number: Fraction) -> int:
    """A number of 0 or more as a whole one, halves up."""
    return int(number + Fraction(1, 2))
