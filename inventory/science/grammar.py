"""How the parts of an amount stand together: number, unit, and smaller parts behind.

amount   = part { [ "and" | "," ] part }
part     = number [ "of" [ "a" ] ] unit [ "and a half" ]
number   = digits | whole fraction | words            (see numerals.py)
unit     = a word of units.py, or a piece or container of the studio
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from inventory.science.numerals import WORD_NUMBERS, Number, Reader, missing_number
from inventory.science.saying import say
from inventory.science.signs import Token
from inventory.science.unclear import (
    Missing,
    NotOneAmount,
    OutOfBounds,
    TwoReadings,
    Unclear,
    Vague,
)
from inventory.science.units import TWO_MEANINGS, Unit

WET = frozenset(["wet", "damp", "soaked", "soaking", "dripping", "moist", "wrung", "squeezed"])
BASES = frozenset(["dry", "fresh", "frozen", "dried", "scoured", "unscoured", "raw"])
VAGUE_WORDS = frozenset(
    [
        "about",
        "approx",
        "approximately",
        "ca",
        "circa",
        "roughly",
        "around",
        "nearly",
        "almost",
        "over",
        "under",
        "some",
        "few",
        "several",
        "many",
        "lots",
        "bit",
        "plenty",
        "couple",
        "maybe",
        "between",
        "least",
        "most",
        "more",
        "less",
        "up",
    ]
)
VAGUE_MARKS = frozenset("~≈∼<>≤≥±?")
PRODUCT_MARKS = frozenset("*×x^")
RANGE_WORDS = frozenset({"-", "to", "or", "till", "…"})


@dataclass(frozen=True, slots=True)
class Part:
    """One number with its unit."""

    number: Number
    unit: Unit

    @property
    def value(self) -> Fraction:
        return self.number.value * self.unit.holds


def refuse_vague(reader: Reader) -> None:
    """Refuse a guess or a range where one amount is asked for."""
    token = reader.token
    if token.folded in VAGUE_WORDS or token.folded in VAGUE_MARKS:
        raise Vague(
            reader.words,
            say("“{text}” makes it a guess", text=token.text),
            part=token.text,
            position=token.start + 1,
            write=reader.hint(say("Write one amount, as the scale or the jug shows it.")),
        )


def refuse_sign(reader: Reader) -> None:
    """Refuse a sign in front of an amount."""
    token = reader.token
    if token.folded == "-" or token.folded == "minus":
        raise OutOfBounds(
            reader.words,
            say("it is below zero"),
            part=token.text,
            position=token.start + 1,
            write=say("Write how much there is, without a sign."),
        )
    if token.folded == "+":
        raise reader.not_understood(say("Write how much there is, without a sign."))


def read_parts(reader: Reader, table: dict[str, Unit]) -> tuple[Fraction, Unit, list[Part]]:
    """One amount of one kind: exact value in the kind's base, the first unit, all parts."""
    parts: list[Part] = []
    while not reader.at_end and not (parts and _stops(reader)):
        if parts and reader.token.folded in ("and", ","):
            reader.step()
        starts_at = reader.token
        part = _part(reader, table, parts)
        if parts:
            _must_join(reader, parts[-1], part, starts_at)
        parts.append(part)
        refuse_range(reader)
    if not parts:
        raise missing_number(reader, "500 g")
    return sum((part.value for part in parts), Fraction(0)), parts[0].unit, parts


def _stops(reader: Reader) -> bool:
    """Whether what stands here belongs to no further part."""
    token = reader.token
    if token.folded in ("and", ","):
        return False
    return token.kind not in ("number", "fraction")


def _part(reader: Reader, table: dict[str, Unit], before: list[Part]) -> Part:
    refuse_vague(reader)
    number = reader.number()
    if number is None:
        raise _no_number(reader, table, after=bool(before))
    refuse_range(reader)
    unit = read_unit(reader, table, number)
    number = _settle_comma(reader, number, unit)
    half = _and_a_half_more(reader)
    if half is not None:
        number = Number(number.value + half, number.text, number.start)
    return Part(number, unit)


def _no_number(reader: Reader, table: dict[str, Unit], *, after: bool) -> Unclear:
    if not after and (_unit_at(reader, table)[0] or reader.token.kind == "end"):
        return missing_number(reader, say("3 {folded}", folded=reader.token.folded or "kg"))
    return reader.not_understood(say("Write a number and a unit, such as 500 g or 58 stones."))


def read_unit(reader: Reader, table: dict[str, Unit], number: Number) -> Unit:
    """The unit that stands behind a number, passed."""
    unit, count = _unit_at(reader, table)
    if unit is None:
        raise _no_unit(reader, number)
    token = reader.token
    if token.text in ("Mg", "MG"):
        raise TwoReadings(reader.words, "mg", "tonnes", part=token.text, position=token.start + 1)
    reader.step(count)
    if reader.token.folded == "." and not reader.token.spaced:
        reader.step()
    return unit


def _unit_at(reader: Reader, table: dict[str, Unit]) -> tuple[Unit | None, int]:
    """The longest unit of up to three words here, and how many tokens it takes."""
    found: tuple[Unit | None, int] = (None, 0)
    words: list[str] = []
    for count in range(6):
        token = reader.ahead(count)
        if token.kind == "word":
            words.append(token.folded)
        elif token.folded not in (".", "-") or token.spaced or not words:
            break
        unit = table.get("_".join(words))
        if unit is not None and token.kind == "word":
            found = (unit, count + 1)
        if len(words) == 3:
            break
    return found


def _no_unit(reader: Reader, number: Number) -> Unclear:
    token = reader.token
    if token.kind == "number":
        return _two_numbers(reader, number, token)
    if token.kind == "end":
        return Missing(
            reader.words,
            say("a unit is missing after “{text}”", text=number.text),
            part=number.text,
            position=number.start + 1,
            write=reader.hint(say("Write {text} g, {text} mL or {text} stones.", text=number.text)),
        )
    if token.folded in TWO_MEANINGS:
        first, second = TWO_MEANINGS[token.folded]
        return TwoReadings(reader.words, first, second, part=token.text, position=token.start + 1)
    refuse_vague(reader)
    if token.folded == "%":
        return reader.not_understood(say("A percentage is a dose; write a weight such as 500 g."))
    if token.folded == "e" and not token.spaced:
        return reader.not_understood(say("Write the number out in full, such as 1500."))
    return reader.not_understood(
        say("Write a unit such as g, kg, oz, mL or L, or what was counted.")
    )


def _two_numbers(reader: Reader, number: Number, token: Token) -> Unclear:
    """“1 500 g”: a thumb's space says thousands, or a unit was left out."""
    grouped = len(number.text) <= 3 and len(token.folded) == 3 and number.text.isdecimal()
    if grouped:
        part = reader.words[number.start : token.end]
        whole_number = f"{number.text}{token.folded}"
        return TwoReadings(
            reader.words,
            whole_number,
            say("two numbers, {text} and {token_text}", text=number.text, token_text=token.text),
            part=part,
            position=number.start + 1,
            write=say(
                "Write {whole_number}, or each number with its unit.", whole_number=whole_number
            ),
        )
    return Missing(
        reader.words,
        say(
            "a unit is missing after “{text}” at character {start}",
            text=number.text,
            start=number.start + 1,
        ),
        part=number.text,
        position=number.start + 1,
        write=reader.hint(say("Write each number with its unit, such as 2 kg 300 g.")),
    )


def _settle_comma(reader: Reader, number: Number, unit: Unit) -> Number:
    """Refuse a number with two readings where the unit makes both likely."""
    small_unit = unit.system in ("metric", "counted") and not unit.open_comma
    if number.other is None or not (small_unit if "." in number.text else unit.open_comma):
        return number
    small, large = (f"{float(value):.15g}" for value in sorted((number.value, number.other)))
    raise TwoReadings(
        reader.words,
        say("{large} {symbol}", large=large, symbol=unit.symbol),
        say("{small} {symbol}", small=small, symbol=unit.symbol),
        part=number.text,
        position=number.start + 1,
    )


def _and_a_half_more(reader: Reader) -> Fraction | None:
    """“a kilo and a half”: the half is of the same unit when nothing else follows it."""
    place = reader.place
    half = reader.and_a_half()
    if half is not None and reader.token.kind == "word" and reader.token.folded not in BASES:
        reader.place = place  # “a pound and half an ounce”: a part of its own
        return None
    return half


def refuse_range(reader: Reader) -> None:
    """Refuse “2-3 kg”, “2 to 3 days” and products such as “3 x 500 g”, behind a number or unit."""
    token, after = reader.token, reader.ahead()
    if token.folded in PRODUCT_MARKS:
        raise reader.not_understood(
            say("Work out the product and write one amount, such as 1500 g.")
        )
    numeric = after.kind in ("number", "fraction") or after.folded in WORD_NUMBERS
    dots = token.folded == "." and after.folded.startswith(".")
    if dots or (token.folded in RANGE_WORDS and numeric):
        raise Vague(
            reader.words,
            say(
                "“{text}” at character {start} makes it a range",
                text=token.text,
                start=token.start + 1,
            ),
            part=token.text,
            position=token.start + 1,
            write=reader.hint(say("Write one amount, as the scale or the jug shows it.")),
        )


def _must_join(reader: Reader, before: Part, part: Part, starts_at: Token) -> None:
    """Parts of one amount are of one kind and set of units, and go down: 2 lb 3 oz."""
    first, second = before.unit, part.unit
    if first.kind != second.kind:
        problem = say(
            "{symbol} and {second_symbol} are of two kinds",
            symbol=first.symbol,
            second_symbol=second.symbol,
        )
    elif first.system != second.system or first.system == "counted":
        problem = say(
            "{symbol} and {second_symbol} do not go together in one amount",
            symbol=first.symbol,
            second_symbol=second.symbol,
        )
    elif not before.number.is_whole:
        problem = say(
            "“{text}” is already exact, and more {symbol} follow it",
            text=before.number.text,
            symbol=second.symbol,
        )
    elif second.holds >= first.holds:
        problem = say(
            "{symbol} follow {first_symbol}, and amounts are written from large to small",
            symbol=second.symbol,
            first_symbol=first.symbol,
        )
    elif part.value >= first.holds:
        problem = say(
            "{text} {symbol} make one {first_symbol} or more",
            text=part.number.text,
            symbol=second.symbol,
            first_symbol=first.symbol,
        )
    else:
        return
    raise NotOneAmount(
        reader.words,
        problem,
        part=reader.words[starts_at.start : reader.tokens[reader.place - 1].end],
        position=starts_at.start + 1,
        write=reader.hint(say("Write one amount, such as 2 kg 300 g or 2 lb 3 oz.")),
    )


def must_end(reader: Reader) -> None:
    """Refuse whatever stands behind the amount."""
    if reader.at_end:
        return
    token = reader.token
    refuse_vague(reader)
    if token.folded in BASES:
        raise reader.not_understood(
            say("Write the weight alone; the state has a place of its own.")
        )
    if token.kind == "word":
        raise reader.not_understood(say("Write the amount alone, without what it is of."))
    raise reader.not_understood(say("Write the amount alone, such as 500 g."))


def begin(words: str, example: str) -> Reader:
    """A reader of something that is no amount; `example` shows what is asked for."""
    reader = Reader(words, wanted=example)
    if reader.at_end:
        raise Missing(words, "nothing is written", write=say("Write {example}.", example=example))
    refuse_vague(reader)
    return reader


def one_number(reader: Reader, example: str, *, ranges: bool = True) -> Number:
    """The one number that must stand here."""
    refuse_sign(reader)
    number = reader.number()
    if number is None and reader.at_end:
        raise missing_number(reader, example)
    if number is None:
        raise reader.not_understood(say("Write it as {example}.", example=example))
    if ranges:
        refuse_range(reader)
    if number.other is not None:
        first, second = f"{number.value}", f"{float(number.other):g}"
        place = number.start + 1
        raise TwoReadings(reader.words, first, second, part=number.text, position=place)
    return number


def nothing_more(reader: Reader, example: str) -> None:
    """Refuse whatever stands behind what was asked for."""
    if not reader.at_end:
        raise reader.not_understood(say("Write it as {example}.", example=example))
