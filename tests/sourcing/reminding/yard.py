"""The worked week's facts with readers of reminders, and what the reminders say in short."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, time
from fractions import Fraction
from uuid import UUID

from sourcing.ordering.facts import Offer, Stuff, Supplier, Tier
from sourcing.reminding.due import Reminder, reminders_between
from sourcing.reminding.facts import KINDS, Kind, Quiet, ReminderFacts, Wish
from sourcing.week.facts import Meeting, WeekFacts
from tests.sourcing.week.pellitory import FACTS, ZONE, nov

CAFE = "Lantern Steps café"
DYER = Wish(
    reader="the dyer",
    mark=UUID(int=1),
    address="dyer@pellitory-yard.example",
    kinds=tuple(kind for kind in KINDS if kind != "day before"),
    since=date(2026, 11, 1),
    sheet_at=time(7, 30),
)
TOLD = Wish(
    reader="the café",
    mark=UUID(int=2),
    address="hello@lantern-steps.example",
    kinds=("day before",),
    since=date(2026, 11, 1),
    source=CAFE,
)
# Thursday's pick-up; Monday's was reported, so it is none that anybody need be told of.
MEETINGS = (Meeting(CAFE, nov(26, 17), ("avocado stones",)),)


def wanting(*kinds: Kind, quiet: Quiet | None = None, at: time | None = time(7, 30)) -> Wish:
    """The dyer with other wishes."""
    return replace(DYER, kinds=kinds, quiet=quiet, sheet_at=at)


def facts(
    *wishes: Wish,
    week: WeekFacts = FACTS,
    at: datetime | None = None,
    meetings: tuple[Meeting, ...] = MEETINGS,
    **more: object,
) -> ReminderFacts:
    """Facts of the worked week, at its Monday morning or at another moment."""
    seen = week if at is None else replace(week, at=at)
    seen = replace(seen, meetings=meetings)
    return ReminderFacts(seen, wishes or (DYER, TOLD), **more)  # type: ignore[arg-type]


def buying(*, at: datetime) -> WeekFacts:
    """The worked week with its two suppliers of wool (13.6, run G), seen from another moment."""
    wool = Stuff("wool", "yarn")
    loss = Fraction(1, 20)
    return replace(
        FACTS,
        at=at,
        suppliers=(Supplier("far mill", 12), Supplier("near shop", 5)),
        offers=(
            Offer("far mill", wool, 1_000_000, (Tier(0, 2_200),), 5_000_000, loss),
            Offer("near shop", wool, 1_000_000, (Tier(0, 2_800),), 0, loss),
        ),
    )


def due(known: ReminderFacts, since: datetime, until: datetime) -> list[tuple[str, str, str]]:
    """Kind, thing and moment of what is due, in order."""
    return [short(row) for row in reminders_between(known, since=since, until=until)]


def short(row: Reminder) -> tuple[str, str, str]:
    return row.kind, row.what.about, f"{row.at.astimezone(ZONE):%a %d %H:%M}"
