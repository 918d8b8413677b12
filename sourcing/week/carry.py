"""What a run's site lacks, fetched from another site: a step of the plan, with hands of its day.

Somebody of the run's site goes there and back within the hours of that site, and weighs at both
ends. What is dry (dried dyestuff, supplies, fibre) may be fetched on an earlier day; what is fresh,
damp or frozen, and what is poured off a jar or a bath, is fetched on the day of its step, so that
it keeps as it was kept. A jar that matures stays where it is: only liquor that is ready is fetched.
"""

from __future__ import annotations

from bisect import insort
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date

from inventory.science.catalogue import figure, find_figure
from inventory.science.figures import Figure, Figures
from inventory.science.saying import say
from sourcing.week.board import met
from sourcing.week.desk import Desk
from sourcing.week.larder import Pick
from sourcing.week.moments import Opening, rounded_up
from sourcing.week.place import Placer
from sourcing.week.plan import Placed, Reason, Take
from sourcing.week.reasons import because
from sourcing.week.words import day_in_words

CARRY = "carry"  # kind of a step


@dataclass(frozen=True, slots=True)
class Wanted:
    """A thing at another site, and the minute at which it is wanted at the run's."""

    pick: Pick
    at: int


@dataclass(frozen=True, slots=True)
class Trip:
    """One way to another site and back: what is fetched, from leaving to being back."""

    site: str
    start: int
    end: int
    picks: tuple[Pick, ...]


def way_figure(figures: Figures, site: str, other: str, *, on: date) -> Figure:
    """Hands [min] to another site and back: of the two sites, of the way back, else of any.

    A figure `carry_min` of item `Shed to Yard` holds for both directions, unless `Yard to Shed` has
    its own.
    """
    for item in (way_name(site, other), way_name(other, site)):
        found = find_figure(figures, item, "carry_min", on=on)
        if found is not None:
            return found
    return figure(figures, "studio", "carry_min", on=on)


def way_name(site: str, other: str) -> str:
    """The item of the figures of a way from a site to another."""
    return f"{site} to {other}"


def carry_step(site: str) -> str:
    """The name of the step in which something is fetched from a site."""
    return say("carry from {site}", site=site)


def way_minutes(desk: Desk, site: str, other: str) -> int:
    """Minutes from one site to another and back, as hands of the day and by the clock."""
    return round(way_figure(desk.facts.figures, site, other, on=desk.today).value)


def soonest_here(pick: Pick, desk: Desk, placer: Placer) -> int:
    """The first minute at which a thing can have been fetched; the horizon's end: never in it."""
    minutes = way_minutes(desk, pick.far, placer.room.site)
    leaves = _leaving(desk, placer, minutes, since=pick.usable_from, until=desk.calendar.end)
    return desk.calendar.end if leaves is None else leaves + minutes


def book_trips(wanted: Iterable[Wanted], desk: Desk, placer: Placer) -> list[Trip] | Wanted:
    """The fewest ways that bring everything in time, each as late as it may, with their hands.

    What has to be there first is fetched first, and what is ready by then comes along. One that
    nobody has the time to fetch is handed back.
    """
    trips: list[Trip] = []
    left = sorted(wanted, key=lambda row: (row.at, row.pick.far, row.pick.code, row.pick.step))
    while left:
        first = left[0]
        minutes = way_minutes(desk, first.pick.far, placer.room.site)
        leaves = _last_leaving(first, minutes, desk, placer)
        if leaves is None:
            return first
        along = [row for row in left if row.pick.far == first.pick.far
                 and _since(row, desk) <= leaves]  # fmt: skip
        left = [row for row in left if row not in along]
        picks = tuple(row.pick for row in along)
        trips.append(Trip(first.pick.far, leaves, leaves + minutes, picks))
        _book(leaves, minutes, placer)
    return trips


def try_again(row: Wanted, desk: Desk, placer: Placer) -> int:
    """From when a step may be tried again: once a thing is here on its day, else the next day."""
    over = desk.calendar.next_midnight(row.at)
    minutes = way_minutes(desk, row.pick.far, placer.room.site)
    leaves = _leaving(desk, placer, minutes, since=_since(row, desk), until=over)
    if leaves is None:
        return over
    # Where only its own steps are in the way, they make room for it.
    back = leaves + minutes
    return min(over, back if back > row.at else row.at + minutes)


def in_their_place(carries: tuple[Placed, ...], steps: tuple[Placed, ...]) -> tuple[Placed, ...]:
    """The steps of a run with each way to another site before the first that begins after it."""
    found = list(steps)
    for row in reversed(carries):
        later = (n for n, step in enumerate(found) if step.start >= row.start)
        found.insert(next(later, len(found)), row)
    return tuple(found)


def fetched_steps(
    trips: Iterable[Trip], takes: tuple[Take, ...], here: str, desk: Desk
) -> tuple[tuple[Placed, ...], tuple[Take, ...]]:
    """The steps in which a run has things fetched, and its takes with where theirs come from.

    Several ways to one site are rounds of one step.
    """
    steps: list[Placed] = []
    said: dict[tuple[str, str], tuple[str, int]] = {}
    number: dict[str, int] = {}
    for trip in sorted(trips, key=lambda trip: (trip.start, trip.site)):
        number[trip.site] = number.get(trip.site, 0) + 1
        start, end = desk.calendar.moment(trip.start), desk.calendar.moment(trip.end)
        step = carry_step(trip.site)
        minutes = trip.end - trip.start
        steps.append(Placed(takes[0].run, step, CARRY, 1, number[trip.site], "", "", start, end,
                            end, minutes, attended_until=end))  # fmt: skip
        said |= {(pick.code, pick.step): (trip.site, number[trip.site]) for pick in trip.picks}
    return tuple(steps), tuple(
        replace(take, carried_from=said[key][0], carried_to=here, carried_round=said[key][1])
        if (key := (take.source, take.step)) in said
        else take
        for take in takes
    )


def fetched_by(row: Placed, takes: Iterable[Take]) -> list[Take]:
    """What is fetched on one way to another site."""
    return [
        take for take in takes
        if take.carried_from and row.step == carry_step(take.carried_from)
        and row.round == take.carried_round
    ]  # fmt: skip


def carry_reasons(trips: Iterable[Trip], here: str, desk: Desk) -> Iterator[Reason]:
    """How long each way is, and by which figure."""
    for site in sorted({trip.site for trip in trips}):
        found = way_figure(desk.facts.figures, site, here, on=desk.today)
        text = say(
            "{site} to {here}: {minutes} min there and back",
            site=site,
            here=here,
            minutes=round(found.value),
        )
        yield because("carry", site, text, found)


def not_fetched(pick: Pick, wanted: int, desk: Desk) -> Reason:
    """That nobody has the time to fetch a thing for the day on which it is wanted."""
    text = say(
        "{code} is at {site}: nobody has the time to fetch it for {day}",
        code=pick.code,
        site=pick.far,
        day=day_in_words(desk.calendar.day_of(wanted)),
    )
    return Reason("carry", pick.code, text)


def _since(row: Wanted, desk: Desk) -> int:
    """The first minute at which somebody may leave for a thing."""
    if row.pick.any_day:
        return row.pick.usable_from
    day = desk.calendar.day_number(row.at)
    return max(row.pick.usable_from, desk.calendar.midnights[day])


def _last_leaving(row: Wanted, minutes: int, desk: Desk, placer: Placer) -> int | None:
    """The last minute at which somebody may leave to be back in time; None: there is none."""
    since, grid = max(_since(row, desk), desk.now), desk.house.starts_on
    for opening in reversed(placer.calendar.openings):
        if opening.opens >= row.at:
            continue
        if opening.closes <= since:
            return None
        leaves = (min(opening.closes, row.at) - minutes) // grid * grid
        while leaves >= max(since, opening.opens):
            gone = _kept_by(opening, leaves, minutes, placer)
            if gone is None:
                return leaves
            leaves = (gone[0] - minutes) // grid * grid
    return None


def _leaving(desk: Desk, placer: Placer, minutes: int, *, since: int, until: int) -> int | None:
    """The first minute of a stretch at which somebody may leave and be back; None: none."""
    calendar, grid = placer.calendar, desk.house.starts_on
    since = max(since, desk.now)
    for opening in calendar.openings[calendar.open_index(since) :]:
        leaves = rounded_up(max(since, opening.opens), grid)
        while leaves + minutes <= min(opening.closes, until):
            gone = _kept_by(opening, leaves, minutes, placer)
            if gone is None:
                return leaves
            leaves = rounded_up(gone[1], grid)
        if opening.closes >= until:
            return None
    return None


def _kept_by(opening: Opening, leaves: int, minutes: int, placer: Placer) -> tuple[int, int] | None:
    """What keeps somebody from leaving at a minute, from when to when; None: nothing does.

    One at a time is on the way, and who is there alone leaves no flame and no bath that is watched.
    """
    board, site = placer.board, placer.room.site
    if board.hands[site][opening.pool] < minutes:
        return opening.opens, opening.closes
    found = [met(board.away[site], leaves, leaves + minutes)]
    if opening.people < 2:
        found.append(met(board.watched[site], leaves, leaves + minutes))
    rows = [row for row in found if row is not None]
    return (min(row[0] for row in rows), max(row[1] for row in rows)) if rows else None


def _book(minute: int, minutes: int, placer: Placer) -> None:
    opening = placer.calendar.openings[placer.calendar.open_index(minute)]
    placer.board.hands[placer.room.site][opening.pool] -= minutes
    insort(placer.board.away[placer.room.site], (minute, minute + minutes))
