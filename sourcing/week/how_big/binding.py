"""What binds: what one step more of a run would lack, proved where a change is named by placing."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from sourcing.week.how_big.weighed import Weighed
from sourcing.week.plan import Answer
from sourcing.week.unlocking.seek import least_changes
from sourcing.week.unlocking.trials import Trials
from sourcing.week.unlocking.wording import unlock_of

# The kind of wait that a change would end.
WAITS = {
    "line": ("line",), "hands": ("hands", "closed"), "ring": ("ring",), "pot": ("vessel",),
    "longer day": ("attended", "closed"), "due": ("due",), "arrival": ("arrival",),
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Binding:
    """One thing that a little more cloth would lack, and how much of it."""

    kind: str  # as of a change of an unlock, or of a reason
    what: str
    text: str
    more: str = ""  # what would do, for that little more; empty where nothing alone would


def bindings(weighed: Weighed, mg: int) -> tuple[Binding, ...]:
    """What a run of a weight lacks, which is just too heavy.

    Parameters
    ----------
    mg : a weight at which the run is no yes
    """
    answer, _ = weighed.at(mg)
    if answer.short or answer.answer == "no":
        lacking = [Binding(row.kind, row.what, row.text) for row in answer.short]
        gates = [Binding(row.kind, row.what, row.text) for row in answer.barred]
        return tuple(lacking or gates)
    return tuple(_in_time(weighed, answer, mg)) or tuple(
        Binding(row.kind, row.what, row.text) for row in answer.waits_for
    )


def _in_time(weighed: Weighed, answer: Answer, mg: int) -> Iterator[Binding]:
    """Each change that would do alone or with others, beside what it would spare waiting for."""
    _, desk = weighed.at(mg)
    facts = weighed.facts_at(mg)
    run = next(run for run in facts.runs if run.code == weighed.code)
    trials = Trials(run, facts, weighed.days, weighed.turn, weighed.desk)
    for pulled in least_changes(trials, answer, desk):
        unlock = unlock_of(pulled, trials.trial(pulled), trials)
        for change in unlock.changes:
            waits = WAITS.get(change.kind, (change.kind,))
            text = next((row.text for row in answer.waits_for if row.kind in waits), change.text)
            more = change.text if text != change.text else ""
            yield Binding(change.kind, change.what, text, more)
