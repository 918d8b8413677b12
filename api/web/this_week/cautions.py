"""Cautions where the work is: of a run on its ticket, of all work once for the week."""

from __future__ import annotations

from decimal import Decimal

from inventory.science.catalogue import find_figure
from inventory.science.cautions import Caution, cautions_for_run
from inventory.science.days import local_day
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Answer

# Of every run alike, so they stand once under all tickets.
OF_EVERY_RUN = ("food", "drains", "labels")
METALS = {"iron liquor": "iron", "copper liquor": "copper"}


def run_cautions(facts: WeekFacts, answer: Answer, wanted: RunFacts | None) -> tuple[Caution, ...]:
    """What must be said of one run; of a run that takes nothing yet, nothing."""
    if answer.answer == "no":
        return ()
    rows = _all(facts, answer, wanted)
    return tuple(row for row in rows if row.code not in OF_EVERY_RUN)


def week_cautions(facts: WeekFacts, answers: tuple[Answer, ...]) -> tuple[Caution, ...]:
    """What must be said of every run, once."""
    runs = {run.code: run for run in facts.runs}
    rows = [row for answer in answers if answer.answer != "no"
            for row in _all(facts, answer, runs.get(answer.run))]  # fmt: skip
    return tuple({row.code: row for row in rows if row.code in OF_EVERY_RUN}.values())


def _all(facts: WeekFacts, answer: Answer, wanted: RunFacts | None) -> tuple[Caution, ...]:
    lots = {lot.code: lot for lot in facts.shelf.lots}
    supplies = {row.what for row in facts.shelf.supplies}
    names = [take.what for take in answer.takes]
    stuffs = [lots[take.source].dyestuff for take in answer.takes if take.source in lots]
    limit = find_figure(
        facts.figures, "studio", "two_person_l", on=local_day(facts.at, zone=facts.zone)
    )
    return cautions_for_run(
        dyestuffs=stuffs,
        supplies=[name for name in names if name in supplies],
        metals=[METALS[name] for name in names if name in METALS],
        fugitive=[name for name in stuffs if name in facts.fugitive],
        foraged=[lot.dyestuff for lot in facts.shelf.lots if lot.foraged],
        own=dict(facts.hazards),
        litres=max((step.litres for step in answer.steps), default=Decimal(0)),
        two_person_l=None if limit is None else limit.value,
        group=bool(wanted is not None and wanted.group_block),
        for_sale=bool(wanted is not None and wanted.client),
    )
