"""Room otherwise: the line, a pot or ring that is away, one pot more."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from typing import ClassVar

from inventory.science.facts import LineFacts, RingFacts, VesselFacts
from inventory.science.saying import say
from sourcing.week.facts import Block, Hanging, WeekFacts
from sourcing.week.what_if.change import (
    Fault,
    each,
    in_order,
    shelf_with,
    taken,
    today_of,
    unknown,
    without,
)
from sourcing.week.words import kilos, litres

NOT_UP = say(
    "line that is not up"
)  # what takes the room of a line that is there for a stretch only
SMALLEST_ML, LARGEST_ML = 1_000, 1_000_000  # of a pot; a smaller one has loads without end
Keys = frozenset[tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class LineRoom:
    """More room on a line, or less, by dry weight; for a stretch or for good."""

    mg: int  # above 0 more, below 0 less
    line: str = ""  # empty: the only one, or the first
    since: datetime | None = None
    until: datetime | None = None
    order: ClassVar[int] = 3

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("line", self._line(facts))})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        lines = {line.code: line for line in facts.shelf.lines}
        yield from in_order(self.since, self.until)
        if self.line or not lines:
            yield from unknown("line", self.line, "line", lines)
        there = lines.get(self._line(facts))
        if there is not None and there.holds_mg + self.mg < 0:
            text = say(
                "{code} holds {holds_mg}: {mg} less is too much",
                code=there.code,
                holds_mg=kilos(there.holds_mg),
                mg=kilos(-self.mg),
            )
            yield Fault("less", say("{text}. Say that much at most.", text=text))

    def on(self, facts: WeekFacts) -> WeekFacts:
        code = self._line(facts)
        if self.mg < 0 and self._bounded:
            return self._hung(facts, self.since, self.until)
        lines = each(facts.shelf.lines, code, self._longer)
        facts = shelf_with(facts, lines=lines)
        if self.since is not None:
            facts = self._hung(facts, None, self.since)
        if self.until is not None:
            facts = self._hung(facts, self.until, None)
        return facts

    @property
    def _bounded(self) -> bool:
        return self.since is not None or self.until is not None

    def _longer(self, line: LineFacts) -> LineFacts:
        return replace(line, holds_mg=line.holds_mg + self.mg)

    def _line(self, facts: WeekFacts) -> str:
        codes = sorted(line.code for line in facts.shelf.lines)
        return self.line or next(iter(codes), "")

    def _hung(self, facts: WeekFacts, since: datetime | None, until: datetime | None) -> WeekFacts:
        """The stretch in which the room is not there, as if something hung in it."""
        first = max(since, facts.at) if since is not None else facts.at
        last = until or max_of(facts)
        if first >= last:
            return facts
        row = Hanging(self._line(facts), first, last, abs(self.mg), NOT_UP)
        return replace(facts, hanging=(*facts.hanging, row))


@dataclass(frozen=True, slots=True)
class PotAway:
    """A pot, tub or bucket that is not there, for a stretch or for good."""

    vessel: str
    since: datetime | None = None
    until: datetime | None = None
    order: ClassVar[int] = 4

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("vessel", self.vessel)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from in_order(self.since, self.until)
        yield from unknown("vessel", self.vessel, "vessel", (v.code for v in facts.shelf.vessels))

    def on(self, facts: WeekFacts) -> WeekFacts:
        if self.since is not None or self.until is not None:
            block = _away(self.vessel, self.since, self.until, facts)
            return _blocked(facts, replace(block, vessels=(self.vessel,)))
        facts = shelf_with(facts, vessels=without(facts.shelf.vessels, self.vessel))
        return replace(facts, blocks=tuple(
            replace(row, vessels=tuple(v for v in row.vessels if v != self.vessel))
            if self.vessel in row.vessels else row for row in facts.blocks
        ))  # fmt: skip


@dataclass(frozen=True, slots=True)
class RingAway:
    """A ring of the stove that cannot be lit, for a stretch or for good."""

    ring: str
    since: datetime | None = None
    until: datetime | None = None
    order: ClassVar[int] = 4

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("ring", self.ring)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from in_order(self.since, self.until)
        yield from unknown("ring", self.ring, "ring", (ring.code for ring in facts.shelf.rings))

    def on(self, facts: WeekFacts) -> WeekFacts:
        if self.since is not None or self.until is not None:
            block = _away(self.ring, self.since, self.until, facts)
            return _blocked(facts, replace(block, rings=(self.ring,)))
        facts = shelf_with(facts, rings=without(facts.shelf.rings, self.ring))
        return replace(facts, blocks=tuple(
            replace(row, rings=tuple(r for r in row.rings if r != self.ring))
            if self.ring in row.rings else row for row in facts.blocks
        ))  # fmt: skip


@dataclass(frozen=True, slots=True)
class OnePotMore:
    """One vessel more, clean and sound, of so many working litres."""

    vessel: str
    kind: str  # pot, iron pot, tub, bucket
    working_ml: int
    site: str = ""
    order: ClassVar[int] = 1

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("vessel", self.vessel)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from taken("vessel", self.vessel, "vessel", (v.code for v in facts.shelf.vessels))
        if not SMALLEST_ML <= self.working_ml <= LARGEST_ML:
            text = say(
                "{working_ml} asked for; a pot, tub or bucket of ",
                working_ml=litres(self.working_ml),
            )
            text += say(
                "{smallest_ml} to {largest_ml} is worked out.",
                smallest_ml=litres(SMALLEST_ML),
                largest_ml=litres(LARGEST_ML),
            )
            yield Fault("working", say("{text} Say another size.", text=text))
        if self.site:
            yield from unknown("site", self.site, "site", facts.sites)

    def on(self, facts: WeekFacts) -> WeekFacts:
        iron = self.kind == "iron pot"
        vessel = VesselFacts(
            self.vessel, "pot" if iron else self.kind, "stainless", self.working_ml,
            self.working_ml, iron_pot=iron, site=self.site,
            blank_passed_on=None if iron else today_of(facts),
        )  # fmt: skip
        return shelf_with(facts, vessels=(*facts.shelf.vessels, vessel))


@dataclass(frozen=True, slots=True)
class OneRingMore:
    """One heat place more, that takes any pot."""

    ring: str
    watts: int
    site: str = ""
    order: ClassVar[int] = 1

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("ring", self.ring)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from taken("ring", self.ring, "ring", (ring.code for ring in facts.shelf.rings))
        if self.site:
            yield from unknown("site", self.site, "site", facts.sites)

    def on(self, facts: WeekFacts) -> WeekFacts:
        ring = RingFacts(self.ring, self.watts, site=self.site)
        return shelf_with(facts, rings=(*facts.shelf.rings, ring))


def max_of(facts: WeekFacts) -> datetime:
    """A moment behind all that is worked out, for a stretch without an end."""
    return facts.at.replace(year=facts.at.year + 2, month=1, day=1)


def _away(code: str, since: datetime | None, until: datetime | None, facts: WeekFacts) -> Block:
    name = say("{code} away", code=code)
    return Block(name, name, since or facts.at, until or max_of(facts))


def _blocked(facts: WeekFacts, block: Block) -> WeekFacts:
    return replace(facts, blocks=(*facts.blocks, block))
