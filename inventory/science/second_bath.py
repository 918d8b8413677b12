"""What a dyebath that was used before is still worth: how much cloth it colours, and how deep.

The dye that a bath still holds is counted in cloth: so many grams at the full shade of its first
run. What a bath takes along when it is poured off goes by its litres.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from inventory.science.catalogue import figure, find_figure
from inventory.science.figures import Figure, Figures
from inventory.science.saying import say
from inventory.science.unclear import OutOfRange


def strength_of(number: int, figures: Figures, *, on: date) -> tuple[Fraction, Figure | None]:
    """Share of the full shade that as much cloth takes from the so-manieth bath, and its figure.

    Parameters
    ----------
    number : 1 for the bath of the full shade, 2 for the second bath, and so on
    on : day whose figures hold

    Returns
    -------
    fraction, above 0 to 1, with the figure that it rests on; None for the first bath

    Raises
    ------
    OutOfRange
        If `number` is below 1.

    References
    ----------
    Second bath 40 to 70 %, third 20 to 50 % of the first shade: common practice (studio.csv).
    From the fourth on each is to the one before as the third is to the second: assumed, not
    measured.

    Examples
    --------
    >>> strength_of(2, Figures(), on=date(2026, 11, 24))[0]
    Fraction(1, 2)
    >>> strength_of(4, Figures(), on=date(2026, 11, 24))[0]
    Fraction(9, 50)
    """
    if number < 1:
        raise OutOfRange("number", number, say("1 or more"))
    if number == 1:
        return Fraction(1), None
    second = figure(figures, "studio", "second_bath_strength_fraction", on=on)
    if number == 2:
        return Fraction(second.value), second
    third = figure(figures, "studio", "third_bath_strength_fraction", on=on)
    fall = Fraction(third.value) / Fraction(second.value) if second.value else Fraction(0)
    return Fraction(third.value) * fall ** (number - 3), third


def left_in(number: int, figures: Figures, *, on: date) -> tuple[Fraction, Figure | None]:
    """Share of its shade that the so-manieth bath leaves to the next, and the figure of that.

    Examples
    --------
    >>> left_in(1, Figures(), on=date(2026, 11, 24))[0]  # half the shade for as much cloth again
    Fraction(1, 2)
    >>> left_in(2, Figures(), on=date(2026, 11, 24))[0]  # 30 % after 50 %
    Fraction(3, 5)
    """
    mine, _ = strength_of(number, figures, on=on)
    after, found = strength_of(number + 1, figures, on=on)
    return (after / mine if mine else Fraction(0)), found


def litres_per_kg(first_l_per_kg: Fraction, *, strength: Fraction, left: Fraction) -> Fraction:
    """Litres of a used bath that a kilo of cloth asks for to come out at a strength.

    Parameters
    ----------
    first_l_per_kg : ratio [L/kg], above 0
        Of the run whose bath it was.
    strength : fraction, above 0 to 1
        Of that run's shade, wanted.
    left : fraction, above 0 to 1
        Of that run's shade, which as much cloth takes from the whole bath (`left_in`).

    Returns
    -------
    ratio [L/kg]: the rest of the follower's own ratio is topped up with water

    Raises
    ------
    OutOfRange
        If a value lies outside its range above.

    References
    ----------
    Balance of dye: W₁ kg leave `left` × W₁ in ratio × W₁ litres, W₂ kg want `strength` × W₂.

    Examples
    --------
    >>> litres_per_kg(Fraction(30), strength=Fraction(1, 2), left=Fraction(1, 2))
    Fraction(30, 1)
    >>> litres_per_kg(Fraction(30), strength=Fraction(2, 5), left=Fraction(1, 2))
    Fraction(24, 1)
    """
    if first_l_per_kg <= 0:
        raise OutOfRange("first_l_per_kg", first_l_per_kg, say("above 0"))
    _in_range(strength, left)
    return first_l_per_kg * strength / left


def cloth_for(first_mg: int, *, strength: Fraction, left: Fraction) -> int:
    """The most cloth [mg, dry] that the whole of a used bath brings to a strength.

    Parameters
    ----------
    first_mg : mass [mg], 0 or more
        Cloth of the run whose bath it was, dry.
    strength, left : as for `litres_per_kg`

    Examples
    --------
    >>> cloth_for(2_000_000, strength=Fraction(2, 5), left=Fraction(1, 2))
    2500000
    """
    if first_mg < 0:
        raise OutOfRange("first_mg", first_mg, say("0 or more"))
    _in_range(strength, left)
    return int(first_mg * left / strength)


def baths_at_most(dyestuffs: Iterable[str], figures: Figures, *, on: date) -> Figure | None:
    """How many baths cloth takes colour from, the first counted: of the dyestuff with the fewest.

    Parameters
    ----------
    dyestuffs : all that went into the bath, any order; empty: nobody knows
    on : day whose figures hold

    Returns
    -------
    figure [baths]; None where nothing is known

    Examples
    --------
    >>> baths_at_most(["madder", "beetroot"], Figures(), on=date(2026, 11, 24)).value
    Decimal('1')
    """
    found = [
        find_figure(figures, what, "exhaust_baths", on=on)
        or find_figure(figures, "any dyestuff", "exhaust_baths", on=on)
        for what in sorted(set(dyestuffs))
    ]
    return min((row for row in found if row is not None), key=lambda row: row.value, default=None)


def _in_range(strength: Fraction, left: Fraction) -> None:
    for name, value in (("strength", strength), ("left", left)):
        if not 0 < value <= 1:
            raise OutOfRange(name, value, say("above 0, at most 1"))
