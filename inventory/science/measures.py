"""The other things a dyer's notebook measures: times, power, warmth, parts, doses, ratios.

Exact fractions come back; what cannot be read is refused as in amounts.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from fractions import Fraction

from inventory.science.amounts import Amount, read_amount, read_plain
from inventory.science.grammar import refuse_range, refuse_sign, refuse_vague
from inventory.science.numerals import Number, Reader, missing_number
from inventory.science.unclear import Missing, OtherKind, OutOfBounds, TwoReadings
from inventory.science.units import whole

COLDEST_C, WARMEST_C = -40, 150
PERCENT_AT_MOST = 10_000
RATIO_AT_MOST = 500  # litres of liquor per kg
PART_AT_MOST = 1000
PERCENT_WORDS = frozenset({"%", "percent", "pct"})
DEGREE_WORDS = frozenset({"°", "deg", "degs", "degree", "degrees"})
CELSIUS = frozenset({"c", "°c", "celsius", "centigrade"})
FAHRENHEIT = frozenset({"f", "°f", "fahrenheit"})


def read_duration(words: str, *, may_be_zero: bool = True) -> timedelta:
    """A stretch of time; days are 24 elapsed hours.

    Examples
    --------
    >>> read_duration("1 h 30 min"), read_duration("3 d").days
    (datetime.timedelta(seconds=5400), 3)
    """
    return timedelta(seconds=whole(read_plain(words, "time", may_be_zero=may_be_zero)))


def read_minutes(words: str) -> int:
    """A stretch of time in whole minutes; one that is finer is refused.

    Examples
    --------
    >>> read_minutes("half an hour"), read_minutes("24 h")
    (30, 1440)
    """
    minutes = read_plain(words, "time", may_be_zero=True) / 60
    if minutes.denominator != 1:
        raise OutOfBounds(words, "it is no whole number of minutes", write="Write 40 min.")
    return int(minutes)


def read_power(words: str) -> int:
    """The power of a ring in whole watts.

    Examples
    --------
    >>> read_power("3.5 kW")
    3500
    """
    return whole(read_plain(words, "power"))


def read_length(words: str) -> int:
    """A length of cloth in whole millimetres.

    Examples
    --------
    >>> read_length("2½ m"), read_length("1 yd")
    (2500, 914)
    """
    return whole(read_plain(words, "length"))


def read_temperature(words: str) -> Fraction:
    """A warmth [°C], exact; °F is turned into it.

    Examples
    --------
    >>> read_temperature("8 °C"), read_temperature("−18 °C"), float(read_temperature("50 °F"))
    (Fraction(8, 1), Fraction(-18, 1), 10.0)
    """
    reader = _begin(words, "8 °C")
    below = reader.skip("-", "minus")
    number = _number(reader, "8 °C")
    reader.skip(*DEGREE_WORDS)
    warmth = -number.value if below else number.value
    if reader.skip(*FAHRENHEIT):
        warmth = (warmth - 32) * Fraction(5, 9)
    elif reader.skip(*CELSIUS):
        pass
    elif reader.at_end:
        raise _no_scale(words, number, minus="-" if below else "")
    else:
        raise reader.not_understood("Write a warmth such as 8 °C.")
    reader.skip(".")
    _end(reader, "8 °C")
    if not COLDEST_C <= warmth <= WARMEST_C:
        problem = f"it lies outside {COLDEST_C} to {WARMEST_C} °C"
        raise OutOfBounds(words, problem, part=words, write="Write a warmth such as 8 °C.")
    return warmth


def _no_scale(words: str, number: Number, *, minus: str) -> TwoReadings:
    written = minus + number.text
    return TwoReadings(
        words, f"{written} °C", f"{written} °F", part=number.text, position=number.start + 1
    )


def read_percent(words: str, *, may_be_zero: bool = False) -> Fraction:
    """A percentage as a fraction: 1 for 100 %.

    Examples
    --------
    >>> read_percent("150 %"), read_percent("12 per cent")
    (Fraction(3, 2), Fraction(3, 25))
    """
    reader = _begin(words, "150 %")
    number = _number(reader, "150 %")
    if not reader.skip(*PERCENT_WORDS) and not _skip_per_cent(reader):
        if reader.at_end:
            raise Missing(words, "a unit is missing at the end", write="Write it as 150 %.")
        raise reader.not_understood("Write it as 150 %.")
    reader.skip("wof")  # of the dry weight of fibre, which every dose is
    _end(reader, "150 %")
    if number.value > PERCENT_AT_MOST:
        raise OutOfBounds(words, f"it is more than {PERCENT_AT_MOST:,} %", write="Write 150 %.")
    if number.value == 0 and not may_be_zero:
        raise OutOfBounds(words, "it is nothing", part=words, write="Write a dose such as 150 %.")
    return number.value / 100


def _skip_per_cent(reader: Reader) -> bool:
    if reader.token.folded == "per" and reader.ahead().folded == "cent":
        reader.step(2)
        return True
    return False


def read_parts_of(
    words: str, names: Sequence[str], *, in_order: bool = False
) -> tuple[Fraction, ...]:
    """How many parts of each thing, in the order of `names`.

    Parameters
    ----------
    words : such as `2 water : 1 vinegar`, `1 part vinegar to 2 parts water`, `2:1`
    names : what is mixed, any order, at least two
    in_order : bare numbers stand in the order of `names`; else they are refused

    Examples
    --------
    >>> read_parts_of("1 vinegar : 2 water", ("water", "vinegar"))
    (Fraction(2, 1), Fraction(1, 1))
    >>> read_parts_of("2:1", ("water", "vinegar"), in_order=True)
    (Fraction(2, 1), Fraction(1, 1))
    """
    example = " : ".join(
        f"{count} {name}" for count, name in zip((2, 1, 1, 1), names, strict=False)
    )
    reader = _begin(words, example)
    found: list[tuple[Number, str]] = []
    while not reader.at_end and len(found) <= len(names):
        if found:
            reader.skip(":", ",", "to", "and", "+")
        number = _number(reader, example, ranges=False)
        if reader.skip("part", "parts"):
            reader.skip("of")
        found.append((number, _name(reader, names)))
    _end(reader, example)
    return _by_name(words, found, names, in_order=in_order, example=example)


def _name(reader: Reader, names: Sequence[str]) -> str:
    """The name of a thing mixed, passed where one stands here."""
    if reader.token.kind != "word":
        return ""
    for name in sorted(names, key=len, reverse=True):
        parts = name.casefold().split()
        if [reader.ahead(count).folded for count in range(len(parts))] == parts:
            reader.step(len(parts))
            return name
    if reader.token.folded in ("to", "and"):
        return ""
    raise reader.not_understood(f"Write what is mixed: {' and '.join(names)}.")


def _by_name(
    words: str,
    found: Sequence[tuple[Number, str]],
    names: Sequence[str],
    *,
    in_order: bool,
    example: str,
) -> tuple[Fraction, ...]:
    write = f"Write {example}."
    if len(found) != len(names):
        raise Missing(words, f"{len(names)} numbers are needed, {len(found)} found", write=write)
    for number, _ in found:
        if not 0 < number.value <= PART_AT_MOST:
            problem = f"“{number.text}” lies outside 0 to {PART_AT_MOST}, 0 not included"
            raise OutOfBounds(words, problem, part=number.text, write=write)
    said = [name for _, name in found if name]
    if not said and in_order:
        return tuple(number.value for number, _ in found)
    if not said:
        first, second = (
            ", ".join(
                f"{number.text} {name}" for (number, _), name in zip(found, order, strict=True)
            )
            for order in (names, names[::-1])
        )
        raise TwoReadings(words, first, second, part=words, position=1, write=write)
    if sorted(said) != sorted(names):
        raise Missing(words, "not every number has its own name", part=words, write=write)
    by_name = {name: number.value for number, name in found}
    return tuple(by_name[name] for name in names)


def read_ratio(words: str) -> Fraction:
    """Litres of liquor per kg of dry fibre: “30:1”, “1:30” and “30 L per kg” are the same.

    Examples
    --------
    >>> read_ratio("30:1"), read_ratio("30 L per kg")
    (Fraction(30, 1), Fraction(30, 1))
    """
    if ":" not in words and "\uff1a" not in words:
        return _rate_within(read_dose(words), words)
    first, second = read_parts_of(words, ("liquor", "fibre"), in_order=True)
    if 1 not in (first, second):
        raise OutOfBounds(words, "neither side is 1", part=words, write="Write it as 30:1.")
    return _ratio_within(max(first, second), words)


def _rate_within(dose: Dose, words: str) -> Fraction:
    if dose.kind != "volume per mass":
        problem = f"{KIND_NAMES[dose.kind]} was written"
        raise OtherKind(words, problem, part=words, write="Write a ratio such as 30:1.")
    return _ratio_within(dose.l_per_kg, words)


def _ratio_within(ratio: Fraction, words: str) -> Fraction:
    if not 1 <= ratio <= RATIO_AT_MOST:
        problem = f"it lies outside 1 to {RATIO_AT_MOST} L per kg"
        raise OutOfBounds(words, problem, part=words, write="Write a ratio such as 30:1.")
    return ratio


KIND_NAMES = {
    "mass per mass": "a dose by weight",
    "volume per mass": "a volume per weight",
    "mass per volume": "a weight per volume",
    "volume per volume": "a volume per volume",
    "count per mass": "a count per weight",
    "count per volume": "a count per volume",
    "container per mass": "a measure per weight",
    "container per volume": "a measure per volume",
}


@dataclass(frozen=True, slots=True)
class Dose:
    """So much of one thing per so much of another, exact."""

    amount: Amount
    per: Amount

    @property
    def kind(self) -> str:
        return f"{self.amount.kind} per {self.per.kind}"

    @property
    def fraction(self) -> Fraction:
        """g per g: 3/2 for 150 %."""
        return self._rate("mass per mass")

    @property
    def l_per_kg(self) -> Fraction:
        """Litres per kilogram."""
        return self._rate("volume per mass")  # µL per mg

    @property
    def ml_per_100g(self) -> Fraction:
        """Millilitres per 100 g."""
        return self._rate("volume per mass") * 100

    @property
    def g_per_l(self) -> Fraction:
        """Grams per litre."""
        return self._rate("mass per volume") * 1000

    @property
    def pieces_per_100g(self) -> Fraction:
        """Pieces per 100 g."""
        return self._rate("count per mass") * 100_000

    def _rate(self, kind: str) -> Fraction:
        if self.kind != kind:
            raise OtherKind(
                self.amount.words,
                f"{KIND_NAMES[self.kind]} was written",
                part=self.amount.words,
                write=f"Write {KIND_NAMES[kind]}.",
            )
        return self.amount.value / self.per.value


def read_dose(words: str, *, country: str = "GB", pieces: Sequence[str] = ()) -> Dose:
    """A dose by weight of fibre, a liquor per weight, or a weight per litre.

    Examples
    --------
    >>> read_dose("150 %").fraction
    Fraction(3, 2)
    >>> read_dose("35 mL per 100 g").ml_per_100g
    Fraction(35, 1)
    >>> read_dose("50 g/L").g_per_l
    Fraction(50, 1)
    """
    reader = Reader(words)
    over = _place_of_per(reader)
    if over is None:
        return _percent_dose(words)
    before, shift = words[: reader.tokens[over].start], reader.tokens[over].end
    amount = read_amount(before, country=country, pieces=pieces)
    per = read_amount(_with_number(words[shift:], shift), country=country)
    if per.kind not in ("mass", "volume"):
        problem = f"“{words[shift:].strip()}” is neither a weight nor a volume"
        raise OtherKind(words, problem, part=words[shift:], position=shift + 1, write=WRITE_A_DOSE)
    return Dose(amount, per)


WRITE_A_DOSE = "Write a dose such as 150 %, 35 mL per 100 g or 50 g per L."


def _percent_dose(words: str) -> Dose:
    reader = Reader(words)
    number = reader.number()
    if number is None or reader.token.folded not in PERCENT_WORDS | {"per"}:
        refuse_vague(Reader(words))
        refuse_sign(Reader(words))
        if number is not None:
            refuse_range(reader)
        raise Missing(words, "it does not say per how much", part=words, write=WRITE_A_DOSE)
    fraction = read_percent(words)
    gram = Fraction(1000)
    amount = Amount("mass", fraction * gram, "mg", words, words)
    return Dose(amount, Amount("mass", gram, "mg", words, "1 g"))


def _place_of_per(reader: Reader) -> int | None:
    """Where “per” or a slash between units stands; None for a percentage."""
    for place, token in enumerate(reader.tokens[1:-1], start=1):
        before = reader.tokens[place - 1]
        if token.folded == "per" and reader.tokens[place + 1].folded != "cent":
            return place
        if token.folded == "/" and before.kind == "word":
            return place
    return None


def _with_number(after: str, shift: int) -> str:
    """What stands behind “per”, moved to its place in the writing; “per kg” is per 1 kg."""
    starts = after.lstrip()
    blank = shift + len(after) - len(starts)
    if starts[:1].isalpha() and Reader(starts).number() is None:
        return " " * (blank - 2) + f"1 {starts}"
    return " " * blank + starts


def read_number(words: str, *, may_be_zero: bool = True) -> Fraction:
    """A bare number such as a pH or a price, exact.

    Examples
    --------
    >>> read_number("7.4")
    Fraction(37, 5)
    """
    reader = _begin(words, "7.4")
    number = _number(reader, "7.4")
    _end(reader, "7.4")
    if number.value == 0 and not may_be_zero:
        raise OutOfBounds(words, "it is nothing", part=words, write="Write a number above 0.")
    return number.value


def _begin(words: str, example: str) -> Reader:
    reader = Reader(words)
    if reader.at_end:
        raise Missing(words, "nothing is written", write=f"Write {example}.")
    refuse_vague(reader)
    return reader


def _number(reader: Reader, example: str, *, ranges: bool = True) -> Number:
    """The one number that must stand here."""
    refuse_sign(reader)
    number = reader.number()
    if number is None and reader.at_end:
        raise missing_number(reader, example)
    if number is None:
        raise reader.not_understood(f"Write it as {example}.")
    if ranges:
        refuse_range(reader)
    if number.other is not None:
        first, second = f"{number.value}", f"{float(number.other):g}"
        place = number.start + 1
        raise TwoReadings(reader.words, first, second, part=number.text, position=place)
    return number


def _end(reader: Reader, example: str) -> None:
    if not reader.at_end:
        raise reader.not_understood(f"Write it as {example}.")
