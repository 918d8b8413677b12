"""Which weight a weight is: fresh or dried, oven-dry or as sold, unscoured or scoured.

Weights go in as whole milligrams or exact fractions and come out exact; they are rounded once,
where they are written down (`to_grams`, `to_mg`).
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from inventory.science.saying import say
from inventory.science.unclear import OutOfRange

Exact = int | Fraction | Decimal
PlantState = Literal["fresh", "frozen", "damp", "dried"]


def in_state(
    mass_mg: Exact,
    *,
    had: PlantState,
    wanted: PlantState,
    dried_per_fresh: Exact,
    frozen_per_fresh: Exact = 1,
) -> Fraction:
    """What a weight of plant matter in one state comes to in another.

    Parameters
    ----------
    mass_mg : mass [mg], 0 or more
    had, wanted : `fresh`, `frozen` or `dried`
        `damp` has no fixed weight: it is dried and weighed again.
    dried_per_fresh : fraction, above 0, at most 1.1
        The studio's own where it has one; above 1 only for what comes air-dry and takes up damp.
    frozen_per_fresh : fraction, above 0, at most 1
        1 where what thaws off is kept with the lot.

    Returns
    -------
    mass [mg], exact

    Raises
    ------
    OutOfRange
        If a value lies outside its range above.

    References
    ----------
    Dry matter is the same before and after; the fractions are figures of the tables.

    Examples
    --------
    >>> in_state(1_400_000, had="fresh", wanted="dried", dried_per_fresh=Decimal("0.40"))
    Fraction(560000, 1)
    """
    per_fresh = {
        "fresh": Fraction(1),
        "frozen": _fraction("frozen_per_fresh", frozen_per_fresh, at_most=Fraction(1)),
        "dried": _fraction("dried_per_fresh", dried_per_fresh, at_most=Fraction(11, 10)),
    }
    for name, state in (("had", had), ("wanted", wanted)):
        if state not in per_fresh:
            raise OutOfRange(name, state, say("fresh, frozen or dried; dry it and weigh it again"))
    return _mass(mass_mg) / per_fresh[had] * per_fresh[wanted]


def dried_from_fresh(fresh_mg: Exact, *, dried_per_fresh: Exact) -> Fraction:
    """The dried weight that a fresh weight leaves.

    Examples
    --------
    >>> dried_from_fresh(1_400_000, dried_per_fresh=Decimal("0.40"))
    Fraction(560000, 1)
    """
    return in_state(fresh_mg, had="fresh", wanted="dried", dried_per_fresh=dried_per_fresh)


def fresh_from_dried(dried_mg: Exact, *, dried_per_fresh: Exact) -> Fraction:
    """The fresh weight that a dried weight came from.

    Examples
    --------
    >>> fresh_from_dried(480_000, dried_per_fresh=Decimal("0.40"))
    Fraction(1200000, 1)
    """
    return in_state(dried_mg, had="dried", wanted="fresh", dried_per_fresh=dried_per_fresh)


def dried_per_fresh_of(*, fresh_mg: Exact, dried_mg: Exact) -> Fraction:
    """The studio's own fraction, from a lot weighed before and after drying.

    Examples
    --------
    >>> dried_per_fresh_of(fresh_mg=1_400_000, dried_mg=560_000)
    Fraction(2, 5)
    """
    fresh = _mass(fresh_mg)
    if fresh == 0:
        raise OutOfRange("fresh_mg", fresh_mg, "above 0")
    return _fraction("dried_mg / fresh_mg", _mass(dried_mg) / fresh, at_most=Fraction(11, 10))


def content_from_regain(regain: Exact) -> Fraction:
    """Moisture as a fraction of the whole, from moisture as a fraction of the dry fibre.

    References
    ----------
    M = R / (1 + R): definitions of ASTM D2118 (13.04 % content is 15.0 % regain).

    Examples
    --------
    >>> round(float(content_from_regain(Decimal("0.12"))), 8)
    0.10714286
    """
    regain = _regain(regain)
    return regain / (1 + regain)


def regain_from_content(content: Exact) -> Fraction:
    """Moisture as a fraction of the dry fibre, from moisture as a fraction of the whole.

    References
    ----------
    R = M / (1 - M): the turned form of `content_from_regain`.

    Examples
    --------
    >>> round(float(regain_from_content(Decimal("0.1304"))), 3)
    0.15
    """
    content = Fraction(content)
    if not 0 <= content < 1:
        raise OutOfRange("content", content, "0 or more and below 1")
    return content / (1 - content)


def oven_dry_mass(conditioned_mg: Exact, *, regain: Exact) -> Fraction:
    """The mass of fibre without any moisture, from its mass as it lies.

    References
    ----------
    Definition of regain: moisture per oven-dry mass (ASTM D2118).

    Examples
    --------
    >>> oven_dry_mass(1_160_000, regain=Decimal("0.16"))
    Fraction(1000000, 1)
    """
    return _mass(conditioned_mg) / (1 + _regain(regain))


def commercial_mass(oven_dry_mg: Exact, *, allowance: Exact) -> Fraction:
    """The mass that fibre is sold by: oven-dry mass and the agreed allowance.

    Parameters
    ----------
    oven_dry_mg : mass [mg], 0 or more
    allowance : fraction of the oven-dry mass, 0 to 1
        0.17 for carded wool: a figure of the tables.

    Returns
    -------
    mass [mg], exact

    References
    ----------
    Regulation (EU) 1007/2011, Annex IX: allowance as a percentage of the anhydrous mass.

    Examples
    --------
    >>> round(commercial_mass(oven_dry_mass(1_000_000, regain=Decimal("0.16")),
    ...                       allowance=Decimal("0.17")))
    1008621
    """
    return _mass(oven_dry_mg) * (1 + _regain(allowance, "allowance"))


def blend_regain(shares: Iterable[tuple[Exact, Exact]]) -> Fraction:
    """The regain of a blend, from `(share of the dry mass, regain)` of each fibre.

    Parameters
    ----------
    shares : at least one, any order; the shares add up to 1

    Examples
    --------
    >>> blend_regain([(Decimal("0.6"), Decimal("0.085")), (Decimal("0.4"), Decimal("0.13"))])
    Fraction(103, 1000)
    """
    rows = [(Fraction(share), _regain(regain)) for share, regain in shares]
    total = sum(share for share, _ in rows)
    if total != 1 or any(share < 0 for share, _ in rows):
        raise OutOfRange(say("sum of the parts"), total, "1, with none below 0")
    return sum((share * regain for share, regain in rows), Fraction(0))


def raw_for_scoured(scoured_mg: Exact, *, scour_loss: Exact) -> Fraction:
    """The unscoured fibre that leaves so much when scoured.

    Parameters
    ----------
    scoured_mg : mass [mg], 0 or more, dry
    scour_loss : fraction of the unscoured mass, 0 or more and below 1

    Returns
    -------
    mass [mg], exact, dry

    References
    ----------
    Conservation of mass; the loss is a figure of the tables or the studio's own.

    Examples
    --------
    >>> to_grams(raw_for_scoured(2_000_000, scour_loss=Decimal("0.05")))
    2105
    """
    return _mass(scoured_mg) / (1 - _loss(scour_loss))


def scoured_from_raw(raw_mg: Exact, *, scour_loss: Exact) -> Fraction:
    """What unscoured fibre leaves when scoured.

    Examples
    --------
    >>> scoured_from_raw(2_400_000, scour_loss=Decimal("0.05"))
    Fraction(2280000, 1)
    """
    return _mass(raw_mg) * (1 - _loss(scour_loss))


def scour_loss_of(*, raw_mg: Exact, scoured_mg: Exact) -> Fraction:
    """The studio's own scour loss, from a lot weighed dry before and after.

    Examples
    --------
    >>> scour_loss_of(raw_mg=2_400_000, scoured_mg=2_280_000)
    Fraction(1, 20)
    """
    raw, scoured = _mass(raw_mg), _mass(scoured_mg)
    if not 0 < scoured <= raw:
        raise OutOfRange(
            "scoured_mg", scoured_mg, say("above 0, at most raw_mg ({raw_mg})", raw_mg=raw_mg)
        )
    return 1 - scoured / raw


def crystals_for_ash(ash_mg: Exact, *, crystals_per_ash: Exact) -> Fraction:
    """Soda crystals that do the work of so much soda ash.

    Parameters
    ----------
    ash_mg : mass [mg], 0 or more
    crystals_per_ash : number, 1 to 3
        2.70: molar masses of the decahydrate and the anhydrous salt; less for effloresced crystals.

    Returns
    -------
    mass [mg], exact

    References
    ----------
    tables/supplies.csv, soda ash, crystals_per_ash: 286.14 / 105.99.

    Examples
    --------
    >>> crystals_for_ash(300_000, crystals_per_ash=Decimal("2.70"))
    Fraction(810000, 1)
    """
    return _mass(ash_mg) * _crystals(crystals_per_ash)


def ash_for_crystals(crystals_mg: Exact, *, crystals_per_ash: Exact) -> Fraction:
    """Soda ash that does the work of so many soda crystals.

    Examples
    --------
    >>> ash_for_crystals(810_000, crystals_per_ash=Decimal("2.70"))
    Fraction(300000, 1)
    """
    return _mass(crystals_mg) / _crystals(crystals_per_ash)


def to_grams(mass_mg: Exact) -> int:
    """To the whole gram, once, halves to the even side.

    Examples
    --------
    >>> to_grams(Fraction(2_000_000, 95) * 100), to_grams(500), to_grams(1_500)
    (2105, 0, 2)
    """
    return round(Fraction(mass_mg) / 1000)


def to_mg(mass_mg: Exact) -> int:
    """To the whole milligram, once, halves to the even side."""
    return round(Fraction(mass_mg))


def _mass(mass_mg: Exact) -> Fraction:
    if mass_mg < 0:
        raise OutOfRange("mass", say("{mass_mg} mg", mass_mg=mass_mg), "0 or more")
    return Fraction(mass_mg)


def _fraction(name: str, value: Exact, *, at_most: Fraction) -> Fraction:
    if not 0 < value <= at_most:
        raise OutOfRange(name, value, say("above 0, at most {at_most:g}", at_most=float(at_most)))
    return Fraction(value)


def _regain(value: Exact, name: str = "regain") -> Fraction:
    if not 0 <= value <= 1:
        raise OutOfRange(name, value, "0 to 1")
    return Fraction(value)


def _loss(value: Exact) -> Fraction:
    if not 0 <= value < 1:
        raise OutOfRange("scour_loss", value, "0 or more and below 1")
    return Fraction(value)


def _crystals(value: Exact) -> Fraction:
    if not 1 <= value <= 3:
        raise OutOfRange("crystals_per_ash", value, "1 to 3")
    return Fraction(value)
