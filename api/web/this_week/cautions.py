"""Cautions where the work is: of a run on its ticket, of all work once for the week."""

from __future__ import annotations

from inventory.science.cautions import Caution
from sourcing.week.cautions import cautions_of_run, ground_of
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Answer

# Of every run alike, so they stand once under all tickets.
OF_EVERY_RUN = ("food", "drains", "labels")


def run_cautions(facts: WeekFacts, answer: Answer, wanted: RunFacts | None) -> tuple[Caution, ...]:
    """What must be said of one run; of a run that takes nothing yet, nothing."""
    runs = () if wanted is None else (wanted,)
    rows = cautions_of_run(ground_of(facts, runs=runs), answer)
    return tuple(row for row in rows if row.code not in OF_EVERY_RUN)


def week_cautions(facts: WeekFacts, answers: tuple[Answer, ...]) -> tuple[Caution, ...]:
    """What must be said of every run, once."""
    ground = ground_of(facts)
    rows = [row for answer in answers for row in cautions_of_run(ground, answer)]
    return tuple({row.code: row for row in rows if row.code in OF_EVERY_RUN}.values())
