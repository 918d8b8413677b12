"""A snippet stands in each strained extract that asks for it, while somebody is there."""

from __future__ import annotations

from collections.abc import Iterator

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.sheet import Sheet, dye_loads
from sourcing.week.checking.working import snippet_min, straining
from sourcing.week.facts import Step
from sourcing.week.plan import Placed


def faults_in_snippets(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Snippets that are missing or too many, too short, after hours, or without their hands."""
    wanted = _wanted(sheet, ground)
    if sorted(wanted) != sorted(minute_of(row.start) for row in sheet.snippets):
        yield Fault(
            "snippet",
            sheet.code,
            None,
            f"{len(sheet.snippets)} snippets are in the plan; they stand from "
            + (", ".join(f"{ground.moment(minute):%a %H:%M}" for minute in wanted) or "no hour"),
        )
        return
    for row in sheet.snippets:
        for why in _wrong(row, wanted[minute_of(row.start)], sheet, ground):
            yield Fault("snippet", sheet.code, row.start, why)


def _wanted(sheet: Sheet, ground: Ground) -> dict[int, Step]:
    """When each has to begin: as soon as the extract is strained."""
    found: dict[int, Step] = {}
    for chain in sheet.chains():
        own_loads = dye_loads(chain) if sheet.parting is not None else sheet.dye_loads
        for stage in chain:
            if snippet_min(stage.step):
                dyes = own_loads if stage not in sheet.stages else sheet.dye_loads
                begins = stage.end + stage.step.cool_min + straining(dyes, ground)
                found[begins] = stage.step
    return found


def _wrong(row: Placed, step: Step, sheet: Sheet, ground: Ground) -> Iterator[str]:
    start, end = minute_of(row.start), minute_of(row.end)
    if end - start != step.snippet_min:
        yield f"a snippet stands {end - start} min, {step.snippet_min} by the recipe"
    if row.hands_min != step.snippet_hands_min:
        yield f"a snippet takes {row.hands_min} min of hands, {step.snippet_hands_min} wanted"
    if not ground.somebody_there(start, end, sheet.site):
        yield f"nobody is there for the snippet to {row.end:%H:%M}"
