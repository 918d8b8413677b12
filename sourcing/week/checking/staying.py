"""Steps that are to stay at their hour: they do, or the answer says which fact is in the way."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.plan import Answer


def faults_in_stays(answers: Iterable[Answer], ground: Ground) -> Iterator[Fault]:
    """Steps that moved in silence, that begin before their hour, or are said to have moved."""
    by_code = {answer.run: answer for answer in answers}
    for (run, step), minute in _hours(ground).items():
        answer = by_code.get(run)
        if answer is None or answer.begun_at is not None:
            continue
        starts = [row.start for row in answer.steps if row.step == step]
        if not starts:
            continue
        begins = min(starts)
        said = any(note.startswith(f"{step} was to stay at ") for note in answer.notes)
        if minute_of(begins) < minute:
            yield Fault("stays", run, begins, f"{step} begins before the hour at which it stays")
        elif minute_of(begins) > minute and not said:
            yield Fault("stays", run, begins, f"{step} moved, and nothing says why")
        elif minute_of(begins) == minute and said:
            yield Fault("stays", run, begins, f"{step} is said to have moved, and stays")


def _hours(ground: Ground) -> dict[tuple[str, str], int]:
    """By run and step the minute at which it is to begin; what the facts say beside a week wins."""
    guidance = ground.facts.guidance
    taken = () if guidance is None else guidance.stays
    return {(row.run, row.step): row.not_before for row in (*taken, *ground.facts.stays)}
