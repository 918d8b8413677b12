"""Wishes otherwise: a run due at another moment, of another weight, left out, or one run more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from typing import ClassVar

from inventory.science.saying import say
from sourcing.week.facts import Recipe, RunFacts, ShadeCard, WeekFacts
from sourcing.week.project import HEAVIEST_RUN_MG, RUNS_AT_MOST
from sourcing.week.what_if.change import Fault, each, taken, unknown, without
from sourcing.week.words import kilos, listed

Keys = frozenset[tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class AnotherDueDate:
    """A run is to be dry by another moment; None: whenever it fits."""

    run: str
    due: datetime | None
    order: ClassVar[int] = 2

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("due", self.run)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from _run(facts, self.run)

    def on(self, facts: WeekFacts) -> WeekFacts:
        return replace(facts, runs=each(facts.runs, self.run,
                                        lambda run: replace(run, due=self.due)))  # fmt: skip


@dataclass(frozen=True, slots=True)
class AnotherWeight:
    """A run is of another weight of dry, scoured fibre."""

    run: str
    mg: int
    order: ClassVar[int] = 2

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("weight", self.run)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from _run(facts, self.run)
        yield from _heavy(self.mg)

    def on(self, facts: WeekFacts) -> WeekFacts:
        return replace(facts, runs=each(facts.runs, self.run,
                                        lambda run: replace(run, weight_mg=self.mg)))  # fmt: skip


@dataclass(frozen=True, slots=True)
class RunLeftOut:
    """A run is not wanted; what was claimed for it is free."""

    run: str
    order: ClassVar[int] = 3

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("run", self.run), ("due", self.run), ("weight", self.run)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from _run(facts, self.run)

    def on(self, facts: WeekFacts) -> WeekFacts:
        promised = tuple(row for row in facts.promised if row.run != self.run)
        return replace(facts, runs=without(facts.runs, self.run), promised=promised)


@dataclass(frozen=True, slots=True)
class OneRunMore:
    """One run more: a shade by its recipe, on so much of a fibre, for somebody."""

    run: str
    recipe: str
    fibre: str
    mg: int
    due: datetime | None = None
    for_whom: str = ""
    client: bool = True
    fibre_lot: str = ""
    shade_card: bool | None = None  # approved or not; None: as for other runs of shade and fibre
    order: ClassVar[int] = 1

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("run", self.run)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from taken("run", self.run, "run", (run.code for run in facts.runs))
        yield from _heavy(self.mg)
        recipes = {recipe.code: recipe for recipe in facts.recipes}
        yield from unknown("recipe", self.recipe, "recipe", recipes)
        recipe = recipes.get(self.recipe)
        if recipe is not None and self.fibre not in recipe.fibres:
            text = say(
                "{shade} is worked out for {fibres}, not {fibre}.",
                shade=recipe.shade,
                fibres=listed(recipe.fibres),
                fibre=self.fibre,
            )
            yield Fault("fibre", say("{text} Say one of them.", text=text))
        if self.fibre_lot:
            lots = (row.code for row in facts.shelf.fibre if row.fibre == self.fibre)
            yield from unknown(
                "fibre_lot", self.fibre_lot, say("lot of {fibre}", fibre=self.fibre), lots
            )
        if len(facts.runs) >= RUNS_AT_MOST:
            yield Fault(
                "run",
                say(
                    "{runs_at_most:,} runs are wanted already. Leave one out.",
                    runs_at_most=RUNS_AT_MOST,
                ),
            )

    def on(self, facts: WeekFacts) -> WeekFacts:
        recipe = next(row for row in facts.recipes if row.code == self.recipe)
        run = RunFacts(
            self.run, recipe.shade, self.recipe, self.fibre, self.mg, self.fibre_lot, self.due,
            for_whom=self.for_whom, client=self.client, shade_card=self._card(facts, recipe),
        )  # fmt: skip
        return replace(facts, runs=tuple(sorted((*facts.runs, run), key=lambda run: run.code)))

    def _card(self, facts: WeekFacts, recipe: Recipe) -> ShadeCard | None:
        if self.shade_card is not None:
            return ShadeCard(self.shade_card)
        cards = [run.shade_card for run in facts.runs if run.shade_card is not None
                 and (run.shade, run.fibre) == (recipe.shade, self.fibre)]  # fmt: skip
        return ShadeCard(any(card.approved and card.exists for card in cards)) if cards else None


def _run(facts: WeekFacts, code: str) -> Iterator[Fault]:
    yield from unknown("run", code, "run", (run.code for run in facts.runs))


def _heavy(mg: int) -> Iterator[Fault]:
    if mg > HEAVIEST_RUN_MG:
        text = say(
            "{mg} asked for; a run of {heaviest_run_mg} at most is worked out.",
            mg=kilos(mg),
            heaviest_run_mg=kilos(HEAVIEST_RUN_MG),
        )
        yield Fault("weight", say("{text} Say less, or ask in several runs.", text=text))
