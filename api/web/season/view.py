"""The seasons of a studio in words and as a wheel: what can be gathered, what somebody gives."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from api.question import Question
from api.web.season.days import YEAR, Stretch, number_of, stretch_of
from api.web.season.wheel import Told, Wheel, wheel_of
from api.web.this_week.flags import begun_large
from inventory.science.saying import Said, joined, say
from inventory.science.seasons import (
    Season,
    Where,
    cut_from_of,
    nesting_season,
    seasons_of,
    shipped_seasons,
)
from sourcing.forecast.facts import Stream
from sourcing.outlook import where_is
from sourcing.put_by_outlook import PutByOutlook
from sourcing.putting_by.gaps import Gap
from sourcing.week.facts import WeekFacts
from sourcing.week.words import DAYS, MONTHS, day_in_words, listed

RINGS_AT_MOST = 8  # of the studio's own; more stand in the table
ALL_YEAR: Stretch = (0, YEAR)


@dataclass(frozen=True, slots=True)
class RowShown:
    """One part of a plant in the table."""

    what: str
    part: str
    when: str
    now: bool
    given: str
    shut: str
    nests: str
    basis: str


@dataclass(frozen=True, slots=True)
class SeasonShown:
    """The whole page."""

    wheel: Wheel
    year: int
    week: str
    where: str
    nests: str  # in full, with what to check
    nests_now: bool
    own: tuple[RowShown, ...]
    others: tuple[RowShown, ...]
    left_out: str


@dataclass(frozen=True, slots=True)
class _Stuff:
    """A dyestuff with its seasons, what gives it, and when nothing does."""

    what: str
    seasons: tuple[Season, ...]
    streams: tuple[Stream, ...] = ()
    gaps: tuple[Gap, ...] = ()

    @property
    def cut(self) -> bool:
        return bool(cut_from_of(self.what))


def season_shown(question: Question, outlook: PutByOutlook) -> SeasonShown:
    """Everything on the page in words and shapes."""
    facts, where = outlook.facts, where_is(question.studio)
    today = question.at.date()
    nests = nesting_season(where, facts.figures, on=today)
    own = tuple(_own(outlook, where, today))
    known = {row.what.casefold() for row in own}
    others = tuple(row for row in _others(facts, where, today) if row.what.casefold() not in known)
    wheel = wheel_of(
        [told for row in own[:RINGS_AT_MOST] for told in _told(row, today)],
        [told for row in others for told in _told(row, today)],
        nests=stretch_of(nests),
        nest_words=say("birds nest, {dates}: look before hedge or tree is cut", dates=nests.dates),
        today=number_of((today.month, today.day)),
    )
    return SeasonShown(
        wheel=wheel,
        year=today.year,
        week=say(
            "{today} to {today_2}",
            today=day_in_words(today),
            today_2=day_in_words(today + timedelta(6)),
        ),
        where=joined(", ", filter(None, (where.region, where.country)))
        or say("no country written down"),
        nests=begun_large(nests.said),
        nests_now=nests.holds(today),
        own=tuple(_rows(own, nests, today)),
        others=tuple(_rows(others, nests, today)),
        left_out=joined("; ", wheel.left_out),
    )


# -- what there is to tell ---------------------------------------------------------------------


def _own(outlook: PutByOutlook, where: Where, today: date) -> Iterator[_Stuff]:
    """What the studio has, gets or dyes with, by name."""
    facts = outlook.facts
    names = {dose.what for recipe in facts.recipes for dose in recipe.doses
             if dose.kind == "dyestuff"}  # fmt: skip
    names |= {stream.gives for stream in facts.streams}
    names |= {lot.dyestuff for lot in facts.shelf.lots if lot.dyestuff}
    names |= {making.dyestuff for making in facts.makings}
    for what in sorted(names):
        yield _Stuff(
            what,
            seasons_of(what, where, facts.figures, on=today),
            tuple(row for row in facts.streams if row.gives == what),
            tuple(row for row in outlook.gaps if row.dyestuff == what),
        )


def _others(facts: WeekFacts, where: Where, today: date) -> Iterator[_Stuff]:
    """What else the tables know a season of."""
    for what in sorted({row.season.what for row in shipped_seasons()}):
        found = seasons_of(what, where, facts.figures, on=today)
        if found:
            yield _Stuff(what, found)


# -- on the wheel ------------------------------------------------------------------------------


def _told(row: _Stuff, today: date) -> Iterator[Told]:
    """Each season of a dyestuff; one of which nobody knows a season is there all year."""
    given = tuple(stretch for stream in row.streams for stretch in _window(stream, today))
    shut = tuple(stretch for gap in row.gaps for stretch in _shut(gap, today))
    if not row.seasons:
        words = say("{what}, the year round", what=row.what) if row.streams else row.what
        yield Told(row.what, words, ALL_YEAR, row.what, given=given, shut=shut)
    several = len(row.seasons) > 1
    for number, season in enumerate(row.seasons):
        name = (
            say("{what}, {split}", what=row.what, split=_short(season.part))
            if several
            else row.what
        )
        yield Told(
            row.what,
            say("{name}, {dates}", name=name, dates=season.dates),
            stretch_of(season),
            row.what,
            cut=row.cut,
            given=given if number == 0 else (),
            shut=shut if number == 0 else (),
        )


def _window(stream: Stream, today: date) -> Iterator[Stretch]:
    """When a source gives something, within the year from today; for ever is all year."""
    until = today + timedelta(days=YEAR - 1)
    first, last = stream.since or date.min, stream.last_on or date.max
    single = [day for day in stream.days if isinstance(day, date)]
    if single and len(single) == len(stream.days) and stream.last_on is None:
        first, last = max(first, min(single)), max(single)
    yield from _days(max(first, today) if first > date.min else today, min(last, until), today)


def _shut(gap: Gap, today: date) -> Iterator[Stretch]:
    end = today + timedelta(days=YEAR - 1)
    until = end if gap.until is None else gap.until - timedelta(days=1)
    yield from _days(gap.since, min(until, end), today)


def _days(first: date, last: date, today: date) -> Iterator[Stretch]:
    """A stretch of dates round the wheel; nothing where it lies beyond a year or is empty."""
    long = (last - first).days + 1
    if long <= 0 or (first - today).days >= YEAR:
        return
    number = number_of((first.month, first.day))
    yield (number, number + min(long, YEAR))


# -- in the table ------------------------------------------------------------------------------


def _rows(stuffs: Iterable[_Stuff], nests: Season, today: date) -> Iterator[RowShown]:
    for row in stuffs:
        given = joined("; ", (_given(stream) for stream in row.streams))
        shut = joined("; ", (_gap_said(gap) for gap in row.gaps))
        look = say("look for nests, {dates}", dates=nests.dates) if row.cut else ""
        if not row.seasons:
            yield RowShown(
                row.what, "", say("no season is written down"), True, given, shut, look, ""
            )
        for number, season in enumerate(row.seasons):
            once = number == 0
            yield RowShown(
                what=row.what,
                part=season.part,
                when=begun_large(season.dates),
                now=season.holds(today),
                given=given if once else "",
                shut=shut if once else "",
                nests=look,
                basis=say("the studio's own rule") if season.own else season.basis,
            )


def _given(stream: Stream) -> str:
    """Who gives it, on which days, in which window."""
    weekdays = [DAYS[day] for day in stream.days if isinstance(day, int)]
    single = [_dated(day) for day in stream.days if isinstance(day, date)]
    said = (
        say("{source}, {listed}", source=stream.source, listed=listed([*weekdays, *single]))
        if stream.days
        else stream.source
    )
    if stream.last_on is not None:
        said += say(", to {dated}", dated=_dated(stream.last_on))
    return said


def _gap_said(gap: Gap) -> str:
    until = say("nobody knows when") if gap.until is None else _dated(gap.until - timedelta(days=1))
    return say("{dated} to {until}", dated=_dated(gap.since), until=until)


def _dated(day: date) -> str:
    return say("{day} {months} {year}", day=day.day, months=MONTHS[day.month - 1], year=day.year)


def _short(part: str) -> str:
    """A part of a plant without what it is for."""
    return part.before(",") if isinstance(part, Said) else part.partition(",")[0]
