"""The answer for one wanted run: amounts, then hours, then what the hours change of the amounts."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from datetime import date

from inventory.science.saying import say
from sourcing.week.carry import (
    Trip,
    Wanted,
    book_trips,
    carry_reasons,
    fetched_steps,
    in_their_place,
    not_fetched,
    soonest_here,
    try_again,
)
from sourcing.week.desk import Desk
from sourcing.week.explain import waits_of
from sourcing.week.facts import Hanging, Recipe, RunFacts
from sourcing.week.felting import felting_of
from sourcing.week.fits import Placement
from sourcing.week.gates import barred_by
from sourcing.week.jobs import (
    book_put_by,
    keeps_from,
    make_bath,
    put_by_job,
    take_from_freezer,
)
from sourcing.week.larder import Pick
from sourcing.week.lengths import length_of
from sourcing.week.liquors import still_usable
from sourcing.week.loads import placed_round, placed_steps
from sourcing.week.moments import minute_of
from sourcing.week.place import Placer
from sourcing.week.plan import Answer, Job, Placed, Reason, Take
from sourcing.week.pots import Leading, Led
from sourcing.week.pouring import pour_off
from sourcing.week.reasons import because
from sourcing.week.refusals import a_no, loads_note, nowhere
from sourcing.week.sharing import Sharer
from sourcing.week.stages import Stage
from sourcing.week.staying import stays_broken, stays_kept
from sourcing.week.straining import (
    held_back,
    straining_notes,
    straining_reasons,
    topped_up_ml,
)
from sourcing.week.wants import Wants, Without, wants_of
from sourcing.week.words import (
    day_in_words,
    moment_in_words,
)

LOOKS_AT_MOST = 12  # how often amounts are worked out again for their hours
DAYS_LATER_AT_MOST = 14  # how far a step is put off for a bath that is made for it


@dataclass
class Attempt:
    """A run's amounts with its steps in time."""

    run: RunFacts
    recipe: Recipe
    wants: Wants
    placer: Placer
    stages: tuple[Stage, ...] = ()
    placement: Placement | None = None
    jobs: list[tuple[Job, Pick]] = field(default_factory=list)
    later: dict[str, int] = field(default_factory=dict)  # steps that wait for what they need
    pots: Leading | Led | None = None  # its part in pots that are shared
    mine: Sharer | None = None  # as it would be by itself
    far: bool = False  # what lies at another site may be fetched
    trips: list[Trip] = field(default_factory=list)
    hopeless: bool = False  # too little is there whatever the hours
    ready: list[int] = field(default_factory=list)  # by stage, when what it takes is there

    @property
    def placed(self) -> bool:
        return self.placement is not None and self.placement.done


@dataclass(frozen=True, slots=True)
class Later:
    """A step for which a bath cannot be made or a thing not fetched in time: it is tried later."""

    step: str
    not_before: int
    reason: Reason
    wanted: Wanted | None = None  # what nobody has the time to fetch for it


def answer_run(run: RunFacts, desk: Desk, pots: Leading | Led | None = None) -> Answer:
    """The answer for one run on what earlier runs leave; a placed run claims and is kept.

    Parameters
    ----------
    pots : its part in pots that are shared; None: it goes its own way
    """
    recipe = desk.recipes.get(run.recipe)
    if recipe is None:
        reason = Reason(
            "recipe", run.recipe, say("no recipe {recipe} is written down", recipe=run.recipe)
        )
        return a_no(run, Wants(lacking=[reason]), [])
    gates = barred_by(run, recipe, desk.facts, today=desk.today)
    without = Without()
    later = desk.guidance.floors_of(run.code)
    if isinstance(pots, Leading):
        later |= {step: max(at, later.get(step, 0)) for step, at in pots.later.items()}
    days_later = 0
    hopeless: dict[tuple[str, bool], Attempt] = {}
    for _ in range(LOOKS_AT_MOST + DAYS_LATER_AT_MOST):
        attempt = _best_attempt(run, recipe, desk, without, later, pots, hopeless)
        if gates or not attempt.wants.enough:
            return a_no(run, attempt.wants, gates, loads_note(run, attempt.stages))
        if not attempt.placed:
            pushes = attempt.placement.pushes if attempt.placement is not None else []
            return nowhere(run, attempt.wants, pushes, desk)
        kept = _keep(attempt, desk)
        if isinstance(kept, Answer):
            return kept
        if isinstance(kept, Later) and days_later < DAYS_LATER_AT_MOST:
            later[kept.step] = kept.not_before
            days_later += 1
        elif isinstance(kept, Later):
            without = without.and_(kept.reason.what, kept.reason)
        else:
            without = without.and_(*kept)
    return a_no(run, attempt.wants, list(without.whys))


def _best_attempt(
    run: RunFacts,
    recipe: Recipe,
    desk: Desk,
    without: Without,
    later: dict[str, int],
    pots: Leading | Led | None,
    hopeless: dict[tuple[str, bool], Attempt],
) -> Attempt:
    """Each site in turn: the earliest dry, else the one that lacks least.

    Where none has all that is wanted in time, what one lacks may be fetched from another.

    Parameters
    ----------
    hopeless : of several sites, those of which it is known that too little is there
    """
    only = desk.guidance.site_of(run.code)
    if only not in desk.placers:
        only = None  # it was given up since the week was taken
    placers = list(desk.placers.values())
    here = [
        placer
        for placer in (placers if pots is None else pots.placers(placers))
        if only in (None, placer.room.site)
    ]

    def tried(placer: Placer, *, far: bool) -> Attempt:
        key = placer.room.site, far
        if key in hopeless:
            return hopeless[key]
        attempt = _attempt(run, recipe, desk, placer, without, later, pots, far=far)
        if attempt.hopeless and desk.carries:
            hopeless[key] = attempt
        return attempt

    attempts = [tried(placer, far=False) for placer in here]
    if desk.carries and not any(_in_time(attempt, desk) for attempt in attempts):
        attempts += [tried(placer, far=True) for placer in here]

    def rank(attempt: Attempt) -> tuple[int, int, bool]:
        if attempt.placed and attempt.placement is not None:
            return 0, attempt.placement.dry, attempt.far
        wants = attempt.wants
        # What lies at another site says why something is short; it is nothing more that lacks.
        lacking = [row for row in wants.lacking if row.kind != "site"]
        # Of what is short the least is said: what is left of it once all is fetched.
        lacks = len(wants.short) + len(lacking)
        return (1, 0, attempt.far) if wants.enough else (2, lacks, not attempt.far)

    return min(attempts, key=rank)


def _in_time(attempt: Attempt, desk: Desk) -> bool:
    """Whether a run begins within the period and is dry by its due date."""
    if attempt.placement is None or not attempt.placement.done:
        return False
    due = attempt.run.due
    in_period = attempt.placement.first_step < desk.until
    return in_period and (due is None or attempt.placement.dry <= minute_of(due))


def _attempt(
    run: RunFacts,
    recipe: Recipe,
    desk: Desk,
    placer: Placer,
    without: Without,
    later: dict[str, int],
    pots: Leading | Led | None,
    *,
    far: bool = False,
) -> Attempt:
    """Amounts and hours that agree: what an hour rules out is left out and all is tried again."""
    minutes: dict[str, int] = {}
    timed = bool(recipe.second_of) or any(d.kind in ("liquor", "bath") for d in recipe.doses)
    before: list[Pick] | None = None
    given_up: set[str] = set()  # jars that held too little at the hour they led to
    first = True
    attempt = Attempt(run, recipe, Wants(), placer, pots=pots, far=far)
    for _ in range(LOOKS_AT_MOST):
        wants = wants_of(run, recipe, desk.larder, without=without, minute_of_step=minutes.get,
                         site=placer.room.site, far=far)  # fmt: skip
        if before is not None and wants.enough and wants.picks == before:
            attempt.wants = wants
            return attempt
        taken = _liquids(wants.picks)
        if before is not None:
            given_up |= _liquids(before) - taken
        for code in sorted(taken & given_up):
            # It was enough at one hour, too little at the hour that choosing it leads to.
            text = say("{code} holds too little at the hour of its step", code=code)
            without = without.and_(code, Reason("liquor", code, text))
        if taken & given_up:
            before, minutes = None, {}
            continue
        attempt = Attempt(run, recipe, wants, placer, later=later, pots=pots, far=far)
        _place(attempt, desk)
        if not wants.enough or not attempt.placed or attempt.placement is None:
            attempt.hopeless = not wants.enough and first
            return attempt
        first = False
        ruled_out = _ruled_out(attempt, desk)
        before = None
        if ruled_out is not None:
            without = without.and_(*ruled_out)
        elif not timed:
            return attempt
        else:
            before = wants.picks
        minutes = {}
        for fit in attempt.placement.fits:
            minutes.setdefault(fit.stage.step.name, fit.start)
    return attempt


def _liquids(picks: list[Pick]) -> set[str]:
    """Codes of the jars and baths among the picks."""
    return {pick.code for pick in picks if pick.unit != "mg"}


def _place(attempt: Attempt, desk: Desk) -> None:
    """The run's steps in time, where its amounts are there."""
    attempt.stages = desk.stages(attempt.run, attempt.recipe, attempt.wants.fibre, attempt.placer)
    if attempt.wants.enough and attempt.stages:
        if desk.guidance.stays:
            attempt.ready = _floors(replace(attempt, later={}), attempt.stages, desk)
        _place_stages(attempt, _floors(attempt, attempt.stages, desk))
        assert attempt.placement is not None
        desk.pushes.setdefault(attempt.run.code, []).extend(attempt.placement.pushes)


def _place_stages(attempt: Attempt, floors: list[int]) -> None:
    """The steps in time, by itself or in pots that are shared."""
    pots, placer = attempt.pots, attempt.placer
    if pots is None:
        attempt.placement = placer.place(attempt.stages, floors)
        return
    mine = Sharer(attempt.run, attempt.recipe, attempt.wants.fibre, attempt.stages)
    stages = pots.stages(mine, placer)
    if stages is None:
        attempt.placement = Placement([], [], done=False)
        return
    attempt.mine, attempt.stages = mine, stages
    attempt.placement = pots.place(mine, stages, floors, placer)


def _floors(attempt: Attempt, stages: tuple[Stage, ...], desk: Desk) -> list[int]:
    """When each stage's materials are there."""
    by_step: dict[str, int] = {}
    for pick in attempt.wants.picks:
        begins = soonest_here(pick, desk, attempt.placer) if pick.far else pick.usable_from
        by_step[pick.step] = max(by_step.get(pick.step, 0), begins)
    first = max(desk.now, by_step.get("", 0))
    for name, minute in attempt.later.items():
        by_step[name] = max(by_step.get(name, 0), minute)
    return [max(first, by_step.get(stage.step.name, 0)) for stage in stages]


def _step_start(attempt: Attempt, name: str) -> int:
    assert attempt.placement is not None
    for fit in attempt.placement.fits:
        if fit.stage.step.name == name:
            return fit.start
    return attempt.placement.first_step


def _ruled_out(attempt: Attempt, desk: Desk) -> tuple[str, Reason] | None:
    """The first lot or jar that its hour makes useless; jobs that mend it are noted."""
    attempt.jobs = []
    for pick in attempt.wants.picks:
        at = _step_start(attempt, pick.step)
        day = desk.calendar.day_of(at)
        spoiled = _spoiled(pick, day, attempt, desk)
        if spoiled is not None:
            return pick.code, spoiled
        gone = still_usable(pick, desk.larder, minute=at)
        if gone is not None:
            return pick.code, gone
    return None


def _spoiled(pick: Pick, day: date, attempt: Attempt, desk: Desk) -> Reason | None:
    """Why a lot cannot serve on a day, unless a job keeps it."""
    if pick.last_good is None or pick.last_good >= day:
        return None
    if pick.unit != "mg":
        text = say(
            "{code} ends {last_good}, before {day}",
            code=pick.code,
            last_good=day_in_words(pick.last_good),
            day=day_in_words(day),
        )
        return because("bath", pick.code, text, pick.keeps)
    job = put_by_job(pick, attempt.run.code, desk, attempt.jobs, wanted=day)
    if isinstance(job, str):
        text = say("{job}; wanted {day}", job=job, day=day_in_words(day))
        return because(_kind_of(pick, job), pick.code, text, pick.keeps)
    attempt.jobs.append((job, pick))
    return None


# -- the three answers -----------------------------------------------------------------------


def _kind_of(pick: Pick, why: str) -> str:
    """The kind of a spoiling: fibre gone damp, no room to freeze, else the last good day."""
    if not pick.step:
        return "damp fibre"
    return "room" if "no room" in why else "last good day"


def _keep(attempt: Attempt, desk: Desk) -> Answer | tuple[str, Reason] | Later:
    """Claim, book and answer a placed run; else what to do without, with nothing booked."""
    assert attempt.placement is not None
    takes = _takes(attempt, desk)
    mending = bool(attempt.jobs or attempt.wants.makings or attempt.wants.fetched)
    kept = desk.board.kept() if mending else None
    rooms = list(desk.rooms)
    attempt.placer.commit(attempt.run.code, attempt.placement)
    for pick in attempt.wants.picks:
        take_from_freezer(pick, _step_start(attempt, pick.step), desk)
    booked = _book_jobs(attempt, desk)
    if isinstance(booked, Reason | Later):
        assert kept is not None
        desk.board.back_to(kept)
        desk.rooms = rooms
        if isinstance(booked, Reason):
            return booked.what, booked
        if booked.wanted is not None:
            # Its own steps are off the board again: they would move with what they wait for.
            again = try_again(booked.wanted, desk, attempt.placer)
            return replace(booked, not_before=max(booked.not_before, again))
        return booked
    desk.larder.claim(attempt.wants.picks)
    pour_off(attempt.run, attempt.recipe, attempt.placement.fits,
             [pick.code for pick in attempt.wants.picks], desk,
             site=attempt.placer.room.site)  # fmt: skip
    if attempt.pots is not None and attempt.mine is not None:
        attempt.pots.keep(attempt.mine, attempt.placement, attempt.placer)
    return _placed_answer(attempt, desk, takes, *booked)


def _book_jobs(attempt: Attempt, desk: Desk) -> tuple[list[Job], list[Placed]] | Reason | Later:
    """Putting-by and baths that the run asks for, beside its own steps on the board."""
    jobs: list[Job] = []
    steps: list[Placed] = []
    makings: dict[tuple[str, str], int] = {}
    run = attempt.run.code
    for _, pick in attempt.jobs:
        used = _step_start(attempt, pick.step)
        job = put_by_job(pick, run, desk, [], wanted=desk.calendar.day_of(used))
        if isinstance(job, str):
            return because(_kind_of(pick, job), pick.code, job, pick.keeps)
        book_put_by(job, pick, desk, used=used)
        jobs.append(job)
    for wanted in attempt.wants.makings:
        before = _step_start(attempt, wanted.step)
        since = keeps_from(wanted.making.bath, before, desk)
        made = make_bath(wanted, run, desk, before=before, not_before=since,
                         site=attempt.placer.room.site)  # fmt: skip
        if isinstance(made, str):
            reason = Reason("bath", wanted.making.bath, made)
            return Later(wanted.step, desk.calendar.next_midnight(before), reason)
        jobs.append(made[0])
        steps.extend(placed_round(made[1], run, wanted.making, desk))
        makings[wanted.step, wanted.making.dyestuff] = made[1].start
    trips = _book_trips(attempt, makings, desk)
    if isinstance(trips, Later):
        return trips
    attempt.trips = trips
    return jobs, steps


def _book_trips(
    attempt: Attempt, makings: dict[tuple[str, str], int], desk: Desk
) -> list[Trip] | Later:
    """Ways to other sites, each thing there for its step; for a bath, for the making of it.

    Parameters
    ----------
    makings : by step and dyestuff, when a bath is made of it
    """
    wanted = [
        Wanted(pick, makings.get((pick.step, pick.what), _step_start(attempt, pick.step)))
        for pick in attempt.wants.fetched
    ]
    trips = book_trips(wanted, desk, attempt.placer)
    if not isinstance(trips, Wanted):
        return trips
    pick, begins = trips.pick, _step_start(attempt, trips.pick.step)
    # What a bath is made of has to be there before that: a day later all fits anew.
    makes = (pick.step, pick.what) in makings
    not_before = desk.calendar.next_midnight(begins) if makes else begins + 1
    step = pick.step or attempt.stages[0].step.name
    return Later(step, not_before, not_fetched(pick, begins, desk), trips)


def _placed_answer(
    attempt: Attempt,
    desk: Desk,
    takes: tuple[Take, ...],
    jobs: list[Job],
    job_steps: list[Placed],
) -> Answer:
    placement = attempt.placement
    assert placement is not None
    run = attempt.run
    first = placement.first_step
    in_period = first < desk.until
    late = run.due is not None and placement.dry > minute_of(run.due)
    waits = [*attempt.wants.waits, *waits_of(placement.pushes, desk, run.code)]
    if late and run.due is not None:
        text = say("due {due}, dry only after it", due=moment_in_words(run.due, desk.facts.zone))
        waits.append(Reason("due", run.code, text, desk.calendar.moment(placement.dry)))
    good = in_period and not late
    if not good and any(row.run == run.code and not row.stays for row in desk.guidance.floors):
        text = say("it waits so that other runs fit")
        waits.append(Reason("order", run.code, text, desk.calendar.moment(first)))
    if not good and not waits:
        text = say(
            "first possible {moment}",
            moment=moment_in_words(desk.calendar.moment(first), desk.facts.zone),
        )
        waits.append(Reason("hours", run.code, text, desk.calendar.moment(first)))
    moment = desk.calendar.moment
    hangs = tuple(
        Hanging(
            fit.hung[0], moment(fit.hung[1]), moment(fit.hung[2]), fit.stage.weight_mg, run.code
        )
        for fit in placement.fits
        if fit.hung
    )
    own_steps = placed_steps(placement.fits, run.code, desk)
    carries, takes = fetched_steps(attempt.trips, takes, attempt.placer.room.site, desk)
    held = held_back(desk.facts, attempt.recipe, takes, on=desk.today)
    more_ml = topped_up_ml(held, attempt.recipe, own_steps)
    return Answer(
        run.code,
        run.shade,
        "yes" if good else "not yet",
        desk.calendar.moment(first),
        desk.calendar.moment(placement.dry),
        steps=in_their_place(carries, (*job_steps, *own_steps)),
        takes=takes,
        waits_for=() if good else tuple(waits),
        jobs=tuple(jobs),
        reasons=(*attempt.wants.reasons, *straining_reasons(held),
                 *carry_reasons(attempt.trips, attempt.placer.room.site, desk),
                 *stays_kept(run.code, placement.fits, desk), *(waits if good else ())),
        notes=(*attempt.wants.notes, *straining_notes(held, more_ml),
               *stays_broken(run.code, attempt.stages, placement, attempt.ready, attempt.placer,
                              desk)),
        top_up_ml=round(more_ml),
        hung_at=hangs[-1].since if hangs else None,
        line=hangs[-1].line if hangs else "",
        late=late,
        hangs=hangs,
        warnings=felting_of(run.fibre, placement.fits, attempt.placer.room, desk.facts.figures,
                            on=desk.today),
    )  # fmt: skip


def _takes(attempt: Attempt, desk: Desk) -> tuple[Take, ...]:
    left = dict(desk.larder.left)
    takes = []
    for pick in attempt.wants.picks:
        left[pick.code] -= pick.amount
        at = _step_start(attempt, pick.step)
        takes.append(
            Take(attempt.run.code, pick.code, pick.what, pick.amount, pick.unit,
                 desk.calendar.moment(at), left[pick.code], pick.step,
                 length_of(pick.code, pick.amount, desk.facts))
        )  # fmt: skip
    return tuple(takes)
