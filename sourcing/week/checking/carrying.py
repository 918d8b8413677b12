"""What is drawn at a site lies there, or was fetched from another before, in the hours of a day."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.jars import ready_at
from sourcing.week.checking.people import watched_until
from sourcing.week.checking.sheet import MAKES, Sheet, fetched_in
from sourcing.week.plan import Placed, Take


def faults_in_carrying(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Things taken from another site without being fetched, too late, or too long before."""
    if sheet.carries and (sheet.run.group_block or not ground.number("studio", "carry_in_plan")):
        yield Fault("carry", sheet.code, None, "the studio wants nothing fetched by a plan")
    for take in sheet.answer.takes:
        yield from _lies_there(take, sheet, ground)
    for row in sheet.carries:
        for why in _wrong(row, sheet, ground):
            yield Fault("carry", sheet.code, row.start, f"{row.step} {why}")
        for take in fetched_in(row, sheet.answer.takes):
            for why in _kept(take, row, sheet, ground):
                yield Fault("carry", sheet.code, row.start, f"{take.source} {why}")


def _lies_there(take: Take, sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    site = ground.site_of(take.source)
    if site in ("", sheet.site):
        if take.carried_from:
            text = f"{take.source} is fetched from {take.carried_from}, it lies at {site}"
            yield Fault("carry", sheet.code, take.at, text)
        return
    trips = [row for row in sheet.carries if take in fetched_in(row, [take])]
    if take.carried_from != site or not trips:
        text = f"{take.source} is at {site}, the run at {sheet.site}"
        yield Fault("site", sheet.code, take.at, text)


def way_min(site: str, other: str, ground: Ground) -> int:
    """Minutes to another site and back: of this way, of the way back, else of any."""
    usual = str(ground.number("studio", "carry_min"))
    back = str(ground.number(f"{other} to {site}", "carry_min", usual))
    return round(ground.number(f"{site} to {other}", "carry_min", back))


def _wrong(row: Placed, sheet: Sheet, ground: Ground) -> Iterator[str]:
    """What is wrong with a way: its minutes, its hours, nothing fetched by it."""
    takes = fetched_in(row, sheet.answer.takes)
    if not takes:
        yield "brings nothing"
        return
    start, end = minute_of(row.start), minute_of(row.end)
    minutes = way_min(takes[0].carried_from, sheet.site, ground)
    if end - start != minutes or row.hands_min != minutes:
        yield f"takes {end - start} min and {row.hands_min} of hands, {minutes} is the way"
    if start < minute_of(ground.facts.at):
        yield "begins before the moment asked for"
    if not ground.somebody_there(start, end, sheet.site):
        yield "is when nobody is there"


def _kept(take: Take, row: Placed, sheet: Sheet, ground: Ground) -> Iterator[str]:
    """What is wrong with one thing that is fetched."""
    start, end = minute_of(row.start), minute_of(row.end)
    used = _wanted(take, sheet, ground)
    if end > used:
        yield "is fetched after it is used"
    lot = ground.lots.get(take.source)
    dry = take.source in ground.fibre or take.source in ground.supplies
    dry = dry or (lot is not None and lot.stay.state == "dried")
    if not dry and ground.day_of(start) != ground.day_of(used):
        yield "is neither dry nor fetched on the day on which it is used"
    comes = lot or ground.fibre.get(take.source)
    if comes is not None and comes.arrives_at is not None and row.start < comes.arrives_at:
        yield "is fetched before it comes"
    if take.unit == "µL":
        if Fraction(take.amount, 1_000_000) > ground.number("studio", "carry_l_at_most"):
            yield f"is {take.amount} µL, more than may be carried"
        if take.source in ground.jars and not ready_at(take.source, row.start, ground):
            yield "still matures when it is poured off"


def _wanted(take: Take, sheet: Sheet, ground: Ground) -> int:
    """The minute by which a thing has to be there: of what a bath is made of, for its making."""
    for making in ground.facts.makings:
        rows = [row for row in sheet.answer.steps if row.step == f"{MAKES}{making.bath}"]
        if making.dyestuff == take.what and rows:
            return min(minute_of(row.start) for row in rows)
    return minute_of(take.at)


# -- who goes, and who stays -------------------------------------------------------------------


def faults_in_ways(
    sheets: list[Sheet], jobs: tuple[Placed, ...], ground: Ground
) -> Iterator[Fault]:
    """Two ways at once, or nobody left where a flame burns or a bath is watched meanwhile."""
    ways = [(row, sheet.site, sheet.code) for sheet in sheets for row in sheet.carries]
    apart = any(row.site for row in ground.facts.hours)
    for number, (row, site, code) in enumerate(ways):
        start, end = minute_of(row.start), minute_of(row.end)
        for other, place, _ in ways[:number]:
            if (not apart or place == site) and _meet(start, end, other):
                yield Fault("carry", code, row.start, f"{row.step} while {other.step}")
        if _there(start, end, site, ground) > 1:
            continue
        for what, since, until, place in _watched(sheets, jobs, ground):
            if (not apart or place == site) and since < end and start < until:
                yield Fault("attended", code, row.start, f"{row.step} leaves {what} alone")


def _meet(start: int, end: int, other: Placed) -> bool:
    return minute_of(other.start) < end and start < minute_of(other.end)


def _there(start: int, end: int, site: str, ground: Ground) -> int:
    """How many are in at a site at once from a minute to another, at the least."""
    rows = [
        (minute_of(row.opens), minute_of(row.closes), row.people) for row in ground.hours_of(site)
    ]
    minutes = {start, *(since for since, _, _ in rows if start < since < end),
               *(until for _, until, _ in rows if start < until < end)}  # fmt: skip
    return min(
        sum(people for since, until, people in rows if since <= minute < until)
        for minute in minutes
    )


def _watched(
    sheets: list[Sheet], jobs: tuple[Placed, ...], ground: Ground
) -> Iterator[tuple[str, int, int, str]]:
    """Every stretch over a flame, and of what is watched without one."""
    for sheet in sheets:
        for stage in sheet.stages:
            for load in stage.loads:
                until = max(watched_until(stage, load), load.start)
                yield stage.step.name, load.start, until, sheet.site
    for row in jobs:
        site = ground.vessels[row.vessel].site if row.vessel in ground.vessels else ""
        yield row.step, minute_of(row.start), minute_of(row.end), site
