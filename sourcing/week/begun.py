"""The answers of runs under way: placed before all others, each step at its kept hours.

What is done lies in the past; what is late moves to the earliest moment that still fits, with all
that follows it, and nothing else moves. What such a run takes stays claimed until it is posted.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime

from inventory.science.days import local_day
from inventory.science.keeping import last_good_day
from inventory.science.saying import say
from sourcing.week.begun_baths import (
    bath_reasons,
    bath_warnings,
    floors_of_baths,
    keep_for_begun,
    lay_bath,
    lay_baths,
    providers_first,
    still_to_come,
    to_be_left,
    wait_for_used_baths,
)
from sourcing.week.carry import CARRY, in_their_place
from sourcing.week.desk import Desk, spend
from sourcing.week.facts import Hanging, RunFacts
from sourcing.week.fits import Bump, Fit
from sourcing.week.group_begun import do_late, fading_notes, group_begins, take_late
from sourcing.week.jobs import book_put_by, take_from_freezer
from sourcing.week.larder import Pick
from sourcing.week.late_baths import late_baths, make_late_baths, wait_for_baths
from sourcing.week.loads import placed_steps
from sourcing.week.moments import minute_of, rounded_up
from sourcing.week.plan import Answer, Job, Placed, Reason, Take
from sourcing.week.second_bath import DYEBATH
from sourcing.week.stages import Stage
from sourcing.week.straining import held_back, straining_notes, topped_up_ml
from sourcing.week.under_way import Part, UnderWay, option_of, settled_fit, under_way
from sourcing.week.words import day_in_words, moment_in_words


def answer_begun(runs: Iterable[RunFacts], desk: Desk) -> dict[str, Answer]:
    """The answers of begun runs, all booked and claimed, in the order in which they were begun."""
    found = []
    for run in sorted(runs, key=_by_beginning):
        recipe = desk.recipes.get(run.recipe)
        if recipe is not None:
            found.append(under_way(run, recipe, desk))
    lay_baths(found, desk)
    left = _before_they_take(found, desk)
    keep_for_begun(found, desk)
    wait_for_used_baths(found, desk)
    late = {row.run.code: take_late(row, desk) for row in found if row.run.group_block}
    for row in sorted(found, key=lambda row: bool(late_baths(row, desk))):
        wait_for_baths(row, desk)  # a late bath goes round all others
        _book(row, desk)
    for row in found:
        # Not sooner: a pot that is only kept for one run would hide another that has it later.
        _keep_its_pots(row, desk)
    for row in providers_first(found):
        _book_loads(row, make_late_baths(row, desk), desk)
        if row.moves:
            _move(row, desk)
            lay_bath(row, desk)
        row.warnings += bath_warnings(row, desk)
    for row in found:
        do_late(late.get(row.run.code, []), row, desk)
    return {row.run.code: _answer(row, left, desk) for row in found}


def _by_beginning(run: RunFacts) -> tuple[int, str]:
    assert run.kept is not None
    return minute_of(run.kept.begun_at), run.code


# -- on the board ------------------------------------------------------------------------------


def _book(row: UnderWay, desk: Desk) -> None:
    """Hands, pots, rings and line of what stays where it is."""
    _book_loads(row, [load for part in row.parts[: row.settled] for load in part.rows], desk)
    late = [load for loads in late_baths(row, desk).values() for load in loads]
    _book_loads(row, [load for load in row.apart if load not in late], desk)
    for hanging in _settled_hangs(row, desk).values():
        _hang(hanging, desk)


def _book_loads(row: UnderWay, loads: Iterable[Placed], desk: Desk) -> None:
    for load in loads:
        day = local_day(load.start, zone=desk.facts.zone)
        if day >= desk.today:
            spend(desk, day, load.hands_min, site=row.placer.room.site)
            _note_hours(load, row.placer.room.site, desk)
        _hold(load, row.run.code, desk)


def _note_hours(load: Placed, site: str, desk: Desk) -> None:
    """Somebody is on the way to another site, or has to be there."""
    start, until = minute_of(load.start), minute_of(load.attended_until or load.start)
    if load.kind != CARRY:
        desk.board.watch(site, start, until)
    elif site in desk.board.away:
        insort(desk.board.away[site], (start, until))


def _keep_its_pots(row: UnderWay, desk: Desk) -> None:
    """Cloth that has to move stays where it is until it is known when it goes on."""
    if not row.moves or not row.settled:
        return
    for load in row.parts[row.settled - 1].rows:
        if load.vessel in desk.board.vessels and load.held_until > load.end:
            since = minute_of(load.start)
            desk.board.vessels[load.vessel].add(since, desk.calendar.end, row.run.code)


def _hold(load: Placed, run: str, desk: Desk) -> None:
    start, board = minute_of(load.start), desk.board
    if load.vessel in board.vessels:
        board.vessels[load.vessel].add(start, minute_of(load.held_until), run)
    if load.ring in board.rings:
        board.rings[load.ring].add(start, minute_of(load.end), run)


def _hang(hanging: Hanging, desk: Desk) -> None:
    if hanging.line in desk.board.rails:
        stretch = minute_of(hanging.since), minute_of(hanging.until), hanging.mg
        desk.board.rails[hanging.line].hung.append(stretch)


def hangs_of(row: UnderWay, desk: Desk) -> tuple[Hanging, ...]:
    """When each round's cloth hangs: as kept, or from when its last step was done or moved to."""
    if row.placement is not None:
        settled = _settled_hangs(row, desk)
        moved = (
            Hanging(fit.hung[0], desk.calendar.moment(fit.hung[1]),
                    desk.calendar.moment(fit.hung[2]), fit.stage.weight_mg, row.run.code)
            for fit in row.placement.fits[row.settled :] if fit.hung
        )  # fmt: skip
        return (*settled.values(), *moved)
    return tuple(_kept_hangs(row, desk).values())


def _settled_hangs(row: UnderWay, desk: Desk) -> dict[int, Hanging]:
    """When the cloth of those rounds hangs whose last step stays where it is."""
    stays = [id(part) for part in row.parts[: row.settled]]
    hangs = _kept_hangs(row, desk)
    return {
        number: hanging
        for number, hanging in hangs.items()
        if not row.moves or id(_last_step(row, number)) in stays
    }


def _kept_hangs(row: UnderWay, desk: Desk) -> dict[int, Hanging]:
    """By round, when cloth hangs as kept, or from when its last step was done."""
    found = {}
    for number, kept in enumerate(row.kept.hangs, 1):
        last = _last_step(row, number)
        since = kept.since
        if last is not None and last.done:
            minute = rounded_up(minute_of(max(r.end for r in last.rows)), desk.house.hangs_on)
            since = desk.calendar.moment(minute)
        # By the minute, as the clocks may change in between.
        lasts = minute_of(kept.until) - minute_of(kept.since)
        until = desk.calendar.moment(minute_of(since) + lasts)
        found[number] = replace(kept, since=since, until=until)
    return found


def _last_step(row: UnderWay, number: int) -> Part | None:
    """The last step of a round's cloth; of the whole run where it all goes together."""
    if len(row.kept.hangs) == 1:
        return row.parts[-1] if row.parts else None
    mine = [
        part for part in row.parts
        if (part.stage.round_of[0] if part.stage else part.rows[0].round) == number
    ]  # fmt: skip
    return mine[-1] if mine else None


def _move(row: UnderWay, desk: Desk) -> None:
    """Place anew what is late and what follows it, after what stays; never earlier than kept."""
    placer, now = row.placer, desk.now
    for holds in desk.board.vessels.values():
        holds.give_up(row.run.code)
    for load in row.apart:  # its baths stay where they are
        _hold(load, row.run.code, desk)
    fits = tuple(settled_fit(part, row) for part in row.parts[: row.settled])
    baths = floors_of_baths(row, desk)
    floors = [
        max(now, minute_of(part.start), row.not_before.get(number, 0), baths.get(number, 0))
        for number, part in enumerate(row.parts)
    ]
    for stages in (_in_kept_pots(row), _stages(row)):
        missed: list[Bump] = []
        placement = placer.place(stages, floors, settled=_copied(fits), missed=missed)
        if placement.done:
            _clip(placement.fits[: row.settled], desk)
            placer.commit(row.run.code, placement)
            row.placement = placement
            row.warnings += [_missed(bump, placement.fits) for bump in missed]
            return
    row.warnings.append(say("fits nowhere any more as it was planned; look at its steps"))
    hung = _settled_hangs(row, desk)
    for part in row.parts[: row.settled]:
        for load in part.rows:
            _hold(load, row.run.code, desk)
    _book_loads(row, [load for part in row.parts[row.settled :] for load in part.rows], desk)
    row.settled = len(row.parts)
    for number, hanging in _settled_hangs(row, desk).items():
        if number not in hung:
            _hang(hanging, desk)


def _copied(fits: tuple[Fit, ...]) -> tuple[Fit, ...]:
    """Fits that a try may hold on to for longer."""
    return tuple(replace(fit) for fit in fits)


def _stages(row: UnderWay) -> tuple[Stage, ...]:
    return tuple(
        replace(part.stage, rounds_from=_by_round(part))
        for part in row.parts
        if part.stage is not None
    )


def _by_round(part: Part) -> tuple[int, ...]:
    """The minutes at which the rounds of a stage were to begin."""
    starts: dict[int, int] = {}
    for load in part.rows:
        starts.setdefault(load.round, minute_of(load.start))
    return tuple(starts.values())


def _in_kept_pots(row: UnderWay) -> tuple[Stage, ...]:
    """The stages, those that move in the pots that they were planned for."""
    found = []
    for number, stage in enumerate(_stages(row)):
        rounds = stage.options[0].rounds if stage.options else 1
        option = option_of(row.parts[number], row, rounds)
        keeps = number >= row.settled and option is not None and not stage.same
        found.append(replace(stage, options=(option,)) if keeps and option else stage)
    return tuple(found)


def _clip(fits: list[Fit], desk: Desk) -> None:
    """A pot that another run has next is emptied by then, wherever its cloth goes on."""
    for fit in fits:
        taken = [desk.board.vessels[load.vessel].taken_after(fit.start)
                 for load in fit.last.loads if load.vessel in desk.board.vessels]  # fmt: skip
        fit.held_until = max(fit.last.end, min([fit.held_until, *taken]))


def _missed(bump: Bump, fits: list[Fit]) -> str:
    """What a step that is settled has to bear, as the next one comes too late for it."""
    before, after = fits[bump.index].stage.step.name, fits[bump.index + 1].stage.step.name
    return say(
        "{before} waits longer for {after} than the recipe wants: look at it first",
        before=before,
        after=after,
    )


# -- what it takes -----------------------------------------------------------------------------


def _before_they_take(found: list[UnderWay], desk: Desk) -> dict[str, int]:
    """What there is of everything beside what begun runs have; lots to come are claimed here."""
    left = dict(desk.larder.left) | to_be_left(found, desk)
    for row in found:
        promised = desk.larder.promised_to(row.run.code)
        for code, amount in promised.items():
            left[code] = left.get(code, 0) + amount
        for take in row.kept.takes:
            if take.source in row.kept.to_come and take.source in desk.larder.left:
                there = desk.larder.left[take.source]
                more = max(0, take.amount - promised.get(take.source, 0))
                desk.larder.left[take.source] = max(0, there - more)
    return left


def _takes(row: UnderWay, left: dict[str, int], desk: Desk) -> tuple[Take, ...]:
    """What a run still has claimed of what it takes, each with what is left beside."""
    claimed = desk.larder.promised_to(row.run.code)
    found = []
    for take in planned_takes(row, desk):
        there = take.amount if _is_to_come(take, row, desk) else claimed.get(take.source, 0)
        amount = min(take.amount, there)
        claimed[take.source] = there - amount
        if amount <= 0:
            continue
        left[take.source] = max(0, left.get(take.source, 0) - amount)
        found.append(replace(take, amount=amount, left_after=left[take.source],
                             at=_taken_at(take, row)))  # fmt: skip
    return (*found, *_gone_along(row, desk))


def _is_to_come(take: Take, row: UnderWay, desk: Desk) -> bool:
    """Whether a take counts in full, as nobody could claim it when the run was begun."""
    if take.what == DYEBATH:
        return still_to_come(take.source, row.kept, desk)
    return take.source in row.kept.to_come


def _gone_along(row: UnderWay, desk: Desk) -> Iterable[Take]:
    """Claims that went along with what a lot of the plan became: a part put by, a bath made."""
    planned = {take.source for take in row.kept.takes}
    planned |= {code for done in row.kept.done for code, _ in done.took}
    shelf = desk.facts.shelf
    known = {lot.code: (lot.dyestuff, "mg") for lot in shelf.lots}
    known |= {lot.code: (lot.fibre, "mg") for lot in shelf.fibre}
    known |= {bath.code: (bath.what, "µL") for bath in shelf.baths}
    for code, amount in desk.larder.promised_to(row.run.code).items():
        if code in planned or code not in known:
            continue
        what, unit = known[code]
        like = next((take for take in row.kept.takes if take.what == what), None)
        dose = next((dose for dose in row.recipe.doses if dose.what == what), None)
        step = like.step if like is not None else dose.step if dose is not None else ""
        starts = [load.start for load in _rows(row) if load.step == step]
        at = min([*starts, *(take.at for take in row.kept.takes if take.step == step)],
                 default=row.kept.begun_at)  # fmt: skip
        yield Take(row.run.code, code, what, amount, unit, at, desk.larder.left.get(code, 0), step)


def planned_takes(row: UnderWay, desk: Desk) -> list[Take]:
    """What each step takes: as planned, or as it was said to have taken."""
    said = {done.step: done for done in row.kept.done if done.took}
    units = {take.source: (take.what, take.unit) for take in row.kept.takes}
    units |= {lot.code: (lot.dyestuff, "mg") for lot in desk.facts.shelf.lots}
    units |= {
        jar.code: (say("{metal} liquor", metal=jar.metal), "µL") for jar in desk.facts.shelf.jars
    }
    found = [take for take in row.kept.takes if take.step not in said]
    for done in said.values():
        for code, amount in done.took:
            what, unit = units.get(code, (code, "mg"))
            found.append(Take(row.run.code, code, what, amount, unit, done.at, 0, done.step))
    return found


def _taken_at(take: Take, row: UnderWay) -> datetime:
    """When a step takes what it takes: when it begins, or began."""
    starts = [load.start for load in _rows(row) if load.step == take.step]
    return min(starts) if starts else take.at


def _rows(row: UnderWay) -> list[Placed]:
    return [load for part in row.parts for load in part.rows]


# -- the answer --------------------------------------------------------------------------------


def _answer(row: UnderWay, left: dict[str, int], desk: Desk) -> Answer:
    if row.run.group_block:
        return _group_answer(row, left, desk)
    steps = _steps(row, desk)
    hangs = hangs_of(row, desk)
    first = min(load.start for load in steps)
    steps = in_their_place(tuple(_carries(row, desk)), steps)
    dry = max((hanging.until for hanging in hangs), default=max(load.end for load in steps))
    takes = _takes(row, left, desk)
    held = held_back(desk.facts, row.recipe, takes, on=desk.today)
    more_ml = topped_up_ml(held, row.recipe, steps)
    return Answer(
        row.run.code,
        row.run.shade,
        "yes",
        first,
        dry,
        steps=steps,
        takes=takes,
        jobs=tuple(_jobs(row, takes, desk)),
        reasons=tuple(_reasons(row, steps, desk)),
        notes=tuple(straining_notes(held, more_ml)),
        top_up_ml=round(more_ml),
        hung_at=hangs[-1].since if hangs else None,
        line=hangs[-1].line if hangs else "",
        late=row.run.due is not None and dry > row.run.due,
        hangs=hangs,
        warnings=tuple(Reason("late", row.run.code, text) for text in row.warnings),
        begun_at=row.kept.begun_at,
    )


def _group_answer(row: UnderWay, left: dict[str, int], desk: Desk) -> Answer:
    """A group day that is being prepared: what it keeps, what is laid out, what is still to do."""
    start, takes = group_begins(row, desk), _takes(row, left, desk)
    begun = Reason(
        "begun",
        row.run.code,
        say("begun {begun_at}", begun_at=moment_in_words(row.kept.begun_at, desk.facts.zone)),
    )
    later = minute_of(start) >= desk.until
    text = say("it is on {at}", at=moment_in_words(start, desk.facts.zone))
    return Answer(
        row.run.code,
        row.run.shade,
        "not yet" if later else "yes",
        start,
        None,
        steps=tuple(row.apart),
        takes=takes,
        waits_for=(Reason("block", row.run.group_block, text, start),) if later else (),
        jobs=tuple(_jobs(row, takes, desk)),
        reasons=(begun,),
        notes=fading_notes(row.recipe, desk),
        warnings=tuple(Reason("late", row.run.code, text) for text in row.warnings),
        begun_at=row.kept.begun_at,
    )


def _carries(row: UnderWay, desk: Desk) -> Iterable[Placed]:
    """Ways to another site at their kept hours; one that is over and not said done is late."""
    now = desk.facts.at
    for load in row.apart:
        if load.kind == CARRY:
            late = load.done_at is None and load.end <= now
            yield replace(load, late_since=load.end) if late else load


def _steps(row: UnderWay, desk: Desk) -> tuple[Placed, ...]:
    """All of a run's steps: done, as kept, or where they have moved to; what is fetched apart."""
    apart = [load for load in row.apart if load.kind != CARRY]
    made = [load for load in apart if load.kind == "decoct"]
    rows = [load for part in row.parts[: row.settled] for load in part.rows]
    if row.placement is None:
        late = row.late_since
        mine = [_said_late(load, late) for load in _rows(row)] if late is not None else rows
        return (*made, *mine, *(load for load in apart if load not in made))
    fits = row.placement.fits
    for number, part in enumerate(row.parts[: row.settled]):
        held = desk.calendar.moment(fits[number].held_until)
        if number + 1 == row.settled:
            part.rows = [replace(load, held_until=max(load.end, held)) if load.vessel else load
                         for load in part.rows]  # fmt: skip
    rows = [load for part in row.parts[: row.settled] for load in part.rows]
    moved = placed_steps(fits, row.run.code, desk, settled=row.settled)
    first = row.parts[row.settled].rows[0]
    moved = tuple(
        replace(load, late_since=row.late_since)
        if (load.step, load.round) == (first.step, first.round) else load
        for load in moved
    )  # fmt: skip
    said = {(load.step, load.round) for load in moved if load.kind == "snippet"}
    snippets = [load for load in apart if (load.step, load.round) not in said]
    return (*made, *rows, *moved, *(load for load in snippets if load not in made))


def _said_late(load: Placed, late: datetime) -> Placed:
    return replace(load, late_since=late) if load.done_at is None and load.end <= late else load


def _reasons(row: UnderWay, steps: tuple[Placed, ...], desk: Desk) -> Iterable[Reason]:
    """That it is begun, and of what is late since when, and when it is to be now."""
    zone, code = desk.facts.zone, row.run.code
    yield Reason(
        "begun", code, say("begun {begun_at}", begun_at=moment_in_words(row.kept.begun_at, zone))
    )
    yield from bath_reasons(row, desk)
    for load in steps:
        if load.late_since is not None:
            text = say(
                "{step} is late: not done by {late_since}; now {start}",
                step=load.step,
                late_since=moment_in_words(load.late_since, zone),
                start=moment_in_words(load.start, zone),
            )
            yield Reason("late", code, text, load.start)
            break


def _jobs(row: UnderWay, takes: tuple[Take, ...], desk: Desk) -> Iterable[Job]:
    """What is still to be put by or made for it, with its hands and its room booked."""
    by_lot = {take.source: take for take in takes}
    for take in takes:
        take_from_freezer(_pick(take, ""), minute_of(take.at), desk)
    done = {load.step for load in row.apart if load.done_at is not None}
    for job in row.kept.jobs:
        if job.kind != "put by":
            if job.what not in done:
                yield job
            continue
        taken = by_lot.get(job.lot)
        put_by = _can_put_by(job.lot, desk)
        if taken is not None and put_by and not _is_done(taken.step, row):
            again = replace(job, by=max(job.by, _in_time(job, desk)))
            book_put_by(again, _pick(taken, put_by), desk, used=minute_of(taken.at))
            yield _still(again, job, desk)
        elif job.by >= desk.today:
            spend(desk, job.by, job.hands_min)


def _in_time(job: Job, desk: Desk) -> date:
    """The day of a putting-by that was not done on its own: the next on which somebody is in.

    Today where nobody is in any more before the lot's last good day: somebody has to come.
    """
    if job.by >= desk.today:
        return job.by
    facts = desk.facts
    lot = next(row for row in facts.shelf.lots if row.code == job.lot)
    good = last_good_day(lot, facts.figures, zone=facts.zone, at=facts.at).day
    still = (day.day for day in desk.calendar.open_days if day.closes > desk.now)
    return next((day for day in still if desk.today <= day <= good), desk.today)


def _still(job: Job, kept: Job, desk: Desk) -> Job:
    """A job that was planned for a day which is over is for today, or for when somebody is in."""
    if job.by == kept.by:
        when, now = day_in_words(kept.by), "today" if kept.by == desk.today else ""
        return replace(job, text=kept.text.replace(when, now)) if now else job
    was = day_in_words(kept.by)
    if job.by == desk.today:
        text = say("{what} today: it was to be done {by}", what=kept.what, by=was)
    else:
        day = day_in_words(job.by)
        text = say("{what} {day}: it was to be done {by}", what=kept.what, day=day, by=was)
    return replace(job, text=text)


def _pick(take: Take, put_by: str) -> Pick:
    return Pick(take.source, take.what, take.amount, take.unit, take.step, 0, put_by=put_by)


def _can_put_by(code: str, desk: Desk) -> str:
    lot = next((row for row in desk.facts.shelf.lots if row.code == code), None)
    return "" if lot is None else desk.larder.can_put_by(lot)


def _is_done(step: str, row: UnderWay) -> bool:
    return any(part.done for part in row.parts if part.rows[0].step == step)
