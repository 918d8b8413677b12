"""One run placed as early as it fits beside what is already placed: pots, rings, hands and line.

A serial schedule-generation scheme (Kolisch 1996, Eur. J. Oper. Res. 90, 320-333): stages go in
order, each at the first moment that every constraint allows; where a later stage would leave an
earlier one standing too long, the earlier one moves, never by more than it must.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction

from inventory.science.facts import RingFacts
from inventory.science.heating import heat_up_minutes
from sourcing.week.board import Board, Rail
from sourcing.week.facts import Block, Weather
from sourcing.week.house import House
from sourcing.week.moments import NEVER, Calendar, Opening, rounded_up
from sourcing.week.stages import Option, Room, Stage, loads_of

TRIES_AT_MOST = 5_000  # moves of one run's stages; a plan in use needs a few dozen


@dataclass(frozen=True, slots=True)
class Push:
    """Why a stage could not begin at a moment, and when to look again."""

    kind: str  # closed, hands, vessel, ring, line, attended, night, aired, block, standing
    what: str
    step: str
    at: int
    until: int
    amount: int = 0  # what was asked
    there: int = 0  # what there is


@dataclass(frozen=True, slots=True)
class PlacedLoad:
    """One load with its vessel, ring and minutes."""

    vessel: str
    ring: str
    weight_mg: int
    litres_ml: Fraction
    heat_until: int  # end of the hold; the start when unheated
    heat_min: int


@dataclass(frozen=True, slots=True)
class Round:
    """Loads that go in together."""

    start: int
    end: int  # active part over: end of the longest hold, of the standing, of the rinse
    attended_until: int
    free_at: int  # vessels free again at the earliest
    loads: tuple[PlacedLoad, ...]
    day: int  # index of the day's hands
    hands_min: int


@dataclass(slots=True)
class Fit:
    """A stage with its rounds in time."""

    stage: Stage
    option: Option | None
    rounds: list[Round]
    held_until: int
    hung: tuple[str, int, int] | None = None  # line, since, until

    @property
    def start(self) -> int:
        return self.rounds[0].start

    @property
    def last(self) -> Round:
        return self.rounds[-1]


@dataclass(frozen=True, slots=True)
class Bump:
    """A stage that has to begin later so that a later one fits."""

    index: int
    not_before: int


@dataclass(slots=True)
class Placement:
    """A run's stages in time, or how far it came, and what pushed it."""

    fits: list[Fit]
    pushes: list[Push]
    done: bool

    @property
    def first_step(self) -> int:
        return self.fits[0].start

    @property
    def dry(self) -> int:
        return max((fit.hung[2] for fit in self.fits if fit.hung), default=self.fits[-1].last.end)


@dataclass(frozen=True, slots=True)
class Way:
    """One way to hold a stage, worked out: loads, and for each load the rings that take it."""

    option: Option
    loads: tuple[tuple[str, int, Fraction], ...]  # vessel, weight [mg], liquor [mL]
    # By load, hardest to place first: vessel and (ring, minutes over it, heating minutes),
    # the weakest ring first.
    rings: tuple[tuple[str, tuple[tuple[str, int, int], ...]], ...]
    hands_min: int
    shortest: int  # minutes that the vessels are held at the least


def heating_minutes(
    litres_ml: Fraction, watts: int, efficiency: Fraction, heats: tuple[tuple[int, int, int], ...]
) -> tuple[int, int]:
    """Minutes over the flame until the last hold is over, and the heating part of them.

    Each heating is rounded to the nearest minute by itself (`heating.heat_up_minutes`).
    """
    heating = 0
    hold = 0
    for start_c, goal_c, hold_min in heats:
        exact = heat_up_minutes(
            litres_ml / 1000,
            start_c=Fraction(min(start_c, goal_c)),
            goal_c=Fraction(goal_c),
            ring_kw=Fraction(watts, 1000),
            efficiency=efficiency,
        )
        heating += int(exact + Fraction(1, 2))
        hold += hold_min
    return heating + hold, heating


@dataclass
class Placer:
    """Places runs of one site, one after another."""

    board: Board
    calendar: Calendar
    room: Room
    house: House
    blocks: tuple[Block, ...] = ()
    weather: dict[int, Weather] = field(default_factory=dict)  # by day number
    no_metal: tuple[tuple[int, int], ...] = ()  # stretches without metal baths
    outdoors: frozenset[str] = frozenset()
    lines: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        rings = sorted(self.room.rings, key=lambda ring: (ring.watts, ring.code))
        self._rings: dict[str, tuple[RingFacts, ...]] = {
            vessel.code: tuple(ring for ring in rings if vessel.code not in ring.not_for)
            for vessel in self.room.vessels
        }
        self._hands = self.board.hands[self.room.site]
        self._known_ways: dict[tuple[int, int], tuple[Stage, Option, Way]] = {}

    def _way(self, stage: Stage, option: Option) -> Way:
        """An option worked out for a stage, once; both are kept so that their ids stay theirs."""
        key = (id(stage), id(option))
        known = self._known_ways.get(key)
        if known is None:
            known = (stage, option, self._worked_out(stage, option))
            self._known_ways[key] = known
        return known[2]

    def _worked_out(self, stage: Stage, option: Option) -> Way:
        loads = tuple(loads_of(stage, option))
        rings: list[tuple[str, tuple[tuple[str, int, int], ...]]] = []
        if stage.heats:
            for vessel, _, litres in sorted(loads, key=lambda load: len(self._rings[load[0]])):
                rings.append((vessel, tuple(
                    (ring.code, *heating_minutes(litres, ring.watts, self.house.efficiency,
                                                 stage.heats))
                    for ring in self._rings[vessel]
                )))  # fmt: skip
        by_load = stage.step.hands_per == "load"
        hands = stage.hands_per_load * len(option.vessels) if by_load else stage.hands_min
        shortest = max((min(row[1] for row in of) for _, of in rings if of), default=0)
        return Way(option, loads, tuple(rings), hands, max(1, shortest, stage.step.stand_min))

    # -- one run -----------------------------------------------------------------------------

    def place(self, stages: tuple[Stage, ...], not_before: list[int]) -> Placement:
        """The earliest dry moment of a run, among equals the earliest first step.

        Parameters
        ----------
        stages : in order, at least one
        not_before : one minute a stage, when its materials are there
        """
        floor = list(not_before)
        fits: list[Fit] = []
        pushes: list[Push] = []
        for _ in range(TRIES_AT_MOST):
            index = len(fits)
            if index == len(stages):
                return Placement(fits, pushes, done=True)
            found = self._fit(index, stages, floor, fits, pushes)
            if found is None:
                return Placement(fits, pushes, done=False)
            if isinstance(found, Bump):
                floor[found.index] = max(floor[found.index] + 1, found.not_before)
                if floor[found.index] >= self.calendar.end:
                    return Placement(fits, pushes, done=False)
                del fits[found.index :]
                floor[found.index + 1 :] = not_before[found.index + 1 :]
                continue
            fits.append(found)
        return Placement(fits, pushes, done=False)

    def _fit(
        self,
        index: int,
        stages: tuple[Stage, ...],
        floor: list[int],
        fits: list[Fit],
        pushes: list[Push],
    ) -> Fit | Bump | None:
        """The stage at its first moment, or the earlier stage that has to move."""
        stage = stages[index]
        before = fits[-1] if fits else None
        release = self._release(before, stage)
        lower = max(floor[index], release)
        fit = self._all_rounds(stage, lower, fits, pushes, last=_hangs(stages, index))
        if fit is None:
            return None
        if before is None:
            return fit
        return self._too_late(index, stage, release, before, fit, pushes) or fit

    def _release(self, before: Fit | None, stage: Stage) -> int:
        """When the stage before lets this one begin."""
        if before is None:
            return 0
        done = before.last
        if before.stage.step.night:
            return self.calendar.night_over(done.end)
        step = before.stage.step
        if _stands(before.stage):
            return _stands_from(before.stage, done) + step.stand_min
        return done.end + step.cool_min + before.stage.pause_after

    def _too_late(
        self, index: int, stage: Stage, release: int, before: Fit, fit: Fit, pushes: list[Push]
    ) -> Bump | None:
        """The move of the stage before that this stage's moment asks for, if any."""
        step = before.stage.step
        moved = fit.start - release
        if stage.step.at_once and moved > 0:
            return Bump(index - 1, before.start + moved)
        stood = fit.last.start - _stands_from(before.stage, before.rounds[0])
        if step.stand_max is not None and stood > step.stand_max:
            bump = before.start + stood - step.stand_max
            pushes.append(Push("standing", step.name, step.name, before.start, bump,
                               stood, step.stand_max))  # fmt: skip
            return Bump(index - 1, bump)
        if step.night and self._left_too_long(stage, before, fit):
            return Bump(index - 1, self._next_morning(before.start))
        if before.stage.pause_after and stage.round_of[0] == 1:
            day = self.calendar.day_number(fit.start)
            if self.calendar.day_number(before.last.start) != day:
                return Bump(index - 1, self.calendar.midnights[day])
        return self._held_through(index, stage, before, fit)

    def _left_too_long(self, stage: Stage, before: Fit, fit: Fit) -> bool:
        """Too many nights in the bath, or too many days damp since it was lifted."""
        day = self.calendar.day_number(fit.start)
        if _stays_in(stage):
            return day - self.calendar.day_number(before.last.end) > self.house.nights
        lifted = self.calendar.night_over(before.rounds[0].end)
        return day - self.calendar.day_number(lifted) > self.house.damp_days

    def _held_through(self, index: int, stage: Stage, before: Fit, fit: Fit) -> Bump | None:
        """Keep the vessels of the stage before until this one takes over."""
        step = before.stage.step
        if not (
            _stands(before.stage)
            or (step.night and _stays_in(stage))
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
                return Bump(index - 1, free)
        before.held_until = max(before.held_until, until)
        return None

    def _next_morning(self, minute: int) -> int:
        day = self.calendar.day_number(minute)
        return self.calendar.midnights[min(day + 1, len(self.calendar.midnights) - 1)]

    # -- one stage ---------------------------------------------------------------------------

    def _all_rounds(
        self, stage: Stage, lower: int, fits: list[Fit], pushes: list[Push], *, last: bool
    ) -> Fit | None:
        options = self._options(stage, fits)
        if options == ():
            pushes.append(Push("vessel", "", stage.step.name, lower, NEVER))
            return None
        rounds: list[Round] = []
        spent = _spent(fits)
        option: Option | None = None
        for number in range(options[0].rounds if options else 1):
            found = self._round(stage, number, lower, options, fits, rounds, spent, pushes, last)
            if found is None:
                return None
            done, option, hung = found
            spent[done.day] = spent.get(done.day, 0) + done.hands_min
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
        if not _stands(fits[-1].stage):
            return stage.options
        held = set(fits[-1].option.vessels)
        return tuple(option for option in stage.options if not held & set(option.vessels))

    def _round(
        self,
        stage: Stage,
        number: int,
        lower: int,
        options: tuple[Option, ...] | None,
        fits: list[Fit],
        rounds: list[Round],
        spent: dict[int, int],
        pushes: list[Push],
        last: bool,
    ) -> tuple[Round, Option | None, tuple[str, int, int] | None] | None:
        """One round at its first possible moment."""
        step = stage.step
        exact = step.at_once and bool(fits) and not rounds
        minute = lower
        own = self._own(fits, rounds, stage)
        look_again = [0] * len(options or ())
        while minute < self.calendar.end:
            if not exact:
                minute = rounded_up(minute, self.house.starts_on)
            index = self.calendar.open_index(minute)
            if index >= len(self.calendar.openings):
                return None
            day = self.calendar.openings[index]
            opens = self._opens(day, stage)
            if minute < opens:
                if self.calendar.day_number(minute) != self.calendar.day_number(opens):
                    pushes.append(Push("closed", "", step.name, minute, opens))
                minute = opens
                if minute >= day.closes:
                    minute = day.closes
                    continue
                exact = False
                continue
            there = self._hands[day.pool] - spent.get(day.pool, 0)
            barred = self._barred(step.aired or bool(step.metal), minute)
            if barred:
                pushes.append(Push("aired", step.name, step.name, minute, barred))
                minute = barred
                continue
            tried = self._first_option(
                stage, number, minute, index, options, own, there, look_again, pushes
            )
            if isinstance(tried, int):
                minute = max(minute + 1, tried)
                continue
            done, option = tried
            if not last or number + 1 < (options[0].rounds if options else 1):
                return done, option, None
            hung = self._hang(stage, done, fits, pushes)
            if isinstance(hung, int):
                minute = max(minute + 1, hung)
                look_again = [0] * len(look_again)
                continue
            return done, option, hung
        return None

    def _opens(self, day: Opening, stage: Stage) -> int:
        if stage.step.from_time is None:
            return day.opens
        return max(day.opens, self.calendar.wall(day.day, stage.step.from_time))

    def _next_opening(self, index: int) -> int:
        days = self.calendar.openings
        return days[index + 1].opens if index + 1 < len(days) else self.calendar.end

    def _next_day(self, index: int) -> int:
        """When the next day with hands opens."""
        openings = self.calendar.openings
        pool = openings[index].pool
        while index < len(openings) and openings[index].pool == pool:
            index += 1
        return openings[index].opens if index < len(openings) else self.calendar.end

    def _tomorrow(self, pushes: list[Push], push: Push, index: int) -> int:
        until = self._next_opening(index)
        pushes.append(replace(push, until=until))
        return until

    def _barred(self, metal: bool, minute: int) -> int:
        """When metal baths are allowed again; 0 when they are now."""
        if not metal:
            return 0
        day = self.weather.get(self.calendar.day_number(minute))
        if day is not None and not day.aired:
            return self._next_morning(minute)
        return next((end for since, end in self.no_metal if since <= minute < end), 0)

    def _own(
        self, fits: list[Fit], rounds: list[Round], stage: Stage
    ) -> dict[str, tuple[int, int]]:
        """Vessels of this run's earlier stages: free at, and the pause before they are refilled."""
        own: dict[str, tuple[int, int]] = {}
        for fit in fits:
            step = fit.stage.step
            rests = step.night or fit.stage.pause_after or _stands(fit.stage)
            for done in fit.rounds:
                free = fit.held_until if rests else done.free_at
                for load in done.loads:
                    own[load.vessel] = (free, 0 if rests else self.house.between_steps)
        for done in rounds:
            for load in done.loads:
                pause = 0 if stage.step.night else self.house.between_steps
                own[load.vessel] = (done.free_at, pause)
        return own

    def _first_option(
        self,
        stage: Stage,
        number: int,
        minute: int,
        index: int,
        options: tuple[Option, ...] | None,
        own: dict[str, tuple[int, int]],
        there: int,
        look_again: list[int],
        pushes: list[Push],
    ) -> tuple[Round, Option | None] | int:
        """The round at this minute in the first vessels that are free, else when to try next.

        `look_again` keeps for each option the moment before which it cannot be.
        """
        day = self.calendar.openings[index]
        if options is None:
            hands = stage.hands_min if number == 0 else 0
            if hands > there:
                short = Push("hands", "", stage.step.name, minute, self._next_day(index), hands,
                             there)  # fmt: skip
                pushes.append(short)
                return short.until
            end = minute + max(hands, stage.step.stand_min)
            if end > day.closes:
                return self._tomorrow(
                    pushes, Push("attended", "", stage.step.name, minute, 0), index
                )
            return Round(minute, end, end, end, (), day.pool, hands), None
        for row, option in enumerate(options):
            if look_again[row] > minute:
                continue
            tried = self._try(stage, option, number, minute, index, own, there)
            if isinstance(tried, Round):
                return tried, option
            look_again[row] = max(tried.until, minute + 1)
            if row == 0:
                # The preferred vessels tell why; the others would only repeat it.
                pushes.append(tried)
        return min(look_again)

    def try_at(
        self, stage: Stage, option: Option, minute: int, index: int, there: int
    ) -> Round | Push:
        """One round of a stage at a minute, on its own, or what is in its way."""
        return self._try(stage, option, 0, minute, index, {}, there)

    def _try(
        self,
        stage: Stage,
        option: Option,
        number: int,
        minute: int,
        index: int,
        own: dict[str, tuple[int, int]],
        there: int,
    ) -> Round | Push:
        """One round at a minute, or what is in its way with the moment to try next."""
        day = self.calendar.openings[index]
        step = stage.step
        way = self._way(stage, option)
        hands = way.hands_min if number == 0 or step.hands_per == "load" else 0
        if hands > there:
            return Push("hands", "", step.name, minute, self._next_day(index), hands, there)
        # The cheap look first: most moments fail because a vessel is held right now.
        busy = self._vessels_busy(way, minute, minute + way.shortest, own, stage)
        if busy is not None:
            return busy
        taken: dict[str, tuple[str, int, int]] = {}
        if stage.heats:
            rings = self._rings_for(way, step.name, minute)
            if isinstance(rings, Push):
                return rings
            taken = rings
            end = attended = minute + max(whole for _, whole, _ in taken.values())
            if step.stand_min and step.kind == "after-bath":
                end = attended = end + step.stand_min
        else:
            end = minute + step.stand_min
            attended = (
                end if step.kind == "after-bath" else minute + (stage.hands_per_load or hands)
            )
        if attended > day.closes:
            later = self._next_opening(index)
            return Push("attended", "", step.name, minute, later, attended - minute)
        free_at = self._free_at(stage, end)
        if step.night and (
            self.calendar.day_number(free_at) - self.calendar.day_number(end) > self.house.nights
        ):
            return Push("night", "", step.name, minute, self._next_morning(minute))
        busy = self._vessels_busy(way, minute, free_at, own, stage)
        if busy is not None:
            return busy
        placed = tuple(
            PlacedLoad(vessel, taken[vessel][0], weight, litres, minute + taken[vessel][1],
                       taken[vessel][2])
            if taken
            else PlacedLoad(vessel, "", weight, litres, minute, 0)
            for vessel, weight, litres in way.loads
        )  # fmt: skip
        return Round(minute, end, attended, free_at, placed, day.pool, hands)

    def _free_at(self, stage: Stage, end: int) -> int:
        """When the vessels are free: after the night, the cooling, the straining."""
        if stage.step.night:
            return self.calendar.night_over(end)
        stands = stage.step.stand_min if stage.heats and _stands(stage) else 0
        return end + stands + stage.step.cool_min + stage.pause_after

    def _vessels_busy(
        self,
        way: Way,
        since: int,
        until: int,
        own: dict[str, tuple[int, int]],
        stage: Stage,
    ) -> Push | None:
        """The vessel that is free last, if any is not free; all have to be at once."""
        latest, which = since, ""
        for vessel in way.option.vessels:
            if not stage.same and vessel in own:
                free, pause = own[vessel]
                if free + pause > latest:
                    latest, which = free + pause, vessel
            free, who = self.board.vessels[vessel].free_from(since, until, self.house.between_runs)
            if free > latest:
                latest, which = free, f"{vessel}:{who}"
        return Push("vessel", which, stage.step.name, since, latest) if latest > since else None

    def _rings_for(
        self, way: Way, step: str, minute: int
    ) -> dict[str, tuple[str, int, int]] | Push:
        """The weakest free ring for each load: code, minutes over it, heating minutes."""
        taken: dict[str, tuple[str, int, int]] = {}
        used: set[str] = set()
        for vessel, rings in way.rings:
            soonest, who = NEVER, ""
            for row in rings:
                code = row[0]
                if code in used:
                    continue
                free, busy = self.board.rings[code].free_from(minute, minute + row[1], 0)
                if free == minute:
                    taken[vessel] = row
                    used.add(code)
                    break
                if free < soonest:
                    soonest, who = free, f"{code}:{busy}"
            else:
                return Push("ring", who, step, minute, soonest)
        return taken

    # -- the line ----------------------------------------------------------------------------

    def _hang(
        self, stage: Stage, done: Round, fits: list[Fit], pushes: list[Push]
    ) -> tuple[str, int, int] | int:
        """The line that takes the cloth at once, else when the last step may begin instead."""
        at = rounded_up(done.end, self.house.hangs_on)
        soonest, which, on_it = NEVER, "", 0
        for code in self.lines:
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

    # -- keeping a placed run ----------------------------------------------------------------

    def commit(self, run: str, placement: Placement) -> None:
        """Write a whole run into the board; from now on it is not moved."""
        for fit in placement.fits:
            for number, done in enumerate(fit.rounds):
                self._hands[done.day] -= done.hands_min
                last = number + 1 == len(fit.rounds)
                for load in done.loads:
                    until = fit.held_until if last else done.free_at
                    self.board.vessels[load.vessel].add(done.start, until, run)
                    if load.ring:
                        self.board.rings[load.ring].add(done.start, load.heat_until, run)
            if fit.hung is not None:
                line, since, until = fit.hung
                self.board.rails[line].hung.append((since, until, fit.stage.weight_mg))


def _stands(stage: Stage) -> bool:
    """Whether a step stands in its liquor, unattended, until the next one takes over."""
    return bool(stage.step.stand_min) and stage.step.kind != "after-bath"


def _stands_from(stage: Stage, done: Round) -> int:
    """When the standing begins: once the flame is out, or at once when unheated."""
    return done.end if stage.heats else done.start


def _stays_in(stage: Stage) -> bool:
    """Whether the cloth stays in the bath before until this stage begins."""
    return stage.same or not stage.step.vessels


def _hangs(stages: tuple[Stage, ...], index: int) -> bool:
    """Whether the cloth is hung after this stage: it is the last, or the last of its round."""
    if index + 1 == len(stages):
        return True
    return stages[index + 1].round_of[0] > stages[index].round_of[0]


def _spent(fits: list[Fit]) -> dict[int, int]:
    spent: dict[int, int] = {}
    for fit in fits:
        for done in fit.rounds:
            spent[done.day] = spent.get(done.day, 0) + done.hands_min
    return spent
