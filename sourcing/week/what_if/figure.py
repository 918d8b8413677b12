"""A figure of the studio's own otherwise: another value of one rule, for one question."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from difflib import get_close_matches
from typing import ClassVar

from inventory.science.catalogue import shipped
from inventory.science.figure_bounds import bounds_of
from inventory.science.figures import Figure, Figures
from inventory.science.saying import say
from sourcing.week.facts import WeekFacts
from sourcing.week.what_if.change import Fault, there_are, today_of

TIMES = 10  # as far as a figure may lie from those known; further out it is a slip of the pen
KNOWN_RANGE = ("horizon_days",)  # how far ahead is worked out, which costs time


@dataclass(frozen=True, slots=True)
class AnotherFigure:
    """A figure of the studio's own has another value; its unit ends the rule's name.

    Amounts that the facts were made of with the old value (what a piece weighs, how far ahead
    hours go) stay, so facts are best gathered with it: `with_figures`.
    """

    item: str
    rule: str
    value: Decimal
    order: ClassVar[int] = 0

    def decides(self, facts: WeekFacts) -> frozenset[tuple[str, ...]]:
        return frozenset({("figure", self.item, self.rule)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        rows = [row for row in (*facts.figures.rows, *shipped().rows) if row.name == self.rule]
        if not rows:
            yield Fault("rule", _no_rule(self.rule, facts.figures))
            return
        if all(row.item != self.item for row in rows):
            items = sorted({row.item for row in rows})
            rule = self.rule.replace("_", " ")
            yield Fault(
                "item",
                say(
                    "Nothing called {item} has a {rule}. {there_are}",
                    item=self.item,
                    rule=rule,
                    there_are=there_are(items),
                ),
            )
            return
        low, high = _bounds(self.rule, rows)
        if not low <= self.value <= high:
            yield Fault(
                "value",
                say(
                    "{plain} is out of all range: {plain_2} to {plain_3} can be worked with.",
                    plain=_plain(self.value),
                    plain_2=_plain(low),
                    plain_3=_plain(high),
                ),
            )

    def on(self, facts: WeekFacts) -> WeekFacts:
        return replace(facts, figures=with_figures(facts.figures, [self], on=today_of(facts)))


def with_figures(figures: Figures, changes: Iterable[AnotherFigure], *, on: date) -> Figures:
    """The figures with other values: of the studio's own that hold that day, else new ones."""
    rows = list(figures.rows)
    for change in changes:
        held = figures.find(change.item, change.rule, on=on)
        if held is not None and held.own:
            rows = [replace(row, value=change.value) if row is held else row for row in rows]
        else:
            rows.insert(0, Figure(change.item, change.rule, change.value, own=True,
                                  basis="measured here"))  # fmt: skip
    return figures if rows == list(figures.rows) else Figures(tuple(rows))


def _no_rule(rule: str, figures: Figures) -> str:
    known = sorted({row.name for row in (*figures.rows, *shipped().rows)})
    close = [name.replace("_", " ") for name in get_close_matches(rule, known, cutoff=0.75)]
    hint = (
        there_are(close) if close else say("They stand with their values on the page of figures.")
    )
    return say(
        "No sum asks for a rule called {replace}. {hint}", replace=rule.replace("_", " "), hint=hint
    )


def _bounds(rule: str, rows: list[Figure]) -> tuple[Decimal, Decimal]:
    """Within which the sums can work: the known range, and ten times as far out."""
    lowest = min(row.value if row.low is None else min(row.low, row.value) for row in rows)
    highest = max(row.value if row.high is None else max(row.high, row.value) for row in rows)
    if rule.endswith("_c"):
        return min(lowest, Decimal(0)), Decimal(100)
    if rule in KNOWN_RANGE:
        return lowest, highest
    low, high = lowest / TIMES, highest * TIMES
    if rule.endswith("_min"):
        low = min(lowest, max(low, Decimal(1)))
    _, most = bounds_of(rule)
    return low, high if most is None else min(high, most)


def _plain(number: Decimal) -> str:
    return f"{number.normalize():f}"
