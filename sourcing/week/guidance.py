"""What a plan is told beside its facts: in which order runs are placed, and what is not begun yet.

The placer's own rules stand as they are, so whatever it makes under a guidance keeps every rule.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from sourcing.week.facts import RunFacts
from sourcing.week.moments import minute_of

if TYPE_CHECKING:
    from sourcing.week.plan import Answer


@dataclass(frozen=True, slots=True)
class Floor:
    """A step of a run that is not begun before a minute."""

    run: str
    step: str
    not_before: int
    stays: bool = False  # it begins at that minute: its run is placed before those without


@dataclass(frozen=True, slots=True)
class Together:
    """A run that goes with another through its first steps, in that run's pots."""

    leader: str
    follower: str
    upto: str  # name of the follower's last step that is shared; those before it are shared too


@dataclass(frozen=True, slots=True)
class Guidance:
    """An order of runs, steps that wait, sites and shared pots.

    The same guidance makes the same plan again.
    """

    order: tuple[str, ...] = ()  # codes; runs that are not named follow by due date
    floors: tuple[Floor, ...] = ()  # any order, at most one a run and step
    sites: tuple[tuple[str, str], ...] = ()  # run and the only site where it is worked
    together: tuple[Together, ...] = ()  # any order, at most one a follower; no leader follows

    def in_turn(self, runs: Iterable[RunFacts]) -> list[RunFacts]:
        """Runs in the order in which they are placed, each follower right behind its leader."""
        places = {code: number for number, code in enumerate(self.order)}
        last, first = len(places), self._first()
        rows = sorted(runs, key=lambda run: (run.code not in first, places.get(run.code, last),
                                             in_order(run)))  # fmt: skip
        behind = {run.code: [row.follower for row in self.followers_of(run.code)] for run in rows}
        led = {code for codes in behind.values() for code in codes}
        by_code = {run.code: run for run in rows}
        found = []
        for run in rows:
            if run.code not in led:
                found.append(run)
                found.extend(by_code[code] for code in behind[run.code] if code in by_code)
        return found

    def _first(self) -> set[str]:
        """Runs of which a step stays at its hour, and those in whose pots they are."""
        mine = {row.run for row in self.floors if row.stays}
        return mine | {row.leader for row in self.together if row.follower in mine}

    def held_to(self, stays: Iterable[Floor]) -> Guidance:
        """The same with some steps at their hours, whatever it says of these steps itself."""
        kept = {(row.run, row.step): row for row in stays}
        if not kept:
            return self
        others = (row for row in self.floors if (row.run, row.step) not in kept)
        return replace(self, floors=(*others, *kept.values()))

    @property
    def stays(self) -> tuple[Floor, ...]:
        """Steps that stay at their hour."""
        return tuple(row for row in self.floors if row.stays)

    def followers_of(self, leader: str) -> tuple[Together, ...]:
        """Runs that share pots of a run, by code; none where it follows another itself."""
        if not self.together or any(row.follower == leader for row in self.together):
            return ()
        mine = {row.follower: row for row in reversed(self.together) if row.leader == leader}
        return tuple(mine[code] for code in sorted(mine))

    def floors_of(self, run: str) -> dict[str, int]:
        """Minutes before which steps of a run are not begun."""
        return {row.step: row.not_before for row in self.floors if row.run == run}

    def site_of(self, run: str) -> str | None:
        """The only site where a run is worked; None: the one where it is dry first."""
        return next((site for code, site in self.sites if code == run), None)

    def holding(self, answers: Mapping[str, Answer]) -> Guidance:
        """The same with some runs placed first, no step of theirs sooner than in their answers.

        From unchanged facts they get the same hours again; after a surprise they move as little
        as the rules let them.
        """
        order = [*answers, *(code for code in self.order if code not in answers)]
        floors = [row for row in self.floors if row.run not in answers or row.stays]
        pinned = {(row.run, row.step) for row in self.stays}
        for code, answer in answers.items():
            starts: dict[str, int] = {}
            for row in answer.steps:
                minute = minute_of(row.start)
                starts[row.step] = min(minute, starts.get(row.step, minute))
            floors.extend(Floor(code, step, minute) for step, minute in starts.items()
                          if (code, step) not in pinned)  # fmt: skip
        return Guidance(
            tuple(order) if answers else self.order, tuple(floors), self.sites, self.together
        )


PLAIN = Guidance()


def in_order(run: RunFacts) -> tuple[bool, int, str]:
    """Due date, then code; undated last."""
    return (run.due is None, 0 if run.due is None else minute_of(run.due), run.code)
