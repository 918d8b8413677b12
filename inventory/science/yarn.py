"""How fine a yarn is and how far it goes: tex, metric, cotton, linen and woollen counts.

A direct count says the mass of a length (tex: g per km), an indirect one the length of a mass
(metric: m per g).
"""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from inventory.science.saying import joined, say
from inventory.science.unclear import OutOfRange
from inventory.science.units import POUND_MG

YARD_MM = Fraction("914.4")  # exact: NIST SP 811 (2008), App. B.8

# Direct counts: g per km of one unit.
DIRECT = {"tex": Fraction(1), "dtex": Fraction(1, 10), "denier": Fraction(1, 9)}
# Indirect counts: yards per pound of count 1 (ASTM D2260, table 1; ISO 1144).
YARDS_PER_POUND = {
    "cotton": 840,
    "worsted": 560,
    "linen lea": 300,
    "woollen run": 1600,
}


def tex(count: int | Decimal | Fraction, system: str) -> Fraction:
    """The fineness of a single yarn in tex [g/km].

    Parameters
    ----------
    count : number, above 0
    system : `tex dtex denier metric cotton worsted`, `linen lea` or `woollen run`

    Raises
    ------
    OutOfRange
        If the count is not above 0 or the system is none of these.

    References
    ----------
    ISO 1144; ASTM D2260, table 1 (cotton count 1 is 590.541 tex).

    Examples
    --------
    >>> round(float(tex(1, "cotton")), 3)
    590.541
    """
    if count <= 0:
        raise OutOfRange("count", count, "above 0")
    if system in DIRECT:
        return Fraction(count) * DIRECT[system]
    return _tex_of_one(system) / Fraction(count)


def yarn_count(fineness_tex: int | Decimal | Fraction, system: str) -> Fraction:
    """A fineness in tex as the count of another system.

    Examples
    --------
    >>> round(float(yarn_count(30, "cotton")), 1)
    19.7
    """
    if fineness_tex <= 0:
        raise OutOfRange("fineness_tex", fineness_tex, "above 0")
    if system in DIRECT:
        return Fraction(fineness_tex) / DIRECT[system]
    return _tex_of_one(system) / Fraction(fineness_tex)


def yarn_length_m(
    mass_mg: int | Fraction, count: int | Decimal | Fraction, system: str, *, plies: int = 1
) -> Fraction:
    """Metres in a mass of yarn, the take-up of plying left out.

    Parameters
    ----------
    mass_mg : mass [mg], 0 or more
    count, system : fineness of the single yarn, as in `tex`
    plies : whole number, at least 1
        2 for “28/2”.

    References
    ----------
    Definition of the metric count: Nm is m per g of the single.

    Examples
    --------
    >>> yarn_length_m(100_000, 28, "metric", plies=2)
    Fraction(1400, 1)
    """
    if mass_mg < 0:
        raise OutOfRange("mass", say("{mass_mg} mg", mass_mg=mass_mg), "0 or more")
    if plies < 1:
        raise OutOfRange("plies", plies, "at least 1")
    return Fraction(mass_mg) / (tex(count, system) * plies)


def _tex_of_one(system: str) -> Fraction:
    """The fineness of count 1 of an indirect system."""
    if system == "metric":
        return Fraction(1000)
    if system not in YARDS_PER_POUND:
        known = joined(", ", [*DIRECT, "metric", *YARDS_PER_POUND])
        raise OutOfRange("system", system, say("one of {known}", known=known))
    grams, km = POUND_MG / 1000, YARDS_PER_POUND[system] * YARD_MM / 1_000_000
    return grams / km
