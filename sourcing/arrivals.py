"""What may come, and when: agreements unrolled into pick-ups, reported ones into lots.

Worst is the least of the last six, likely their mean; a missed pick-up counts as none.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from functools import cached_property
from zoneinfo import ZoneInfo

from inventory.science.facts import LotFacts, Stay
from inventory.science.figures import Figures
from inventory.science.saying import say
from inventory.science.seasons import Season, Where, nesting_season
from sourcing.forecast.facts import How, Stream, Visit
from sourcing.nests import Cut, NestCheck, may_ask
from sourcing.week.facts import Meeting, PickUpExpected

COUNTED_BACK = 6  # pick-ups that likely and worst rest on
NESTING_SEASONS_AHEAD = 2


@dataclass(frozen=True, slots=True)
class Promise:
    """One agreement: what a source gives, on which days, in which window, by whose leave."""

    source: str
    gives: str
    days: tuple[int | date, ...]  # weekdays, 0 Monday, or single days
    at: time
    since: date | None = None
    last_on: date | None = None
    closed: tuple[tuple[date, date], ...] = ()
    permission: str = ""
    permission_ended: date | None = None  # first day without it
    carrying_note: str = ""
    carrying_until: date | None = None
    hands_min: int = 0
    likely_mg: int | None = None
    likely_pieces: int | None = None
    kind: str = ""  # of the source: hedge, café ...

    def falls_on(self, day: date) -> bool:
        return day in self.days or day.weekday() in self.days

    @property
    def ends(self) -> date | None:
        """The last day on which something may be fetched, as far as anybody has said."""
        day_before = self.permission_ended and self.permission_ended - timedelta(days=1)
        return min(filter(None, (self.last_on, day_before, self.carrying_until)), default=None)


@dataclass(frozen=True, slots=True)
class HandOver:
    """One pick-up on record: reported, made or missed."""

    source: str
    gives: str
    at: datetime
    how: str
    weight_mg: int | None = None
    pieces: int | None = None
    lot: str = ""
    place: str = ""
    place_kind: str = ""
    state: str = "fresh"
    nests: NestCheck | None = None  # before it was cut
    note: str = ""

    def mg(self, piece_mg: int | None) -> int:
        """What it brought, or will; a count by the mass of one piece."""
        if self.weight_mg is not None:
            return self.weight_mg
        return (self.pieces or 0) * (piece_mg or 0)


@dataclass(frozen=True)
class Arrivals:
    """Everything that pick-ups are worked out from, at one moment."""

    at: datetime
    zone: ZoneInfo
    promises: Sequence[Promise]
    hand_overs: Sequence[HandOver]
    figures: Figures
    foraged: frozenset[str] = frozenset()
    where: Where = field(default_factory=Where)  # the studio's country and region

    @property
    def today(self) -> date:
        return self.at.astimezone(self.zone).date()

    def expected(self, *, days: int) -> tuple[PickUpExpected, ...]:
        """Pick-ups from the moment on, for so many days, by moment, source and dyestuff."""
        found = [row for promise in self.promises for row in self._of(promise, days)]
        found += self._outside(found)
        return tuple(sorted(found, key=lambda row: (row.at, row.source, row.dyestuff)))

    def lots(self) -> tuple[LotFacts, ...]:
        """Reported pick-ups as lots that count from their hour."""
        since = self.at - timedelta(days=1)
        return tuple(
            self._lot(row)
            for row in self.hand_overs
            if row.how == "reported" and row.lot and row.at >= since
        )

    def meetings(self, *, days: int) -> tuple[Meeting, ...]:
        """Agreed pick-ups of which nobody has said anything yet, by moment, then source."""
        found: dict[tuple[str, date], list[Promise]] = {}
        for promise in self.promises:
            for day in (self.today + timedelta(days=n) for n in range(days)):
                if self._is_open(promise, day):
                    found.setdefault((promise.source, day), []).append(promise)
        rows = [self._meeting(source, day, each) for (source, day), each in found.items()]
        to_come = [row for row in rows if row.at >= self.at]
        return tuple(sorted(to_come, key=lambda row: (row.at, row.source)))

    def _is_open(self, promise: Promise, day: date) -> bool:
        """Whether a pick-up is agreed for a day, may be, and is still to be heard of."""
        return (
            promise.falls_on(day)
            and not self.why_not(promise, day, None)
            and self._known(promise.source, promise.gives, day) is None
        )

    def _meeting(self, source: str, day: date, promises: Sequence[Promise]) -> Meeting:
        at = min(promise.at for promise in promises)
        gives = tuple(sorted(promise.gives for promise in promises))
        return Meeting(source, datetime.combine(day, at, tzinfo=self.zone), gives)

    def streams(self) -> tuple[Stream, ...]:
        """Each agreement with its pick-ups so far, for the forecast; one that may not be fetched
        for want of a permission or a carrying note is none.

        What a source reported counts as a lot from its hour, so here it brings nothing more.
        """
        found = [
            self._stream(promise)
            for promise in self.promises
            if not no_leave(promise, self.foraged)
        ]
        # By name, not by the order in which they were written down.
        return tuple(sorted(found, key=lambda row: (row.source, row.gives, repr(row.days))))

    def _stream(self, promise: Promise) -> Stream:
        return Stream(
            source=promise.source,
            gives=promise.gives,
            days=promise.days,
            since=promise.since,
            last_on=promise.ends,
            closed=(*promise.closed, *self._nesting(promise)),
            promised_pieces=promise.likely_pieces,
            promised_mg=promise.likely_mg,
            visits=self._visits(promise),
        )

    def _nesting(self, promise: Promise) -> Iterable[tuple[date, date]]:
        """Stretches to come in which a hedge is not counted on; what was cut before stays."""
        if not may_ask(promise.gives, promise.kind):
            return
        season = nesting_season(self.where, self.figures, on=self.today)
        first = self.today if season.holds(self.today) else season.begins(self.today)
        for _ in range(NESTING_SEASONS_AHEAD):
            last = season.ends(first)
            yield first, last
            first = season.begins(last + timedelta(days=1))

    def _visits(self, promise: Promise) -> tuple[Visit, ...]:
        """One a day: where several are on record, the last."""
        found: dict[date, Visit] = {}
        for row in self._by_gift.get((promise.source, promise.gives), ()):
            if row.how == "made" and row.at > self.at:
                continue
            day = row.at.astimezone(self.zone).date()
            how: How = "missed" if row.how == "missed" else "made"
            found[day] = Visit(day, how, row.pieces, row.weight_mg)
        return tuple(found[day] for day in sorted(found))

    def piece_mg(self, dyestuff: str) -> int | None:
        """Mass of one piece, where it is known."""
        figure = self.figures.find(dyestuff, "piece_mass_g", on=self.today)
        return None if figure is None else int(figure.value * 1000)

    def _of(self, promise: Promise, days: int) -> Iterable[PickUpExpected]:
        likely, worst = self._amounts(promise)
        if likely is None:
            return  # nobody knows what it brings
        for day in (self.today + timedelta(days=n) for n in range(days)):
            if not promise.falls_on(day):
                continue
            known = self._known(promise.source, promise.gives, day)
            at = known.at if known else datetime.combine(day, promise.at, tzinfo=self.zone)
            if at < self.at or (known is not None and known.how == "made"):
                continue
            yield self._expected(promise, at, likely, worst or 0, known)

    def _expected(
        self, promise: Promise, at: datetime, likely: int, worst: int, known: HandOver | None
    ) -> PickUpExpected:
        why_not = self.why_not(promise, at.astimezone(self.zone).date(), known)
        piece_mg = self.piece_mg(promise.gives) if self._by_piece(promise) else None
        reported = known is not None and known.how == "reported"
        return PickUpExpected(
            source=promise.source,
            dyestuff=promise.gives,
            at=at,
            likely_mg=likely,
            worst_mg=worst,
            piece_mg=piece_mg,
            hands_min=promise.hands_min,
            confirmed_mg=known.mg(self.piece_mg(promise.gives)) if known and reported else None,
            missed=known is not None and known.how == "missed",
            in_window=not why_not,
            why_not=why_not,
            note=known.note if known is not None else "",
        )

    def why_not(self, promise: Promise, day: date, known: HandOver | None = None) -> str:
        """Why nothing may be fetched on a day: window, leave, note, or nests in the hedge."""
        closed = why_closed(promise, day, self.foraged)
        if closed:
            return closed
        nests = known.nests if known is not None else None
        season = self._nests_in_doubt(promise.gives, promise.kind, day, nests)
        return (
            ""
            if season is None
            else say("nesting season, {dates}: no nest check on record", dates=season.dates)
        )

    def _nests_in_doubt(
        self, gives: str, kind: str, day: date, check: NestCheck | None
    ) -> Season | None:
        """The nesting season that asks for a check where none on record counts."""
        if not may_ask(gives, kind):
            return None
        cut = Cut(gives, day, self.where, kind)
        if check is not None and cut.counts(check, self.figures):
            return None
        return cut.asks(self.figures)

    def _outside(self, found: Sequence[PickUpExpected]) -> list[PickUpExpected]:
        """Reported pick-ups that fall on no agreed day."""
        known = {(row.source, row.dyestuff, row.at) for row in found}
        return [
            PickUpExpected(
                source=row.source,
                dyestuff=row.gives,
                at=row.at,
                likely_mg=row.mg(self.piece_mg(row.gives)),
                worst_mg=0,
                piece_mg=self.piece_mg(row.gives) if row.pieces is not None else None,
                confirmed_mg=row.mg(self.piece_mg(row.gives)),
                note=row.note,
            )
            for row in self.hand_overs
            if row.how == "reported"
            and row.at >= self.at
            and (row.source, row.gives, row.at) not in known
        ]

    @cached_property
    def _by_gift(self) -> dict[tuple[str, str], list[HandOver]]:
        found: dict[tuple[str, str], list[HandOver]] = {}
        for row in self.hand_overs:
            found.setdefault((row.source, row.gives), []).append(row)
        return found

    def _known(self, source: str, gives: str, day: date) -> HandOver | None:
        for row in self._by_gift.get((source, gives), ()):
            if row.how == "made" and row.at > self.at:
                continue  # not yet, at this moment
            if row.at.astimezone(self.zone).date() == day:
                return row
        return None

    def _past(self, promise: Promise) -> list[HandOver]:
        """The last six that were made or missed, latest first."""
        rows = [
            row
            for row in self._by_gift.get((promise.source, promise.gives), ())
            if row.how != "reported" and row.at < self.at
        ]
        return sorted(rows, key=lambda row: row.at, reverse=True)[:COUNTED_BACK]

    def _by_piece(self, promise: Promise) -> bool:
        counted = any(row.pieces is not None for row in self._past(promise))
        return counted or promise.likely_pieces is not None

    def _amounts(self, promise: Promise) -> tuple[int | None, int | None]:
        """Likely and worst, from what came before, else from what the source said."""
        piece_mg = self.piece_mg(promise.gives)
        past = [row.mg(piece_mg) for row in self._past(promise)]
        if past:
            return round(Fraction(sum(past), len(past))), min(past)
        if promise.likely_pieces is not None:
            return promise.likely_pieces * (piece_mg or 0), 0
        return promise.likely_mg, 0

    def _lot(self, row: HandOver) -> LotFacts:
        foraged = row.gives in self.foraged
        leave = {(each.source, each.gives): each.permission for each in self.promises}
        kinds = {each.source: each.kind for each in self.promises}
        day = row.at.astimezone(self.zone).date()
        doubt = self._nests_in_doubt(row.gives, kinds.get(row.source, ""), day, row.nests)
        return LotFacts(
            code=row.lot,
            dyestuff=row.gives,
            stays=(Stay(row.at, row.state, row.place, row.place_kind),),
            left_mg=row.mg(self.piece_mg(row.gives)),
            source=row.source,
            gathered_on=day,
            permission=leave.get((row.source, row.gives), "") if foraged else "",
            foraged=foraged,
            nest_checked=False if doubt else (True if row.nests else None),
            arrives_at=row.at,
        )


def why_closed(promise: Promise, day: date, foraged: frozenset[str]) -> str:
    """Why nothing may be fetched on a day; empty when it may."""
    if promise.since is not None and day < promise.since:
        return say("window opens {said}", said=_said(promise.since))
    if promise.last_on is not None and day > promise.last_on:
        return say("window closed {said}", said=_said(promise.last_on))
    for first, last in promise.closed:
        if first <= day <= last:
            return say("closed till {said}", said=_said(last))
    if promise.permission_ended is not None and day >= promise.permission_ended:
        return say("permission withdrawn {said}", said=_said(promise.permission_ended))
    if promise.carrying_until is not None and day > promise.carrying_until:
        return say("carrying note ran out {said}", said=_said(promise.carrying_until))
    return no_leave(promise, foraged)


def no_leave(promise: Promise, foraged: frozenset[str]) -> str:
    """What is not on record so that nothing may be fetched on any day; empty when all is."""
    if promise.gives in foraged and not promise.permission:
        return say("no permission on record")
    if promise.gives not in foraged and not promise.carrying_note:
        return say("no carrying note on record")
    return ""


def _said(day: date) -> str:
    return say("{day} {day_2:%B %Y}", day=day.day, day_2=day)


def permission_in_words(by: str, on: date | None) -> str:
    """Who said yes and when, in one phrase."""
    return say("{by}, {day} {on:%b %Y}", by=by, day=on.day, on=on) if by and on is not None else by
