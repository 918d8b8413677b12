"""So much of one thing to another: doses, parts of a mixture, litres of liquor per kg.

Exact fractions come back; what cannot be read is refused as in amounts.py.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from inventory.science.amounts import Amount, read_amount
from inventory.science.grammar import (
    begin,
    nothing_more,
    one_number,
    refuse_range,
    refuse_sign,
    refuse_vague,
)
from inventory.science.measures import PERCENT_WORDS, read_percent
from inventory.science.numerals import Number, Reader
from inventory.science.saying import joined, say
from inventory.science.unclear import Missing, OtherKind, OutOfBounds, TwoReadings

RATIO_AT_MOST = 500  # litres of liquor per kg
PART_AT_MOST = 1000
WRITE_A_DOSE = say("Write a dose such as 150 %, 35 mL per 100 g or 50 g per L.")
KIND_NAMES = {
    "mass per mass": say("a dose by weight"),
    "volume per mass": say("a volume per weight"),
    "mass per volume": say("a weight per volume"),
    "volume per volume": say("a volume per volume"),
    "count per mass": say("a count per weight"),
    "count per volume": say("a count per volume"),
    "container per mass": say("a measure per weight"),
    "container per volume": say("a measure per volume"),
}


@dataclass(frozen=True, slots=True)
class Dose:
    """So much of one thing per so much of another, exact."""

    amount: Amount
    per: Amount

    @property
    def kind(self) -> str:
        return say("{kind} per {per_kind}", kind=self.amount.kind, per_kind=self.per.kind)

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
                say("{kind_names} was written", kind_names=KIND_NAMES[self.kind]),
                part=self.amount.words,
                write=say("Write {kind_names}.", kind_names=KIND_NAMES[kind]),
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
    if not words[shift:].strip():
        raise Missing(words, say("it does not say per how much"), part=words, write=WRITE_A_DOSE)
    amount = read_amount(before.rstrip(), country=country, pieces=pieces)
    per = read_amount(_with_number(words[shift:], shift), country=country)
    if per.kind not in ("mass", "volume"):
        problem = say("“{words}” is neither a weight nor a volume", words=words[shift:].strip())
        raise OtherKind(words, problem, part=words[shift:], position=shift + 1, write=WRITE_A_DOSE)
    return Dose(amount, replace(per, words=per.words.strip()))


def _percent_dose(words: str) -> Dose:
    reader = Reader(words)
    number = reader.number()
    if number is None or reader.token.folded not in PERCENT_WORDS | {"per"}:
        refuse_vague(Reader(words))
        refuse_sign(Reader(words))
        if number is not None:
            refuse_range(reader)
        raise Missing(words, say("it does not say per how much"), part=words, write=WRITE_A_DOSE)
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
        return " " * (blank - 2) + say("1 {starts}", starts=starts)
    return " " * blank + starts


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
        say("{count} {name}", count=count, name=name)
        for count, name in zip((2, 1, 1, 1), names, strict=False)
    )
    reader = begin(words, example)
    found: list[tuple[Number, str]] = []
    while not reader.at_end and len(found) <= len(names):
        if found:
            reader.skip(":", ",", "to", "and", "+")
        number = one_number(reader, example, ranges=False)
        if reader.skip("part", "parts"):
            reader.skip("of")
        found.append((number, _name(reader, names)))
    nothing_more(reader, example)
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
    raise reader.not_understood(say("Write what is mixed: {names}.", names=joined(" and ", names)))


def _by_name(
    words: str,
    found: Sequence[tuple[Number, str]],
    names: Sequence[str],
    *,
    in_order: bool,
    example: str,
) -> tuple[Fraction, ...]:
    write = say("Write {example}.", example=example)
    if len(found) != len(names):
        raise Missing(
            words,
            say(
                "{count} numbers are needed, {count_2} found", count=len(names), count_2=len(found)
            ),
            write=write,
        )
    for number, _ in found:
        if not 0 < number.value <= PART_AT_MOST:
            problem = say(
                "“{text}” lies outside 0 to {part_at_most}, 0 not included",
                text=number.text,
                part_at_most=PART_AT_MOST,
            )
            raise OutOfBounds(words, problem, part=number.text, write=write)
    said = [name for _, name in found if name]
    if not said and (in_order or len({number.value for number, _ in found}) == 1):
        return tuple(number.value for number, _ in found)
    if not said:
        first, second = (
            joined(
                ", ",
                (
                    say("{text} {name}", text=number.text, name=name)
                    for (number, _), name in zip(found, order, strict=True)
                ),
            )
            for order in (names, names[::-1])
        )
        raise TwoReadings(words, first, second, part=words, position=1, write=write)
    if sorted(said) != sorted(names):
        raise Missing(words, say("not every number has its own name"), part=words, write=write)
    by_name = {name: number.value for number, name in found}
    return tuple(by_name[name] for name in names)


def read_ratio(words: str) -> Fraction:
    """Litres of liquor per kg of dry fibre: “30:1”, “1:30” and “30 L per kg” are the same.

    Examples
    --------
    >>> read_ratio("30:1"), read_ratio("30 L per kg")
    (Fraction(30, 1), Fraction(30, 1))
    """
    if "per" in words.casefold() or "/" in words:
        return _rate_within(read_dose(words), words)
    first, second = read_parts_of(words, ("liquor", "fibre"), in_order=True)
    if 1 not in (first, second):
        raise OutOfBounds(words, "neither side is 1", part=words, write="Write 30:1.")
    return _ratio_within(max(first, second), words)


def _rate_within(dose: Dose, words: str) -> Fraction:
    if dose.kind != "volume per mass":
        problem = say("{kind_names} was written", kind_names=KIND_NAMES[dose.kind])
        raise OtherKind(words, problem, part=words, write=say("Write a ratio such as 30:1."))
    return _ratio_within(dose.l_per_kg, words)


def _ratio_within(ratio: Fraction, words: str) -> Fraction:
    if not 1 <= ratio <= RATIO_AT_MOST:
        problem = say("it lies outside 1 to {ratio_at_most} L per kg", ratio_at_most=RATIO_AT_MOST)
        raise OutOfBounds(words, problem, part=words, write=say("Write a ratio such as 30:1."))
    return ratio
