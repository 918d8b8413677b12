"""A run that is dyed: when, by which recipe, and how it came out."""

from __future__ import annotations

from dataclasses import dataclass
from zoneinfo import ZoneInfo

from inventory.models import Studio
from inventory.science.saying import say
from sourcing.models import Run
from sourcing.week.words import grams, moment_in_words


@dataclass(frozen=True, slots=True)
class FinishedRun:
    """What is left to say of a run."""

    code: str
    shade: str
    version: int
    wanted: str
    finished: str
    came_out: str


def finished_run(studio: Studio, code: str) -> FinishedRun | None:
    """The run of a code, if it is finished."""
    rows = Run.objects.of(studio).select_related("recipe")
    found = rows.filter(code=code[:40], finished_at__isnull=False).first()
    if found is None or found.finished_at is None:
        return None
    return FinishedRun(
        code=found.code,
        shade=found.recipe.shade,
        version=found.recipe.version,
        wanted=say("{weight_mg} of {fibre}", weight_mg=grams(found.weight_mg), fibre=found.fibre),
        finished=moment_in_words(found.finished_at, ZoneInfo(studio.zone)),
        came_out=found.came_out,
    )
