"""Hours otherwise: somebody more is in on a day, or somebody is away."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from typing import ClassVar

from inventory.science.saying import say
from sourcing.week.facts import DayHours, WeekFacts
from sourcing.week.what_if.change import Fault, ahead, unknown
from sourcing.week.words import day_in_words

Keys = frozenset[tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class SomebodyIn:
    """One person more is in on a day, with minutes of hands; none said: all the time there."""

    day: date
    since: time
    until: time
    hands_min: int | None = None
    site: str = ""
    order: ClassVar[int] = 1

    def decides(self, facts: WeekFacts) -> Keys:
        return _key(self.day, site_of(facts, self.site))

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from ahead("day", self.day, facts)
        yield from _site(facts, self.site)
        if self.since >= self.until:
            yield Fault("until", say("They leave before they come. Say until after from."))
        elif self.hands_min is not None and self.hands_min > _span(self.since, self.until):
            text = say(
                "From {since:%H:%M} until {until:%H:%M} are ", since=self.since, until=self.until
            )
            text += say(
                "{span} min. Say that many minutes of hands at most.",
                span=_span(self.since, self.until),
            )
            yield Fault("hands_min", text)

    def on(self, facts: WeekFacts) -> WeekFacts:
        site = site_of(facts, self.site)
        hands = _span(self.since, self.until) if self.hands_min is None else self.hands_min
        opens, closes = (
            datetime.combine(self.day, at, tzinfo=facts.zone) for at in (self.since, self.until)
        )
        row = _row(facts, self.day, site)
        if row is not None:
            opens, closes = min(opens, row.opens), max(closes, row.closes)
        people = 1 if row is None else row.people + 1
        more = hands + (0 if row is None else row.hands_min)
        return _with(facts, row, DayHours(self.day, opens, closes, more, people, site))


@dataclass(frozen=True, slots=True)
class SomebodyAway:
    """Somebody is away on a day: all of it, its beginning or its end."""

    day: date
    since: time | None = None  # None: from when the day begins
    until: time | None = None  # None: till it ends
    hands_min: int | None = None  # what they would have given; needed where others are in
    site: str = ""
    order: ClassVar[int] = 1

    def decides(self, facts: WeekFacts) -> Keys:
        return _key(self.day, site_of(facts, self.site))

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from _site(facts, self.site)
        row = _row(facts, self.day, site_of(facts, self.site))
        if row is None:
            yield Fault(
                "day",
                say(
                    "Nobody is in on {day} {year} anyway.",
                    day=day_in_words(self.day),
                    year=self.day.year,
                ),
            )
            return
        if self.since is not None and self.until is not None and self.since >= self.until:
            yield Fault("until", say("They come back before they leave. Say until after from."))
        if row.people > 1 and self.hands_min is None:
            text = say(
                "{people} are in on {day}, with {hands_min} min of",
                people=row.people,
                day=day_in_words(self.day),
                hands_min=row.hands_min,
            )
            yield Fault(
                "hands_min",
                say("{text} hands between them. Say the hands of who is away.", text=text),
            )
        if self.hands_min is not None and self.hands_min > row.hands_min:
            text = say(
                "There are {hands_min} min of hands on {day}.",
                hands_min=row.hands_min,
                day=day_in_words(self.day),
            )
            yield Fault("hands_min", say("{text} Say that many at most.", text=text))
        if row.people == 1 and self._in_between(row, facts):
            text = say(
                "Only one is in that day, and would be away in the middle of it. Say from when"
            )
            yield Fault(
                "from", say("{text} till the end, or from the beginning until when.", text=text)
            )

    def on(self, facts: WeekFacts) -> WeekFacts:
        row = _row(facts, self.day, site_of(facts, self.site))
        assert row is not None
        if row.people > 1:
            assert self.hands_min is not None
            left = row.hands_min - self.hands_min
            return _with(facts, row, replace(row, hands_min=left, people=row.people - 1))
        return _with(facts, row, self._alone(row, facts))

    def _alone(self, row: DayHours, facts: WeekFacts) -> DayHours | None:
        """What is left of the day of one person; None: nothing."""
        opens, closes = row.opens, row.closes
        gone_from, gone_until = self._gone(row, facts)
        if gone_from <= opens:
            opens = max(opens, gone_until)
        else:
            closes = min(closes, gone_from)
        if opens >= closes:
            return None
        there = int((closes - opens).total_seconds()) // 60
        left = min(row.hands_min, there)
        if self.hands_min is not None:
            left = min(row.hands_min - self.hands_min, there)
        return replace(row, opens=opens, closes=closes, hands_min=left)

    def _gone(self, row: DayHours, facts: WeekFacts) -> tuple[datetime, datetime]:
        def moment(at: time | None, otherwise: datetime) -> datetime:
            if at is None:
                return otherwise
            return datetime.combine(self.day, at, tzinfo=facts.zone)

        return moment(self.since, row.opens), moment(self.until, row.closes)

    def _in_between(self, row: DayHours, facts: WeekFacts) -> bool:
        gone_from, gone_until = self._gone(row, facts)
        return row.opens < gone_from and gone_until < row.closes


def site_of(facts: WeekFacts, site: str) -> str:
    """The site whose hours are meant; empty where hours belong to none."""
    if site:
        return site
    return facts.sites[0] if any(row.site for row in facts.hours) else ""


def _site(facts: WeekFacts, site: str) -> Iterator[Fault]:
    if site:
        yield from unknown("site", site, "site", facts.sites)


def _key(day: date, site: str) -> Keys:
    return frozenset({("hours", day.isoformat(), site)})


def _row(facts: WeekFacts, day: date, site: str) -> DayHours | None:
    rows = (row for row in facts.hours if row.day == day and row.site == site and row.hands_min > 0)
    return next(rows, None)


def _with(facts: WeekFacts, old: DayHours | None, new: DayHours | None) -> WeekFacts:
    """The hours with one row instead of another, by day and site."""
    kept = [row for row in facts.hours if row is not old]
    if new is not None and new.hands_min > 0:
        kept = [row for row in kept if (row.day, row.site) != (new.day, new.site)]
        kept.append(new)
    return replace(facts, hours=tuple(sorted(kept, key=lambda row: (row.day, row.site))))


def _span(since: time, until: time) -> int:
    return (until.hour - since.hour) * 60 + until.minute - since.minute
