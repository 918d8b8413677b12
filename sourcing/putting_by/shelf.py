"""What is on the shelf for the wished runs: what keeps as it is, what keeps if it is put by."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.science.catalogue import find_figure
from inventory.science.counting import COMES_LATER, Counted, counted
from inventory.science.days import local_day
from inventory.science.facts import LotFacts
from inventory.science.saying import say
from sourcing.putting_by.facts import Stock
from sourcing.putting_by.turning import DRIED, Turning
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer


@dataclass(frozen=True, slots=True)
class OnShelf:
    """A lot that runs may be dyed from."""

    code: str
    lot_mg: int  # as it lies there, less what is spoken for
    stock: Stock  # as it counts
    turn_by: date | None = None  # put it by on this day at the latest; None: it keeps as it is


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A lot that does not count, and why."""

    code: str
    mg: int
    why: str


def on_shelf(
    facts: WeekFacts,
    answers: Sequence[Answer],
    turning: Turning,
    wanted: str,
    spoken: Mapping[str, int],
) -> tuple[tuple[OnShelf, ...], tuple[LeftOut, ...]]:
    """Lots that count, and lots that do not, by last good day.

    Parameters
    ----------
    answers : what placed runs take of a lot is gone; so is what was promised to others
    wanted : the state that the runs ask for; empty: any
    spoken : what other plans take of each lot
    """
    gone = _spoken_for(facts, answers)
    lots = [lot for lot in facts.shelf.lots if lot.dyestuff == turning.dyestuff]
    found: list[OnShelf] = []
    out: list[LeftOut] = []
    for row in counted(lots, facts.figures, at=facts.at, zone=facts.zone):
        left = row.lot.left_mg - gone.get(row.lot.code, 0) - spoken.get(row.lot.code, 0)
        if left <= 0:
            continue
        why = _why_not(facts, row, turning, wanted)
        if why:
            out.append(LeftOut(row.lot.code, left, why))
        else:
            found.append(_counting(facts, row, left, turning, wanted))
    return tuple(found), tuple(out)


def _spoken_for(facts: WeekFacts, answers: Sequence[Answer]) -> dict[str, int]:
    """What placed runs take, and what is promised to runs that are not placed, by lot."""
    gone: dict[str, int] = {}
    placed = {row.run for row in answers if row.answer != "no"}
    for answer in answers:
        for take in answer.takes if answer.run in placed else ():
            gone[take.source] = gone.get(take.source, 0) + take.amount
    for promise in facts.promised:
        if promise.run not in placed:
            gone[promise.code] = gone.get(promise.code, 0) + promise.amount
    return gone


def _why_not(facts: WeekFacts, row: Counted, turning: Turning, wanted: str) -> str:
    if row.left_out and row.left_out != COMES_LATER:
        return row.left_out
    if _must_turn(row.lot, turning, wanted):
        return "" if turning.known else say("nobody knows what it dries to")
    if _worth(facts, row.lot, turning, wanted) is None:
        return say("{state}, not {wanted}", state=row.lot.stay.state, wanted=wanted)
    return ""


def _must_turn(lot: LotFacts, turning: Turning, wanted: str) -> bool:
    """Whether a lot is fresh and counts only once it is put by."""
    return lot.stay.state == "fresh" and lot.stay.place_kind != "freezer" and wanted != "fresh"


def _counting(facts: WeekFacts, row: Counted, left: int, turning: Turning, wanted: str) -> OnShelf:
    lot = row.lot
    here = local_day(max(facts.at, row.comes or facts.at), zone=facts.zone)
    if _must_turn(lot, turning, wanted):
        last = turning.good_to(row.good.day, lot).day
        stock = Stock(lot.code, turning.kept_mg(left), here, last)
        return OnShelf(lot.code, left, stock, turn_by=row.good.day)
    worth = _worth(facts, lot, turning, wanted)
    assert worth is not None
    return OnShelf(lot.code, left, Stock(lot.code, int(left * worth), here, row.good.day))


def _worth(facts: WeekFacts, lot: LotFacts, turning: Turning, wanted: str) -> Fraction | None:
    """What one milligram of a lot stands for in the wanted state, as the week counts it.

    None where it cannot be told: by the studio's own drying figure only.
    """
    state = lot.stay.state
    if not wanted or state == wanted:
        return Fraction(1)
    own = find_figure(facts.figures, lot.dyestuff, "dried_per_fresh_fraction", on=turning.on)
    if own is None or not own.own or not own.value:
        return None
    return Fraction(own.value) if wanted == DRIED else 1 / Fraction(own.value)
