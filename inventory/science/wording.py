"""Amounts written out: exactly, so that reading them gives the same amount, or short for people."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

from inventory.science.saying import Measure, Said, measured, say
from inventory.science.units import plural, whole

GRAMS_BELOW_MG = 100_000_000  # from 100 kg on, weights are written in kg
VULGAR = {
    Fraction(1, 2): "½",
    Fraction(1, 4): "¼",
    Fraction(3, 4): "¾",
    Fraction(1, 3): "⅓",
    Fraction(2, 3): "⅔",
}


def write_amount(mg: int, *, unit: str = "") -> str:
    """A weight in full: every milligram of it, to be read back as it was.

    Parameters
    ----------
    mg : whole number, 0 or more
    unit : `g` or `kg`; empty: g below 100 kg
        Amounts finer than 10 mg stand in mg, so that no point can be taken for thousands.

    Examples
    --------
    >>> write_amount(2_436_000), write_amount(1_500_000, unit="kg"), write_amount(40)
    ('2,436 g', '1.5 kg', '40 mg')
    """
    assert mg >= 0
    assert unit in ("", "g", "kg")
    if unit == "kg" or (not unit and mg >= GRAMS_BELOW_MG):
        said = say("{places} kg", places=_places(mg, 6))
    elif 0 < mg < 1000 or _looks_grouped(mg):
        said = say("{mg:,} mg", mg=mg)
    else:
        said = say("{places} g", places=_places(mg, 3, grouped=True))
    return measured(said, mg, "mg")


def write_volume(ul: int) -> str:
    """A volume in full: every microlitre of it, to be read back as it was.

    Examples
    --------
    >>> write_volume(900_000), write_volume(1_500_000), write_volume(36_000_000)
    ('900 mL', '1.5 L', '36 L')
    """
    assert ul >= 0
    if 0 < ul < 1000 or _looks_grouped(ul):
        said = say("{ul:,} µL", ul=ul)
    elif ul < 1_000_000:
        said = say("{places} mL", places=_places(ul, 3))
    else:
        said = say("{places} L", places=_places(ul, 6))
    return measured(said, ul, "µL")


def write_count(number: Fraction | int, noun: str) -> str:
    """How many of a piece or container, to be read back as it was.

    Examples
    --------
    >>> write_count(58, "stone"), write_count(Fraction(5, 2), "bucket"), write_count(1, "bag")
    ('58 stones', '2½ buckets', '1 bag')
    """
    number = Fraction(number)
    return say(
        "{number} {which}",
        number=write_fraction(number),
        which=noun if 0 < number <= 1 else plural(noun),
    )


def write_fraction(number: Fraction) -> str:
    """A number in full, with a fraction as people write one.

    Examples
    --------
    >>> [write_fraction(Fraction(part)) for part in ("1500", "3/2", "2/7", "23/10")]
    ['1,500', '1½', '2/7', '2.3']
    """
    whole_part, rest = divmod(number, 1)
    if not rest:
        return f"{whole_part:,}"
    if rest in VULGAR:
        return f"{whole_part or ''}{VULGAR[rest]}"
    places = next((count for count in range(1, 10) if (rest * 10**count).denominator == 1), None)
    if places is not None:
        return _places(int(number * 10**places), places)
    return say("{whole_part} {rest}", whole_part=whole_part, rest=rest) if whole_part else f"{rest}"


def mass_for_people(mg: int) -> str:
    """A weight as it is said: to the gram, or finer where it is under ten grams.

    Examples
    --------
    >>> [mass_for_people(mg) for mg in (992_233, 2_436_000, 9_876, 12)]
    ['992 g', '2,436 g', '9.88 g', '12 mg']
    """
    step = 1000 if mg >= 10_000 else 10 if mg >= 100 else 1
    return write_amount(whole(Fraction(mg, step)) * step)


def volume_for_people(ul: int) -> str:
    """A volume as it is said: to the millilitre, or finer where it is under ten.

    Examples
    --------
    >>> [volume_for_people(ul) for ul in (2_841_306, 568_261, 4_929)]
    ['2.841 L', '568 mL', '4.93 mL']
    """
    step = 1000 if ul >= 10_000 else 10 if ul >= 100 else 1
    return write_volume(whole(Fraction(ul, step)) * step)


def warmth(degrees_c: Measure) -> Said:
    """A warmth [°C] as it is read.

    >>> warmth(8), warmth(4.5)
    ('8 °C', '4.5 °C')
    """
    return measured(say("{warmth} °C", warmth=_short(degrees_c)), degrees_c, "°C")


def bare_warmth(degrees_c: Measure) -> Said:
    """A warmth [°C] without its sign, where another one follows that carries it: `8 → 55 °C`."""
    return measured(say("{warmth}", warmth=_short(degrees_c)), degrees_c, "°C bare")


def least_warmth(degrees_c: Measure) -> Said:
    """A warmth [°C] below which nothing may be."""
    return measured(say("{warmth} °C", warmth=_short(degrees_c)), degrees_c, "°C at least")


DEGREES = measured("°C", 0, "°C sign")  # as a question names them
OF_FIBRE = measured(say("{grams} g", grams=100), 100, "per 100 g")  # for which a liquor is dosed


def liquor_dose(ml_per_100g: int | Decimal, *, places: str = "", most: bool = False) -> Said:
    """Millilitres of a liquor for as much fibre as `OF_FIBRE` says.

    Parameters
    ----------
    places : form of the number, such as `.1f`; empty: as it is
    most : whether it is the most that a fibre bears, which is never rounded up

    Examples
    --------
    >>> liquor_dose(Decimal("51.8")), OF_FIBRE
    ('51.8 mL', '100 g')
    """
    number = format(ml_per_100g, places) if places else ml_per_100g
    kind = "mL per 100 g at most" if most else "mL per 100 g"
    return measured(say("{volume} mL", volume=number), ml_per_100g, kind)


def liquor_ratio(l_per_kg: Decimal) -> Said:
    """Litres of liquor for a kilo of dry fibre.

    >>> liquor_ratio(Decimal(20))
    '20 L per kg'
    """
    said = say("{ratio} L per kg", ratio=f"{l_per_kg.normalize():f}")
    return measured(said, l_per_kg, "L per kg")


def _short(degrees_c: Measure) -> str:
    """A warmth without zeros at its end."""
    return f"{float(degrees_c):g}"


def _looks_grouped(thousandths: int) -> bool:
    """Whether it would be written like “1.234”, which some read as twelve hundred and more."""
    return 1000 <= thousandths < 1_000_000 and thousandths % 10 != 0


def _places(number: int, places: int, *, grouped: bool = False) -> str:
    """A whole number with its point moved to the left, without zeros at the end."""
    before, after = divmod(number, 10**places)
    decimals = f"{after:0{places}d}".rstrip("0")
    front = f"{before:,}" if grouped else f"{before}"
    return f"{front}.{decimals}" if decimals else front
