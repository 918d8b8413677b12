"""How heavy is a length of cloth, and how far does a weight of it go?

Cloth is sold by the metre and dyed by the kilo; its width and the weight of a square metre lead
from one to the other. All of it dry.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from inventory.science.saying import say
from inventory.science.unclear import OutOfRange
from inventory.science.units import INCH_MM, POUND_MG

MM2_PER_M2 = 1_000_000
YARD_MM = 36 * INCH_MM
# g/m² of one ounce on a square yard, exact; NIST SP 811 (2008), App. B.8 prints 33.905 75.
OUNCE_PER_SQUARE_YARD = Fraction(POUND_MG / 16 * MM2_PER_M2 / (YARD_MM * YARD_MM * 1000))
LIGHTEST, HEAVIEST = 5, 2_000  # g/m²; voile has some 20, a heavy felt some 1,500
NARROWEST_MM, WIDEST_MM = 10, 5_000


@dataclass(frozen=True, slots=True)
class ClothSize:
    """What leads from metres to grams: weight of a square metre, and width."""

    g_per_m2: Decimal
    width_mm: int

    def __post_init__(self) -> None:
        if not LIGHTEST <= self.g_per_m2 <= HEAVIEST:
            raise OutOfRange(
                "g_per_m2",
                self.g_per_m2,
                say("from {lightest} to {heaviest}", lightest=LIGHTEST, heaviest=HEAVIEST),
            )
        if not NARROWEST_MM <= self.width_mm <= WIDEST_MM:
            raise OutOfRange(
                "width_mm",
                self.width_mm,
                say(
                    "from {narrowest_mm} to {widest_mm}",
                    narrowest_mm=NARROWEST_MM,
                    widest_mm=WIDEST_MM,
                ),
            )


def mass_mg(length_mm: int | Fraction, size: ClothSize) -> Fraction:
    """Mass of a length of cloth [mg], exact.

    Parameters
    ----------
    length_mm : length [mm], 0 or more

    Raises
    ------
    OutOfRange
        If the length is below 0.

    References
    ----------
    Mass is length x width x mass of a unit of area (definition; ISO 3801 measures the last).

    Examples
    --------
    >>> float(mass_mg(12_000, ClothSize(Decimal(180), 1500))) / 1000
    3240.0
    """
    if length_mm < 0:
        raise OutOfRange("length", say("{length_mm} mm", length_mm=length_mm), "0 or more")
    return Fraction(length_mm) * size.width_mm * Fraction(size.g_per_m2) * 1000 / MM2_PER_M2


def length_mm(weight_mg: int | Fraction, size: ClothSize) -> Fraction:
    """Length of cloth of a mass [mm], exact.

    Parameters
    ----------
    weight_mg : mass [mg], 0 or more

    Examples
    --------
    >>> length_mm(3_240_000, ClothSize(Decimal(180), 1500))
    Fraction(12000, 1)
    """
    if weight_mg < 0:
        raise OutOfRange("mass", say("{weight_mg} mg", weight_mg=weight_mg), "0 or more")
    return Fraction(weight_mg) * MM2_PER_M2 / (size.width_mm * Fraction(size.g_per_m2) * 1000)


def thinned(size: ClothSize, *, before_mg: int, after_mg: int) -> ClothSize:
    """The size of cloth that lost weight and kept its metres: scouring takes grease and size out.

    Shrinking is left out. Weights above 0, after at most before.

    Examples
    --------
    >>> thinned(ClothSize(Decimal(200), 1500), before_mg=1000, after_mg=950).g_per_m2
    Decimal('190')
    """
    if not 0 < after_mg <= before_mg:
        raise OutOfRange(
            "mass afterwards",
            say("{after_mg} mg", after_mg=after_mg),
            say("above 0, at most {before_mg} mg", before_mg=before_mg),
        )
    lighter = size.g_per_m2 * after_mg / before_mg
    return ClothSize(max(Decimal(LIGHTEST), _to_the_thousandth(lighter)), size.width_mm)


def _to_the_thousandth(number: Decimal) -> Decimal:
    rounded = number.quantize(Decimal("0.001")).normalize()
    return rounded if rounded.as_tuple().exponent <= 0 else rounded.quantize(Decimal(1))  # type: ignore[operator]
