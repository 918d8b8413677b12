"""Values as the JSON of the shelves shows them: amounts, days, moments, figures, cautions."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from zoneinfo import ZoneInfo

from inventory.science.cautions import Caution
from inventory.science.figures import Figure
from sourcing.shelves import ShelvesFacts
from sourcing.week.words import decimal_string, exact

Json = dict[str, object]
ROWS_KEPT = 1024  # of each kind a process has said lately; nobody changes what is kept


def amount_said(number: int, unit: str) -> Json:
    amount, said = exact(number, unit)
    return {"amount": amount, "unit": said}


def litres_said(ml: int) -> Json:
    return {"amount": decimal_string(Decimal(ml) / 1000), "unit": "L"}


@lru_cache(maxsize=ROWS_KEPT)
def figure_said(row: Figure) -> Json:
    return {
        "item": row.item,
        "name": row.name,
        "value": decimal_string(row.value),
        "low": None if row.low is None else decimal_string(row.low),
        "high": None if row.high is None else decimal_string(row.high),
        "basis": row.basis,
        "source": row.source or None,
        "own": row.own,
        "since": day_said(row.since),
    }


@lru_cache(maxsize=ROWS_KEPT)
def caution_said(row: Caution) -> Json:
    return {"code": row.code, "mark": row.mark, "text": row.sentence}


def fraction_said(part: Fraction) -> str:
    return decimal_string(round(Decimal(part.numerator) / part.denominator, 4))


def measured_said(number: float) -> str:
    """A reckoned number to the thousandth: finer than anybody can measure it."""
    return decimal_string(round(Decimal(number), 3))


def since_said(at: datetime | date | None, facts: ShelvesFacts) -> str | None:
    return moment_said(at, facts) if isinstance(at, datetime) else day_said(at)


def day_said(day: date | None) -> str | None:
    return None if day is None else day.isoformat()


def moment_said(at: datetime | None, facts: ShelvesFacts) -> str | None:
    return None if at is None else moment_in(at, facts.zone)


@lru_cache(maxsize=ROWS_KEPT)
def moment_in(at: datetime, zone: ZoneInfo) -> str:
    """A moment on the studio's clock, with its offset."""
    return at.astimezone(zone).isoformat(timespec="seconds")
