"""Why cloth is wetted out for as long as it is: the fibre's own time where a recipe gives none."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date
from decimal import Decimal

from inventory.science.catalogue import find_figure
from inventory.science.figures import Figures
from inventory.science.saying import say
from sourcing.week.facts import RunFacts, Step
from sourcing.week.plan import Reason
from sourcing.week.reasons import because


def wetting_reasons(
    run: RunFacts, needed: Iterable[Step], figures: Figures, *, on: date
) -> Iterator[Reason]:
    """The figure behind each wetting out that the recipe gives no time for."""
    found = find_figure(figures, run.fibre, "wet_out_h", on=on)
    for step in needed:
        if step.kind == "wet out" and not step.stand_min and found is not None:
            text = say("{fibre} wets out for {hours}", fibre=run.fibre, hours=_hours(found.value))
            yield because("wetting out", run.fibre, text, found)


def _hours(hours: Decimal) -> str:
    return say("{normalize:f} h", normalize=hours.normalize())
