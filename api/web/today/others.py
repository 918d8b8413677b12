"""What a day holds beside the steps of runs: chores, lots to be put by, pick-ups."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date, datetime, time

from api.web.note.deeds import to_form
from api.web.this_week.flags import begun_large
from api.web.today.card import StepCard, Tap, done_said, hour, minutes_of_hands
from api.web.today.taps import Taps
from inventory.science.saying import say
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week

Timed = tuple[datetime, StepCard]


def chores(
    facts: WeekFacts, day: date, *, taps: Taps, carried: str, may_write: bool
) -> Iterator[Timed]:
    """Fixed work of a day; one that clears a lot is said with what became of that."""
    for chore in facts.chores:
        if chore.day == day:
            at = None if chore.at is None else chore.at.astimezone(facts.zone)
            way = to_form(say("It is not sound"), "set-aside", carried, {"lot": chore.clears})
            done = None if chore.done_at is None else chore.done_at.astimezone(facts.zone)
            card = StepCard(
                hour(at, day) if at else "",
                begun_large(chore.what),
                state="done" if done else "",
                word=done_said(done, day) if done else "",
                hands=minutes_of_hands(chore.hands_min),
                taps=taps.chore(chore) if may_write else (),
                leads=way if may_write and chore.clears and not done else None,
            )
            yield at or _last(facts, day), card


def lots_to_put_by(
    facts: WeekFacts, week: Week, day: date, *, taps: Taps, carried: str, may_write: bool
) -> Iterator[Timed]:
    """What a run asks to be frozen or dried on a day."""
    for answer in week.answers:
        for job in answer.jobs:
            if job.by == day and job.kind == "put by":
                way = to_form(say("It went otherwise"), "put-by", carried, {"lot": job.lot})
                card = StepCard(
                    "",
                    begun_large(job.text),
                    run=answer.run,
                    shade=answer.shade,
                    hands=minutes_of_hands(job.hands_min),
                    taps=taps.put_by(job, answer) if may_write else (),
                    leads=way if may_write else None,
                )
                yield _last(facts, day), card


def pick_ups(
    facts: WeekFacts, day: date, *, taps: Taps, carried: str, may_write: bool
) -> Iterator[Timed]:
    """Hand-overs of a day, one a source and hour; each leads to its form."""
    met: dict[tuple[datetime, str], list[str]] = {}
    hands: dict[tuple[datetime, str], int] = {}
    told: dict[tuple[datetime, str], tuple[Tap, ...]] = {}
    for row in facts.pick_ups:
        key = row.at.astimezone(facts.zone), row.source
        if key[0].date() == day and row.in_window and not row.missed:
            met.setdefault(key, []).append(row.dyestuff)
            hands[key] = max(hands.get(key, 0), row.hands_min)
            told[key] = told.get(key, ()) + (taps.told(row) if may_write else ())
    for (at, source), gives in met.items():
        said = {"source": source, "gives": gives[0]}
        way = to_form(say("Write down the pick-up"), "pick-up", carried, said)
        card = StepCard(
            hour(at, day),
            say("Pick-up at {source}", source=source),
            takes=tuple(gives),
            hands=minutes_of_hands(hands[at, source]),
            taps=told[at, source],
            leads=way if may_write else None,
        )
        yield at, card


def _last(facts: WeekFacts, day: date) -> datetime:
    """Where what has no hour stands: behind what has one."""
    return datetime.combine(day, time(23, 59), tzinfo=facts.zone)
