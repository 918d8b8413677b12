"""How people write numbers: ½, 1 1/2, 1,5, 1,500, a dozen, three quarters.

Every number comes out exact, with the place where it stands.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from inventory.science.saying import say
from inventory.science.signs import Token, tokens
from inventory.science.unclear import Missing, NotUnderstood, TwoReadings, Unclear, shown

LARGEST_DENOMINATOR = 1000
WORD_NUMBERS = {
    word: number
    for number, word in enumerate(
        [
            "one",
            "two",
            "three",
            "four",
            "five",
            "six",
            "seven",
            "eight",
            "nine",
            "ten",
            "eleven",
            "twelve",
            "thirteen",
            "fourteen",
            "fifteen",
            "sixteen",
            "seventeen",
            "eighteen",
            "nineteen",
        ],
        start=1,
    )
}
TENS = {
    word: 10 * number
    for number, word in enumerate(
        ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"], start=2
    )
}
ARTICLES = frozenset({"a", "an"})
PARTS = {
    "half": Fraction(1, 2),
    "halves": Fraction(1, 2),
    "third": Fraction(1, 3),
    "thirds": Fraction(1, 3),
    "quarter": Fraction(1, 4),
    "quarters": Fraction(1, 4),
    "eighth": Fraction(1, 8),
    "eighths": Fraction(1, 8),
}


@dataclass(frozen=True, slots=True)
class Number:
    """A number as read, and its other reading where a comma leaves it open."""

    value: Fraction
    text: str
    start: int
    other: Fraction | None = None  # “1,500”: 1.5; “1.500” where the point is open: 1500
    whole_word: bool = False  # “a”, “half”: words, not digits

    @property
    def is_whole(self) -> bool:
        return self.value.denominator == 1


class Reader:
    """A place in the tokens that only moves forward."""

    def __init__(self, words: str, *, open_point: bool = False, wanted: str = "") -> None:
        """Stand before the first token.

        `open_point`: where a point may group thousands, “1.500” has two readings as well.
        `wanted`: an example of what is asked for, where it is no weight or volume.
        """
        self.words, self.open_point, self.wanted = words, open_point, wanted
        self.tokens: Sequence[Token] = tokens(words)
        self.place = 0

    @property
    def token(self) -> Token:
        return self.tokens[self.place]

    def ahead(self, count: int = 1) -> Token:
        return self.tokens[min(self.place + count, len(self.tokens) - 1)]

    @property
    def at_end(self) -> bool:
        return self.token.kind == "end"

    def step(self, count: int = 1) -> None:
        self.place = min(self.place + count, len(self.tokens) - 1)

    def skip(self, *folded: str) -> bool:
        """Whether the next word or mark is one of these, which is then passed."""
        if self.token.kind in ("word", "mark") and self.token.folded in folded:
            self.step()
            return True
        return False

    def not_understood(self, write: str, token: Token | None = None) -> Unclear:
        """The trouble that a token means nothing here, or that the writing stops too early."""
        token = token or self.token
        write = self.hint(write)
        if token.kind == "end":
            return Missing(
                self.words,
                say("something is missing at the end"),
                position=token.start + 1,
                write=write,
            )
        return NotUnderstood(self.words, part=token.text, position=token.start + 1, write=write)

    def hint(self, write: str) -> str:
        """What to write instead: the example of what is asked for, else the hint given."""
        return say("Write {wanted}.", wanted=self.wanted) if self.wanted else write

    def number(self) -> Number | None:
        """The number that stands here, in digits or in words; None if there is none."""
        start = self.token.start
        in_digits = self.token.kind in ("number", "fraction")
        read = self._digits() if in_digits else self._word_number()
        if read is None:
            return None
        read = self._with_parts(read)
        text = self.words[start : self.tokens[self.place - 1].end]
        return Number(read.value, text, start, read.other, read.whole_word)

    def _digits(self) -> Number:
        first = self.token
        self.step()
        if first.kind == "fraction":
            return Number(self._over(first, first.folded), first.text, first.start)
        if self.token.folded == "/" and self.ahead().kind == "number":
            return Number(self._slashed(first), first.text, first.start)
        value, other = self._value(first)
        if self.token.kind == "fraction":
            return Number(self._mixed(first, value, self.token.folded), first.text, first.start)
        if self._slash_follows():
            return Number(value + self._mixed_slash(first, value), first.text, first.start)
        return Number(value, first.text, first.start, other)

    def _slash_follows(self) -> bool:
        return (
            self.token.kind == "number"
            and self.ahead().folded == "/"
            and self.ahead(2).kind == "number"
        )

    def _mixed(self, whole: Token, value: Fraction, fraction: str) -> Fraction:
        part = self._over(self.token, fraction)
        self._whole_before(whole, value)
        self.step()
        return value + part

    def _mixed_slash(self, whole: Token, value: Fraction) -> Fraction:
        self._whole_before(whole, value)
        top = self.token
        self.step()
        return self._slashed(top)

    def _whole_before(self, whole: Token, value: Fraction) -> None:
        if value.denominator != 1 or not whole.folded.replace(",", "").isdecimal():
            raise self.not_understood(say("Write either a fraction or a decimal, such as 1.5."))

    def _slashed(self, top: Token) -> Fraction:
        """A fraction written with a slash; the reader stands on the slash."""
        below = self.ahead()
        if not (top.folded.isdecimal() and below.folded.isdecimal()):
            raise self.not_understood(
                say("Write either a fraction or a decimal, such as 1.5."), below
            )
        value = self._over(top, f"{top.folded}/{below.folded}")
        if value >= 1:
            self._refuse_top_heavy(top, below)
        self.step(2)
        if self.token.folded == "/":
            raise self.not_understood(say("Write one fraction, such as 1/2."))
        return value

    def _refuse_top_heavy(self, top: Token, below: Token) -> None:
        """“11/2” is eleven halves on paper and one and a half under a hasty thumb."""
        whole, rest = divmod(int(top.folded), int(below.folded))
        plain = (
            say("{whole} {rest}/{folded}", whole=whole, rest=rest, folded=below.folded)
            if rest
            else f"{whole}"
        )
        part = self.words[top.start : below.end]
        head, tail = top.folded[:-1], top.folded[-1:]
        if head and int(head) and 0 < int(tail) < int(below.folded):
            hasty = say("{head} {tail}/{folded}", head=int(head), tail=tail, folded=below.folded)
            raise TwoReadings(self.words, plain, hasty, part=part, position=top.start + 1)
        raise NotUnderstood(
            self.words,
            part=part,
            position=top.start + 1,
            write=say("Write {plain} instead.", plain=plain),
        )

    def _over(self, token: Token, written: str) -> Fraction:
        top, below = (int(part) for part in written.split("/"))
        if not 0 < below <= LARGEST_DENOMINATOR:
            raise self.not_understood(
                say(
                    "A fraction is divided by 1 to {largest_denominator}.",
                    largest_denominator=LARGEST_DENOMINATOR,
                ),
                token,
            )
        return Fraction(top, below)

    def _value(self, token: Token) -> tuple[Fraction, Fraction | None]:
        """The value of digits with points, commas and grouped thousands.

        A point alone is the decimal mark (but see `open_point`). A comma before exactly three
        digits groups thousands, and leaves the decimal reading open for the unit to decide;
        before another number of digits, or after a 0, it is the decimal mark.
        """
        plain = token.folded
        marks = [sign for sign in plain if not sign.isdecimal()]
        if not marks:
            return Fraction(int(plain)), None
        last = marks[-1]
        whole, _, decimals = plain.rpartition(last)
        if len(marks) == 1 and last == ".":
            return self._point(whole, decimals)
        if len(marks) == 1 and last == ",":
            return self._comma(whole, decimals)
        if set(marks) == {last} or len(marks) == 1:
            if _grouped(plain, last):
                return Fraction(int(plain.replace(last, ""))), None
        elif last in ".," and set(marks[:-1]) == {marks[0]} and _grouped(whole, marks[0]):
            return _decimal(whole.replace(marks[0], ""), decimals), None
        raise self.not_understood(
            say("Write the number with one point at most: 1500 or 1.5."), token
        )

    def _point(self, whole: str, decimals: str) -> tuple[Fraction, Fraction | None]:
        grouped, other = self._comma(whole, decimals)
        if self.open_point and other is not None:
            return other, grouped
        return _decimal(whole, decimals), None

    def _comma(self, whole: str, decimals: str) -> tuple[Fraction, Fraction | None]:
        decimal = _decimal(whole, decimals)
        if len(decimals) != 3 or len(whole) > 3 or whole[:1] in ("", "0"):
            return decimal, None
        return Fraction(int(whole + decimals)), decimal

    def _word_number(self) -> Number | None:
        first = self.token
        word = first.folded
        if word in ARTICLES and self.ahead().folded in PARTS:
            self.step()
        elif word in ARTICLES:
            if self.ahead().kind in ("number", "fraction"):
                return None
            self.step()
            return Number(Fraction(1), first.text, first.start, whole_word=True)
        if self.token.folded in PARTS:
            value = PARTS[self.token.folded]
            self.step()
            return Number(value, first.text, first.start, whole_word=True)
        return self._whole_word(first)

    def _whole_word(self, first: Token) -> Number | None:
        word = first.folded
        if word == "dozen":
            return Number(Fraction(1), first.text, first.start, whole_word=True)
        value = WORD_NUMBERS.get(word) or TENS.get(word)
        if value is None:
            return None
        self.step()
        if word in TENS:
            if self.token.folded == "-" and WORD_NUMBERS.get(self.ahead().folded, 10) < 10:
                self.step()
            unit = WORD_NUMBERS.get(self.token.folded, 10)
            if unit < 10:
                value += unit
                self.step()
        return Number(Fraction(value), first.text, first.start, whole_word=True)

    def _with_parts(self, read: Number) -> Number:
        """Add what may follow a number: “quarters of a”, “and a half”, “dozen”."""
        value, other = read.value, read.other
        if self.token.folded in PARTS and read.value.denominator == 1 and other is None:
            value *= PARTS[self.token.folded]
            self.step()
        elif (part := self.and_a_half()) is not None and value.denominator == 1 and other is None:
            value += part
        if value.denominator != 1:
            self.skip("of", "-")
            self.skip(*ARTICLES)
        if self.skip("dozen"):
            value *= 12
        return Number(value, read.text, read.start, other, read.whole_word)

    def and_a_half(self) -> Fraction | None:
        """“and a half”, “and three quarters”: passed where it stands, else None."""
        if self.token.folded != "and":
            return None
        count, place = 1, 1
        if self.ahead().folded in ARTICLES:
            place = 2
        elif self.ahead().folded in WORD_NUMBERS:
            count, place = WORD_NUMBERS[self.ahead().folded], 2
        part = PARTS.get(self.ahead(place).folded)
        if part is None or count * part >= 1:
            return None
        self.step(place + 1)
        return count * part


def missing_number(reader: Reader, example: str) -> Missing:
    """The trouble that no number stands where one is needed."""
    where = say(" before “{shown}”", shown=shown(reader.token.text)) if reader.token.text else ""
    return Missing(
        reader.words,
        say(
            "a number is missing{where} at character {start}",
            where=where,
            start=reader.token.start + 1,
        ),
        part=reader.token.text,
        position=reader.token.start + 1,
        write=say("Write a number and a unit, such as {example}.", example=example),
    )


def _decimal(whole: str, decimals: str) -> Fraction:
    return Fraction(int((whole or "0") + decimals), 10 ** len(decimals))


def _grouped(plain: str, mark: str) -> bool:
    first, *rest = plain.split(mark)
    return 1 <= len(first) <= 3 and first[0] != "0" and all(len(group) == 3 for group in rest)
