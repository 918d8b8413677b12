"""Another week taken in place of the plain one, or the plain one again: the last word holds.

What is kept is an order of runs, steps that wait, sites and shared pots, and hours only of steps
that are to stay at theirs: after each surprise the same order is worked out anew from the facts, so
that a taken week changes no more than it has to.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any
from uuid import UUID

from django.db.models import QuerySet

from inventory.errors import EntryUsed
from inventory.hindrance import said_in_words
from inventory.models import Studio
from inventory.said import check_entry, check_row, check_said
from sourcing.errors import NoSuchRun, WrongWayRound
from sourcing.gather import Cells
from sourcing.models import Run, TakenWeek
from sourcing.week.guidance import PLAIN, Floor, Guidance, Together
from sourcing.week.moments import minute_of

STAYS = "stays"  # beside a floor: the step begins at its moment
RUNS_AT_MOST, FLOORS_AT_MOST = 2_000, 2_000


@said_in_words()
def take_week(
    studio: Studio,
    *,
    entry: UUID,
    at: datetime,
    until: datetime,
    order: Sequence[str] = (),
    floors: Sequence[tuple[str, str, datetime]] = (),
    stays: Sequence[tuple[str, str]] = (),
    sites: Sequence[tuple[str, str]] = (),
    together: Sequence[tuple[str, str, str]] = (),
    note: str = "",
) -> TakenWeek:
    """A week that holds from now on; with nothing said it is the plain one again.

    Parameters
    ----------
    until : aware, after `at`: the end of the week that was looked at; the plain one holds after it
    order : codes of open runs, each once, as they are placed; others follow by due date
    floors : run, step and moment: the step is not begun before it
    stays : run and step of those floors at which the step begins, before what other runs want
    sites : run and the only site where it is worked
    together : run, another that goes along in its pots, and that one's last step there

    Raises
    ------
    NoSuchRun
        If a run is named that is not there.
    WrongWayRound
        If the week ends before it is taken.
    """
    check_entry(entry, at)
    check_said({"at": at, "until": until, "note": note})
    named = dict.fromkeys(
        [
            *order,
            *(row[0] for row in floors),
            *(row[0] for row in sites),
            *(code for row in together for code in row[:2]),
        ]
    )
    check_said({"run": list(named)})
    if until <= at:
        raise WrongWayRound(at.date(), until.date())
    made = TakenWeek(
        studio=studio,
        entry=entry,
        at=at,
        until=until,
        order=list(dict.fromkeys(order)),
        floors=[
            [run, step, moment.isoformat(), *([STAYS] if (run, step) in stays else [])]
            for run, step, moment in floors
        ],
        sites=[list(row) for row in sites],
        together=[list(row) for row in together],
        note=note,
    )
    before = TakenWeek.objects.of(studio).filter(entry=entry).first()
    if before is not None:
        if _same(before) != _same(made):
            raise EntryUsed(entry=entry, kind="taken week", at=before.at)
        return before
    check_runs(studio, named)
    check_row(made)
    made.save(force_insert=True)
    return made


def _same(row: TakenWeek) -> tuple[Any, ...]:
    return row.until, row.order, row.floors, row.sites, row.together


def check_runs(studio: Studio, codes: Iterable[str]) -> None:
    """Refuse a code that no run of the studio has."""
    wanted = list(codes)
    there = set(Run.objects.of(studio).filter(code__in=wanted).values_list("code", flat=True))
    for code in wanted:
        if code not in there:
            raise NoSuchRun(code)


def taken_queries(studio: Studio, at: datetime) -> dict[str, QuerySet[Any]]:
    """The query of the week that holds at a moment, as far as anybody had taken one by then."""
    rows = TakenWeek.objects.of(studio).filter(at__lte=at).order_by("-at", "-id").values("pk")
    return {"taken": TakenWeek.objects.of(studio).filter(pk__in=rows[:1])}


def guidance_in(rows: Mapping[str, Sequence[Cells]], *, at: datetime) -> Guidance | None:
    """The guidance of the week that was taken last; None: the plain one, or it is over."""
    found = rows["taken"]
    if not found or found[0]["until"] <= at:
        return None
    row = found[0]
    guidance = Guidance(
        order=tuple(row["order"]),
        floors=floors_in(row["floors"]),
        sites=tuple((run, site) for run, site in row["sites"]),
        together=tuple(Together(*each) for each in row["together"]),
    )
    return None if guidance == PLAIN else guidance


def floors_in(rows: Iterable[Sequence[str]]) -> tuple[Floor, ...]:
    """Floors as they are kept: run, step, moment, and for those that stay a word."""
    return tuple(
        Floor(row[0], row[1], minute_of(datetime.fromisoformat(row[2])), stays=STAYS in row[3:])
        for row in rows
    )
