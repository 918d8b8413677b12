"""One run placed as early as it fits beside what is already placed: pots, rings, hands and line.

A serial schedule-generation scheme (Kolisch 1996, Eur. J. Oper. Res. 90, 320-333): stages go in
order, each at the first moment that every constraint allows; where a later stage would leave an
earlier one standing too long, the earlier one moves, never by more than it must.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from sourcing.week.board import Board
from sourcing.week.facts import Weather
from sourcing.week.fits import (
    Bump,
    Fit,
    Placement,
    Push,
    Round,
    hangs,
    spent,
    stands,
    stands_from,
    stays_in,
)
from sourcing.week.hanging import Lines
from sourcing.week.house import House
from sourcing.week.moments import NEVER, Calendar
from sourcing.week.rounds import Rounds
from sourcing.week.stages import Option, Room, Stage
from sourcing.week.ways import Ways

TRIES_AT_MOST = 5_000  # moves of one run's stages; a plan in use needs a few dozen


@dataclass
class Placer:
    """Places runs of one site, one after another."""

    board: Board
    calendar: Calendar
    room: Room
    house: House
    weather: dict[int, Weather] = field(default_factory=dict)  # by day number
    no_metal: tuple[tuple[int, int], ...] = ()  # stretches without metal baths
    outdoors: frozenset[str] = frozenset()
    lines: tuple[str, ...] = ()
    known_ways: Ways | None = None  # of a placer in the very same room

    def __post_init__(self) -> None:
        self.ways = self.known_ways or Ways(
            self.room.vessels, self.room.rings, self.house.efficiency
        )
        lines = Lines(
            self.board, self.calendar, self.house, self.lines, self.outdoors, self.weather
        )
        self._rounds = Rounds(
            self.board,
            self.calendar,
            self.house,
            self.room.site,
            self.ways,
            lines,
            self.weather,
            self.no_metal,
        )

    def try_at(
        self, stage: Stage, option: Option, minute: int, index: int, there: int
    ) -> Round | Push:
        """One round of a stage at a minute, on its own, or what is in its way."""
        return self._rounds.try_at(stage, option, minute, index, there)

    def place(
        self,
        stages: tuple[Stage, ...],
        not_before: list[int],
        *,
        settled: tuple[Fit, ...] = (),
        missed: list[Bump] | None = None,
    ) -> Placement:
        """The earliest dry moment of a run, among equals the earliest first step.

        Parameters
        ----------
        stages : in order, at least one
        not_before : one minute a stage, when its materials are there
        settled : the first of the stages, of a run under way: they are never moved
        missed : takes what a stage would have asked of a settled one
        """
        floor = list(not_before)
        fits: list[Fit] = list(settled)
        pushes: list[Push] = []
        asked: list[Bump] = [] if missed is None else missed
        holds = [0] * len(stages)
        for _ in range(TRIES_AT_MOST):
            index = len(fits)
            if index == len(stages):
                return Placement(fits, pushes, done=True)
            found = self._fit(index, stages, floor, holds, fits, pushes, len(settled), asked)
            if found is None:
                return Placement(fits, pushes, done=False)
            if isinstance(found, Bump):
                if found.hold_until > holds[found.index]:
                    holds[found.index] = found.hold_until
                else:
                    floor[found.index] = max(floor[found.index] + 1, found.not_before)
                if floor[found.index] >= self.calendar.end:
                    return Placement(fits, pushes, done=False)
                del fits[found.index :]
                floor[found.index + 1 :] = not_before[found.index + 1 :]
                holds[found.index + 1 :] = [0] * (len(stages) - found.index - 1)
                continue
            fits.append(found)
        return Placement(fits, pushes, done=False)

    def _fit(
        self,
        index: int,
        stages: tuple[Stage, ...],
        floor: list[int],
        holds: list[int],
        fits: list[Fit],
        pushes: list[Push],
        settled: int,
        missed: list[Bump],
    ) -> Fit | Bump | None:
        """The stage at its first moment, or the earlier stage that has to move."""
        stage = stages[index]
        before = fits[-1] if fits else None
        release = self.released(before, stage)
        lower = max(floor[index], release)
        last = hangs(stages, index)
        ending = self.ways.ending(stages)[index]
        fit = self._all_rounds(stage, lower, holds[index], fits, pushes, ending, last=last)
        if fit is None:
            return None
        if before is None:
            return fit
        bump = self._too_late(index, stage, release, before, fit, pushes)
        if bump is not None and bump.index < settled:
            missed.append(bump)
            return fit
        return bump or fit

    def released(self, before: Fit | None, stage: Stage) -> int:
        """When the stage before lets this one begin."""
        if before is None:
            return 0
        done = before.last
        if before.stage.step.night:
            return before.lifted or self.calendar.night_over(done.end)
        step = before.stage.step
        if stands(before.stage):
            return stands_from(before.stage, done) + step.stand_min
        released = done.end + step.cool_min + before.stage.pause_after
        in_turn = stage.same and not stage.step.at_once and not before.stage.pause_after
        return released + self.house.between_steps if in_turn else released

    def _too_late(
        self, index: int, stage: Stage, release: int, before: Fit, fit: Fit, pushes: list[Push]
    ) -> Bump | None:
        """The move of the stage before that this stage's moment asks for, if any."""
        step = before.stage.step
        moved = fit.start - release
        if stage.step.at_once and moved > 0:
            return Bump(index - 1, before.start + moved)
        if stage.step.at_once and self._on_another_day(before.last.end, fit.last.start):
            return Bump(index - 1, self.calendar.next_midnight(before.start))
        stood = fit.last.start - stands_from(before.stage, before.rounds[0])
        if step.stand_max is not None and stood > step.stand_max:
            bump = before.start + stood - step.stand_max
            pushes.append(Push("standing", step.name, step.name, before.start, bump,
                               stood, step.stand_max))  # fmt: skip
            return Bump(index - 1, bump)
        if step.night and self._left_too_long(stage, before, fit):
            return Bump(index - 1, self.calendar.next_midnight(before.start))
        if before.stage.pause_after and stage.round_of[0] == 1:
            day = self.calendar.day_number(fit.start)
            if self.calendar.day_number(before.last.start) != day:
                return Bump(index - 1, self.calendar.midnights[day])
        return self._held_through(index, stage, before, fit)

    def _on_another_day(self, minute: int, later: int) -> bool:
        return self.calendar.day_number(minute) != self.calendar.day_number(later)

    def _left_too_long(self, stage: Stage, before: Fit, fit: Fit) -> bool:
        """Too many nights in the bath, or too many days damp since it was lifted."""
        day = self.calendar.day_number(fit.start)
        if stays_in(stage):
            return day - self.calendar.day_number(before.last.end) > self.house.nights
        lifted = before.lifted or self.calendar.night_over(before.rounds[0].end)
        return day - self.calendar.day_number(lifted) > self.house.damp_days

    def _held_through(self, index: int, stage: Stage, before: Fit, fit: Fit) -> Bump | None:
        """Keep the vessels of the stage before until this one takes over."""
        step = before.stage.step
        if not (
            stands(before.stage)
            or (step.night and stays_in(stage))
            or stage.same
            or stage.step.at_once
        ):
            return None
        until = fit.last.start
        for load in before.last.loads:
            free, _ = self.board.vessels[load.vessel].free_from(
                before.start, until, self.house.between_runs
            )
            if free > before.start:
                return Bump(index - 1, free, hold_until=until)
        before.held_until = max(before.held_until, until)
        return None

    def _all_rounds(
        self,
        stage: Stage,
        lower: int,
        hold_until: int,
        fits: list[Fit],
        pushes: list[Push],
        ending: frozenset[Option],
        *,
        last: bool,
    ) -> Fit | None:
        options = self._options(stage, fits)
        if options == ():
            pushes.append(Push("vessel", "", stage.step.name, lower, NEVER))
            return None
        rounds: list[Round] = []
        taken = spent(fits)
        option: Option | None = None
        for number in range(options[0].rounds if options else 1):
            if number < len(stage.rounds_from):
                lower = max(lower, stage.rounds_from[number])
            own = self.own(fits, rounds, stage)
            if ending and options and number + 1 == options[0].rounds:
                options = tuple(row for row in options if row in ending) or options
            found = self._rounds.find(
                stage, number, lower, hold_until, options, fits, rounds, taken, own, pushes, last
            )
            if found is None:
                return None
            done, option, hung = found
            taken[done.day] = taken.get(done.day, 0) + done.hands_min
            rounds.append(done)
            lower = done.free_at if not stage.step.night else done.end
        return Fit(stage, option, rounds, max(r.free_at for r in rounds), hung)

    def _options(self, stage: Stage, fits: list[Fit]) -> tuple[Option, ...] | None:
        """Ways to hold the stage; None when it needs no vessel."""
        if not stage.step.vessels:
            return None
        if stage.same and fits:
            before = fits[-1].option
            return () if before is None else (before,)
        if not fits or fits[-1].option is None:
            return stage.options
        if not stands(fits[-1].stage):
            return stage.options
        held = set(fits[-1].option.vessels)
        apart = tuple(option for option in stage.options if not held & set(option.vessels))
        if apart or not stage.options or stage.options[0].rounds > 1:
            return apart
        # No other pot will do: the cloth is lifted, and its pot is filled anew.
        return stage.options

    def own(self, fits: list[Fit], rounds: list[Round], stage: Stage) -> dict[str, tuple[int, int]]:
        """Vessels of this run's earlier stages: free at, and the pause before they are refilled."""
        own: dict[str, tuple[int, int]] = {}
        for fit in fits:
            step = fit.stage.step
            rests = step.night or fit.stage.pause_after or stands(fit.stage)
            for done in fit.rounds:
                free = fit.held_until if rests and done is fit.last else done.free_at
                lifted = fit is fits[-1] and stands(fit.stage)
                if lifted:  # a kept one is held until the next begins, its pause within that
                    free = min(free, self.released(fit, stage))
                for load in done.loads:
                    own[load.vessel] = (
                        free, 0 if rests and not lifted else self.house.between_steps
                    )  # fmt: skip
        for done in rounds:
            for load in done.loads:
                pause = 0 if stage.step.night else self.house.between_steps
                own[load.vessel] = (done.free_at, pause)
        return own

    def commit(self, run: str, placement: Placement) -> None:
        """Write a whole run into the board; from now on it is not moved."""
        for fit in placement.fits:
            if fit.led:
                continue
            for number, done in enumerate(fit.rounds):
                self.board.hands[self.room.site][done.day] -= done.hands_min
                self.board.watch(self.room.site, done.start, done.attended_until)
                last = number + 1 == len(fit.rounds)
                for load in done.loads:
                    until = fit.held_until if last else done.free_at
                    self.board.vessels[load.vessel].add(done.start, until, run)
                    if load.ring:
                        self.board.rings[load.ring].add(done.start, load.heat_until, run)
            if fit.hung is not None:
                line, since, until = fit.hung
                self.board.rails[line].hung.append((since, until, fit.stage.weight_mg))
