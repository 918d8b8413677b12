"""Which lots a run takes: good on their day or put by before it, and used first things first."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from datetime import date, datetime, time
from itertools import pairwise

from inventory.science.facts import LotFacts
from inventory.science.keeping import if_put_by, last_good_day, use_first
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.sheet import Sheet
from sourcing.week.facts import Dose
from sourcing.week.plan import Take

EVENING = time(17)  # what comes from this hour on is first used next morning


def faults_in_lots(dose: Dose, takes: list[Take], sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Lots that may not be used on their day, or not before others."""
    for take in takes:
        for kind, why in _lot_barred(ground.lots[take.source], take, dose, sheet, ground):
            yield Fault(kind, sheet.code, take.at, f"{take.source} {why}")
    yield from _use_first(dose, takes, sheet, ground)


def may_be_used(lot: LotFacts, at: datetime, dose: Dose, sheet: Sheet, ground: Ground) -> bool:
    """Whether a lot could serve a dose at a moment as it is kept now, without a job."""
    if lot.site not in ("", sheet.site):
        return False
    would_take = Take(sheet.code, lot.code, lot.dyestuff, 0, "mg", at, 0, dose.step)
    if ground.day_of(minute_of(at)) > good_till(lot, ground):
        return False
    return not list(_lot_barred(lot, would_take, dose, sheet, ground))


def cleared(code: str, at: datetime, ground: Ground) -> bool:
    """Whether a chore has put a lot right by a moment's day."""
    day = ground.day_of(minute_of(at))
    return any(chore.clears == code and chore.day <= day for chore in ground.facts.chores)


def _lot_barred(
    lot: LotFacts, take: Take, dose: Dose, sheet: Sheet, ground: Ground
) -> Iterator[tuple[str, str]]:
    if dose.state and lot.stay.state != dose.state:
        yield "state", f"is {lot.stay.state}, not {dose.state}"
    if lot.arrives_at is not None:
        arrives = lot.arrives_at.astimezone(ground.zone)
        there = minute_of(arrives)
        if arrives > ground.facts.at and arrives.time() >= EVENING:
            there = ground.night_over(there, sheet.site) or there
        if minute_of(take.at) < there:
            yield "arrival", f"comes {arrives:%a %d %H:%M}"
    if (lot.set_aside and not cleared(lot.code, take.at, ground)) or not lot.labelled:
        yield "set aside", "is set aside or has no label"
    if lot.stay.state == "damp" and not cleared(lot.code, take.at, ground):
        yield "set aside", "is damp"
    if sheet.run.client and lot.foraged and not lot.permission:
        yield "permission", "has no permission on record"
    if lot.foraged and lot.nest_checked is False:
        yield "permission", "was cut without a nest check"
    yield from _kept_till(lot, take, sheet, ground)


def _kept_till(
    lot: LotFacts, take: Take, sheet: Sheet, ground: Ground
) -> Iterator[tuple[str, str]]:
    """A lot past its last good day on the day it is used must have been put by before."""
    good = good_till(lot, ground)
    used = ground.day_of(minute_of(take.at))
    if used <= good:
        return
    jobs = [job for job in sheet.answer.jobs if job.kind == "put by" and job.lot == lot.code]
    if not jobs:
        yield "last good day", f"is good till {good:%a %d} and used on {used:%a %d}"
        return
    for job in jobs:
        state = "dried" if job.what.startswith("dry") else "frozen"
        if not ground.today <= job.by <= good:
            yield "put by late", f"is put by on {job.by:%a %d}, good till {good:%a %d}"
            continue
        kept = if_put_by(
            _come_in(lot, job.by, ground), state, ground.facts.figures, on=job.by, zone=ground.zone
        )
        if used > kept.day:
            yield "last good day", f"put by is good till {kept.day:%a %d}"
        if _state_lost(sheet, take, state):
            yield "state", f"is {state} by then"


def _come_in(lot: LotFacts, day: date, ground: Ground) -> LotFacts:
    """The lot as if it had come in with the day's first minute, so that it is put by after."""
    begins = datetime.combine(day, time(0), tzinfo=ground.zone)
    stays = tuple(replace(stay, since=min(stay.since, begins)) for stay in lot.stays)
    return replace(lot, stays=stays)


def _state_lost(sheet: Sheet, take: Take, state: str) -> bool:
    """Whether putting by takes a lot out of the state that the recipe asks for."""
    asked = {dose.state for dose in sheet.recipe.doses if dose.step == take.step
             and dose.what == take.what}  # fmt: skip
    return bool(asked - {""}) and state not in asked


def good_till(lot: LotFacts, ground: Ground) -> date:
    at = ground.facts.at
    if lot.arrives_at is not None:
        at = max(at, lot.arrives_at)
    return last_good_day(lot, ground.facts.figures, zone=ground.zone, at=at).day


def _use_first(dose: Dose, takes: list[Take], sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """A lot is used whole before the next is opened, in the order of use first."""
    facts = ground.facts
    order = [
        lot.code
        for lot in use_first(facts.shelf.lots, facts.figures, at=facts.at, zone=facts.zone)
        if lot.dyestuff == dose.what
    ]
    fetched = {take.source: bool(take.carried_from) for take in takes}

    def behind(code: str) -> tuple[bool, bool, int]:
        """What is here, what is fetched, then what is still to come, each in its order."""
        comes = ground.lots[code].arrives_at
        waits = any(fetched.values()) and comes is not None and comes > facts.at
        return waits, fetched[code], order.index(code)

    for before, after in pairwise(takes):
        if before.left_after:
            yield Fault(
                "use first",
                sheet.code,
                after.at,
                f"{after.source} is opened while {before.left_after} mg of {before.source} stand",
            )
        if behind(before.source) > behind(after.source):
            yield Fault(
                "use first", sheet.code, after.at, f"{after.source} comes before {before.source}"
            )
