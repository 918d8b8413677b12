"""The figures that a forecast rests on: rows of `tables/forecast.csv`, read once and strictly."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from inventory.science.saying import say
from inventory.science.table import Line, lines_of

COLUMNS = ("item", "name", "low", "typical", "high", "basis", "source")


@dataclass(frozen=True, slots=True)
class Range:
    """A figure with its range and where it comes from."""

    low: float
    typical: float
    high: float
    basis: str
    source: str


@dataclass(frozen=True, slots=True)
class ForecastFigures:
    """Everything that the model takes for granted before it has seen a pick-up.

    Where a figure is tried out side by side, low, typical and high are the three that are tried.
    """

    amount_kept: Range  # of what older pick-ups say, from one agreed day to the next
    amount_evenness: Range  # 1 over the squared spread of a pick-up about its mean
    promise_spread: Range  # of the habit about what was promised, as a part of the promise
    amount_trust_kept: Range  # of the trust in each trial, from one pick-up to the next
    pieces_scatter_up_to: Range  # mean count up to which pieces scatter at least as Poisson does
    missed_kept: Range
    missed_fraction: Range  # before anything is known of a source
    missed_visits: Range  # pick-ups that this is worth
    missed_trust_kept: Range
    weekday_visits: Range  # pick-ups that "every day alike" is worth
    weekday_kept: Range
    missed_weekday_visits: Range  # the same for misses
    after_visits: Range  # pick-ups that "a miss says nothing of the next" is worth
    after_kept: Range
    ahead_known: Range  # part of what is known that counts when looking ahead
    mass_worth_pieces: Range  # pieces weighed here that the figure of a piece counts for
    mass_firmness: Range  # how firmly that figure's range is believed, in half weighings


@cache
def shipped() -> ForecastFigures:
    """The shipped figures."""
    folder = files("sourcing.forecast").joinpath("tables")
    rows = {
        (line.must("item"), line.must("name")): _range(line)
        for line in lines_of("forecast.csv", COLUMNS, folder=folder)
    }
    return ForecastFigures(
        amount_kept=rows["amount", "kept_fraction"],
        amount_evenness=rows["amount", "evenness"],
        promise_spread=rows["amount", "promise_spread_fraction"],
        amount_trust_kept=rows["amount", "trust_kept_fraction"],
        pieces_scatter_up_to=rows["amount", "pieces_scatter_up_to"],
        missed_kept=rows["missed", "kept_fraction"],
        missed_fraction=rows["missed", "fraction"],
        missed_visits=rows["missed", "visits"],
        missed_trust_kept=rows["missed", "trust_kept_fraction"],
        weekday_visits=rows["weekday", "visits"],
        weekday_kept=rows["weekday", "kept_fraction"],
        missed_weekday_visits=rows["weekday", "missed_visits"],
        after_visits=rows["after", "visits"],
        after_kept=rows["after", "kept_fraction"],
        ahead_known=rows["ahead", "known_fraction"],
        mass_worth_pieces=rows["mass", "worth_pieces"],
        mass_firmness=rows["mass", "firmness"],
    )


def _range(line: Line) -> Range:
    basis, source = line.sourced()
    low, typical, high = (_number(line, name) for name in ("low", "typical", "high"))
    if not low <= typical <= high:
        line.fail(
            say(
                "low, typical and high are {low}, {typical}, {high}, out of order.",
                low=low,
                typical=typical,
                high=high,
            )
        )
    return Range(low, typical, high, basis, source)


def _number(line: Line, column: str) -> float:
    try:
        return float(line.must(column))
    except ValueError:
        line.fail(say("{column} is “{line}”, not a number.", column=column, line=line[column]))
