"""Pick-ups otherwise: one that is missed, one that comes with an amount."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from typing import ClassVar

from inventory.science.days import local_day
from inventory.science.facts import LotFacts, Stay
from inventory.science.saying import say
from sourcing.forecast.facts import Stream, Visit
from sourcing.week.facts import Meeting, PickUpExpected, WeekFacts
from sourcing.week.ripple import pick_ups_of, struck
from sourcing.week.what_if.change import Fault, ahead, shelf_with, taken, there_are, unknown
from sourcing.week.words import day_in_words


@dataclass(frozen=True, slots=True)
class PickUpMissed:
    """A source's visit on a day brings nothing; `gives` empty: nothing of all that it gives."""

    source: str
    on_day: date
    gives: str = ""
    order: ClassVar[int] = 2

    def decides(self, facts: WeekFacts) -> frozenset[tuple[str, ...]]:
        return frozenset(_key(row.source, row.dyestuff, self.on_day) for row in self._rows(facts))

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        found = list(_names(facts, self.source, self.gives))
        yield from found
        if not found and not self._rows(facts):
            rows = pick_ups_of(facts, source=self.source, gives=self.gives)
            days = {local_day(row.at, zone=facts.zone) for row in rows}
            said = say(
                "No pick-up of {source} is expected on {on_day}",
                source=self.source,
                on_day=day_in_words(self.on_day),
            )
            said += say(" {year}. ", year=self.on_day.year)
            yield Fault("on", said + there_are([day_in_words(day) for day in sorted(days)]))

    def on(self, facts: WeekFacts) -> WeekFacts:
        rows = self._rows(facts)
        gone = struck(facts, rows)
        return _heard_of(gone, self.source, self.on_day, {row.dyestuff for row in rows})

    def _rows(self, facts: WeekFacts) -> tuple[PickUpExpected, ...]:
        return pick_ups_of(facts, source=self.source, on=self.on_day, gives=self.gives)


@dataclass(frozen=True, slots=True)
class PickUpComes:
    """A source tells of a pick-up: what it will bring counts in full from its hour."""

    source: str
    on_day: date
    gives: str
    mg: int | None = None  # one of mg and pieces
    pieces: int | None = None
    at: time | None = None  # None: the hour at which it comes as a rule
    lot: str = ""  # what will be written on it
    place_kind: str = ""  # empty: the fridge where there is one, else the bench
    state: str = "fresh"
    order: ClassVar[int] = 1

    def decides(self, facts: WeekFacts) -> frozenset[tuple[str, ...]]:
        return frozenset({_key(self.source, self.gives, self.on_day), ("lot", self._lot_code)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        found = list(_names(facts, self.source, self.gives))
        found += ahead("on", self.on_day, facts)
        yield from found
        if found:
            return
        row = self._row(facts)
        if row is None and self.at is None and not self._usual(facts):
            yield Fault(
                "at",
                say(
                    "{source} has no hour as a rule. Say at what time it comes.", source=self.source
                ),
            )
        elif self._moment(facts) <= facts.at:
            yield Fault("on", say("The hour of that pick-up has passed. Record it instead."))
        if row is not None and row.why_not:
            yield Fault("on", say("Nothing may be fetched then: {why_not}.", why_not=row.why_not))
        if self.mg is None and self._piece_mg(facts) is None:
            text = say(
                "Nobody has written down what a piece of {gives} weighs. Say a weight.",
                gives=self.gives,
            )
            yield Fault("amount", text)
        if row is None or row.confirmed_mg is None:
            yield from taken("lot", self._lot_code, "lot", (lot.code for lot in facts.shelf.lots))

    def on(self, facts: WeekFacts) -> WeekFacts:
        row, at, mg = self._row(facts), self._moment(facts), self._mg(facts)
        lots = tuple(lot for lot in facts.shelf.lots if row is None or not _is_of(lot, row))
        told = _told(row, self, at, mg, facts)
        others = (each for each in facts.pick_ups if each is not row)
        here = shelf_with(facts, lots=_by_code((*lots, self._new_lot(facts, at, mg))))
        streams = tuple(_visited(row, self, mg) for row in facts.streams)
        expected = sorted((*others, told), key=lambda row: (row.at, row.source, row.dyestuff))
        return _heard_of(replace(here, pick_ups=tuple(expected), streams=streams),
                         self.source, self.on_day, {self.gives})  # fmt: skip

    @property
    def _lot_code(self) -> str:
        return self.lot or say(
            "{gives} {on_day}", gives=self.gives, on_day=day_in_words(self.on_day)
        )

    def _row(self, facts: WeekFacts) -> PickUpExpected | None:
        rows = (row for row in facts.pick_ups
                if (row.source, row.dyestuff) == (self.source, self.gives)
                and local_day(row.at, zone=facts.zone) == self.on_day)  # fmt: skip
        return next(rows, None)

    def _usual(self, facts: WeekFacts) -> list[time]:
        """The hours at which the source comes, the earliest expected first."""
        rows = (row for row in facts.pick_ups if row.source == self.source)
        return [row.at.astimezone(facts.zone).time() for row in rows]

    def _moment(self, facts: WeekFacts) -> datetime:
        row = self._row(facts)
        if row is not None and self.at is None:
            return row.at
        at = self.at or self._usual(facts)[0]
        return datetime.combine(self.on_day, at, tzinfo=facts.zone)

    def _piece_mg(self, facts: WeekFacts) -> int | None:
        found = facts.figures.find(self.gives, "piece_mass_g", on=local_day(
            facts.at, zone=facts.zone))  # fmt: skip
        return None if found is None else int(found.value * 1000)

    def _mg(self, facts: WeekFacts) -> int:
        if self.mg is not None:
            return self.mg
        return (self.pieces or 0) * (self._piece_mg(facts) or 0)

    def _new_lot(self, facts: WeekFacts, at: datetime, mg: int) -> LotFacts:
        like = [lot for lot in facts.shelf.lots if lot.dyestuff == self.gives]
        fridge = any(place.kind == "fridge" for place in facts.shelf.cold_places)
        kind = self.place_kind or ("fridge" if fridge else "bench")
        foraged = any(lot.foraged for lot in like)
        return LotFacts(
            self._lot_code, self.gives, (Stay(at, self.state, kind, kind),), mg,
            source=self.source, gathered_on=self.on_day, arrives_at=at, foraged=foraged,
            permission=say("as agreed with {source}", source=self.source) if foraged else "",
        )  # fmt: skip


def _told(
    row: PickUpExpected | None, change: PickUpComes, at: datetime, mg: int, facts: WeekFacts
) -> PickUpExpected:
    """The expected pick-up as one that was told of; on a day not agreed, a new one."""
    if row is not None:
        return replace(row, at=at, confirmed_mg=mg, missed=False)
    piece_mg = change._piece_mg(facts) if change.pieces is not None else None
    return PickUpExpected(change.source, change.gives, at, mg, 0, piece_mg, confirmed_mg=mg)


def _key(source: str, gives: str, day: date) -> tuple[str, ...]:
    return ("pick-up", source, gives, day.isoformat())


def _is_of(lot: LotFacts, row: PickUpExpected) -> bool:
    same = lot.dyestuff == row.dyestuff and lot.source in ("", row.source)
    return same and row.confirmed_mg is not None and lot.arrives_at == row.at


def _by_code(lots: tuple[LotFacts, ...]) -> tuple[LotFacts, ...]:
    return tuple(sorted(lots, key=lambda lot: lot.code))


def _names(facts: WeekFacts, source: str, gives: str) -> Iterator[Fault]:
    """Faults of a source that is not there, or that does not give the thing."""
    given: dict[str, set[str]] = {}
    for row in facts.pick_ups:
        given.setdefault(row.source, set()).add(row.dyestuff)
    for stream in facts.streams:
        given.setdefault(stream.source, set()).add(stream.gives)
    found = list(unknown("source", source, say("source that anything is expected from"), given))
    yield from found
    if not found and gives and gives not in given[source]:
        yield Fault(
            "gives",
            say(
                "{source} does not give {gives}. {there_are}",
                source=source,
                gives=gives,
                there_are=there_are(sorted(given[source])),
            ),
        )


def _heard_of(facts: WeekFacts, source: str, day: date, gives: set[str]) -> WeekFacts:
    """The agreed meetings without what somebody has said something of."""
    rows: list[Meeting] = []
    for row in facts.meetings:
        if row.source == source and local_day(row.at, zone=facts.zone) == day:
            row = replace(row, gives=tuple(name for name in row.gives if name not in gives))
        if row.gives:
            rows.append(row)
    return replace(facts, meetings=tuple(rows))


def _visited(stream: Stream, change: PickUpComes, mg: int) -> Stream:
    """A stream with the visit on record, as the forecast takes what was told of."""
    if (stream.source, stream.gives) != (change.source, change.gives):
        return stream
    kept = [visit for visit in stream.visits if visit.on != change.on_day]
    weight = change.mg if change.pieces is None else None
    kept.append(Visit(change.on_day, "made", change.pieces, weight))
    return replace(stream, visits=tuple(sorted(kept, key=lambda visit: visit.on)))
