"""Freezer and drying trays hold what is put by, at the end of each evening."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, timedelta

from inventory.science.facts import LotFacts
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.lots import good_till
from sourcing.week.plan import Job, Week


def faults_in_cold_places(week: Week, ground: Ground) -> Iterator[Fault]:
    """At the end of each evening on which something is frozen, it fits beside what is there."""
    yield from _faults_on_trays(week, ground)
    freezers = [place for place in ground.facts.shelf.cold_places if place.kind == "freezer"]
    jobs = [
        (job, answer.run)
        for answer in week.answers
        for job in answer.jobs
        if job.kind == "put by" and not job.what.startswith("dry")
    ]
    for job, run in jobs:
        yield from _job_can_be_done(job, run, ground)
    if not jobs or any(place.holds_mg is None for place in freezers):
        return
    holds = sum(place.holds_mg or 0 for place in freezers)
    for evening in sorted({job.by for job, _ in jobs}):
        inside = _frozen_on(evening, week, ground)
        if inside > holds:
            run = next(run for job, run in jobs if job.by == evening)
            yield Fault(
                "freezer",
                run,
                None,
                f"{inside / 1000:g} g in the freezer on the evening of {evening:%a %d}, it "
                f"takes {holds / 1000:g} g",
            )


def _job_can_be_done(job: Job, run: str, ground: Ground) -> Iterator[Fault]:
    if job.lot not in ground.lots:
        yield Fault("unknown", run, None, f"{job.lot} is not on the shelf")
        return
    general = str(ground.number("any dyestuff", "put_by_min", "0"))
    wanted = int(ground.number(ground.lots[job.lot].dyestuff, "put_by_min", general))
    if job.hands_min != wanted:
        yield Fault("hands of a job", run, None, f"{job.what}: {job.hands_min}, not {wanted} min")
    if job.by not in _days_with_hands(ground) and not _somebody_has_to_come(job, run, ground):
        yield Fault("hours", run, None, f"nobody is in on {job.by:%a %d} to {job.what}")


def _days_with_hands(ground: Ground) -> set[date]:
    return {row.day for row in ground.facts.hours if row.hands_min}


def _somebody_has_to_come(job: Job, run: str, ground: Ground) -> bool:
    """Whether a begun run's job was left undone, and nobody is in while the lot is still good."""
    kept = ground.runs[run].kept
    left = kept is not None and any(
        row.lot == job.lot and row.by < ground.today for row in kept.jobs
    )
    good = good_till(ground.lots[job.lot], ground)
    return left and not any(ground.today <= day <= good for day in _days_with_hands(ground))


def _frozen_on(evening: date, week: Week, ground: Ground) -> int:
    """What is in the freezer at the end of an evening, without what could wait elsewhere."""
    takes = [take for answer in week.answers for take in answer.takes]
    inside = 0
    for lot in ground.lots.values():
        if lot.stay.place_kind == "freezer" and lot.arrives_at is None:
            inside += lot.left_mg - sum(
                take.amount
                for take in takes
                if take.source == lot.code and ground.day_of(minute_of(take.at)) <= evening
            )
    for answer in week.answers:
        put_by = {
            job.lot: job.by
            for job in answer.jobs
            if job.kind == "put by" and not job.what.startswith("dry")
        }
        inside += sum(
            take.amount
            for take in answer.takes
            if take.source in put_by
            and put_by[take.source] <= evening < ground.day_of(minute_of(take.at))
        )
    return inside


def _faults_on_trays(week: Week, ground: Ground) -> Iterator[Fault]:
    """On each evening from a drying till it is dry, the trays hold all that lies on them."""
    trays = [place for place in ground.facts.shelf.cold_places if place.kind == "tray"]
    spread = [
        (job, take)
        for answer in week.answers
        for job in answer.jobs
        if job.kind == "put by" and job.what.startswith("dry")
        for take in answer.takes
        if take.source == job.lot
    ]
    for job, _ in spread:
        yield from _job_can_be_done(job, job.run, ground)
    if any(place.holds_mg is None for place in trays):
        return
    holds = sum(place.holds_mg or 0 for place in trays)
    lain = [
        (_dry_on(lot, ground), lot.left_mg)
        for lot in ground.lots.values()
        if lot.stay.place_kind == "tray"
    ]
    rows = [
        (job.by, min(ground.day_of(minute_of(take.at)),
                     job.by + timedelta(_dries(take.what, ground))), take.amount)
        for job, take in spread
        if ground.lots[job.lot].stay.place_kind != "tray"
    ]  # fmt: skip
    for evening in sorted({job.by for job, _ in spread}):
        inside = sum(mg for until, mg in lain if evening < until)
        inside += sum(mg for since, until, mg in rows if since <= evening < until)
        if inside > holds:
            run = next(job.run for job, _ in spread if job.by == evening)
            yield Fault("trays", run, None, f"{inside / 1000:g} g on the trays on the evening of "
                        f"{evening:%a %d}, they take {holds / 1000:g} g")  # fmt: skip


def _dry_on(lot: LotFacts, ground: Ground) -> date:
    """The first day without a lot that lies on the trays; tonight it does in any case."""
    days = _dries(lot.dyestuff, ground) if lot.stay.state in ("fresh", "damp") else 0
    spread = lot.stay.since.astimezone(ground.zone).date()
    return max(spread + timedelta(days), ground.today + timedelta(1))


def _dries(dyestuff: str, ground: Ground) -> int:
    general = str(ground.number("any dyestuff", "drying_days", "0"))
    days = ground.number(dyestuff, "drying_days", general)
    return int(days) + (days != int(days))
