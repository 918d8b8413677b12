"""A run's part in pots that it shares: as the one that leads, or as one that goes with it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace

from sourcing.week.desk import Desk
from sourcing.week.facts import RunFacts
from sourcing.week.fits import Bump, Fit, Placement
from sourcing.week.guidance import Together
from sourcing.week.place import Placer
from sourcing.week.sharing import Sharer, in_one_pot
from sourcing.week.stages import Stage, with_others
from sourcing.week.wants import Without, wants_of


@dataclass
class Leading:
    """The run in whose pots the others go along."""

    desk: Desk
    followers: tuple[tuple[RunFacts, Together], ...]
    later: dict[str, int] = field(default_factory=dict)  # its steps that wait for a follower
    placement: Placement | None = None  # as it is booked
    placer: Placer | None = None
    alone: Sharer | None = None  # with its stages as they would be without the others
    _others: dict[str, list[Sharer] | None] = field(default_factory=dict)  # by site

    def placers(self, placers: Iterable[Placer]) -> list[Placer]:
        return list(placers)

    def stages(self, mine: Sharer, placer: Placer) -> tuple[Stage, ...] | None:
        """Its stages with the others' cloth in those that they share; None: they cannot."""
        others = self._sharers(placer)
        if others is None:
            return None
        into: dict[int, list[tuple[Sharer, Stage]]] = {}
        for other, (_, row) in zip(others, self.followers, strict=True):
            found = self.shared(mine, other, row)
            if found is None:
                return None
            first, count = found
            for number in range(count):
                into.setdefault(first + number, []).append((other, other.stages[number]))
        made = list(mine.stages)
        for index, sharers in into.items():
            stage = self._widened(mine, index, sharers, placer)
            if stage is None:
                return None
            made[index] = stage
        return tuple(made)

    def place(
        self, mine: Sharer, stages: tuple[Stage, ...], floors: list[int], placer: Placer
    ) -> Placement:
        return placer.place(stages, floors)

    def keep(self, mine: Sharer, placement: Placement, placer: Placer) -> None:
        """Take down what is booked."""
        self.alone, self.placement, self.placer = mine, placement, placer

    def shared(self, mine: Sharer, other: Sharer, row: Together) -> tuple[int, int] | None:
        """The first stage of its own that is shared with another, and how many are."""
        return in_one_pot(mine, other, row.upto, self.desk.facts.figures, on=self.desk.today)

    def _sharers(self, placer: Placer) -> list[Sharer] | None:
        """The others as they are at a site, before anything is claimed; None: one cannot be."""
        site = placer.room.site
        if site not in self._others:
            found = [self._sharer(run, placer) for run, _ in self.followers]
            there = [row for row in found if row is not None]
            self._others[site] = there if len(there) == len(found) else None
        return self._others[site]

    def _sharer(self, run: RunFacts, placer: Placer) -> Sharer | None:
        desk, recipe = self.desk, self.desk.recipes.get(run.recipe)
        if recipe is None or desk.guidance.site_of(run.code) not in (None, placer.room.site):
            return None
        desk.larder.open_for(run.code)
        wants = wants_of(run, recipe, desk.larder, without=Without(),
                         minute_of_step=lambda _: None, site=placer.room.site)  # fmt: skip
        if not wants.enough and desk.carries:
            wants = wants_of(run, recipe, desk.larder, without=Without(), far=True,
                             minute_of_step=lambda _: None, site=placer.room.site)  # fmt: skip
        desk.larder.keep_for(run.code)
        if not wants.enough:
            return None
        return Sharer(run, recipe, wants.fibre, desk.stages(run, recipe, wants.fibre, placer))

    def _widened(
        self, mine: Sharer, index: int, others: list[tuple[Sharer, Stage]], placer: Placer
    ) -> Stage | None:
        # Stages are made once and kept, so their id stands for them.
        with_them = tuple((row.run.code, row.recipe.code, id(stage)) for row, stage in others)
        key = (id(mine.stages), index, with_them)
        known = self.desk.widened
        if key not in known:
            known[key] = with_others(
                mine.stages,
                index,
                mine.recipe,
                placer.room,
                placer.house,
                others=tuple(stage for _, stage in others),
                bright=any(row.recipe.bright for row in (mine, *(row for row, _ in others))),
                shared_with=tuple(row.run.code for row, _ in others),
            )
        return known[key]


@dataclass
class Led:
    """A run that goes with another through its first steps."""

    leading: Leading
    row: Together
    wait: tuple[str, int] | None = None  # a step of the leader, and before when it is too soon

    def placers(self, placers: Iterable[Placer]) -> list[Placer]:
        """Only where the leader is."""
        return [placer for placer in placers if placer is self.leading.placer]

    def stages(self, mine: Sharer, placer: Placer) -> tuple[Stage, ...] | None:
        """Its stages, the first of them in the leader's pots; None: they are not the same work."""
        found = self._shared(mine)
        if found is None or self.leading.placement is None:
            return None
        first, count = found
        fits = self.leading.placement.fits[first : first + count]
        if any(mine.run.code not in fit.stage.shared_with for fit in fits):
            return None
        led = [self._led(fit, stage) for fit, stage in zip(fits, mine.stages, strict=False)]
        return (*led, *mine.stages[count:])

    def place(
        self, mine: Sharer, stages: tuple[Stage, ...], floors: list[int], placer: Placer
    ) -> Placement:
        """Its own steps after the shared ones; where these are too soon for it, nothing is."""
        found = self._shared(mine)
        assert found is not None
        assert self.leading.placement is not None
        first, count = found
        fits = self.leading.placement.fits[first : first + count]
        nowhere = Placement([], [], done=False)
        for fit, floor in zip(fits, floors, strict=False):
            if floor > fit.start:
                self.wait = fit.stage.step.name, floor
                return nowhere
        missed: list[Bump] = []
        settled = tuple(_led_fit(fit, stage) for fit, stage in zip(fits, stages, strict=False))
        placement = placer.place(stages, floors, settled=settled, missed=missed)
        if missed:
            last = max(missed, key=lambda bump: bump.not_before)
            self.wait = fits[last.index].stage.step.name, last.not_before
            return nowhere
        self.wait = None
        return placement

    def keep(self, mine: Sharer, placement: Placement, placer: Placer) -> None:
        """The leader has booked the pots."""

    def _shared(self, mine: Sharer) -> tuple[int, int] | None:
        alone = self.leading.alone
        return None if alone is None else self.leading.shared(alone, mine, self.row)

    def _led(self, fit: Fit, mine: Stage) -> Stage:
        """The leader's stage with this run's name for it and its own part of the cloth."""
        codes = (self.row.leader, *fit.stage.shared_with)
        others = tuple(code for code in codes if code != self.row.follower)
        return replace(fit.stage, step=mine.step, own_mg=mine.weight_mg, shared_with=others)


def _led_fit(fit: Fit, stage: Stage) -> Fit:
    """A leader's stage in time as one that goes with it has it: the hands are the leader's."""
    rounds = [replace(done, hands_min=0) for done in fit.rounds]
    return Fit(stage, fit.option, rounds, fit.held_until, led=True)
