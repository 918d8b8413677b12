"""Cells of a table as the JSON of a record shows them, where more than a word is to be said."""

from __future__ import annotations

from collections.abc import Sequence
from decimal import Decimal
from fractions import Fraction
from typing import Any

from api.rest.shelf_values import amount_said
from sourcing.models.reminders import WANTS
from sourcing.taken import STAYS
from sourcing.week.words import decimal_string

Json = dict[str, object]
PLACES = 9  # of a fraction that no decimal can say, as of a third


def amount_of_unit(cells: tuple[int | None, str]) -> Json | None:
    """An amount with the unit of its lot, mg or µL.

    >>> amount_of_unit((1_900_000, "mg")), amount_of_unit((None, "mg"))
    ({'amount': '1900', 'unit': 'g'}, None)
    """
    number, unit = cells
    return None if number is None else amount_said(number, unit)


def fraction_exact(part: Fraction) -> str:
    """A fraction as a decimal, exact where a decimal can say it.

    >>> fraction_exact(Fraction(1, 20)), fraction_exact(Fraction(1, 3))
    ('0.05', '0.333333333')
    """
    return decimal_string(round(Decimal(part.numerator) / part.denominator, PLACES))


def money_said(minor: int) -> str:
    """Hundredths as a decimal string.

    >>> money_said(11_200), money_said(5)
    ('112.00', '0.05')
    """
    return f"{Decimal(minor) / 100:.2f}"


def heats_said(heats: Sequence[Sequence[Any]]) -> list[Json]:
    return [{"from_c": start, "to_c": goal, "hold_min": hold} for start, goal, hold in heats]


def prices_said(tiers: Sequence[Sequence[int]]) -> list[Json]:
    return [{"from": amount_said(mg, "mg"), "pack_price": money_said(minor)} for mg, minor in tiers]


def closed_said(pairs: Sequence[Sequence[str]]) -> list[list[str]]:
    return [list(pair) for pair in pairs]


def words_of(text: str) -> list[str]:
    """The words of a text with commas.

    >>> words_of("P1, P2"), words_of("")
    (['P1', 'P2'], [])
    """
    return [word.strip() for word in text.split(",") if word.strip()]


def wanted(flags: Sequence[bool]) -> list[str]:
    """The kinds of letters for which a reader said yes."""
    return [kind for kind, yes in zip(WANTS.values(), flags, strict=True) if yes]


def weekdays_of(days: Sequence[int | str]) -> list[int]:
    return [day for day in days if isinstance(day, int)]


def dates_of(days: Sequence[int | str]) -> list[str]:
    return [day for day in days if isinstance(day, str)]


def waits_said(floors: Sequence[Sequence[str]]) -> list[Json]:
    """Steps with the moment before which they are not begun, and whether they stay at it."""
    return [
        {"run": row[0], "step": row[1], "not_before": row[2], "stays": STAYS in row[3:]}
        for row in floors
    ]


def together_said(rows: Sequence[Sequence[str]]) -> list[Json]:
    """Runs that go along in another run's pots, up to a step of theirs."""
    return [{"run": run, "in_pots_of": leader, "up_to": upto} for leader, run, upto in rows]


def sites_said(sites: Sequence[Sequence[str]]) -> list[Json]:
    """Runs with the only site where they are worked."""
    return [{"run": run, "site": site} for run, site in sites]
