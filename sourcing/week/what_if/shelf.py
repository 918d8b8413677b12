"""Shelves otherwise: another weight of a lot, one found bad, more of a supply, jars and baths."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import ClassVar

from inventory.science.catalogue import find_figure
from inventory.science.facts import BathFacts, Dip, SupplyFacts, Verdict
from inventory.science.saying import say
from sourcing.week.facts import WeekFacts
from sourcing.week.what_if.change import (
    Fault,
    each,
    shelf_with,
    taken,
    today_of,
    unknown,
    without,
)

BAD = "found bad"
Keys = frozenset[tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class LotWeighed:
    """A lot of dyestuff or fibre, or a supply, is of another weight than is written down."""

    lot: str
    mg: int
    order: ClassVar[int] = 2

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("amount", self.lot)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        shelf = facts.shelf
        known = {row.code for row in shelf.lots} | {row.code for row in shelf.fibre}
        known |= {row.code for row in shelf.supplies}
        yield from unknown("lot", self.lot, say("lot, fibre or supply"), known)

    def on(self, facts: WeekFacts) -> WeekFacts:
        shelf = facts.shelf
        lots, fibre, supplies = (
            each(rows, self.lot, lambda row: replace(row, left_mg=self.mg))
            for rows in (shelf.lots, shelf.fibre, shelf.supplies)
        )
        return shelf_with(facts, lots=lots, fibre=fibre, supplies=supplies)


@dataclass(frozen=True, slots=True)
class LotFoundBad:
    """A lot of dyestuff has gone bad, whatever the days say; fibre is set aside."""

    lot: str
    order: ClassVar[int] = 2

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("verdict", self.lot)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        known = {row.code for row in facts.shelf.lots} | {row.code for row in facts.shelf.fibre}
        yield from unknown("lot", self.lot, "lot", known)
        lot = next((row for row in facts.shelf.lots if row.code == self.lot), None)
        if lot is not None and lot.arrives_at is not None and lot.arrives_at > facts.at:
            yield Fault(
                "lot", say("{lot} is not here yet. Say that its pick-up is missed.", lot=self.lot)
            )

    def on(self, facts: WeekFacts) -> WeekFacts:
        seen = Verdict(facts.at, sound=False)
        lots = each(facts.shelf.lots, self.lot,
                    lambda lot: replace(lot, verdicts=(*lot.verdicts, seen)))  # fmt: skip
        fibre = each(facts.shelf.fibre, self.lot, lambda row: replace(row, set_aside=BAD))
        return shelf_with(facts, lots=lots, fibre=fibre)


@dataclass(frozen=True, slots=True)
class MoreOfASupply:
    """So much more of a supply is there; one that is not on the shelf yet stands there too."""

    what: str
    mg: int
    order: ClassVar[int] = 4

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("more", self.what)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        known = {row.what for row in facts.shelf.supplies} | _wanted(facts, "supply")
        known |= {recipe.mordant for recipe in facts.recipes if recipe.mordant}
        yield from unknown("supply", self.what, "supply", known)

    def on(self, facts: WeekFacts) -> WeekFacts:
        rows = facts.shelf.supplies
        first = next((row.code for row in rows if row.what == self.what), None)
        if first is None:
            more = SupplyFacts(self.what, self.what, self.mg)
            return shelf_with(facts, supplies=(*rows, more))
        return shelf_with(facts, supplies=each(
            rows, first, lambda row: replace(row, left_mg=row.left_mg + self.mg)))  # fmt: skip


@dataclass(frozen=True, slots=True)
class JarDipped:
    """A jar's strip shows a grade, 1 faint to 5 black, at the moment asked for."""

    jar: str
    strip: int
    order: ClassVar[int] = 2

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("strip", self.jar)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from _jar(facts, self.jar)

    def on(self, facts: WeekFacts) -> WeekFacts:
        dip = Dip(facts.at, grade=self.strip)
        return shelf_with(facts, jars=each(
            facts.shelf.jars, self.jar, lambda jar: replace(jar, dips=(*jar.dips, dip))
        ))  # fmt: skip


@dataclass(frozen=True, slots=True)
class JarHolds:
    """A jar holds more or less than is written down: so much is left."""

    jar: str
    ul: int
    order: ClassVar[int] = 2

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("amount", self.jar)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from _jar(facts, self.jar)

    def on(self, facts: WeekFacts) -> WeekFacts:
        return shelf_with(facts, jars=each(
            facts.shelf.jars, self.jar, lambda jar: replace(jar, left_ul=self.ul)
        ))  # fmt: skip


@dataclass(frozen=True, slots=True)
class JarGone:
    """A jar is not there any more; what was claimed of it is claimed of nothing."""

    jar: str
    order: ClassVar[int] = 3

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("amount", self.jar), ("strip", self.jar)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        yield from _jar(facts, self.jar)

    def on(self, facts: WeekFacts) -> WeekFacts:
        facts = shelf_with(facts, jars=without(facts.shelf.jars, self.jar))
        promised = tuple(row for row in facts.promised if row.code != self.jar)
        runs = tuple(replace(run, jar="") if run.jar == self.jar else run for run in facts.runs)
        return replace(facts, promised=promised, runs=runs)


@dataclass(frozen=True, slots=True)
class AnotherBath:
    """A bath made at the moment asked for, that stands in the shed."""

    bath: str  # what will be written on it
    what: str  # nettle bath
    ul: int
    site: str = ""
    order: ClassVar[int] = 1

    def decides(self, facts: WeekFacts) -> Keys:
        return frozenset({("bath", self.bath)})

    def faults(self, facts: WeekFacts) -> Iterator[Fault]:
        known = {row.what for row in facts.shelf.baths} | _wanted(facts, "bath")
        yield from unknown("what", self.what, "bath", known | {row.bath for row in facts.makings})
        yield from taken("bath", self.bath, "bath", (row.code for row in facts.shelf.baths))
        if self.site:
            yield from unknown("site", self.site, "site", facts.sites)

    def on(self, facts: WeekFacts) -> WeekFacts:
        shed = find_figure(facts.figures, "studio", "shed_c", on=today_of(facts))
        warmth = 8.0 if shed is None else float(shed.value)
        bath = BathFacts(self.bath, self.what, facts.at, self.ul, warmth, site=self.site)
        return shelf_with(facts, baths=(*facts.shelf.baths, bath))


def _jar(facts: WeekFacts, code: str) -> Iterator[Fault]:
    yield from unknown("jar", code, "jar", (jar.code for jar in facts.shelf.jars))


def _wanted(facts: WeekFacts, kind: str) -> set[str]:
    return {dose.what for recipe in facts.recipes for dose in recipe.doses if dose.kind == kind}
