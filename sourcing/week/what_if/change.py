"""What a change is: what it decides, whether it can be, and the facts as they would be with it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any, Protocol

from inventory.science.facts import Shelf
from inventory.science.saying import say
from sourcing.week.facts import WeekFacts
from sourcing.week.words import day_in_words, listed

NAMED_AT_MOST = 8  # things that a sentence names before it counts the rest
DAYS_AHEAD = 366  # a change further ahead moves nothing


@dataclass(frozen=True, slots=True)
class Fault:
    """Why a change cannot be: the field that is wrong, and a sentence."""

    field: str
    text: str


class Change(Protocol):
    """One thing that is otherwise, for one question."""

    @property
    def order(self) -> int:
        """When it is put into the facts; what brings a thing comes before what takes it away."""

    def decides(self, facts: WeekFacts) -> frozenset[tuple[str, ...]]:
        """What it settles; two changes that settle the same cannot stand side by side."""

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        """Everything about it that does not fit the facts."""

    def on(self, facts: WeekFacts) -> WeekFacts:
        """The facts as they would be; only of a change without a fault."""


def shelf_with(facts: WeekFacts, **changed: Any) -> WeekFacts:
    """The facts with other rows on the shelf."""
    shelf: Shelf = replace(facts.shelf, **changed)
    return replace(facts, shelf=shelf)


def each(rows: tuple[Any, ...], code: str, change: Callable[[Any], Any]) -> tuple[Any, ...]:
    """The rows with the one of a code changed; the very same where none has it."""
    if not any(row.code == code for row in rows):
        return rows
    return tuple(change(row) if row.code == code else row for row in rows)


def without(rows: tuple[Any, ...], code: str) -> tuple[Any, ...]:
    """The rows without the one of a code."""
    return tuple(row for row in rows if row.code != code)


def unknown(field: str, said: str, noun: str, known: Iterable[str]) -> Iterator[Fault]:
    """A fault where a name is none of those that are there, which it names.

    Examples
    --------
    >>> [row.text for row in unknown("run", "Z", "run", ["A", "B"])]
    ['No run is called Z here. There are A and B.']
    >>> list(unknown("run", "A", "run", ["A", "B"]))
    []
    """
    names = sorted(set(known))
    if said not in names:
        yield Fault(
            field,
            say(
                "No {noun} is called {said} here. {there_are}",
                noun=noun,
                said=said,
                there_are=there_are(names),
            ),
        )


def taken(field: str, said: str, noun: str, known: Iterable[str]) -> Iterator[Fault]:
    """A fault where a new thing has the name of one that is there."""
    if said in set(known):
        yield Fault(
            field,
            say(
                "There is a {noun} called {said} already. Give this one another name.",
                noun=noun,
                said=said,
            ),
        )


def there_are(names: list[str]) -> str:
    """`There are A and B.`, or that there is none; a long list is counted."""
    shown = names[:NAMED_AT_MOST]
    if len(names) > len(shown):
        shown = [*shown, say("{count:,} more", count=len(names) - len(shown))]
    if not shown:
        return say("There is none.")
    if len(names) == 1:
        return say("There is {shown}.", shown=listed(shown))
    return say("There are {shown}.", shown=listed(shown))


def today_of(facts: WeekFacts) -> date:
    """The studio's day on which the week is asked."""
    return facts.at.astimezone(facts.zone).date()


def ahead(field: str, day: date, facts: WeekFacts) -> Iterator[Fault]:
    """A fault where a day has passed, or lies so far ahead that nothing hangs on it."""
    today = today_of(facts)
    if not today <= day <= today + timedelta(DAYS_AHEAD):
        yield Fault(
            field,
            say(
                "{day} {year} is no day of the year from {today} {today_year} on. Say one of them.",
                day=day_in_words(day),
                year=day.year,
                today=day_in_words(today),
                today_year=today.year,
            ),
        )


def in_order(
    since: datetime | None, until: datetime | None, *, first: str = "from", last: str = "until"
) -> Iterator[Fault]:
    """A fault where a stretch ends before it begins."""
    if since is not None and until is not None and since >= until:
        yield Fault(
            last, say("It ends before it begins. Say {last} after {first}.", last=last, first=first)
        )
