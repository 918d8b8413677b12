"""What is left of every lot, jar, bath and supply after the runs that claim before.

One object a week's working-out; a run asks, is placed, then claims. A run not placed claims
nothing.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from fractions import Fraction
from typing import Any, TypeVar, cast

from inventory.science.catalogue import find_figure
from inventory.science.facts import BathFacts, FibreFacts, JarFacts, LotFacts, SupplyFacts
from inventory.science.figures import Figure
from inventory.science.keeping import (
    LastGood,
    bath_last_good_day,
    fibre_last_good_day,
    last_good_day,
    use_first,
)
from inventory.science.saying import say
from sourcing.week.facts import Dose, Promised, RunFacts, WeekFacts
from sourcing.week.moments import Calendar, minute_of
from sourcing.week.over_dyeing import why_not_over
from sourcing.week.second_bath import Poured
from sourcing.week.words import days_in_words

Worked = TypeVar("Worked")


@dataclass(frozen=True, slots=True)
class Pick:
    """An amount that a step takes of one thing."""

    code: str
    what: str
    amount: int  # mg or µL
    unit: str
    step: str
    usable_from: int  # minute
    last_good: date | None = None  # of a lot or bath as it is kept now
    put_by: str = ""  # frozen or dried: what it can be put by as
    keeps: Figure | None = None  # the figure that its last good day rests on
    far: str = ""  # the site that it is fetched from; empty: it is where it is wanted
    any_day: bool = False  # dry, so that it may be fetched on a day before its step's


@dataclass(frozen=True, slots=True)
class RankedLot:
    """A lot with what the week needs to know of it; ranked once, use first."""

    lot: LotFacts
    good: LastGood
    usable_from: int
    left_out: str  # why it does not count; empty when it does
    kind: str  # of the reason: set aside, past, no label, permission, season


@dataclass(frozen=True, slots=True)
class Kept:
    """What there is at one turn: amounts by code, and what placed runs leave."""

    left: dict[str, int]
    poured: dict[str, Poured]


@dataclass
class Larder:
    """What is left, by code, and the order in which it is used."""

    facts: WeekFacts
    calendar: Calendar
    left: dict[str, int] = field(default_factory=dict)
    ranked: tuple[RankedLot, ...] = ()
    today: date = date.min
    # What was worked out of a thing, by its id, with the thing so that its id stays its own; a
    # larder of the same moment and figures may begin with it.
    known: dict[tuple[object, ...], tuple[object, Any]] = field(default_factory=dict)
    like: Larder | None = None  # of the same moment and figures, whose orders may be taken over
    poured: dict[str, Poured] = field(default_factory=dict)  # by code, what placed runs leave
    carry_ul_at_most: int = 0  # of a liquor or bath that is fetched from another site

    def __post_init__(self) -> None:
        shelf = self.facts.shelf
        for lot in shelf.lots:
            self.left[lot.code] = lot.left_mg
        for supply in shelf.supplies:
            self.left[supply.code] = self.left.get(supply.code, 0) + supply.left_mg
        self.left.update((jar.code, jar.left_ul) for jar in shelf.jars)
        self.left.update((bath.code, bath.left_ul) for bath in shelf.baths)
        for fibre in shelf.fibre:
            self.left[fibre.code] = fibre.left_mg
        self._promised: dict[str, list[Promised]] = {}
        for promise in self.facts.promised:
            self._promised.setdefault(promise.run, []).append(promise)
            self.left[promise.code] = self.left.get(promise.code, 0) - promise.amount
        self.today = self.calendar.day_of(minute_of(self.facts.at))
        self._cleared = {chore.clears: chore.day for chore in self.facts.chores if chore.clears}
        self._by_fibre = self._fibre_by_name()
        self._by_dyestuff = self._lots_by_name()
        self.like = None  # one larder keeps no other

    def _fibre_by_name(self) -> dict[str, list[FibreFacts]]:
        """Lots of each fibre, by code."""
        like, rows = self.like, self.facts.shelf.fibre
        if like is not None and like.facts.shelf.fibre is rows:
            return like._by_fibre
        found: dict[str, list[FibreFacts]] = {}
        for fibre in sorted(rows, key=lambda row: row.code):
            found.setdefault(fibre.fibre, []).append(fibre)
        return found

    def _lots_by_name(self) -> dict[str, list[RankedLot]]:
        """Lots of each dyestuff, use first."""
        like, facts = self.like, self.facts
        if like is not None and like.facts.shelf.lots is facts.shelf.lots and (
            like._cleared == self._cleared and like.calendar is self.calendar
        ):  # fmt: skip
            self.ranked = like.ranked
            return like._by_dyestuff
        lots, figures, at = facts.shelf.lots, facts.figures, facts.at
        order = self.once(lots, "use first", work=lambda: use_first(
            lots, figures, at=at, zone=facts.zone, good=self._good))  # fmt: skip
        self.ranked = tuple(self._ranked(lot) for lot in order)
        found: dict[str, list[RankedLot]] = {}
        for row in self.ranked:
            found.setdefault(row.lot.dyestuff, []).append(row)
        return found

    # -- lots of dyestuff --------------------------------------------------------------------

    def once(self, thing: object, name: str, *more: object, work: Callable[[], Worked]) -> Worked:
        """What hangs on one thing and the studio's figures, worked out the first time only."""
        key = (name, id(thing), *more)
        found = self.known.get(key)
        if found is None:
            found = self.known[key] = thing, work()
        return cast("Worked", found[1])

    def _good(self, lot: LotFacts) -> LastGood:
        """A lot's last good day as kept from now on, or from its arrival."""
        at = self.facts.at
        here = max(at, lot.arrives_at) if lot.arrives_at is not None else at
        figures, zone = self.facts.figures, self.facts.zone
        return self.once(lot, "last good day",
                         work=lambda: last_good_day(lot, figures, zone=zone, at=here))  # fmt: skip

    def _ranked(self, lot: LotFacts) -> RankedLot:
        """A lot as it counts; the same whatever the hours, where nothing is waited for."""
        if lot.arrives_at is not None or lot.code in self._cleared:
            return self._rank(lot)
        return self.once(lot, "ranked", work=lambda: self._rank(lot))

    def _rank(self, lot: LotFacts) -> RankedLot:
        good = self._good(lot)
        kind, why = self._left_out(lot, good)
        return RankedLot(lot, good, self._lot_from(lot), why, kind)

    def _left_out(self, lot: LotFacts, good: LastGood) -> tuple[str, str]:
        if lot.set_aside and lot.code not in self._cleared:
            return "set aside", say(
                "{code} is set aside: {set_aside}", code=lot.code, set_aside=lot.set_aside
            )
        if not lot.labelled:
            return "no label", say("{code} has no label", code=lot.code)
        if lot.stay.state == "damp" and lot.code not in self._cleared:
            return "set aside", say("{code} is damp: dry it and weigh it again", code=lot.code)
        if good.day < self.today:
            days = (self.today - good.day).days
            return "past", say(
                "{code} is past its last good day by {days}",
                code=lot.code,
                days=days_in_words(days),
            )
        if lot.foraged and lot.nest_checked is False:
            return "season", say(
                "{code} was cut in the nesting season without a nest check", code=lot.code
            )
        return "", ""

    def _lot_from(self, lot: LotFacts) -> int:
        """What comes in is first usable the next morning; what is here, now."""
        start = minute_of(self.facts.at)
        cleared = self._cleared.get(lot.code)
        if cleared is not None:
            start = max(start, self._after_chore(cleared))
        if lot.arrives_at is None or lot.arrives_at <= self.facts.at:
            return start
        if lot.carried:
            return max(start, min(minute_of(lot.arrives_at), self.calendar.end))
        # What comes behind the horizon is of no use in it, however long anybody waits.
        morning = self.calendar.night_over(minute_of(lot.arrives_at))
        return max(start, min(morning, self.calendar.end))

    def _after_chore(self, day: date) -> int:
        for open_day in self.calendar.open_days:
            if open_day.day >= day:
                return open_day.opens
        return self.calendar.end

    def lots_of(self, dyestuff: str) -> list[RankedLot]:
        """Lots of a dyestuff, use first."""
        return self._by_dyestuff.get(dyestuff, [])

    def pick_lots(
        self,
        dose: Dose,
        run: RunFacts,
        need_mg: int,
        *,
        one_lot: bool,
        without: frozenset[str],
        site: str,
        far: bool = False,
    ) -> tuple[list[Pick], int, list[RankedLot]]:
        """Lots for a dose in order of use first, what is lacking, and the lots left out by then.

        A lot is used whole before the next is opened; with `one_lot` a single lot serves or none.
        With `far` lots at other sites serve too, each behind those at the site.
        """
        out: list[RankedLot] = []
        picks: list[Pick] = []
        need = Fraction(need_mg)
        rows = self.lots_of(dose.what)
        for row in sorted(rows, key=lambda row: self._behind(row, site)) if far else rows:
            left = self.left[row.lot.code]
            if left <= 0:
                continue
            barred = self._barred(row, dose, run, without=without, site="" if far else site)
            if barred is not None:
                out.append(barred)
                continue
            rate = self.mg_for_mg(row.lot, dose.state) or Fraction(1)
            taken = min(round(need * rate), left)
            if one_lot and taken < round(need * rate):
                continue
            if taken <= 0:
                break
            picks.append(self._pick(row, taken, dose, site))
            need = max(Fraction(0), need - taken / rate)
        # What rounding to whole milligrams leaves over is nothing.
        return picks, 0 if need < 1 else round(need), out

    def _barred(
        self, row: RankedLot, dose: Dose, run: RunFacts, *, without: frozenset[str], site: str
    ) -> RankedLot | None:
        """The lot with why it does not count for a dose; None where it does."""
        lot = row.lot
        if not serves(lot.site, site):
            return _left(row, "site", say("is at {site}", site=lot.site))
        if row.left_out or lot.code in without:
            return row
        if run.client and lot.foraged and not lot.permission:
            return _left(row, "permission", say("no permission is written down"))
        if self.mg_for_mg(lot, dose.state) is None:
            return _left(
                row,
                "state",
                say("is {state}, not {dose_state}", state=lot.stay.state, dose_state=dose.state),
            )
        return None

    def mg_for_mg(self, lot: LotFacts, wanted: str) -> Fraction | None:
        """Milligrams of a lot that stand for one of the state a dose is written in.

        None where the studio has no figure of its own to convert by: `dried_per_fresh_fraction`.
        """
        state = lot.stay.state
        if not wanted or state == wanted:
            return Fraction(1)
        figure = find_figure(
            self.facts.figures, lot.dyestuff, "dried_per_fresh_fraction", on=self.today
        )
        if figure is None or not figure.own or not figure.value:
            return None
        if wanted == "dried" and state in ("fresh", "frozen"):
            return 1 / Fraction(figure.value)
        if state == "dried" and wanted in ("fresh", "frozen"):
            return Fraction(figure.value)
        return None

    def _behind(self, row: RankedLot, site: str) -> tuple[bool, bool]:
        """What is here now, what is at another site now, then what is still to come."""
        comes = row.lot.arrives_at
        return comes is not None and comes > self.facts.at, not serves(row.lot.site, site)

    def _pick(self, row: RankedLot, taken: int, dose: Dose, site: str) -> Pick:
        lot = row.lot
        put_by = "" if dose.state else self.can_put_by(lot)
        return Pick(lot.code, lot.dyestuff, taken, "mg", dose.step, row.usable_from,
                    row.good.day, put_by, row.good.figure, fetched(lot.site, site),
                    lot.stay.state == "dried")  # fmt: skip

    def can_put_by(self, lot: LotFacts) -> str:
        """What a lot can be put by as: frozen where there is a freezer, else dried."""
        if lot.stay.state not in ("fresh", "damp"):
            return ""
        kinds = {place.kind for place in self.facts.shelf.cold_places}
        for state, place in (("frozen", "freezer"), ("dried", "tray")):
            if place not in kinds:
                continue
            for name in (f"keeps_{state}_months", f"keeps_{state}_days"):
                for item in (lot.dyestuff, "any dyestuff"):
                    if find_figure(self.facts.figures, item, name, on=self.today):
                        return state
        return ""

    # -- fibre -------------------------------------------------------------------------------

    def fibre_groups(
        self,
        run: RunFacts,
        *,
        depth: int,
        without: frozenset[str],
        site: str,
        far: bool = False,
    ) -> list[list[FibreFacts]]:
        """Lots of the run's fibre in one state that it may dye to its depth, by code.

        With `far` those at other sites too.
        """
        groups: dict[tuple[object, ...], list[FibreFacts]] = {}
        for fibre in self._by_fibre.get(run.fibre, ()):
            if self.left[fibre.code] <= 0:
                continue
            if fibre.code in without or not (far or serves(fibre.site, site)):
                continue
            if self.fibre_left_out(fibre) or why_not_over(fibre, run, depth):
                continue
            if run.fibre_lot and fibre.code != run.fibre_lot:
                continue
            key = (fibre.scoured, fibre.mordant, fibre.mordant_percent, fibre.iron_percent,
                   fibre.shade, fibre.quality)  # fmt: skip
            groups.setdefault(key, []).append(fibre)
        return list(groups.values())

    def fibre_left_out(self, fibre: FibreFacts) -> str:
        """Why a lot of fibre does not count; empty when it does."""
        if fibre.code in self._cleared:
            # Somebody looks it over on a day of the plan; that counts as done.
            return ""
        if fibre.set_aside:
            return say(
                "{code} is set aside: {set_aside}", code=fibre.code, set_aside=fibre.set_aside
            )
        if not fibre.labelled:
            return say("{code} has no label", code=fibre.code)
        if fibre.clients_own and not fibre.weighed:
            return say("{code} is the client's own and has not been weighed here", code=fibre.code)
        last = self.fibre_good_to(fibre)
        if last is not None and last.day < self.today:
            days = (self.today - fibre.since).days if fibre.since else 0
            return say(
                "{code} has been damp for {days}: check for mould",
                code=fibre.code,
                days=days_in_words(days),
            )
        return ""

    def fibre_good_to(self, fibre: FibreFacts) -> LastGood | None:
        """The last day on which damp fibre may go into a bath; None for dry or cleared fibre."""
        if not fibre.damp or fibre.code in self._cleared:
            return None
        return fibre_last_good_day(fibre, self.facts.figures, on=self.today)

    def fibre_from(self, fibre: FibreFacts) -> int:
        """When a lot of fibre can first be used."""
        start = minute_of(self.facts.at)
        cleared = self._cleared.get(fibre.code)
        if cleared is not None:
            start = max(start, self._after_chore(cleared))
        if fibre.arrives_at is None:
            return start
        return max(start, minute_of(fibre.arrives_at))

    def loss(self, fibre: str) -> tuple[Fraction, Figure | None]:
        """Scour loss of a fibre as a fraction, with its figure; 0 where none is known."""
        found = find_figure(self.facts.figures, fibre, "scour_loss_fraction", on=self.today)
        return (Fraction(found.value), found) if found else (Fraction(0), None)

    # -- baths -------------------------------------------------------------------------------

    def baths_of(
        self, what: str, need_ul: int, *, site: str, far: bool = False
    ) -> list[tuple[BathFacts, LastGood]]:
        """Baths of a kind that hold enough, the one that ends first in front.

        With `far` those at other sites too, behind those at the site.
        """
        return [row for row in self.all_baths_of(what, site=site, far=far)
                if self.left[row[0].code] >= need_ul]  # fmt: skip

    def all_baths_of(
        self, what: str, *, site: str, far: bool = False
    ) -> list[tuple[BathFacts, LastGood]]:
        """Baths of a kind that are in use, the one that ends first in front."""
        rows = [
            (bath, bath_last_good_day(bath, self.facts.figures, zone=self.facts.zone))
            for bath in self.facts.shelf.baths
            if bath.what == what and not bath.set_aside and (far or serves(bath.site, site))
        ]
        return sorted(
            rows, key=lambda row: (not serves(row[0].site, site), row[1].day, row[0].code)
        )

    def poured_of(self, shade: str, *, site: str) -> list[tuple[Poured, LastGood]]:
        """What placed runs of a shade leave, the one that ends first in front."""
        rows = [
            (row, bath_last_good_day(row.bath, self.facts.figures, zone=self.facts.zone))
            for row in self.poured.values()
            if row.bath.shade == shade and serves(row.bath.site, site)
        ]
        return sorted(rows, key=lambda row: (row[1].day, row[0].bath.code))

    def bath_called(self, code: str) -> BathFacts | None:
        """A bath on the shelf, or one that a placed run leaves."""
        if code in self.poured:
            return self.poured[code].bath
        return next((bath for bath in self.facts.shelf.baths if bath.code == code), None)

    def pour(self, row: Poured) -> None:
        """Count a placed run's bath from now on; what was promised of it is promised still."""
        code = row.bath.code
        before = self.poured[code].bath.left_ul if code in self.poured else 0
        self.poured[code] = row
        self.left[code] = self.left.get(code, 0) + row.bath.left_ul - before

    # -- how it stands -----------------------------------------------------------------------

    def kept(self) -> Kept:
        """How everything stands, to go back to."""
        return Kept(dict(self.left), dict(self.poured))

    def back_to(self, kept: Kept) -> None:
        """Undo everything claimed and poured since."""
        self.left.clear()
        self.left.update(kept.left)
        self.poured.clear()
        self.poured.update(kept.poured)

    # -- claiming ----------------------------------------------------------------------------

    def promised_to(self, run: str) -> dict[str, int]:
        """What a run was promised, by code."""
        found: dict[str, int] = {}
        for row in self._promised.get(run, ()):
            found[row.code] = found.get(row.code, 0) + row.amount
        return found

    def open_for(self, run: str) -> None:
        """Let a run have what was promised to it; the others have been without it all along."""
        for row in self._promised.get(run, ()):
            self.left[row.code] += row.amount

    def keep_for(self, run: str) -> None:
        """A run that is not placed keeps what was promised to it."""
        for row in self._promised.get(run, ()):
            self.left[row.code] -= row.amount

    def claim(self, picks: Iterable[Pick]) -> None:
        """Take what a placed run uses; never below zero."""
        for pick in picks:
            self.left[pick.code] -= pick.amount
            assert self.left[pick.code] >= 0, pick

    def supplies_of(self, what: str, *, site: str, far: bool = False) -> dict[str, str]:
        """Codes of a supply, by code, each with the site that it is fetched from.

        With `far` those at other sites too, behind those at the site.
        """
        rows = self.facts.shelf.supplies
        fit = (row for row in rows if row.what == what and (far or serves(row.site, site)))
        found = sorted((not serves(row.site, site), row.code, row.site) for row in fit)
        return {code: fetched(place, site) for _, code, place in found}

    def comes(self, thing: SupplyFacts | JarFacts | BathFacts) -> int:
        """When a thing is there: now, or once it has come from another site."""
        now = minute_of(self.facts.at)
        return now if thing.arrives_at is None else max(now, minute_of(thing.arrives_at))

    def supply_from(self, code: str) -> int:
        """When a supply can first be used."""
        rows = (row for row in self.facts.shelf.supplies if row.code == code)
        return max(self.comes(row) for row in rows)

    def jars_of(self, metal: str, *, site: str, far: bool = False) -> list[JarFacts]:
        """Jars of a metal by code; with `far` those at other sites too."""
        rows = self.facts.shelf.jars
        fit = (jar for jar in rows if jar.metal == metal and (far or serves(jar.site, site)))
        return sorted(fit, key=lambda jar: jar.code)

    def moment(self, minute: int) -> datetime:
        return self.calendar.moment(minute)


def serves(place: str, site: str) -> bool:
    """Whether a thing at a place serves a run at a site; one without a place serves any."""
    return not place or not site or place == site


def fetched(place: str, site: str) -> str:
    """The site from which a thing at a place is fetched to another; empty: it serves there."""
    return "" if serves(place, site) else place


def _left(row: RankedLot, kind: str, why: str) -> RankedLot:
    return RankedLot(
        row.lot, row.good, row.usable_from, say("{code} {why}", code=row.lot.code, why=why), kind
    )
