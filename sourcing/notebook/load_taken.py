"""Loading the week that was taken: once, by the moment at which it was."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import timedelta

from inventory.errors import LarderError, NotNow
from inventory.science.saying import say
from sourcing.models import TakenWeek
from sourcing.notebook.loading import Loading
from sourcing.notebook.page import Row
from sourcing.taken import take_week

WHOLE_MINUTE = timedelta(minutes=1)  # all that a page says of a moment
PARTS = ("taken_runs", "taken_waits")


def load_taken(loading: Loading) -> None:
    """The taken week with what it does otherwise; one that the studio has stays as it is."""
    weeks = loading.notebook.page("taken")
    runs, waits = (loading.notebook.page(name) for name in PARTS)
    if not weeks:
        for row in (*runs, *waits):
            loading.problem(row, say("taken.csv has no week. Write when it was taken."))
        return
    for row in runs:
        if row.has("with") != row.has("last step"):
            note = say("Write both with and last step, or neither.")
            loading.problem(row, note)
    at, until = weeks[0].moment("at"), weeks[0].moment("until")
    assert at is not None
    assert until is not None
    there = TakenWeek.objects.of(loading.studio).filter(at__gte=at, at__lt=at + WHOLE_MINUTE)
    if there.exists():
        return
    try:
        take_week(
            loading.studio,
            entry=loading.entry(weeks[0]),
            at=at,
            until=until,
            order=_order(runs),
            floors=[(row.text("run"), row.text("step"), found) for row in waits
                    if (found := row.moment("from")) is not None],
            stays=[(row.text("run"), row.text("step")) for row in waits if row.yes("stays")],
            sites=[(row.text("run"), row.text("site")) for row in runs if row.has("site")],
            together=[(row.text("with"), row.text("run"), row.text("last step"))
                      for row in runs if row.has("with")],
            note=weeks[0].text("note"),
        )  # fmt: skip
    except NotNow:
        raise  # The row is as it should be; the database is not.
    except LarderError as refusal:
        loading.problem(weeks[0], str(refusal))
    else:
        for row in (weeks[0], *runs, *waits):
            loading.new[row.page] += 1


def _order(rows: Iterable[Row]) -> list[str]:
    """Runs that have a place, by it."""
    placed = sorted((row.whole("place"), row.text("run")) for row in rows if row.has("place"))
    return [run for _, run in placed]
