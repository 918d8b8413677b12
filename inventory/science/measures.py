"""The other things a dyer's notebook measures: times, power, lengths, warmth, percentages.

Exact fractions come back; what cannot be read is refused as in amounts.py.
"""

from __future__ import annotations

from datetime import timedelta
from fractions import Fraction

from inventory.science.amounts import read_plain
from inventory.science.grammar import begin, nothing_more, one_number
from inventory.science.numerals import Number, Reader
from inventory.science.saying import say
from inventory.science.unclear import Missing, OutOfBounds, TwoReadings
from inventory.science.units import whole
from inventory.science.wording import bare_warmth
from inventory.science.wording import warmth as warmth_said

COLDEST_C, WARMEST_C = -40, 150
PERCENT_AT_MOST = 10_000
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
        raise OutOfBounds(
            words, say("it is no whole number of minutes"), write=say("Write 40 min.")
        )
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
    reader = begin(words, "8 °C")
    below = reader.skip("-", "minus")
    number = one_number(reader, "8 °C")
    reader.skip(*DEGREE_WORDS)
    warmth = -number.value if below else number.value
    if reader.skip(*FAHRENHEIT):
        warmth = (warmth - 32) * Fraction(5, 9)
    elif reader.skip(*CELSIUS):
        pass
    elif reader.at_end:
        raise _no_scale(words, number, minus="-" if below else "")
    else:
        raise reader.not_understood(say("Write a warmth such as 8 °C."))
    reader.skip(".")
    nothing_more(reader, "8 °C")
    if not COLDEST_C <= warmth <= WARMEST_C:
        problem = say(
            "it lies outside {coldest} to {warmest}",
            coldest=bare_warmth(COLDEST_C),
            warmest=warmth_said(WARMEST_C),
        )
        raise OutOfBounds(words, problem, part=words, write=say("Write a warmth such as 8 °C."))
    return warmth


def _no_scale(words: str, number: Number, *, minus: str) -> TwoReadings:
    written = minus + number.text
    return TwoReadings(
        words,
        say("{written} °C", written=written),
        say("{written} °F", written=written),
        part=number.text,
        position=number.start + 1,
    )


def read_percent(words: str, *, may_be_zero: bool = False) -> Fraction:
    """A percentage as a fraction: 1 for 100 %.

    Examples
    --------
    >>> read_percent("150 %"), read_percent("12 per cent")
    (Fraction(3, 2), Fraction(3, 25))
    """
    reader = begin(words, "150 %")
    number = one_number(reader, "150 %")
    if not reader.skip(*PERCENT_WORDS) and not _skip_per_cent(reader):
        if reader.at_end:
            raise Missing(words, say("a unit is missing at the end"), write=say("Write 150 %."))
        raise reader.not_understood(say("Write 150 %."))
    reader.skip("wof")  # of the dry weight of fibre, which every dose is
    nothing_more(reader, "150 %")
    if number.value > PERCENT_AT_MOST:
        raise OutOfBounds(
            words,
            say("it is more than {percent_at_most:,} %", percent_at_most=PERCENT_AT_MOST),
            write=say("Write 150 %."),
        )
    if number.value == 0 and not may_be_zero:
        raise OutOfBounds(
            words, "it is nothing", part=words, write=say("Write a dose such as 150 %.")
        )
    return number.value / 100


def _skip_per_cent(reader: Reader) -> bool:
    if reader.token.folded == "per" and reader.ahead().folded == "cent":
        reader.step(2)
        return True
    return False


def read_number(words: str, *, may_be_zero: bool = True) -> Fraction:
    """A bare number such as a pH or a price, exact.

    Examples
    --------
    >>> read_number("7.4")
    Fraction(37, 5)
    """
    reader = begin(words, "7.4")
    number = one_number(reader, "7.4")
    nothing_more(reader, "7.4")
    if number.value == 0 and not may_be_zero:
        raise OutOfBounds(words, "it is nothing", part=words, write=say("Write a number above 0."))
    return number.value
