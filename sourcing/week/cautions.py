"""Which cautions stand in a week: of every run that may be dyed, and of every jar on the shelf."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from decimal import Decimal

from inventory.science.catalogue import find_figure
from inventory.science.cautions import Caution, cautions_for_jar, cautions_for_run
from inventory.science.days import local_day
from inventory.science.facts import JarFacts
from inventory.science.liquor import liquor_at
from sourcing.week.facts import Recipe, RunFacts, WeekFacts
from sourcing.week.plan import Answer
from sourcing.week.second_bath import dyed_in, firsts, metal_in


@dataclass(frozen=True, slots=True)
class Stands:
    """One caution where it belongs: at a run, or at a jar."""

    caution: Caution
    run: str = ""
    jar: str = ""


@dataclass(frozen=True)
class Ground:
    """What the cautions of every run are looked up in."""

    wanted: Mapping[str, RunFacts]
    dyestuffs: Mapping[str, str]  # by code of the lot
    metals: Mapping[str, str]  # by code of the jar
    supplies: frozenset[str]
    fugitive: frozenset[str]
    foraged: frozenset[str]
    own: Mapping[str, str]
    two_person_l: Decimal | None
    # By recipe, what is in the bath that it follows in: dyestuffs, metals.
    before: Mapping[str, tuple[tuple[str, ...], tuple[str, ...]]]


def ground_of(facts: WeekFacts, *, runs: Iterable[RunFacts] | None = None) -> Ground:
    """The shelves of a week, ready to be asked for run after run; None: all runs of the week."""
    limit = find_figure(
        facts.figures, "studio", "two_person_l", on=local_day(facts.at, zone=facts.zone)
    )
    return Ground(
        wanted={run.code: run for run in (facts.runs if runs is None else runs)},
        dyestuffs={lot.code: lot.dyestuff for lot in facts.shelf.lots},
        metals={jar.code: jar.metal for jar in facts.shelf.jars},
        supplies=frozenset(row.what for row in facts.shelf.supplies),
        fugitive=facts.fugitive,
        foraged=frozenset(lot.dyestuff for lot in facts.shelf.lots if lot.foraged),
        own=dict(facts.hazards),
        two_person_l=None if limit is None else limit.value,
        before={row.code: _in_bath_of(row, facts) for row in facts.recipes if row.second_of},
    )


def _in_bath_of(
    recipe: Recipe, facts: WeekFacts
) -> tuple[tuple[str, ...], tuple[str, ...]]:  # fmt: skip
    """Dyestuffs and metals of all the recipes whose bath one follows in."""
    before = firsts(recipe, facts.recipes)
    steps = ((row, dyed_in(row)) for row in before)
    metals = (metal_in(row, step) for row, step in steps if step is not None)
    return (
        tuple(dose.what for row in before for dose in row.doses if dose.kind == "dyestuff"),
        tuple(metal for metal in metals if metal),
    )


def cautions_of(facts: WeekFacts, answers: Iterable[Answer]) -> tuple[Stands, ...]:
    """The cautions of runs in the order of their answers, then those of jars."""
    ground = ground_of(facts)
    of_runs = [
        Stands(row, run=answer.run) for answer in answers for row in cautions_of_run(ground, answer)
    ]
    of_jars = [
        Stands(row, jar=jar.code) for jar in facts.shelf.jars for row in cautions_of_jar(facts, jar)
    ]
    return (*of_runs, *of_jars)


def cautions_of_run(ground: Ground, answer: Answer) -> tuple[Caution, ...]:
    """What must be said of a run, by what it takes and by its fullest pot; of a no nothing."""
    if answer.answer == "no":
        return ()
    wanted = ground.wanted.get(answer.run)
    sources = [take.source for take in answer.takes]
    plants, metals = ground.before.get("" if wanted is None else wanted.recipe, ((), ()))
    return cautions_for_run(
        dyestuffs=[
            *(ground.dyestuffs[code] for code in sources if code in ground.dyestuffs),
            *plants,
        ],
        supplies=[take.what for take in answer.takes if take.what in ground.supplies],
        metals=[*(ground.metals[code] for code in sources if code in ground.metals), *metals],
        fugitive=ground.fugitive,
        foraged=ground.foraged,
        own=ground.own,
        litres=max((step.litres for step in answer.steps), default=Decimal(0)),
        two_person_l=ground.two_person_l,
        group=bool(wanted is not None and wanted.group_block),
        for_sale=bool(wanted is not None and wanted.client),
    )


def cautions_of_group(ground: Ground, dyestuffs: Iterable[str]) -> tuple[Caution, ...]:
    """What must be said of a group day by its recipe alone, while nothing is laid out for it."""
    return cautions_for_run(
        dyestuffs=dyestuffs,
        fugitive=ground.fugitive,
        foraged=ground.foraged,
        own=ground.own,
        group=True,
    )


def cautions_of_jar(facts: WeekFacts, jar: JarFacts) -> tuple[Caution, ...]:
    """What must be said of a jar, with the gas of its own sum where enough is written on it."""
    liquor = liquor_at(jar, facts.figures, at=facts.at) if jar.metal == "iron" else None
    return cautions_for_jar(jar.metal, gas_l=None if liquor is None else liquor.gas_at_most_l)


def as_sums(rows: Iterable[Stands]) -> list[dict[str, object]]:
    """Cautions ready for JSON, each once with the runs and the jars that it is of."""
    by: dict[Caution, tuple[list[str], list[str]]] = {}
    for row in rows:
        runs, jars = by.setdefault(row.caution, ([], []))
        runs += [row.run] if row.run else []
        jars += [row.jar] if row.jar else []
    return [
        {
            "code": caution.code,
            "kind": caution.kind,
            "mark": caution.mark,
            "about": caution.about or None,
            "text": caution.sentence,
            "basis": caution.basis,
            "source": caution.source or None,
            "runs": runs,
            "jars": jars,
        }
        for caution, (runs, jars) in by.items()
    ]
