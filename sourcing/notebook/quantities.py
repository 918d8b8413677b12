"""Amounts, shares, ratios and doses as a notebook writes them, and back again.

Weights and volumes are read by the grammar of `inventory/science/amounts.py`; this file adds the
forms that only a notebook has.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import Decimal
from fractions import Fraction

from inventory.science import amounts, unclear, wording
from inventory.science.cloth import HEAVIEST, LIGHTEST, OUNCE_PER_SQUARE_YARD
from inventory.science.numerals import Reader
from inventory.science.saying import first_large
from sourcing.notebook.problem import Unclear
from sourcing.notebook.saying import say

DEFAULT_COUNTRY = "GB"
MOST_FIGURE = Decimal(10**9)
LONGEST_MORDANT = 40  # characters
COLDEST_C, HOTTEST_C = Decimal(-60), Decimal(110)
WRITE_NUMBER = say("Write a number such as 7.4.")
WRITE_WARMTH = say("Write a warmth such as 8 °C or 46 °F.")
WRITE_RATIO = say("Write litres for one kilo, such as 30:1.")
WRITE_PER_KG = say("Write litres for one kilo, such as 20 L per kg.")
WRITE_DOSE = say("Write a dose such as 150 %, 35 mL per 100 g or 30 L per kg.")
WRITE_PARTS = say("Write water and vinegar, such as 2 water : 1 vinegar.")
WRITE_PER_M2 = say("Write the weight of a square metre, such as 180 g per m².")
WRITE_MORDANT = say("Write what it is and how much, such as alum 12 %.")

_NUMBER = re.compile(r"[-−]?(?:\d{1,3}(?:,\d{3})+|\d{1,12})(?:[.,]\d{1,12})?", re.ASCII)
_PER = re.compile(r"(?<=[a-z]) ?/ ?| per ", re.IGNORECASE)
_PER_AREA = re.compile(
    r"(?P<number>.+?) ?(?:(?P<metric>g ?(?:/|per) ?(?:m²|m2|sq ?m)|gsm)"
    r"|oz ?(?:/|per) ?(?:yd²|yd2|sq ?yd))",
    re.IGNORECASE,
)
_PERCENT = re.compile(r" ?(?:%|per ?cent)$", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class Weighed:
    """A weight."""

    mg: int


@dataclass(frozen=True, slots=True)
class Long:
    """A length of cloth; what it weighs hangs on the cloth."""

    mm: int


@dataclass(frozen=True, slots=True)
class Counted:
    """So many pieces."""

    pieces: int
    word: str  # "stone"


@dataclass(frozen=True, slots=True)
class FigureOf:
    """A figure with the unit that stands behind it."""

    value: Decimal
    unit: str = ""


@dataclass(frozen=True, slots=True)
class DoseOf:
    """What a step takes for one gram of dry fibre: a share of it, or millilitres."""

    per_g: Fraction
    form: str = "share"  # share, mL per 100 g, L per kg


def read_weight(text: str, country: str) -> int:
    """Whole milligrams, above none."""
    try:
        return amounts.read_mass(text, country=country or DEFAULT_COUNTRY)
    except (unclear.Unclear, unclear.UnknownPiece) as trouble:
        raise _again(trouble, "a weight such as 500 g") from None


def read_weight_or_length(text: str, country: str) -> int | Long:
    """Whole milligrams, or a length of cloth."""
    try:
        return Long(read_length(text))
    except Unclear:
        return read_weight(text, country)


def read_length(text: str) -> int:
    """Whole millimetres, above none."""
    try:
        return round(amounts.read_plain(text, "length"))
    except unclear.Unclear as trouble:
        raise _again(trouble, "a length such as 2.5 m") from None


def write_length(mm: int) -> str:
    """A length in metres from one metre on, else in cm."""
    if mm >= 1000:
        return f"{(Decimal(mm) / 1000).normalize():f} m"
    return f"{(Decimal(mm) / 10).normalize():f} cm"


def read_per_m2(text: str) -> Decimal:
    """Grams of a square metre of cloth."""
    found = _PER_AREA.fullmatch(text)
    if found is None:
        raise Unclear(WRITE_PER_M2)
    try:
        number = read_number(found["number"])
    except Unclear:
        raise Unclear(WRITE_PER_M2) from None
    if not found["metric"]:
        number = decimal_of(Fraction(number) * OUNCE_PER_SQUARE_YARD).quantize(Decimal("0.001"))
    if not LIGHTEST <= number <= HEAVIEST:
        raise Unclear(
            say(
                "Cloth weighs from {lightest} to {heaviest} g per m². {write_per_m2}",
                lightest=LIGHTEST,
                heaviest=HEAVIEST,
                write_per_m2=WRITE_PER_M2,
            )
        )
    return number


def read_volume(text: str, country: str) -> int:
    """Whole microlitres; none too, as a jar may be empty."""
    try:
        return amounts.read_volume(text, country=country or DEFAULT_COUNTRY, may_be_zero=True)
    except (unclear.Unclear, unclear.UnknownPiece) as trouble:
        raise _again(trouble, "a volume such as 750 mL") from None


def read_weight_or_count(text: str, country: str) -> Weighed | Counted:
    """A weight, or a count of pieces."""
    try:
        amount = amounts.read_amount(text, country=country or DEFAULT_COUNTRY)
        if amount.kind == "count":
            return Counted(amount.pieces, amount.unit)
        if amount.kind == "container":
            # A bucket counts like a piece: the studio has weighed one full.
            if amount.value.denominator != 1:
                raise Unclear(
                    say("Write whole {unit}s, or a weight such as 500 g.", unit=amount.unit)
                )
            return Counted(int(amount.value), amount.unit)
        return Weighed(amount.mg)
    except (unclear.Unclear, unclear.UnknownPiece) as trouble:
        raise _again(trouble, "a weight such as 500 g or a count such as 58 stones") from None


def write_weight(mg: int) -> str:
    """A weight, to the milligram."""
    return wording.write_amount(mg)


def write_volume(ul: int) -> str:
    """A volume, to the microlitre."""
    return wording.write_volume(ul)


def write_weight_or_count(amount: Weighed | Counted) -> str:
    """A weight, or a count of pieces."""
    if isinstance(amount, Counted):
        return wording.write_count(amount.pieces, amount.word)
    return write_weight(amount.mg)


def read_number(text: str) -> Decimal:
    """A plain number; a comma before other than three digits is the decimal mark."""
    if not _NUMBER.fullmatch(text):
        raise Unclear(WRITE_NUMBER)
    plain = text.replace("−", "-")
    whole, comma, rest = plain.rpartition(",")
    # Nobody groups after a nought: 0,500 is a half.
    grouped = len(rest) == 3 and whole.lstrip("-") != "0"
    decimal_comma = comma and not grouped and "." not in rest
    number = Decimal(
        f"{whole.replace(',', '')}.{rest}" if decimal_comma else plain.replace(",", "")
    )
    if abs(number) > MOST_FIGURE:
        raise Unclear(say("The number is too large. Write a smaller one."))
    return number


def read_percent(text: str) -> Decimal:
    """Percent as the number before the sign."""
    if not _PERCENT.search(text):
        raise Unclear(say("Write it in percent, such as 5 %."))
    try:
        return read_number(_PERCENT.sub("", text))
    except Unclear:
        raise Unclear(say("Write it in percent, such as 5 %.")) from None


def read_figure(text: str) -> FigureOf:
    """A figure and the unit that was written behind it, or the money before it."""
    found = re.fullmatch(rf"[£€$]? ?({_NUMBER.pattern}) ?([^\d\s].*)?", text)
    if found is None:
        raise Unclear(say("Write a figure such as 5 %, 48 h or 0.7."))
    return FigureOf(read_number(found[1]), (found[2] or "").strip())


def write_figure(figure: FigureOf) -> str:
    """A figure with its unit."""
    return f"{figure.value:f} {figure.unit}".strip()


def read_power(text: str) -> int:
    """Whole watts."""
    try:
        watts = amounts.read_plain(text, "power")
    except unclear.Unclear as trouble:
        raise _again(trouble, "a power such as 3.5 kW") from None
    if watts.denominator != 1:
        raise Unclear(say("Write whole watts, such as 3500 W."))
    return int(watts)


def write_power(watts: int) -> str:
    """A power in kW."""
    return f"{(Decimal(watts) / 1000).normalize():f} kW"


def read_warmth(text: str) -> Decimal:
    """Degrees Celsius."""
    found = re.fullmatch(r"(.*?) ?° ?([CF])|(.*?) ([CF])|([^CF°]*)", text, re.IGNORECASE)
    if found is None:
        raise Unclear(WRITE_WARMTH)
    number, unit = found[1] or found[3] or found[5] or "", found[2] or found[4] or "C"
    try:
        degrees = read_number(number)
    except Unclear:
        raise Unclear(WRITE_WARMTH) from None
    if unit.casefold() == "f":
        degrees = ((degrees - 32) * 5 / 9).quantize(Decimal("0.1"))
    if not COLDEST_C <= degrees <= HOTTEST_C:
        raise Unclear(
            say(
                "Write a warmth from {coldest_c} to {hottest_c} °C.",
                coldest_c=COLDEST_C,
                hottest_c=HOTTEST_C,
            )
        )
    return degrees


def read_ratio(text: str) -> Fraction:
    """Litres of liquor for one kilo of dry fibre, written 30:1."""
    # A spreadsheet takes 30:1 for a time of day and makes 30:01:00 of it.
    found = re.fullmatch(r"(.+?) ?: ?0?1(?::00)?", text)
    if found is None:
        raise Unclear(WRITE_RATIO)
    return _between(_fraction(found[1], WRITE_RATIO), 1, 500, WRITE_RATIO)


def write_ratio(ratio: Fraction) -> str:
    """A ratio as the trade writes it."""
    return f"{wording.write_fraction(ratio)}:1"


def read_litres_per_kg(text: str) -> Fraction:
    """Litres for one kilo of dry fibre."""
    dose = _per(text, WRITE_PER_KG)
    if dose.form == "share":
        raise Unclear(WRITE_PER_KG)
    return _between(dose.per_g, 1, 500, WRITE_PER_KG)


def write_litres_per_kg(litres: Fraction) -> str:
    """Litres for one kilo."""
    return f"{wording.write_fraction(litres)} L per kg"


def read_grams_per_litre(text: str) -> Decimal:
    """Grams of dried or fresh plant for one litre of bath."""
    sentence = say("Write grams for one litre, such as 50 g per L.")
    left, *right = _PER.split(text)
    if len(right) != 1:
        raise Unclear(sentence)
    mg, ul = read_weight(left, ""), read_volume(_counted(right[0]), "")
    if not ul:
        raise Unclear(sentence)
    return decimal_of(Fraction(mg, ul) * 1000)


def read_parts(text: str) -> tuple[Fraction, Fraction]:
    """Vinegar and water of a jar, in the numbers as written: (1, 2) for 2 water : 1 vinegar."""
    found = re.fullmatch(r"(.+?) ([a-z]+) ?(?::|to|and|,) ?(.+?) ([a-z]+)", text, re.IGNORECASE)
    if found is None:
        raise Unclear(WRITE_PARTS)
    parts = {found[2].casefold(): found[1], found[4].casefold(): found[3]}
    if set(parts) != {"water", "vinegar"}:
        raise Unclear(WRITE_PARTS)
    vinegar, water = (_fraction(parts[word], WRITE_PARTS) for word in ("vinegar", "water"))
    if vinegar <= 0 or water < 0 or max(vinegar, water) > 1000:
        raise Unclear(say("There is vinegar in every jar. {write_parts}", write_parts=WRITE_PARTS))
    return vinegar, water


def write_parts(parts: tuple[Fraction, Fraction]) -> str:
    """Water and vinegar in their least whole numbers."""
    vinegar, water = parts
    least = Fraction(water, vinegar)
    return f"{least.numerator} water : {least.denominator} vinegar"


def read_mordant(text: str) -> tuple[str, Decimal]:
    """A mordant and its percent of dry weight."""
    found = re.fullmatch(r"(\D+?) ([\d.,]+ ?%)", text)
    if found is None or len(found[1]) > LONGEST_MORDANT:
        raise Unclear(WRITE_MORDANT)
    percent = read_percent(found[2])
    if not 0 < percent <= 100:
        raise Unclear(say("Write more than 0 and at most 100 %."))
    return found[1].casefold(), percent


def write_mordant(mordant: tuple[str, Decimal]) -> str:
    """A mordant and its percent."""
    return f"{mordant[0]} {mordant[1]:f} %"


def read_dose(text: str) -> DoseOf:
    """A dose by dry weight of fibre."""
    if _PERCENT.search(text):
        share = _fraction(_PERCENT.sub("", text), WRITE_DOSE) / 100
        return DoseOf(_between(share, Fraction(1, 10_000), 100, WRITE_DOSE))
    return _per(text, WRITE_DOSE)


def write_dose(dose: DoseOf) -> str:
    """A dose in the words of its kind."""
    if dose.form == "share":
        return f"{wording.write_fraction(dose.per_g * 100)} %"
    if dose.form == "L per kg":
        return write_litres_per_kg(dose.per_g)
    return f"{wording.write_fraction(dose.per_g * 100)} mL per 100 g"


def decimal_of(number: Fraction) -> Decimal:
    """A fraction as a decimal number, exact where there is one."""
    return Decimal(number.numerator) / Decimal(number.denominator)


def _per(text: str, sentence: str) -> DoseOf:
    left, *right = _PER.split(text)
    if len(right) != 1:
        raise Unclear(sentence)
    try:
        fibre = amounts.read_mass(_counted(right[0]))
        taken = amounts.read_amount(left)
        if taken.kind == "volume":
            per_g = taken.value / fibre
            form = "L per kg" if per_g >= 2 else "mL per 100 g"
        else:
            per_g, form = Fraction(taken.mg, fibre), "share"
    except (unclear.Unclear, unclear.UnknownPiece):
        raise Unclear(sentence) from None
    return DoseOf(_between(per_g, Fraction(1, 10_000), 500, sentence), form)


def _counted(text: str) -> str:
    """`kg` means 1 kg."""
    return text if any(sign.isdigit() for sign in text) else f"1 {text.strip()}"


def _between(number: Fraction, low: Fraction | int, high: int, sentence: str) -> Fraction:
    if not low <= number <= high:
        raise Unclear(say("That is out of reason. {sentence}", sentence=sentence))
    return number


def _fraction(text: str, sentence: str) -> Fraction:
    """An exact number such as 26 2/3 or 1½."""
    try:
        reader = Reader(text.strip())
        number = reader.number()
    except unclear.Unclear:
        raise Unclear(sentence) from None
    if number is None or not reader.at_end:
        raise Unclear(sentence)
    return number.value


def _again(trouble: Exception, example: str) -> Unclear:
    """What the grammar said, as a sentence that goes behind "… stands there."."""
    if isinstance(trouble, unclear.Unclear):
        return Unclear(
            say("{problem}. {write}", problem=first_large(trouble.problem), write=trouble.write)
        )
    return Unclear(say("Nobody knows what one weighs. Write {example}.", example=example))
