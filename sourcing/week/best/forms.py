"""What every placing of a run has to keep, whatever else is in the week: the least of everything.

A form is a run at one site with fibre in one state: its rounds of steps in order, each with the
fewest minutes, hands and pots that any way of holding it takes. All that the placer would add is
left out, never anything put in, so what no form can do, no plan can.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import time, timedelta
from fractions import Fraction
from itertools import pairwise

from inventory.science.facts import FibreFacts
from sourcing.week.best.amounts import Amount, amounts_of, fibre_amount
from sourcing.week.best.goals import Measure
from sourcing.week.facts import Recipe, RunFacts
from sourcing.week.fits import hangs, stands, stays_in
from sourcing.week.moments import NEVER, Calendar
from sourcing.week.place import Placer
from sourcing.week.rounds import hands_of_round
from sourcing.week.stages import Option, Stage
from sourcing.week.ways import heating_minutes


@dataclass(frozen=True, slots=True)
class Part:
    """One round of one stage, at its least."""

    step: str
    floor: int  # minute before which it cannot begin
    until: int  # minute from which it cannot begin any more
    minutes: int  # until its active part is over
    attended: int  # minutes from its start that somebody is there, within one opening
    hands: int
    over_flame: int  # minutes on a ring, for each load; 0: unheated
    loads: int
    options: tuple[Option, ...]  # vessels that hold it; none: it needs none, or is in those before
    gap: int  # minutes from the end of the active part to what follows
    night: bool  # its vessels are held till the morning of the next open day
    waits: bool  # and so long waits what follows
    holds_on: bool  # its vessels are held until what follows has begun
    same_day: bool  # what follows begins on the day on which this one begins
    from_time: time | None  # not begun earlier in the day
    barred_days: frozenset[int]  # day numbers without air, or before too many nights
    # By day number, the last day on which what follows may begin; empty: any day.
    next_by: tuple[tuple[int, int], ...]
    hangs_mg: int = 0  # cloth that is hung once it is over
    ends_same_day: bool = True
    same: bool = False  # in the vessels of the part before
    elsewhere: bool = False  # in another run's vessels, it may be


@dataclass(frozen=True, slots=True)
class Form:
    """A run at one site with fibre in one state."""

    run: str
    site: str
    parts: tuple[Part, ...]
    amounts: tuple[Amount, ...]


def forms_of(
    run: RunFacts, measure: Measure, shared: frozenset[str] = frozenset()
) -> tuple[Form, ...]:
    """Every form of a run that is not begun; none: it cannot be placed.

    Parameters
    ----------
    shared : steps that it might do in another run's pots
    """
    desk = measure.desk
    recipe = desk.recipes[run.recipe]
    found = []
    for site, placer in desk.placers.items():
        for group in desk.larder.fibre_groups(
            run, depth=recipe.depth, without=frozenset(), site=site, far=desk.carries
        ):
            form = _form(run, recipe, group, placer, measure, shared)
            if form is not None:
                found.append(form)
    return tuple(found)


def _form(
    run: RunFacts,
    recipe: Recipe,
    group: list[FibreFacts],
    placer: Placer,
    measure: Measure,
    shared: frozenset[str],
) -> Form | None:
    desk = measure.desk
    # One dry lot among damp ones would be wetted out: without that it is the less.
    fibre = replace(group[0], damp=any(row.damp for row in group))
    stages = desk.stages(run, recipe, fibre, placer)
    cloth = fibre_amount(run, recipe, group, measure)
    wanted = amounts_of(run, recipe, fibre, placer.room.site, measure)
    if cloth is None or wanted is None or not stages or _bare(recipe, group[0]):
        return None
    first = max(desk.now, cloth.there_from)
    parts: list[Part] = []
    said: set[str] = set()
    for index, stage in enumerate(stages):
        name = stage.step.name
        mine = [row for row in wanted if row.step == name]
        floor = max([first, *(row.there_from for row in mine)])
        # A step takes what it takes when the first of its rounds begins.
        until = min([NEVER, *(row.until for row in mine if name not in said)])
        said.add(name)
        made = list(_parts(stage, index, stages, floor, placer))
        made[:1] = [replace(part, until=until) for part in made[:1]]
        if name in shared:
            made = [_in_others_pot(part, stage) for part in made]
        parts.extend(made)
        if not made:
            return None
    parts[0] = replace(parts[0], until=min(parts[0].until, cloth.until))
    return Form(run.code, placer.room.site, tuple(parts), (cloth, *wanted))


def _in_others_pot(part: Part, stage: Stage) -> Part:
    """A part at its least where the pot, the ring and the hands are another run's.

    What the pot holds together may be warm sooner, in more pots of less liquor each: of the
    flame only the hold is sure.
    """
    lasts = sum(hold for _, _, hold in stage.heats) or stage.step.stand_min
    return replace(part, minutes=lasts, attended=min(part.attended, lasts), hands=0, over_flame=0,
                   loads=0, options=(), elsewhere=True)  # fmt: skip


def _bare(recipe: Recipe, fibre: FibreFacts) -> bool:
    """Whether a fibre is not ready for the recipe and no step of it makes it so."""
    kinds = {step.kind for step in recipe.steps}
    unscoured = not fibre.scoured and recipe.needs_scoured and "scour" not in kinds
    if unscoured or not recipe.mordant or "mordant" in kinds:
        return unscoured
    return fibre.mordant != recipe.mordant or fibre.mordant_percent < recipe.mordant_percent


def _parts(
    stage: Stage, index: int, stages: tuple[Stage, ...], floor: int, placer: Placer
) -> Iterator[Part]:
    """A stage's rounds; none where nothing holds it."""
    options = _options(stages, index)
    before = stages[index - 1] if index else None
    if before is not None and stands(before) and not stage.same:
        options = _beside(options, _options(stages, index - 1))
    if stage.step.vessels and not options:
        return
    rounds = options[0].rounds if options else 1
    after = stages[index + 1] if index + 1 < len(stages) else None
    for number in range(rounds):
        yield _part(stage, number, rounds, options, after, floor, placer,
                    hung=hangs(stages, index) and number + 1 == rounds)  # fmt: skip


def _options(stages: tuple[Stage, ...], index: int) -> tuple[Option, ...]:
    """Vessels that may hold a stage: its own, or those of the stage in whose vessels it is."""
    if not stages[index].step.vessels:
        return ()
    while stages[index].same and index:
        index -= 1
    return stages[index].options


def _beside(options: tuple[Option, ...], held: tuple[Option, ...]) -> tuple[Option, ...]:
    """Those for which the cloth before may stand in other vessels; any of one round if none."""
    stood = [set(row.vessels) for row in held]
    apart = tuple(
        row for row in options if not stood or any(not each & set(row.vessels) for each in stood)
    )
    return options if not apart and options and options[0].rounds == 1 else apart


def _part(
    stage: Stage,
    number: int,
    rounds: int,
    options: tuple[Option, ...],
    after: Stage | None,
    floor: int,
    placer: Placer,
    *,
    hung: bool,
) -> Part:
    step, last = stage.step, number + 1 == rounds
    hands = _hands(stage, number, rounds, options)
    longest, quickest = _over_flame(stage, options, placer)
    minutes, attended = _lasts(stage, hands, longest)
    takes_over = last and after is not None and (
        stands(stage) or (step.night and stays_in(after)) or after.same or after.step.at_once
    )  # fmt: skip
    return Part(
        step.name,
        floor,
        NEVER,
        minutes,
        attended,
        hands,
        quickest,
        min((len(row.vessels) for row in options), default=0) if stage.heats else 0,
        options,
        _gap(stage, after if last else None, minutes, placer, last=last),
        step.night,
        step.night and last,
        takes_over,
        last and after is not None and _on_one_day(stage, after),
        step.from_time,
        _without_air(stage, placer) | _too_many_nights(stage, placer),
        _next_by(stage, after, placer) if last and rounds == 1 and after is not None else (),
        stage.weight_mg if hung else 0,
        _one_day(stage),
        stage.same,
    )


def _hands(stage: Stage, number: int, rounds: int, options: tuple[Option, ...]) -> int:
    if not options:
        return stage.hands_min if number == 0 else 0
    if stage.step.hands_per == "load":
        hands = stage.hands_per_load * min(len(row.vessels) for row in options)
    else:
        hands = hands_of_round(stage, number, rounds)
    return hands + (stage.snippet_hands if number + 1 == rounds else 0)


def _gap(stage: Stage, after: Stage | None, minutes: int, placer: Placer, *, last: bool) -> int:
    """Minutes from the end of the active part until what follows may begin, nights apart."""
    step = stage.step
    if step.night:
        return 0
    if stands(stage) and last:
        return step.stand_min if stage.heats else step.stand_min - minutes
    gap = step.cool_min + stage.pause_after
    if stage.heats and stands(stage):
        gap += step.stand_min
    in_turn = after is not None and after.same and not after.step.at_once
    return gap + (placer.house.between_steps if in_turn and not stage.pause_after else 0)


def _over_flame(stage: Stage, options: tuple[Option, ...], placer: Placer) -> tuple[int, int]:
    """Minutes over the strongest flame, of the load that takes longest and of the quickest.

    Of each way the load with the largest share says how long its round lasts.
    """
    if not stage.heats:
        return 0, 0
    litres = stage.litres_ml / options[0].rounds
    watts = max(ring.watts for ring in placer.room.rings)

    def minutes(part: Fraction) -> int:
        return heating_minutes(litres * part, watts, placer.house.efficiency, stage.heats)[0]

    longest = min(Fraction(max(row.working_ml), sum(row.working_ml)) for row in options)
    quickest = min(Fraction(min(row.working_ml), sum(row.working_ml)) for row in options)
    return minutes(longest), minutes(quickest)


def _lasts(stage: Stage, hands: int, flame: int) -> tuple[int, int]:
    """Minutes until the active part is over, and until nobody has to be there."""
    step = stage.step
    if not step.vessels or step.kind == "rinse":
        lasts = max(hands, step.stand_min)
        return lasts, lasts
    if stage.heats:
        lasts = flame + (step.stand_min if step.kind == "after-bath" else 0)
        more = step.cool_min + stage.pause_after if step.takes_snippet else 0
        return lasts, lasts + more
    attended = step.stand_min if step.kind == "after-bath" else stage.hands_per_load or hands
    return step.stand_min, attended


def _on_one_day(stage: Stage, after: Stage) -> bool:
    """Whether what follows begins on the same day: at once, or when strained."""
    if after.step.at_once:
        return bool(stage.heats) or stage.step.kind in ("rinse", "after-bath")
    return bool(stage.pause_after) and after.round_of[0] == 1


def _without_air(stage: Stage, placer: Placer) -> frozenset[int]:
    if not (stage.step.aired or stage.step.metal):
        return frozenset()
    return frozenset(day for day, row in placer.weather.items() if not row.aired)


def _one_day(stage: Stage) -> bool:
    """Whether a stage's active part is over on the day on which it begins."""
    heated = bool(stage.heats) or not stage.step.vessels
    return heated or stage.step.kind in ("rinse", "after-bath") or not stage.step.stand_min


def _too_many_nights(stage: Stage, placer: Placer) -> frozenset[int]:
    """Days before so many closed ones that nobody would lift the cloth in time."""
    if not stage.step.night or not _one_day(stage):
        return frozenset()
    calendar, nights = placer.calendar, placer.house.nights
    return frozenset(
        day for day in range(len(calendar.midnights) - 1)
        if _lifted_on(day, calendar) - day > nights
    )  # fmt: skip


def _lifted_on(day: int, calendar: Calendar) -> int:
    """The day on which what stands overnight from a day is lifted."""
    minute = calendar.night_over(calendar.midnights[day])
    return len(calendar.midnights) * 2 if minute >= NEVER else calendar.day_number(minute)


def _next_by(stage: Stage, after: Stage, placer: Placer) -> tuple[tuple[int, int], ...]:
    """How long cloth may stay in its bath, lie damp, or stand: by day, the last day after it."""
    calendar, house, step = placer.calendar, placer.house, stage.step
    days = range(len(calendar.midnights) - 1)
    if step.night and _one_day(stage):
        if stays_in(after):
            return tuple((day, day + house.nights) for day in days)
        return tuple((day, _lifted_on(day, calendar) + house.damp_days) for day in days)
    if step.stand_max is not None and stands(stage) and not stage.heats:
        last = [calendar.midnights[day + 1] + step.stand_max for day in days]
        return tuple((day, calendar.day_number(minute)) for day, minute in enumerate(last))
    return ()


# -- the earliest ----------------------------------------------------------------------------


def starts_from(part: Part, minute: int, calendar: Calendar) -> int | None:
    """The first minute, not before one, at which a part may begin; None: never in the horizon."""
    minute = max(minute, part.floor)
    for opening in calendar.openings[calendar.open_index(minute) :]:
        day = calendar.day_number_of(opening.day)
        if day in part.barred_days:
            continue
        start = max(minute, first_in(part, opening.opens, day, calendar))
        if start >= part.until:
            return None
        if start + part.attended <= opening.closes and start < opening.closes:
            return start
    return None


def first_in(part: Part, opens: int, day: int, calendar: Calendar) -> int:
    """The first minute of an opening at which a part may begin."""
    if part.from_time is None:
        return opens
    return max(opens, calendar.wall(calendar.since + timedelta(day), part.from_time))


def released(part: Part, start: int, calendar: Calendar) -> int:
    """When a part that begins at a minute lets the next one begin."""
    if part.waits:
        return calendar.night_over(start + part.minutes)
    return start + part.minutes + part.gap


def earliest(parts: tuple[Part, ...], since: int, calendar: Calendar) -> list[int] | None:
    """The first minute of each part in a week that has nothing else in it."""
    minute, found = since, []
    for part in parts:
        start = starts_from(part, minute, calendar)
        if start is None:
            return None
        found.append(start)
        minute = released(part, start, calendar)
    return found


def first_on(part: Part, day: int, calendar: Calendar) -> int:
    """The first minute of a day with an opening at which a part may begin."""
    opens = [row.opens for row in calendar.openings if calendar.day_number_of(row.day) == day]
    return min(first_in(part, minute, day, calendar) for minute in opens)


def soonest_on(
    parts: tuple[Part, ...], number: int, day: int, soonest: list[int], calendar: Calendar
) -> int:
    """The first minute of a part that begins on a day, after those that begin on it as well.

    Parameters
    ----------
    day : a day with an opening
    soonest : the first minute of each part on any day, as `earliest` has it
    """
    first = number
    while first and parts[first - 1].same_day:
        first -= 1
    minute = max(soonest[first], first_on(parts[first], day, calendar))
    for before, part in pairwise(parts[first : number + 1]):
        after = released(before, minute, calendar)
        start = starts_from(part, after, calendar)
        minute = after if start is None else start
    return max(minute, soonest[number])
