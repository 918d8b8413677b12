"""What a figure of the sums is called on a page, and in which unit it is shown."""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from functools import cache

from inventory.science.figures import Figure
from inventory.science.saying import say
from inventory.science.table import lines_of

COLUMNS = ("name", "words", "unit")


@dataclass(frozen=True, slots=True)
class Words:
    """Plain words for a figure's name, and the unit that stands behind its numbers."""

    words: str
    unit: str  # `%` for a fraction of one too; empty where the name is in no table


@cache
def shipped_words() -> dict[str, Words]:
    """The words of every name that has some, by name."""
    found: dict[str, Words] = {}
    for line in lines_of("figure_words.csv", COLUMNS):
        if line.must("name") in found:
            line.fail(say("“{line}” stands twice.", line=line["name"]))
        found[line["name"]] = Words(say(line.must("words")), say(line.must("unit")))
    return found


def words_for(name: str) -> Words:
    """The words of a figure's name; one that is in no table yet is read word by word.

    Examples
    --------
    >>> words_for("scour_loss_fraction")
    Words(words='lost in scouring', unit='%')
    >>> words_for("soaks_in_dew_h").words
    'soaks in dew h'
    """
    return shipped_words().get(name) or Words(name.replace("_", " "), "")


def shown_value(name: str, value: Decimal) -> Decimal:
    """A figure as people say it: a fraction of one in per cent, without ends of noughts.

    Examples
    --------
    >>> shown_value("fill_fraction", Decimal("0.80")), shown_value("drying_h", Decimal("48"))
    (Decimal('80'), Decimal('48'))
    """
    hundredfold = name.endswith("_fraction") and words_for(name).unit == "%"
    shown = (value * 100 if hundredfold else value).normalize()
    return shown.quantize(Decimal(1)) if shown == shown.to_integral_value() else shown


def bounds(row: Figure) -> tuple[Decimal | None, Decimal | None]:
    """Low and high of a figure as people say them."""
    low = None if row.low is None else shown_value(row.name, row.low)
    high = None if row.high is None else shown_value(row.name, row.high)
    return low, high
