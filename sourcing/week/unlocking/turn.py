"""How everything stood when a run's turn came, and the run placed from there in another studio.

What was placed before stays where it is, so whatever is eased serves this run alone.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from sourcing.week.board import Board
from sourcing.week.desk import Desk, desk_for
from sourcing.week.facts import WeekFacts
from sourcing.week.jobs import dip_chores
from sourcing.week.liquors import dips_by_site
from sourcing.week.second_bath import Poured


@dataclass(frozen=True)
class Turn:
    """What earlier runs have booked and claimed by a run's turn."""

    board: Board
    spent: dict[str, dict[date, int]]  # minutes of hands by site and day
    taken: dict[str, int]  # mg or µL by code
    rooms: tuple[tuple[str, int, int], ...]
    poured: tuple[tuple[Poured, int], ...] = ()  # what placed runs leave, and µL of it left


def fresh_desk(facts: WeekFacts, *, days: int, like: Desk | None = None) -> Desk:
    """A desk before any run: blocks, chores, pick-ups and dips are on it."""
    desk = desk_for(facts, days=days, like=like)
    for site, days_due in dips_by_site(desk.larder).items():
        dip_chores(desk, days_due, site=site)
    return desk


class Turns:
    """Takes down each run's turn on one desk, to come back to it."""

    def __init__(self, desk: Desk) -> None:
        self._desk = desk
        self._hands = _hands(desk)
        self._left = dict(desk.larder.left)
        self.of: dict[str, Turn] = {}

    def note(self, run: str) -> None:
        """Keep how everything stands now as the run's turn."""
        desk = self._desk
        hands = _hands(desk)
        spent = {
            site: {
                day: was - hands[site][day] for day, was in days.items() if was != hands[site][day]
            }
            for site, days in self._hands.items()
        }
        left = desk.larder.left
        taken = {code: was - left[code] for code, was in self._left.items() if was != left[code]}
        poured = tuple((row, left[code]) for code, row in desk.larder.poured.items())
        self.of[run] = Turn(desk.board.kept(), spent, taken, tuple(desk.rooms), poured)


def desk_at(turn: Turn, facts: WeekFacts, *, days: int, like: Desk | None = None) -> Desk:
    """A desk of a studio that may differ, with everything booked that was booked by the turn.

    Parameters
    ----------
    like : desk of the studio as it is, to spare what would be worked out again
    """
    desk = fresh_desk(facts, days=days, like=like)
    board = desk.board
    for mine, theirs in ((board.vessels, turn.board.vessels), (board.rings, turn.board.rings)):
        for code, holds in theirs.items():
            mine[code].starts[:] = holds.starts
            mine[code].ends[:] = holds.ends
            mine[code].who[:] = holds.who
    for away, was in ((board.away, turn.board.away), (board.watched, turn.board.watched)):
        for site, rows in was.items():
            away[site][:] = rows
    for code, rail in turn.board.rails.items():
        more = [row for row in board.rails[code].hung if row not in rail.hung]  # hung by an easing
        board.rails[code].hung[:] = [*rail.hung, *more]
    done: set[int] = set()
    for site, days_spent in turn.spent.items():
        left = board.hands[site]
        if id(left) in done:
            continue  # sites that share their hands share one list
        done.add(id(left))
        calendar = desk.placers[site].calendar
        for day, minutes in days_spent.items():
            index = calendar.index_of_day(day)
            assert index is not None, day
            left[index] -= minutes
    for code, amount in turn.taken.items():
        desk.larder.left[code] -= amount
    for row, left_ul in turn.poured:
        desk.larder.poured[row.bath.code] = row
        desk.larder.left[row.bath.code] = left_ul
    desk.rooms = list(turn.rooms)
    return desk


def _hands(desk: Desk) -> dict[str, dict[date, int]]:
    return {
        site: {
            day.day: left
            for day, left in zip(
                desk.placers[site].calendar.open_days, desk.board.hands[site], strict=True
            )
        }
        for site in desk.facts.sites
    }
