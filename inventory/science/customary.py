"""Warmth, cloth and doses in degrees Fahrenheit, yards, ounces and gallons, as people say them.

What is kept stays in metric units; here it is only written, to the step of the thermometer, the
tape or the cup that it would be read from (common practice).
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import ROUND_CEILING, ROUND_FLOOR, ROUND_HALF_UP, Decimal
from fractions import Fraction

from inventory.science.pounds import FLUID, PINTS
from inventory.science.saying import Measure, Said, say
from inventory.science.units import INCH_MM, POUND_MG

YARD_MM = 36 * INCH_MM
OUNCE_MG = POUND_MG / 16
SQUARE_M = 1_000_000  # mm²
SKEIN_OUNCES = 4  # a skein weighs about so much, and doses of a liquor are told for one
TENTH, HUNDREDTH, WHOLE = Decimal("0.1"), Decimal("0.01"), Decimal(1)


def fahrenheit_of(warmth_c: Measure) -> Fraction:
    """A warmth [°C] in degrees Fahrenheit, exact.

    References
    ----------
    NIST SP 811 (2008), App. B.9: t/°F = 1.8 t/°C + 32.

    Examples
    --------
    >>> int(fahrenheit_of(80)), int(fahrenheit_of(-40))
    (176, -40)
    """
    return Fraction(warmth_c) * 9 / 5 + 32


def degrees_said(warmth_c: Measure, units: str) -> Said:
    """A warmth [°C] with its sign, in whole degrees Fahrenheit; halves go up.

    Examples
    --------
    >>> [degrees_said(warmth, "us") for warmth in (8, 82, -18)]
    ['46 °F', '180 °F', '0 °F']
    """
    return say("{degrees} °F", degrees=_to(fahrenheit_of(warmth_c), WHOLE))


def bare_degrees_said(warmth_c: Measure, units: str) -> Said:
    """The same without its sign, where another warmth follows that carries it."""
    return say("{degrees}", degrees=_to(fahrenheit_of(warmth_c), WHOLE))


def least_degrees_said(warmth_c: Measure, units: str) -> Said:
    """A warmth that is the least allowed: rounded up, so that it still is."""
    return say("{degrees} °F", degrees=_to(fahrenheit_of(warmth_c), WHOLE, ROUND_CEILING))


def sign_said(amount: Measure, units: str) -> Said:
    """The sign of the degrees alone."""
    return say("°F")


def yards_said(mm: Measure, units: str) -> Said:
    """A length of cloth [mm] in yards to the tenth, below a yard in whole inches.

    Examples
    --------
    >>> [yards_said(mm, "us") for mm in (12_450, 914, 500)]
    ['13.6 yd', '36 in', '20 in']
    """
    if abs(Fraction(mm)) < YARD_MM:
        return inches_said(mm, units)
    return say("{yards:,} yd", yards=_to(Fraction(mm) / YARD_MM, TENTH))


def inches_said(mm: Measure, units: str) -> Said:
    """A width of cloth [mm] in whole inches.

    Examples
    --------
    >>> inches_said(1500, "imperial")
    '59 in'
    """
    return say("{inches:,} in", inches=_to(Fraction(mm) / INCH_MM, WHOLE))


def ounces_per_yard_said(g_per_m2: Measure, units: str) -> Said:
    """What a square yard of cloth weighs, of grams for a square metre.

    Examples
    --------
    >>> ounces_per_yard_said(180, "us")
    '5.3 oz/yd²'
    """
    mg = Fraction(g_per_m2) * 1000 * YARD_MM * YARD_MM / SQUARE_M
    return say("{ounces:,} oz/yd²", ounces=_to(mg / OUNCE_MG, TENTH))


def dose_said(ml_per_100g: Measure, units: str) -> Said:
    """Fluid ounces of a liquor for four ounces of fibre, of millilitres for 100 g.

    Examples
    --------
    >>> dose_said(35, "us"), dose_said(35, "imperial")
    ('1.34 fl oz', '1.4 fl oz')
    """
    return _dose(ml_per_100g, units, ROUND_HALF_UP)


def most_of_dose_said(ml_per_100g: Measure, units: str) -> Said:
    """The same of the most that a fibre bears: rounded down, so that it never is more.

    Examples
    --------
    >>> most_of_dose_said(Decimal("51.8"), "us"), dose_said(Decimal("51.8"), "us")
    ('1.98 fl oz', '1.99 fl oz')
    """
    return _dose(ml_per_100g, units, ROUND_FLOOR)


def dosed_said(amount: Measure, units: str) -> Said:
    """For how much fibre a dose of a liquor is told."""
    return say("{ounces} oz", ounces=SKEIN_OUNCES)


def ratio_said(l_per_kg: Measure, units: str) -> Said:
    """Gallons of liquor for a pound of dry fibre, of litres for a kilo.

    Examples
    --------
    >>> ratio_said(20, "us"), ratio_said(20, "imperial"), ratio_said(30, "us")
    ('2.4 gal per lb', '2 gal per lb', '3.6 gal per lb')
    """
    of_pint, holds = FLUID[units]
    gallons = Fraction(l_per_kg) * POUND_MG / (of_pint * PINTS * holds)
    return say("{gallons:,} gal per lb", gallons=_to(gallons, TENTH))


# What is written how, by the mark that a measure carries.
WRITTEN: dict[str, Callable[[Measure, str], Said]] = {
    "°C": degrees_said,
    "°C bare": bare_degrees_said,
    "°C at least": least_degrees_said,
    "°C sign": sign_said,
    "mm": yards_said,
    "mm wide": inches_said,
    "g/m²": ounces_per_yard_said,
    "mL per 100 g": dose_said,
    "mL per 100 g at most": most_of_dose_said,
    "per 100 g": dosed_said,
    "L per kg": ratio_said,
}


def _dose(ml_per_100g: Measure, units: str, how: str) -> Said:
    ml = Fraction(ml_per_100g) * SKEIN_OUNCES * OUNCE_MG / 100_000
    return say("{ounces:,} fl oz", ounces=_to(ml * 1000 / FLUID[units][1], HUNDREDTH, how))


def _to(number: Fraction, step: Decimal, how: str = ROUND_HALF_UP) -> Decimal:
    """A number to a step, without zeros at its end; halves go away from nothing."""
    exact = Decimal(number.numerator) / Decimal(number.denominator)
    short = exact.quantize(step, how)
    # Minus nothing is nothing.
    return short.quantize(WHOLE) + 0 if short == short.to_integral() else short.normalize()
