"""One round of a stage at its first possible moment: opening, hands, air, vessels, rings, line."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from sourcing.week.board import Board, meets
from sourcing.week.facts import Weather
from sourcing.week.fits import Fit, PlacedLoad, Push, Round, stands
from sourcing.week.hanging import Lines
from sourcing.week.house import House
from sourcing.week.moments import NEVER, Calendar, Opening, rounded_up
from sourcing.week.stages import Option, Stage
from sourcing.week.ways import Way, Ways


@dataclass
class Rounds:
    """Finds rounds on one site's board."""

    board: Board
    calendar: Calendar
    house: House
    site: str
    ways: Ways
    lines: Lines
    weather: dict[int, Weather] = field(default_factory=dict)  # by day number
    no_metal: tuple[tuple[int, int], ...] = ()  # stretches without metal baths

    def find(
        self,
        stage: Stage,
        number: int,
        lower: int,
        hold_until: int,
        options: tuple[Option, ...] | None,
        fits: list[Fit],
        rounds: list[Round],
        spent: dict[int, int],
        own: dict[str, tuple[int, int]],
        pushes: list[Push],
        last: bool,
    ) -> tuple[Round, Option | None, tuple[str, int, int] | None] | None:
        """One round at its first possible moment."""
        step = stage.step
        exact = step.at_once and bool(fits) and not rounds
        minute = lower
        look_again = [0] * len(options or ())
        least = self._least_hands(stage, number, options)
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
            there = self.board.hands[self.site][day.pool] - spent.get(day.pool, 0)
            if least > there:
                later = self._next_day(index)
                pushes.append(Push("hands", "", step.name, minute, later, least, there))
                minute = later
                continue
            barred = self._barred(stage, minute)
            if barred:
                pushes.append(Push("aired", step.name, step.name, minute, barred))
                minute = barred
                continue
            tried = self._first_option(
                stage, number, minute, index, hold_until, options, own, there, look_again, pushes
            )
            if isinstance(tried, int):
                minute = max(minute + 1, tried)
                continue
            done, option = tried
            if not last or number + 1 < (options[0].rounds if options else 1):
                return done, option, None
            hung = self.lines.hang(stage, done, fits, pushes)
            if isinstance(hung, int):
                minute = max(minute + 1, hung)
                look_again = [0] * len(look_again)
                continue
            return done, option, hung
        return None

    def _least_hands(self, stage: Stage, number: int, options: tuple[Option, ...] | None) -> int:
        """Minutes of hands that a round takes at the least, in whichever vessels."""
        if stage.step.hands_per != "load" or not options:
            return hands_of_round(stage, number, options[0].rounds if options else 1)
        return stage.hands_per_load * min(len(option.vessels) for option in options)

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

    def _barred(self, stage: Stage, minute: int) -> int:
        """When a step that wants air or leaves metal is allowed again; 0 when it is now."""
        if not (stage.step.aired or stage.step.metal):
            return 0
        day = self.weather.get(self.calendar.day_number(minute))
        if day is not None and not day.aired:
            return self.calendar.next_midnight(minute)
        lasts = max(1, stage.step.stand_min + sum(hold for _, _, hold in stage.heats))
        return next(
            (end for since, end in self.no_metal if minute < end and since < minute + lasts), 0
        )

    def _first_option(
        self,
        stage: Stage,
        number: int,
        minute: int,
        index: int,
        hold_until: int,
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
            gone = self._alone_away(day, minute, end)
            if gone:
                pushes.append(Push("attended", "", stage.step.name, minute, gone))
                return gone
            return Round(minute, end, end, end, (), day.pool, hands), None
        for row, option in enumerate(options):
            if look_again[row] > minute:
                continue
            tried = self._try(
                stage, option, number, minute, index, own, there, hold_until=hold_until
            )
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
        """One round of a stage at a minute, on its own, or what is in its way.

        For work that is placed as late as it fits: the weakest free ring or none, so that a
        strong ring is not taken only to begin a little later.
        """
        return self._try(stage, option, 0, minute, index, {}, there, any_ring=False)

    def _try(
        self,
        stage: Stage,
        option: Option,
        number: int,
        minute: int,
        index: int,
        own: dict[str, tuple[int, int]],
        there: int,
        *,
        any_ring: bool = True,
        hold_until: int = 0,
    ) -> Round | Push:
        """One round at a minute, or what is in its way with the moment to try next."""
        day = self.calendar.openings[index]
        step = stage.step
        way = self.ways.of(stage, option)
        by_load = step.hands_per == "load"
        hands = way.hands_min if by_load else hands_of_round(stage, number, option.rounds)
        hands += stage.snippet_hands if number + 1 == option.rounds else 0
        if hands > there:
            return Push("hands", "", step.name, minute, self._next_day(index), hands, there)
        # The cheap look first: most moments fail because a vessel is held right now.
        busy = self._vessels_busy(way, minute, minute + way.shortest, own, stage)
        if busy is not None:
            return busy
        taken: dict[str, tuple[str, int, int]] = {}
        if stage.heats:
            after = step.stand_min if step.kind == "after-bath" else 0
            after += step.cool_min + stage.pause_after if step.takes_snippet else 0
            rings = self._rings_for(
                way, step.name, minute, index, day.closes - after if any_ring else NEVER
            )
            if isinstance(rings, Push):
                return rings
            taken = rings
            end = attended = minute + max(whole for _, whole, _ in taken.values())
            if step.stand_min and step.kind == "after-bath":
                end = attended = end + step.stand_min
        elif step.kind == "rinse":
            end = attended = minute + max(hands, step.stand_min)
        else:
            end = minute + step.stand_min
            attended = (
                end if step.kind == "after-bath" else minute + (stage.hands_per_load or hands)
            )
        if step.takes_snippet:
            attended = max(attended, end + step.cool_min + stage.pause_after)
        if attended > day.closes:
            later = self._next_opening(index)
            return Push("attended", "", step.name, minute, later, attended - minute)
        gone = self._alone_away(day, minute, attended)
        if gone:
            return Push("attended", "", step.name, minute, gone)
        free_at = self._free_at(stage, end)
        if step.night and (
            self.calendar.day_number(free_at) - self.calendar.day_number(end) > self.house.nights
        ):
            return Push("night", "", step.name, minute, self.calendar.next_midnight(minute))
        busy = self._vessels_busy(way, minute, max(free_at, hold_until), own, stage)
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

    def _alone_away(self, day: Opening, start: int, end: int) -> int:
        """When the only one there is back from another site, if gone meanwhile; 0: is not."""
        away = self.board.away.get(self.site)
        return meets(away, start, end) if away and day.people < 2 else 0

    def _free_at(self, stage: Stage, end: int) -> int:
        """When the vessels are free: after the night, the cooling, the straining."""
        if stage.step.night:
            return self.calendar.night_over(end)
        standing = stage.step.stand_min if stage.heats and stands(stage) else 0
        return end + standing + stage.step.cool_min + stage.pause_after

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
        self, way: Way, step: str, minute: int, index: int, closes: int
    ) -> dict[str, tuple[str, int, int]] | Push:
        """The weakest free ring for each load, done by closing: code, minutes over it, heating.

        As early as it fits comes first, so a stronger ring is taken where a weak one is too slow.
        """
        taken: dict[str, tuple[str, int, int]] = {}
        used: set[str] = set()
        for vessel, rings in way.rings:
            soonest, who, slow = NEVER, "", 0
            for row in rings:
                code = row[0]
                if code in used:
                    continue
                if minute + row[1] > closes:
                    slow = row[1]
                    continue
                free, busy = self.board.rings[code].free_from(minute, minute + row[1], 0)
                if free == minute:
                    taken[vessel] = row
                    used.add(code)
                    break
                if free < soonest:
                    soonest, who = free, f"{code}:{busy}"
            else:
                if slow:
                    soonest = min(soonest, self._next_opening(index))
                kind = "ring" if who else "attended"
                return Push(kind, who, step, minute, soonest, slow)
        return taken


def hands_of_round(stage: Stage, number: int, rounds: int) -> int:
    """Hands of a round where they do not go by the load: a rinse's go with its cloth.

    Those of any other step are for preparing its bath, so the first round takes them all.
    """
    if stage.step.kind == "rinse":
        return stage.hands_min * (number + 1) // rounds - stage.hands_min * number // rounds
    return stage.hands_min if number == 0 else 0
