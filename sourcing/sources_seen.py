"""Sources as of a moment: what they give, by whose leave, how far each can be relied on.

The same questions however long the studio has kept its notebook: of each thing the last hand-overs
only, and sums over all of them that the database makes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from django.db.models import Case, Count, F, Max, Min, Q, QuerySet, Sum, Value, When, Window
from django.db.models.functions import Coalesce, ExtractIsoWeekDay, RowNumber

from inventory.errors import NoZone
from inventory.models import Dyestuff, Studio, StudioRule
from inventory.science.figures import Figures
from inventory.science.seasons import Season, nesting_season, seasons_of
from sourcing.arrivals import Arrivals, HandOver, Promise
from sourcing.figures import figures_in, weighings_of
from sourcing.gather import Cells, gather
from sourcing.models import Agreement, Source, TubMove
from sourcing.nests import may_ask
from sourcing.outlook import LOOKED_BACK, arrivals_in, where_is
from sourcing.reliability import (
    LAST,
    LOOKED_BACK_DAYS,
    Came,
    OnWeekday,
    Reliability,
    Tally,
    days_back,
    days_gone_by,
    reliability,
)
from sourcing.standing import standing_pickups
from sourcing.week.facts import PickUpExpected

SOURCES_AT_MOST = 30  # on one page
GIFTS_AT_MOST = 12  # of one source that are shown
CAME_AT_MOST = 24  # hand-overs of one thing on the page of its source
NEXT_AT_MOST = 3  # hand-overs to come of one thing
AHEAD_DAYS = 62
WEEKDAYS_OVER = LOOKED_BACK  # the days of the week are told apart over so long
PICKUPS_AT_MOST = 2_000  # to come or of the last four weeks, of all sources on one page
MOVES_AT_MOST = 12  # of tubs, on the page of a source


@dataclass(frozen=True, slots=True)
class Coming:
    """A day on which a source is to hand something over."""

    at: datetime
    expected: PickUpExpected | None  # None: nobody knows how much
    why_not: str = ""

    @property
    def how(self) -> str:
        """How it stands: `told of`, `called off`, `closed` or `expected`."""
        if self.expected is not None and self.expected.missed:
            return "called off"
        if self.why_not:
            return "closed"
        told = self.expected is not None and self.expected.confirmed_mg is not None
        return "told of" if told else "expected"

    @property
    def note(self) -> str:
        """What its source said with it."""
        return self.expected.note if self.expected is not None else ""


@dataclass(frozen=True, slots=True)
class GiftFacts:
    """One thing that a source agreed to give, and what came of it."""

    promise: Promise
    foraged: bool
    record: Reliability
    coming: tuple[Coming, ...]
    came: tuple[Came, ...]  # latest first
    piece_mg: int | None  # mass of one, where it is counted
    seasons: tuple[Season, ...]  # of a plant that is gathered; empty: nobody knows, or no plant
    nesting: Season | None  # when birds nest in what it is cut from


@dataclass(frozen=True, slots=True)
class TubsMoved:
    """So many tubs left, fetched or lost."""

    at: datetime
    how: str
    tubs: int
    note: str


@dataclass(frozen=True, slots=True)
class SourceFacts:
    """A person or place that saves material."""

    key: int
    name: str
    kind: str
    place: str
    note: str
    carrying_note: str
    carrying_until: date | None
    tubs: int  # clean ones of ours that stand there
    gifts: tuple[GiftFacts, ...]
    more_gifts: int = 0
    moves: tuple[TubsMoved, ...] = ()  # latest first


@dataclass(frozen=True, slots=True)
class SourcesFacts:
    """The sources of a page."""

    studio: str
    zone: ZoneInfo
    at: datetime
    sources: tuple[SourceFacts, ...]
    in_all: int
    page: int = 1
    goes_on: str = ""  # name of the last one here, where others follow

    @property
    def today(self) -> date:
        return self.at.astimezone(self.zone).date()


def sources_at(studio: Studio, *, at: datetime, page: int = 1) -> SourcesFacts:
    """The sources of a studio by name, so many on a page, in seven questions.

    Parameters
    ----------
    at : aware
    page : from 1
    """
    rows = Source.objects.of(studio).order_by("name", "pk")
    first = (page - 1) * SOURCES_AT_MOST
    keys = list(rows.values_list("pk", flat=True)[first : first + SOURCES_AT_MOST])
    seen = _seen(studio, at, keys, came_at_most=LAST)
    return replace(seen, in_all=rows.count(), page=page)


def sources_behind(studio: Studio, *, at: datetime, name: str | None = None) -> SourcesFacts:
    """The sources whose names come after a name, so many at a time, in seven questions."""
    rows = Source.objects.of(studio).order_by("name")
    ours = rows if name is None else rows.filter(name__gt=name)
    found = list(ours.values_list("pk", "name")[: SOURCES_AT_MOST + 1])
    shown = found[:SOURCES_AT_MOST]
    seen = _seen(studio, at, [key for key, _ in shown], came_at_most=LAST)
    # Named in the order of the table, which is not everywhere that of their letters.
    goes_on = shown[-1][1] if len(found) > len(shown) else ""
    return replace(seen, in_all=rows.count(), goes_on=goes_on)


def source_at(studio: Studio, *, at: datetime, key: int) -> SourcesFacts:
    """One source with its last hand-overs and moves of tubs; none where the studio has no such."""
    seen = _seen(studio, at, [key], came_at_most=CAME_AT_MOST)
    return replace(
        seen,
        sources=tuple(replace(row, moves=_moves(studio, row, seen)) for row in seen.sources),
    )


def _seen(studio: Studio, at: datetime, keys: Sequence[int], *, came_at_most: int) -> SourcesFacts:
    if at.tzinfo is None:
        raise NoZone(at)
    zone = ZoneInfo(studio.zone)
    at = at.astimezone(zone)
    rows = gather(_queries(studio, at, keys, came_at_most))
    figures = figures_in(rows, zone)
    arrivals = arrivals_in(rows, at, zone, figures, where_is(studio))
    sums, weekdays = _sums(studio, at, keys), _weekdays(studio, at, keys, zone)
    records = _Records(arrivals, sums, weekdays, came_at_most)
    tubs = _tubs(studio, at, keys)
    promises: dict[str, list[Promise]] = {}
    for promise in sorted(arrivals.promises, key=lambda row: row.gives):
        promises.setdefault(promise.source, []).append(promise)
    found = tuple(
        _source(row, promises.get(row["name"], []), records, tubs)
        for row in sorted(rows["sources"], key=lambda row: (row["name"], row["id"]))
    )
    return SourcesFacts(studio.name, zone, at, found, in_all=len(found))


def _queries(
    studio: Studio, at: datetime, keys: Sequence[int], came_at_most: int
) -> dict[str, QuerySet[Any]]:
    ours = standing_pickups(studio).filter(source__in=keys)
    latest = Window(
        RowNumber(),
        partition_by=[F("source_id"), F("gives")],
        order_by=[F("at").desc(), F("pk").desc()],
    )
    past = ours.filter(at__gte=at - LOOKED_BACK, at__lt=at).exclude(how="reported")
    over = past.annotate(behind=latest)
    around = ours.filter(
        at__gte=at - timedelta(days=LOOKED_BACK_DAYS + 1),
        at__lt=at + timedelta(days=AHEAD_DAYS + 1),
    )
    wanted = Q(pk__in=over.filter(behind__lte=came_at_most).values("pk")) | Q(
        pk__in=around.order_by("at").values("pk")[:PICKUPS_AT_MOST]
    )
    return {
        "sources": Source.objects.of(studio).filter(pk__in=keys),
        "agreements": Agreement.objects.of(studio).filter(source__in=keys),
        "pickups": standing_pickups(studio).filter(wanted),
        "rules": StudioRule.objects.of(studio),
        "weighings": weighings_of(studio, at=at),
        "dyestuffs": Dyestuff.objects.of(studio),
    }


def _sums(studio: Studio, at: datetime, keys: Sequence[int]) -> list[dict[str, Any]]:
    """All hand-overs that were made or missed, summed by source, thing and kind."""
    over = standing_pickups(studio).filter(source__in=keys, at__lt=at).exclude(how="reported")
    uncounted = Q(how="made", pieces__isnull=True)
    sums = (
        over.order_by()
        .values("source__name", "gives", "how")
        .annotate(
            times=Count("pk"),
            weighed_mg=Coalesce(Sum("weight_mg"), 0),
            pieces_alone=Coalesce(Sum("pieces", filter=Q(weight_mg__isnull=True)), 0),
            counted=Sum("pieces"),
            uncounted=Count("pk", filter=uncounted),
            first=Min("at"),
            last=Max("at"),
        )
    )
    return [dict(row) for row in sums]


def _weekdays(
    studio: Studio, at: datetime, keys: Sequence[int], zone: ZoneInfo
) -> list[dict[str, Any]]:
    """How often something came and did not, by source, thing and day of the week, for a year."""
    ours = standing_pickups(studio).filter(source__in=keys)
    over = ours.filter(at__gte=at - WEEKDAYS_OVER, at__lt=at).exclude(how="reported")
    sums = (
        over.order_by()
        .values("source__name", "gives", "how", weekday=ExtractIsoWeekDay("at", tzinfo=zone))
        .annotate(times=Count("pk"))
    )
    return [dict(row) for row in sums]


def _tubs(studio: Studio, at: datetime, keys: Sequence[int]) -> dict[int, int]:
    """Tubs that stand with each source at a moment."""
    moved = TubMove.objects.of(studio).filter(source__in=keys, at__lte=at)
    signed = Case(When(how="left", then=F("tubs")), default=-F("tubs"))
    sums = moved.order_by().values("source_id").annotate(standing=Sum(signed * Value(1)))
    return {row["source_id"]: row["standing"] for row in sums}


def _moves(studio: Studio, source: SourceFacts, seen: SourcesFacts) -> tuple[TubsMoved, ...]:
    rows = TubMove.objects.of(studio).filter(source=source.key, at__lte=seen.at)
    return tuple(
        TubsMoved(row.at.astimezone(seen.zone), row.how, row.tubs, row.note)
        for row in rows.order_by("-at", "-pk")[:MOVES_AT_MOST]
    )


def _source(
    row: Cells, promises: Sequence[Promise], records: _Records, tubs: Mapping[int, int]
) -> SourceFacts:
    return SourceFacts(
        key=row["id"],
        name=row["name"],
        kind=row["kind"],
        place=row["place"],
        note=row["note"],
        carrying_note=row["carrying_note"],
        carrying_until=row["carrying_until"],
        tubs=tubs.get(row["id"], 0),
        gifts=tuple(records.gift(promise) for promise in promises[:GIFTS_AT_MOST]),
        more_gifts=max(len(promises) - GIFTS_AT_MOST, 0),
    )


class _Records:
    """What came of each promise so far, and what is to come of it."""

    def __init__(
        self,
        arrivals: Arrivals,
        sums: Iterable[Mapping[str, Any]],
        weekdays: Iterable[Mapping[str, Any]],
        came_at_most: int,
    ) -> None:
        self.arrivals, self.came_at_most = arrivals, came_at_most
        self.expected = {
            (row.source, row.dyestuff, row.at): row for row in arrivals.expected(days=AHEAD_DAYS)
        }
        self._by_gift: dict[tuple[str, str], list[HandOver]] = {}
        for row in arrivals.hand_overs:
            self._by_gift.setdefault((row.source, row.gives), []).append(row)
        self._sums: dict[tuple[str, str], list[Mapping[str, Any]]] = {}
        for each in sums:
            self._sums.setdefault((each["source__name"], each["gives"]), []).append(each)
        self._weekdays: dict[tuple[str, str], list[OnWeekday]] = {}
        for each in weekdays:
            found = self._weekdays.setdefault((each["source__name"], each["gives"]), [])
            found.append(_on_weekday(each))

    def gift(self, promise: Promise) -> GiftFacts:
        arrivals = self.arrivals
        key = (promise.source, promise.gives)
        piece_mg = arrivals.piece_mg(promise.gives)
        known, sums = self._by_gift.get(key, []), self._sums.get(key, [])
        came = self._came(known, piece_mg)
        made = [row["last"] for row in sums if row["how"] == "made"]
        record = reliability(
            came,
            (_tally(row, piece_mg) for row in sums),
            weekdays=self._weekdays.get(key, ()),
            last_made=max(made).astimezone(arrivals.zone).date() if made else None,
            nobody_said=self._nobody_said(promise, known, sums),
        )
        foraged = promise.gives in arrivals.foraged
        return GiftFacts(
            promise=promise,
            foraged=foraged,
            record=record,
            coming=self._coming(promise, known),
            came=came[: self.came_at_most],
            piece_mg=piece_mg,
            seasons=self._seasons(promise.gives, arrivals.figures),
            nesting=nesting_season(arrivals.where, arrivals.figures, on=arrivals.today)
            if may_ask(promise.gives, promise.kind)
            else None,
        )

    def _seasons(self, plant: str, figures: Figures) -> tuple[Season, ...]:
        return seasons_of(plant, self.arrivals.where, figures, on=self.arrivals.today)

    def _came(self, known: Iterable[HandOver], piece_mg: int | None) -> tuple[Came, ...]:
        """Those that were made or missed before the moment, latest first."""
        zone = self.arrivals.zone
        over = [row for row in known if row.how != "reported" and row.at < self.arrivals.at]
        return tuple(
            Came(
                on=row.at.astimezone(zone).date(),
                mg=row.mg(piece_mg),
                pieces=row.pieces,
                lot=row.lot,
                missed=row.how == "missed",
            )
            for row in sorted(over, key=lambda row: row.at, reverse=True)
        )

    def _nobody_said(
        self, promise: Promise, known: Iterable[HandOver], sums: Iterable[Mapping[str, Any]]
    ) -> tuple[date, ...]:
        """Agreed days of the last four weeks that went by without a word; none before the first."""
        arrivals, zone = self.arrivals, self.arrivals.zone
        firsts = [row["first"].astimezone(zone).date() for row in sums]
        begun = [*firsts, *([promise.since] if promise.since else [])]
        if not begun:
            return ()
        told = {row.at.astimezone(zone).date() for row in known if row.how != "reported"}
        due = (
            day
            for day in days_back(arrivals.today)
            if promise.falls_on(day)
            and datetime.combine(day, promise.at, tzinfo=zone) < arrivals.at
            and not arrivals.why_not(promise, day)
        )
        return days_gone_by(due, told, since=min(begun))

    def _coming(self, promise: Promise, known: Iterable[HandOver]) -> tuple[Coming, ...]:
        """The next hand-overs: agreed days to come, and those that were told of."""
        arrivals, zone = self.arrivals, self.arrivals.zone
        on_record = {row.at.astimezone(zone).date(): row for row in known}
        found: dict[datetime, Coming] = {}
        for (source, gives, at), row in self.expected.items():
            if (source, gives) == (promise.source, promise.gives):
                found[at] = Coming(at, row, row.why_not)
        for day in (arrivals.today + timedelta(days=n) for n in range(AHEAD_DAYS)):
            at = datetime.combine(day, promise.at, tzinfo=zone)
            if day in on_record or at < arrivals.at or not promise.falls_on(day):
                continue
            found.setdefault(at, Coming(at, None, arrivals.why_not(promise, day)))
        return tuple(found[at] for at in sorted(found)[:NEXT_AT_MOST])


def _on_weekday(row: Mapping[str, Any]) -> OnWeekday:
    times, made = row["times"], row["how"] == "made"
    return OnWeekday(row["weekday"] - 1, times if made else 0, 0 if made else times)


def _tally(row: Mapping[str, Any], piece_mg: int | None) -> Tally:
    """One row of the database's sums; counts alone weigh what a piece weighs today."""
    made = row["how"] == "made"
    return Tally(
        made=row["times"] if made else 0,
        missed=0 if made else row["times"],
        mg=row["weighed_mg"] + row["pieces_alone"] * (piece_mg or 0),
        pieces=row["counted"] if made and not row["uncounted"] else None,
    )
