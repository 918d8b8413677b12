"""One run's part of a plan, put in the order of its recipe: stages, rounds, loads.

Loads that go in together are a round; the rounds of one step are a stage.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from decimal import Decimal

from inventory.science.catalogue import find_figure
from inventory.science.facts import FibreFacts
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.facts import Recipe, RunFacts, Step
from sourcing.week.plan import Answer, Placed, Take

MAKES = "make "  # a bath that is made for a run
SNIPPET = "snippet"  # dyed in a jug of the extract before the cloth
CARRY = "carry"  # something is fetched from another site
APART = (SNIPPET, CARRY)  # kinds of steps that are none of the cloth's own
STANDS_ATTENDED = "after-bath"  # its standing is watched, so it is no standing overnight


@dataclass(frozen=True, slots=True)
class Load:
    """A placed load with its moments as minutes."""

    placed: Placed
    start: int
    end: int
    held_until: int
    over_flame: int  # minutes
    others: tuple[Placed, ...] = ()  # other runs' cloth in the same vessel
    others_dye_loads: int = 0  # pots into which what is strained goes for the others

    @property
    def lit_until(self) -> int:
        return self.start + self.over_flame

    @property
    def together_mg(self) -> int:
        """All cloth in the vessel."""
        return self.placed.weight_mg + sum(row.weight_mg for row in self.others)

    @property
    def together_l(self) -> Decimal:
        """All liquor in the vessel."""
        return self.placed.litres + sum((row.litres for row in self.others), Decimal(0))


@dataclass(slots=True)
class Round:
    """Loads of one step that go in together."""

    loads: list[Load]

    @property
    def start(self) -> int:
        return min(load.start for load in self.loads)

    @property
    def end(self) -> int:
        return max(load.end for load in self.loads)

    @property
    def vessels(self) -> set[str]:
        return {load.placed.vessel for load in self.loads if load.placed.vessel}

    @property
    def weight_mg(self) -> int:
        return sum(load.placed.weight_mg for load in self.loads)


@dataclass(slots=True)
class Stage:
    """One step with the rounds in which it is worked."""

    step: Step
    rounds: list[Round]

    @property
    def loads(self) -> list[Load]:
        return [load for part in self.rounds for load in part.loads]

    @property
    def start(self) -> int:
        return self.rounds[0].start

    @property
    def end(self) -> int:
        return max(part.end for part in self.rounds)

    @property
    def others_dye_loads(self) -> int:
        return max(load.others_dye_loads for load in self.loads)

    @property
    def last_start(self) -> int:
        return max(part.start for part in self.rounds)


@dataclass
class Sheet:
    """A run as placed."""

    run: RunFacts
    recipe: Recipe
    answer: Answer
    fibre: list[FibreFacts]
    site: str
    stages: list[Stage]
    strangers: list[Placed] = field(default_factory=list)  # steps that the recipe has not
    snippets: list[Placed] = field(default_factory=list)
    carries: list[Placed] = field(default_factory=list)  # ways to another site

    @property
    def code(self) -> str:
        return self.run.code

    @property
    def loads(self) -> list[Load]:
        return [load for stage in self.stages for load in stage.loads]

    def stage(self, name: str) -> Stage | None:
        return next((stage for stage in self.stages if stage.step.name == name), None)

    @property
    def dye_loads(self) -> int:
        """Pot-loads of the first step that dyes, 1 if none does."""
        return dye_loads(self.stages)

    @property
    def parting(self) -> int | None:
        """Number of the first stage whose rounds go their own ways; None: all wait for all.

        Loads one after another share no overnight hold, and a bath that a later step comes back
        to is not tipped out for the next load. What stands before them stands for its own round.
        """
        own = self._own_ways
        if own is None:
            return None
        while own and stands(self.stages[own - 1].step):
            own -= 1
        return own

    @property
    def _own_ways(self) -> int | None:
        for number, stage in enumerate(self.stages):
            after = self.stages[number + 1].step if number + 1 < len(self.stages) else None
            comes_back = after is not None and "same" in after.vessels
            overnight = stage.step.kind == "dye" and stage.step.night
            if len(stage.rounds) > 1 and (comes_back or overnight):
                return number
        return None

    def chains(self) -> list[list[Stage]]:
        """The order in which each piece of cloth goes through the steps."""
        first, own = self.parting, self._own_ways
        if first is None or own is None:
            return [self.stages]
        head, tail = self.stages[:first], self.stages[first:]
        parts = [_parts(stage, self.stages[own]) for stage in tail]
        return [
            [
                *head,
                *(
                    Stage(stage.step, part[number])
                    for stage, part in zip(tail, parts, strict=True)
                    if part[number]
                ),
            ]
            for number in range(len(self.stages[own].rounds))
        ]

    def later_loads(self) -> set[int]:
        """Loads, by identity, of the first own step of every round but the first."""
        first = self.parting
        if first is None:
            return set()
        return {
            id(load)
            for chain in self.chains()[1:]
            for stage in chain[first : first + 1]
            for load in stage.loads
        }

    def hung(self) -> list[tuple[int, int]]:
        """End of the last step and weight of each lot of cloth that is hung together."""
        if not self.stages:
            return []
        return [
            (chain[-1].end, sum(load.placed.weight_mg for load in chain[-1].loads))
            for chain in self.chains()
        ]


def stands(step: Step) -> bool:
    """Whether a step stands in its liquor unwatched until the next one takes it."""
    return step.stand_min > 0 and step.kind not in (STANDS_ATTENDED, "rinse")


def dye_loads(stages: Iterable[Stage]) -> int:
    """Pot-loads of the first step that dyes, 1 if none does."""
    return next((len(stage.loads) for stage in stages if stage.step.kind == "dye"), 1)


def _parts(stage: Stage, own: Stage) -> list[list[Round]]:
    """A stage's rounds, dealt out to the rounds that go their own ways: by number, else weight."""
    if stage is own:
        return [[part] for part in own.rounds]
    by_number: dict[int, list[Round]] = {}
    for part in stage.rounds:
        by_number.setdefault(part.loads[0].placed.round, []).append(part)
    wanted = {part.loads[0].placed.round: part.weight_mg for part in own.rounds}
    if {
        number: sum(part.weight_mg for part in parts) for number, parts in by_number.items()
    } == wanted:
        return [by_number[part.loads[0].placed.round] for part in own.rounds]
    return _by_weight(stage, own)


def _by_weight(stage: Stage, own: Stage) -> list[list[Round]]:
    """Rounds in order, each going on with the part that its weight still fits."""
    parts: list[list[Round]] = [[] for _ in own.rounds]
    number, carried = 0, 0
    for part in stage.rounds:
        if number >= len(parts):
            break
        parts[number].append(part)
        carried += part.weight_mg
        if carried + len(part.loads) >= own.rounds[number].weight_mg:
            number, carried = number + 1, 0
    return parts


def as_load(placed: Placed) -> Load:
    over_flame = placed.heat_min + placed.hold_min if placed.ring else 0
    return Load(
        placed,
        minute_of(placed.start),
        minute_of(placed.end),
        minute_of(placed.held_until),
        over_flame,
    )


def in_rounds(placed: Iterable[Placed]) -> list[Round]:
    """Loads by the round they are written under and their start, the earliest first."""
    rounds: dict[tuple[int, int], Round] = {}
    for load in sorted(map(as_load, placed), key=lambda load: (load.start, load.placed.round)):
        rounds.setdefault((load.start, load.placed.round), Round([])).loads.append(load)
    return list(rounds.values())


def sheet_of(answer: Answer, ground: Ground) -> Sheet:
    """A run's sheet, its stages in the recipe's order; known run and recipe."""
    run = ground.runs[answer.run]
    recipe = with_wetting(ground.recipes[run.recipe], run, ground)
    stages = []
    known = {step.name for step in recipe.steps}
    for step in recipe.steps:
        mine = [placed for placed in answer.steps if placed.step == step.name]
        if mine:
            stages.append(Stage(step, in_rounds(mine)))
    strangers = [
        placed
        for placed in answer.steps
        if placed.step not in known
        and not placed.step.startswith(MAKES)
        and placed.kind not in APART
    ]
    snippets = [placed for placed in answer.steps if placed.kind == SNIPPET]
    carries = [placed for placed in answer.steps if placed.kind == CARRY]
    fibre = fibre_taken(answer.takes, run, ground)
    return Sheet(run, recipe, answer, fibre, _site(answer, fibre, ground), stages, strangers,
                 snippets, carries)  # fmt: skip


def fetched_in(row: Placed, takes: Iterable[Take]) -> list[Take]:
    """What is fetched on one way to another site."""
    return [
        take for take in takes
        if take.carried_from and row.step == f"carry from {take.carried_from}"
        and row.round == take.carried_round
    ]  # fmt: skip


def with_wetting(recipe: Recipe, run: RunFacts, ground: Ground) -> Recipe:
    """A recipe whose wetting out lasts as long as the run's fibre asks, where it gives no time."""
    found = find_figure(ground.facts.figures, run.fibre, "wet_out_h", on=ground.today)
    if found is None:
        return recipe
    least = round(found.value * 60)
    most = None if found.high is None else max(least, round(found.high * 60))
    steps = tuple(
        replace(step, stand_min=least, stand_max=most)
        if step.kind == "wet out" and not step.stand_min
        else step
        for step in recipe.steps
    )
    return replace(recipe, steps=steps)


def fibre_taken(takes: Iterable[Take], run: RunFacts, ground: Ground) -> list[FibreFacts]:
    """The lots of fibre that a run takes, else the one that it is meant for."""
    taken = [ground.fibre[take.source] for take in takes if take.source in ground.fibre]
    if taken:
        return taken
    return [ground.fibre[run.fibre_lot]] if run.fibre_lot in ground.fibre else []


def sites_of(answer: Answer, ground: Ground) -> set[str]:
    """The sites of the vessels, rings and line that a run uses, baths made for it apart."""
    sites = set()
    own = [placed for placed in answer.steps if not placed.step.startswith(MAKES)]
    for placed in own:
        if placed.vessel in ground.vessels:
            sites.add(ground.vessels[placed.vessel].site)
        if placed.ring in ground.rings:
            sites.add(ground.rings[placed.ring].site)
    if answer.line in ground.lines:
        sites.add(ground.lines[answer.line].site)
    return sites - {""}


def _group_sites(answer: Answer, ground: Ground) -> set[str]:
    """Where a group day is held: where the first ring or pot that it takes stands."""
    run = next((row for row in ground.facts.runs if row.code == answer.run), None)
    for block in ground.facts.blocks:
        if run is None or not run.group_block or block.code != run.group_block:
            continue
        places = [ground.rings[code].site for code in block.rings if code in ground.rings]
        places += [ground.vessels[code].site for code in block.vessels if code in ground.vessels]
        return {place for place in places if place and place == next(filter(None, places))}
    return set()


def _site(answer: Answer, fibre: list[FibreFacts], ground: Ground) -> str:
    sites = sites_of(answer, ground) or _group_sites(answer, ground)
    sites = sites or ({lot.site for lot in fibre} - {""})
    # A group day that takes no room is where its things lie.
    sites = sites or ({ground.site_of(row.source) for row in answer.takes} - {""})
    return min(sites) if sites else (ground.facts.sites[0] if ground.facts.sites else "")
