"""The week that was taken last as rows of a notebook, as far as its runs are open."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime

from inventory.models import Studio
from sourcing.models import Run, TakenWeek
from sourcing.notebook.load_shelf import Values
from sourcing.taken import STAYS


def taken_pages(studio: Studio, runs: Iterable[Run], *, at: datetime) -> dict[str, list[Values]]:
    """The pages about a taken week; empty where the plain one holds at a moment."""
    row = TakenWeek.objects.of(studio).filter(at__lte=at).order_by("at", "id").last()
    pages: dict[str, list[Values]] = {"taken": [], "taken_runs": [], "taken_waits": []}
    if row is None or row.until <= at:
        return pages
    open_runs = {run.code for run in runs}
    by_run = _of_runs(row, open_runs)
    waits = [
        {"run": run, "step": step, "from": datetime.fromisoformat(moment), "stays": STAYS in more}
        for run, step, moment, *more in sorted(row.floors)
        if run in open_runs
    ]
    if by_run or waits:
        pages["taken"] = [{"at": row.at, "until": row.until, "note": row.note}]
    return pages | {"taken_runs": by_run, "taken_waits": waits}


def _of_runs(row: TakenWeek, open_runs: set[str]) -> list[Values]:
    said: dict[str, Values] = {}
    order = [code for code in row.order if code in open_runs]
    for place, code in enumerate(order, 1):
        said.setdefault(code, {"run": code})["place"] = place
    for code, site in row.sites:
        if code in open_runs and site:
            said.setdefault(code, {"run": code})["site"] = site
    for leader, code, step in row.together:
        if {leader, code} <= open_runs:
            said.setdefault(code, {"run": code}).update({"with": leader, "last step": step})
    return [said[code] for code in sorted(said)]
