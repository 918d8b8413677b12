"""Amounts, days and pieces in the words of the sheet: `1,180 g`, `Tue 24 Nov`, `49 stones`.

Every text that a flag, a reason or the sheet shows is put together from these.
"""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from functools import lru_cache
from math import ceil, floor
from zoneinfo import ZoneInfo

from inventory.science.figures import Figure
from inventory.science.saying import counted, joined, measured, say

WORDS_KEPT = 2048  # of each kind a process: a page says the same amounts and days as an hour ago
DAYS = (say("Mon"), say("Tue"), say("Wed"), say("Thu"), say("Fri"), say("Sat"), say("Sun"))
MONTHS = (
    *(say("Jan"), say("Feb"), say("Mar"), say("Apr"), say("May"), say("Jun")),
    *(say("Jul"), say("Aug"), say("Sep"), say("Oct"), say("Nov"), say("Dec")),
)


@lru_cache(maxsize=WORDS_KEPT)
def day_in_words(day: date) -> str:
    """A day without its year.

    >>> day_in_words(date(2026, 11, 24))
    'Tue 24 Nov'
    """
    return say("{day:%a} {number} {day:%b}", day=day, number=day.day)


def day_within(day: date, today: date) -> str:
    """A day as said on a morning: the weekday alone within the week, with date and month later.

    >>> day_within(date(2026, 11, 24), date(2026, 11, 23))
    'Tue'
    >>> day_within(date(2026, 11, 30), date(2026, 11, 23))
    'Mon 30 Nov'
    """
    if day == today:
        return say("today")
    if 0 < (day - today).days < 7:
        return say("{day:%a}", day=day)
    return day_in_words(day)


def moment_in_words(at: datetime, zone: ZoneInfo) -> str:
    """A moment on the studio's clock.

    >>> from datetime import timezone
    >>> at = datetime(2026, 11, 24, 9, 0, tzinfo=timezone.utc)
    >>> moment_in_words(at, ZoneInfo("Europe/London"))
    'Tue 24 Nov 09:00'
    """
    local = at.astimezone(zone)
    return say("{day} {at:%H:%M}", day=day_in_words(local.date()), at=local)


@lru_cache(maxsize=WORDS_KEPT, typed=True)
def grams(mg: int) -> str:
    """A mass in whole grams, in tenths below 10 g.

    >>> grams(1_180_000), grams(2_105_263), grams(2_500)
    ('1,180 g', '2,105 g', '2.5 g')
    """
    return measured(say("{mass} g", mass=_rounded(Decimal(mg) / 1000)), mg, "mg")


@lru_cache(maxsize=WORDS_KEPT, typed=True)
def volume(ul: int) -> str:
    """A volume in mL, from one litre on in L.

    >>> volume(450_000), volume(7_200_000)
    ('450 mL', '7.2 L')
    """
    if abs(ul) >= 1_000_000:
        said = say("{volume} L", volume=_plain(Decimal(ul) / 1_000_000, "0.1"))
    else:
        said = say("{volume} mL", volume=_rounded(Decimal(ul) / 1000))
    return measured(said, ul, "µL")


def amount(number: int, unit: str) -> str:
    """Milligrams or microlitres in the words of the sheet."""
    return grams(number) if unit == "mg" else volume(number)


def exact(number: int, unit: str) -> tuple[str, str]:
    """Milligrams or microlitres as an exact decimal string with the unit that fits: g, mL, L.

    >>> exact(2_105_263, "mg"), exact(7_200_000, "µL"), exact(450_000, "µL")
    (('2105.263', 'g'), ('7.2', 'L'), ('450', 'mL'))
    """
    if unit == "mg":
        return decimal_string(Decimal(number) / 1000), "g"
    if abs(number) >= 1_000_000:
        return decimal_string(Decimal(number) / 1_000_000), "L"
    return decimal_string(Decimal(number) / 1000), "mL"


def decimal_string(number: Decimal) -> str:
    """A decimal without exponent or trailing zeros.

    >>> decimal_string(Decimal("1E+3")), decimal_string(Decimal("2.50"))
    ('1000', '2.5')
    """
    text = f"{number:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def money(sum_: Fraction) -> str:
    """Money rounded once, to hundredths, half up.

    >>> money(Fraction(350 * 16, 60))
    '93.33'
    """
    return say("{money}", money=rounded(sum_, "0.01"))


SIGNS = {"GBP": "£", "EUR": "€", "USD": "$"}


def priced(minor: int, currency: str) -> str:
    """Money in whole minor units with its sign; hundredths only where there are some.

    >>> priced(11_200, "GBP"), priced(11_250, "GBP"), priced(125_000, "SEK")
    ('£112', '£112.50', 'SEK 1,250')
    """
    if minor % 100:
        return in_currency(say("{money:,.2f}", money=Decimal(minor) / 100), currency)
    return in_currency(say("{money:,}", money=minor // 100), currency)


def in_currency(sum_: str, currency: str) -> str:
    """A sum with its currency, which stands before or behind it as its reader's language has it.

    >>> in_currency("19.13", "GBP"), in_currency("19.13", "SEK"), in_currency("19.13", "")
    ('£19.13', 'SEK 19.13', '19.13')
    """
    if not currency:
        return sum_
    if currency in SIGNS:
        return say("{sign}{sum}", sign=SIGNS[currency], sum=sum_)
    return say("{currency} {sum}", currency=currency, sum=sum_)


def rounded(number: Fraction, to: str) -> Decimal:
    """A fraction rounded half up to a decimal place.

    >>> rounded(Fraction(2, 3), "0.01")
    Decimal('0.67')
    """
    step = Decimal(to)
    units = (abs(number) / Fraction(step) + Fraction(1, 2)) // 1
    return (units if number >= 0 else -units) * step


def pieces_short(mg: int, piece_mg: Fraction) -> int:
    """Pieces that make up a shortage: rounds up.

    >>> pieces_short(2_034_000, Fraction(42_000))
    49
    """
    return ceil(mg / piece_mg)


def pieces_spare(mg: int, piece_mg: Fraction) -> int:
    """Whole pieces in what is spare: rounds down.

    >>> pieces_spare(366_000, Fraction(42_000))
    8
    """
    return floor(mg / piece_mg)


def pieces(count: int, dyestuff: str) -> str:
    """A count of pieces by the last word of the dyestuff's name.

    >>> pieces(49, "avocado stones"), pieces(1, "avocado stones")
    ('49 stones', '1 stone')
    """
    name = dyestuff.split()[-1]
    return say(
        "{count:,} {pieces}", count=count, pieces=name.removesuffix("s") if count == 1 else name
    )


def listed(words: Iterable[str]) -> str:
    """Words in a row with `and` before the last.

    >>> listed(["A", "B", "C"]), listed(["A"]), listed([])
    ('A, B and C', 'A', '')
    """
    *first, last = list(words) or [""]
    return say("{first} and {last}", first=joined(", ", first), last=last) if first else last


def _rounded(number: Decimal) -> str:
    return _plain(number, "0.1" if abs(number) < 10 else "1")


def _plain(number: Decimal, to: str) -> str:
    return say("{number:,f}", number=number.quantize(Decimal(to), ROUND_HALF_UP).normalize())


def kilos(mg: int) -> str:
    """A mass in kilos as the line is counted.

    >>> kilos(3_500_000)
    '3.5 kg'
    """
    return measured(say("{mass} kg", mass=_plain(Decimal(mg) / 1_000_000, "0.001")), mg, "mg")


def metres(mm: int) -> str:
    """A length of cloth in metres, to the tenth.

    >>> metres(12_450), metres(12_000)
    ('12.5 m', '12 m')
    """
    return measured(say("{length} m", length=_plain(Decimal(mm) / 1000, "0.1")), mm, "mm")


def width(mm: int) -> str:
    """A width of cloth in centimetres.

    >>> width(1_500), width(1_425)
    ('150 cm', '142.5 cm')
    """
    return measured(say("{width} cm", width=decimal_string(Decimal(mm) / 10)), mm, "mm wide")


def weight_per_area(g_per_m2: Decimal | int) -> str:
    """What a square metre of cloth weighs dry.

    >>> weight_per_area(180)
    '180 g/m²'
    """
    said = say("{weight} g/m²", weight=_rounded(Decimal(g_per_m2)))
    return measured(said, g_per_m2, "g/m²")


def figure_in_words(figure: Figure) -> str:
    """A figure with its value and whose it is."""
    if figure.own:
        whose = "studio's own"
    else:
        whose = figure.source if figure.basis == "published" else figure.basis
    return say(
        "{item}, {name} = {value} ({whose})",
        item=figure.item,
        name=figure.name,
        value=figure.value,
        whose=whose,
    )


def litres(ml: Fraction | int) -> str:
    """Millilitres as litres to the tenth.

    >>> litres(120_000)
    '120 L'
    """
    exact_l = Fraction(ml) / 1000
    said = say("{volume} L", volume=_plain(Decimal(exact_l.numerator) / exact_l.denominator, "0.1"))
    return measured(said, Fraction(ml) * 1000, "µL")


def days_in_words(days: int) -> str:
    """A count of days.

    >>> days_in_words(1), days_in_words(11)
    ('1 day', '11 days')
    """
    return counted("{count} day", "{count} days", count=days)
