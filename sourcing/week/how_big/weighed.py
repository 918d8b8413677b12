"""One run at another weight, placed at its turn: what was placed before it stays where it is."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from sourcing.week.answer import answer_run
from sourcing.week.desk import Desk
from sourcing.week.facts import Recipe, RunFacts, WeekFacts
from sourcing.week.plan import Answer, Shortage, Week
from sourcing.week.project import project, worked_out
from sourcing.week.stages import Stage
from sourcing.week.unlocking.turn import Turn, desk_at
from sourcing.week.wants import Without, wants_of
from sourcing.week.what_if.cloth import with_cloth_only


@dataclass
class Weighed:
    """A wanted run whose weight is asked about."""

    facts: WeekFacts
    code: str
    days: int
    desk: Desk  # on which the week was worked out
    turn: Turn
    _known: dict[int, tuple[Answer, Desk]] = field(default_factory=dict)
    _short: dict[int, tuple[Shortage, ...]] = field(default_factory=dict)
    _weeks: dict[int, Week] = field(default_factory=dict)

    @property
    def run(self) -> RunFacts:
        """The run as it is wanted, or as it was asked about."""
        return next(run for run in self.facts.runs if run.code == self.code)

    @property
    def recipe(self) -> Recipe:
        """How it is dyed."""
        return self.desk.recipes[self.run.recipe]

    def facts_at(self, mg: int) -> WeekFacts:
        """The week's facts with the run of such a weight."""
        runs = tuple(
            replace(run, weight_mg=mg) if run.code == self.code else run for run in self.facts.runs
        )
        return replace(self.facts, runs=runs)

    def at(self, mg: int) -> tuple[Answer, Desk]:
        """The run's answer at a weight, and the desk it lies on."""
        known = self._known.get(mg)
        if known is None:
            desk = self.desk_at(mg)
            desk.larder.open_for(self.code)
            run = next(run for run in desk.facts.runs if run.code == self.code)
            known = self._known[mg] = (answer_run(run, desk), desk)
        return known

    def week_at(self, mg: int) -> Week:
        """The whole week with the run of such a weight."""
        week = self._weeks.get(mg)
        if week is None:
            facts = self.facts_at(mg)
            week = self._weeks[mg] = with_cloth_only(project(facts, days=self.days), facts)
        return week

    def desk_at(self, mg: int) -> Desk:
        """A desk of the run's turn, the run being of such a weight and not placed yet."""
        return desk_at(self.turn, self.facts_at(mg), days=self.days, like=self.desk)

    def short_at(self, mg: int) -> tuple[Shortage, ...]:
        """What there is too little of for a weight, whatever the hours; at the site of least."""
        found = self._short.get(mg)
        if found is None:
            run = replace(self.run, weight_mg=mg)
            found = self._short[mg] = min(
                (self._short_of(run, site) for site in self._larder_desk.facts.sites), key=len
            )
        return found

    def _short_of(self, run: RunFacts, site: str) -> tuple[Shortage, ...]:
        wants = wants_of(run, self.recipe, self._larder_desk.larder, without=Without(),
                         minute_of_step=_at_no_hour, site=site,
                         far=self._larder_desk.carries)  # fmt: skip
        return tuple(wants.short)

    def stages_at(self, mg: int) -> tuple[Stage, ...]:
        """The run's steps for a weight, at the main site, on the fibre that it would take."""
        desk = self._larder_desk
        run = replace(self.run, weight_mg=mg)
        site = desk.facts.sites[0]
        wants = wants_of(run, self.recipe, desk.larder, without=Without(),
                         minute_of_step=_at_no_hour, site=site, far=desk.carries)  # fmt: skip
        return desk.stages(run, self.recipe, wants.fibre, desk.placers[site])

    def __post_init__(self) -> None:
        # Amounts are asked of one desk again and again: nothing is claimed there.
        self._larder_desk = self.desk_at(self.run.weight_mg)
        self._larder_desk.larder.open_for(self.code)


def _at_no_hour(_: str) -> None:
    """When a step is placed: it is not."""
    return


def weighed(facts: WeekFacts, code: str, *, days: int) -> Weighed:
    """A wanted run at its turn in the week, to be asked about at other weights."""
    desk, _, turns = worked_out(facts, days, turns=True)
    return Weighed(facts, code, days, desk, turns[code])
