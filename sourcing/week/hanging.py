"""Where and when cloth is hung: at once when rinsed, on a line with room until it is dry."""

from __future__ import annotations

from dataclasses import dataclass

from sourcing.week.board import Board, Rail
from sourcing.week.facts import Weather
from sourcing.week.fits import Fit, Push, Round
from sourcing.week.house import House
from sourcing.week.moments import NEVER, Calendar, rounded_up
from sourcing.week.stages import Stage


@dataclass
class Lines:
    """The drying lines of one site."""

    board: Board
    calendar: Calendar
    house: House
    codes: tuple[str, ...]
    outdoors: frozenset[str]
    weather: dict[int, Weather]  # by day number

    def hang(
        self, stage: Stage, done: Round, fits: list[Fit], pushes: list[Push]
    ) -> tuple[str, int, int] | int:
        """The line that takes the cloth at once, else when the last step may begin instead."""
        at = rounded_up(done.end, self.house.hangs_on)
        soonest, which, on_it = NEVER, "", 0
        for code in self.codes:
            rail = self._rail(code, fits)
            later = self._frost_over(code, at)
            if later == at:
                later = rail.room_from(at, self.house.drying, stage.weight_mg)
            if later == at:
                return code, at, at + self.house.drying
            if later < soonest or not which:
                soonest, which = later, code
                on_it = rail.highest(at, at + self.house.drying)
        holds = self.board.rails[which].holds_mg if which else 0
        pushes.append(
            Push("line", which, stage.step.name, at, soonest, stage.weight_mg + on_it, holds)
        )
        return NEVER if soonest >= NEVER else done.start + (soonest - at)

    def free_from(self, at: int, mg: int) -> tuple[str, int]:
        """The line that has room for so much from a minute on until it is dry, else from when."""
        found = []
        for code in self.codes:
            later = self._frost_over(code, at)
            if later == at:
                later = self.board.rails[code].room_from(at, self.house.drying, mg)
            found.append((later, code))
        later, code = min(found, default=(NEVER, ""))
        return code, later

    def _rail(self, code: str, fits: list[Fit]) -> Rail:
        """A line with the run's own earlier rounds on it."""
        rail = self.board.rails[code]
        own = [(*fit.hung[1:], fit.stage.weight_mg) for fit in fits
               if fit.hung and fit.hung[0] == code]  # fmt: skip
        return Rail(rail.holds_mg, [*rail.hung, *own]) if own else rail

    def _frost_over(self, code: str, at: int) -> int:
        """`at` unless a frost falls while the cloth would hang outdoors; else the next try."""
        if code not in self.outdoors:
            return at
        first, last = (self.calendar.day_number(m) for m in (at, at + self.house.drying - 1))
        frosty = [n for n in range(first, last + 1)
                  if n in self.weather and self.weather[n].frost]  # fmt: skip
        if not frosty:
            return at
        return self.calendar.midnights[min(frosty[-1] + 1, len(self.calendar.midnights) - 1)]
