"""One search from its asking to its end, in one hand: never in a transaction or a request.

The hand is a lease that is renewed while the search tells how far it has come; where a process
was killed it lapses, and the next one begins the search afresh.
"""

from __future__ import annotations

import logging
import time
from collections.abc import Callable
from dataclasses import asdict, replace
from datetime import timedelta
from typing import Any
from uuid import UUID, uuid4
from zoneinfo import ZoneInfo

from django.db.models import F, Q
from django.utils import timezone

from api.models.seeks import BROKEN_OFF, FOUND, OPEN, SEEKING, Seek
from api.seeking.asked import runs_to_stay, steps_to_stay
from inventory.errors import LarderError
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.science.figures import NoFigure
from inventory.science.saying import say
from sourcing.outlook import facts_at
from sourcing.taken import STAYS
from sourcing.week.best import Best, Goals, Progress, best
from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import Floor, Guidance
from sourcing.week.moments import minute_of, moment_of
from sourcing.week.plan import Answer, Week
from sourcing.week.project import project

LOG = logging.getLogger(__name__)
HOLD = timedelta(seconds=60)
TOLD_EVERY_S = 0.5
TRIES_AT_MOST = 3
UTC = ZoneInfo("UTC")
BROKE = "It broke off, and nothing was changed. Ask once more."
TOO_OFTEN = "It broke off three times, and nothing was changed. The week stays as it is."


def waiting() -> list[int]:
    """Searches that nobody has in hand, the oldest first."""
    rows = Seek.everywhere().filter(OPEN, _free(), tries__lt=TRIES_AT_MOST)
    return list(rows.order_by("id").values_list("pk", flat=True)[:10])


def work(pk: int, *, clock: Callable[[], float] = time.monotonic) -> bool:
    """Look for the week of one search; False where another has it in hand or it is over."""
    hand = uuid4()
    if not _take(pk, hand):
        return False
    seek = Seek.everywhere().select_related("studio").get(pk=pk)
    try:
        with said_in_words():
            found = _sought(seek, _Telling(seek.pk, hand, clock), clock)
    except (LarderError, NoFigure, ValueError) as error:
        _end(pk, hand, state=BROKEN_OFF, said=str(error)[:300])
    except Exception:
        LOG.exception("A search for a better week broke off.")
        _end(pk, hand, state=BROKEN_OFF, said=BROKE)
    else:
        _end(pk, hand, state=FOUND, found=found_as_json(found))
    return True


def _sought(seek: Seek, telling: _Telling, clock: Callable[[], float]) -> Best:
    studio: Studio = seek.studio
    facts = facts_at(studio, at=seek.at, days=seek.days)
    week = project(facts, days=seek.days)
    stay = runs_to_stay(seek)
    pins = {row.run: row for row in week.answers if row.run in stay and _can_stay(row, facts)}
    found = best(facts, days=seek.days, told=telling.tell, stop=telling.stop, clock=clock,
                 pins=pins, stays=_stays(seek, week), near=week if seek.near else None)  # fmt: skip
    return replace(found, guidance=found.guidance.holding(pins))


def _can_stay(answer: Answer, facts: WeekFacts) -> bool:
    """Whether a run has hours to keep; one that is begun keeps them anyway."""
    first = answer.first_step_at
    return bool(answer.steps) and first is not None and first >= facts.at


def _stays(seek: Seek, week: Week) -> list[Floor]:
    """Steps at the hours that they have in the week as it is; those of begun runs stay anyway."""
    answers = {answer.run: answer for answer in week.answers}
    found = []
    for run, step in steps_to_stay(seek):
        answer = answers.get(run)
        if answer is not None and answer.begun_at is not None:
            continue
        starts = [row.start for row in answer.steps if row.step == step] if answer else []
        if not starts:
            raise ValueError(
                say("{step} of run {run} is to stay at its hour, but it has none.", step=step,
                    run=run)
            )  # fmt: skip
        found.append(Floor(run, step, minute_of(min(starts)), stays=True))
    return found


class _Telling:
    """Tells the table how far it has come, and asks it whether somebody had enough."""

    def __init__(self, pk: int, hand: UUID, clock: Callable[[], float]) -> None:
        self.pk, self.hand, self.clock = pk, hand, clock
        self._told_at = self._asked_at = clock() - TOLD_EVERY_S
        self._last: Progress | None = None
        self._stopped = False

    def tell(self, progress: Progress) -> None:
        """Keep what came last; the table hears of it every half second."""
        self._last = progress

    def stop(self) -> bool:
        """Whether it is to leave off: somebody said so, or another has it in hand."""
        now = self.clock()
        if now - self._asked_at < TOLD_EVERY_S or self._stopped:
            return self._stopped
        self._asked_at = now
        values: dict[str, Any] = {"hand_until": timezone.now() + HOLD}
        if self._last is not None:
            values["progress"] = progress_as_json(self._last)
        mine = Seek.everywhere().filter(pk=self.pk, hand=self.hand, state=SEEKING)
        held = mine.update(**values)
        self._stopped = not held or mine.filter(stop_at__isnull=False).exists()
        return self._stopped


def _free() -> Q:
    return Q(hand__isnull=True) | Q(hand_until__lt=timezone.now())


def _take(pk: int, hand: UUID) -> bool:
    rows = Seek.everywhere().filter(OPEN, _free(), pk=pk)
    worn = rows.filter(tries__gte=TRIES_AT_MOST)
    if worn.update(state=BROKEN_OFF, said=TOO_OFTEN, ended_at=timezone.now()):
        return False
    until = timezone.now() + HOLD
    taken = rows.update(state=SEEKING, hand=hand, hand_until=until, tries=F("tries") + 1)
    return bool(taken)


def _end(pk: int, hand: UUID, **values: Any) -> None:
    mine = Seek.everywhere().filter(pk=pk, hand=hand, state=SEEKING)
    mine.update(ended_at=timezone.now(), hand=None, hand_until=None, **values)


def progress_as_json(progress: Progress) -> dict[str, object]:
    """How far a search has come, for its row."""
    return {
        "goals": asdict(progress.goals),
        "bound": _goals(progress.bound),
        "placings": progress.placings,
        "part": progress.part,
    }


def found_as_json(found: Best) -> dict[str, object]:
    """What was found, for its row: what makes it again, and how good it is."""
    return {
        "guidance": guidance_as_json(found.guidance),
        "goals": asdict(found.goals),
        "plain": asdict(found.plain),
        "bound": _goals(found.bound),
        "status": found.status,
        "gap": found.gap,
        "open_goal": found.open_goal,
        "placings": found.placings,
        "seconds": found.sought_s,
    }


def guidance_as_json(guidance: Guidance) -> dict[str, object]:
    """A guidance as plain lists, its moments in words."""
    return {
        "order": list(guidance.order),
        "floors": [
            [
                row.run,
                row.step,
                moment_of(row.not_before, UTC).isoformat(),
                *([STAYS] if row.stays else []),
            ]
            for row in guidance.floors
        ],
        "sites": [list(row) for row in guidance.sites],
        "together": [[row.leader, row.follower, row.upto] for row in guidance.together],
    }


def _goals(goals: Goals | None) -> dict[str, object] | None:
    return None if goals is None else asdict(goals)
