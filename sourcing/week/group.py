"""A group day: amounts are claimed in their turn, the jobs that prepare it are placed last."""

from __future__ import annotations

from dataclasses import dataclass, field

from inventory.science.saying import say
from sourcing.week.desk import Desk
from sourcing.week.facts import Block, Recipe, RunFacts
from sourcing.week.gates import barred_by
from sourcing.week.group_begun import fading_notes
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
from sourcing.week.loads import placed_round
from sourcing.week.moments import minute_of
from sourcing.week.plan import Answer, Job, Placed, Reason, Take
from sourcing.week.reasons import because
from sourcing.week.wants import Wants, Without, wants_of
from sourcing.week.words import day_in_words, moment_in_words


@dataclass
class GroupClaim:
    """What a group day has claimed, before its jobs are placed."""

    run: RunFacts
    block: Block | None
    recipe: Recipe | None
    wants: Wants = field(default_factory=Wants)
    gates: list[Reason] = field(default_factory=list)
    takes: tuple[Take, ...] = ()
    site: str = ""
    put_by: list[Pick] = field(default_factory=list)

    @property
    def holds(self) -> bool:
        return self.block is not None and self.wants.enough and not self.gates


def claim_group(run: RunFacts, desk: Desk) -> GroupClaim:
    """Claim a group day's amounts; what cannot serve on its day is left out."""
    block = next((row for row in desk.facts.blocks if row.code == run.group_block), None)
    recipe = desk.recipes.get(run.recipe)
    claim = GroupClaim(run, block, recipe)
    if block is None or recipe is None:
        missing = run.group_block if block is None else run.recipe
        claim.wants.lacking.append(
            Reason("block", missing, say("{missing} is not written down", missing=missing))
        )
        return claim
    claim.gates = barred_by(run, recipe, desk.facts, today=desk.today)
    start = minute_of(block.since)
    for site in _sites(block, desk):
        claim.site = site
        _want(claim, run, recipe, start, desk)
        if claim.wants.enough:
            break
    if claim.holds:
        claim.takes = _takes(claim, start, desk)
        desk.larder.claim(claim.wants.picks)
    return claim


def _want(claim: GroupClaim, run: RunFacts, recipe: Recipe, start: int, desk: Desk) -> None:
    """What the group takes at its site, without what cannot serve on its day."""
    without = Without()
    while True:
        claim.wants = wants_of(
            run,
            recipe,
            desk.larder,
            without=without,
            minute_of_step=lambda _: start,
            site=claim.site,
        )
        out = _ruled_out(claim, start, desk)
        if out is None or not claim.wants.enough:
            return
        without = without.and_(*out)


def _ruled_out(claim: GroupClaim, start: int, desk: Desk) -> tuple[str, Reason] | None:
    """A thing that is not there yet, or spoiled and not to be put by, on the day."""
    claim.put_by = []
    day = desk.calendar.day_of(start)
    for pick in claim.wants.picks:
        if pick.usable_from > start:
            here = moment_in_words(desk.calendar.moment(pick.usable_from), desk.facts.zone)
            return pick.code, Reason(
                "arrival",
                pick.code,
                say("{code} is not there before {here}", code=pick.code, here=here),
            )
        gone = still_usable(pick, desk.larder, minute=start)
        if gone is not None:
            return pick.code, gone
        if pick.last_good is None or pick.last_good >= day:
            continue
        if not pick.put_by:
            text = say(
                "{code} ends {last_good}, before {day}",
                code=pick.code,
                last_good=day_in_words(pick.last_good),
                day=day_in_words(day),
            )
            return pick.code, because("last good day", pick.code, text, pick.keeps)
        # Hands and room for it are looked for when all runs are placed: its jobs come last.
        claim.put_by.append(pick)
    return None


def _takes(claim: GroupClaim, start: int, desk: Desk) -> tuple[Take, ...]:
    left = dict(desk.larder.left)
    takes = []
    for pick in claim.wants.picks:
        left[pick.code] -= pick.amount
        takes.append(Take(claim.run.code, pick.code, pick.what, pick.amount, pick.unit,
                          desk.calendar.moment(start), left[pick.code], pick.step,
                          length_of(pick.code, pick.amount, desk.facts)))  # fmt: skip
    return tuple(takes)


def prepare_group(claim: GroupClaim, desk: Desk) -> Answer:
    """Place the jobs of a group day as late as they fit, and answer."""
    run, block = claim.run, claim.block
    if not claim.holds or block is None:
        return _no(claim)
    start = minute_of(block.since)
    jobs: list[Job] = []
    steps: list[Placed] = []

    for pick in claim.wants.picks:
        take_from_freezer(pick, start, desk)
    for pick in claim.put_by:
        job = put_by_job(pick, run.code, desk, [], wanted=desk.calendar.day_of(start))
        if isinstance(job, str):
            claim.wants.lacking.append(because("last good day", pick.code, job, pick.keeps))
            return _no(claim)
        book_put_by(job, pick, desk, used=start)
        jobs.append(job)
    for wanted in claim.wants.makings:
        since = keeps_from(wanted.making.bath, start, desk)
        made = make_bath(wanted, run.code, desk, before=start, not_before=since,
                         site=claim.site)  # fmt: skip
        if isinstance(made, str):
            claim.wants.lacking.append(Reason("bath", wanted.making.bath, made))
            return _no(claim)
        jobs.append(made[0])
        steps.extend(placed_round(made[1], run.code, wanted.making, desk))
    at = desk.calendar.moment(start)
    answer = "yes"
    waits: tuple[Reason, ...] = ()
    if not desk.now <= start < desk.until:
        text = say("{what} is on {at}", what=block.what, at=moment_in_words(at, desk.facts.zone))
        answer, waits = "not yet", (Reason("block", block.code, text, at),)
    return Answer(run.code, run.shade, answer, at, None, steps=tuple(steps), takes=claim.takes,
                  waits_for=waits, jobs=tuple(jobs), reasons=tuple(claim.wants.reasons),
                  notes=_slip(claim, desk))  # fmt: skip


def _sites(block: Block, desk: Desk) -> tuple[str, ...]:
    """Where a group day can be: where its rings or pots stand, else at any of the sites."""
    shelf = desk.facts.shelf
    places = {ring.code: ring.site for ring in shelf.rings}
    places.update((vessel.code, vessel.site) for vessel in shelf.vessels)
    taken = next((places[c] for c in (*block.rings, *block.vessels) if places.get(c)), "")
    return (taken,) if taken else desk.facts.sites


def _slip(claim: GroupClaim, desk: Desk) -> tuple[str, ...]:
    """What the take-home slip has to say."""
    assert claim.recipe is not None
    return (*claim.wants.notes, *fading_notes(claim.recipe, desk))


def _no(claim: GroupClaim) -> Answer:
    wants = claim.wants
    return Answer(claim.run.code, claim.run.shade, "no", None, None, short=tuple(wants.short),
                  waits_for=tuple(wants.waits),
                  reasons=(*claim.gates, *wants.lacking, *wants.reasons),
                  barred=(*claim.gates, *wants.lacking),
                  notes=tuple(wants.notes))  # fmt: skip
