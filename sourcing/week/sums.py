"""The sums beside the answers: what of each dyestuff, supply and jar is there, claimed and spare.

Everything comes back ready for JSON: amounts as decimal strings of g or mL, days as ISO dates.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction

from inventory.science.catalogue import find_figure
from inventory.science.days import day_begins, local_day
from inventory.science.facts import JarFacts, LotFacts
from inventory.science.keeping import last_good_day
from inventory.science.saying import say
from sourcing.week.cautions import as_sums, cautions_of
from sourcing.week.costs import Cost, costs_of
from sourcing.week.facts import PickUpExpected, RunFacts, WeekFacts
from sourcing.week.freezer import Evening, evenings
from sourcing.week.needs import Need, counted_by_piece, needs_of
from sourcing.week.plan import Answer
from sourcing.week.room_remedies import RoomsOfWeek, rooms_of_week
from sourcing.week.room_sums import rooms_as_sums
from sourcing.week.words import (
    day_in_words,
    decimal_string,
    money,
    pieces_short,
    pieces_spare,
    rounded,
)

DAYS = 7  # evenings of the freezer where no end of the period is given

Claims = dict[str, dict[str, int]]  # by lot, jar or supply: run and amount, in the claims' order


def sums_of(
    facts: WeekFacts,
    answers: tuple[Answer, ...],
    *,
    until: datetime | None = None,
    rooms: RoomsOfWeek | None = None,
) -> dict[str, object]:
    """The sums of a week, ready for JSON.

    Parameters
    ----------
    answers : one a run; a run not placed claims nothing and counts among the needs
    until : end of the period, for the rooms' evenings; None: seven days
    rooms : of the period, where they have been worked out already
    """
    today = local_day(facts.at, zone=facts.zone)
    end = until or day_begins(today + timedelta(DAYS), zone=facts.zone)
    last = local_day(end - timedelta(microseconds=1), zone=facts.zone)
    claims, needs = _claims(answers), needs_of(facts, answers)
    placed = {answer.run for answer in answers if answer.answer != "no"}
    tally = _Tally(facts, claims, needs, placed, today, last)
    return {
        "dyestuffs": [tally.dyestuff(what) for what in tally.dyestuffs()],
        "freezer": [_evening(row) for row in evenings(facts, answers, until=end)],
        "rooms": rooms_as_sums(rooms or rooms_of_week(facts, answers, until=end)),
        "supplies": [tally.supply(what) for what in tally.supplies()],
        "jars": [_jar(jar, claims.get(jar.code, {})) for jar in facts.shelf.jars],
        "costs": [_cost(costs_of(facts, answer)) for answer in answers if answer.answer != "no"],
        "cautions": as_sums(cautions_of(facts, answers)),
    }


def _claims(answers: tuple[Answer, ...]) -> Claims:
    """What each placed run takes, by what it takes it from."""
    claims: Claims = {}
    for answer in answers:
        for take in answer.takes if answer.answer != "no" else ():
            runs = claims.setdefault(take.source, {})
            runs[take.run] = runs.get(take.run, 0) + take.amount
    return claims


@dataclass(frozen=True)
class _Tally:
    """Facts, claims and needs of one week, asked by dyestuff and by supply."""

    facts: WeekFacts
    claims: Claims
    needs: tuple[Need, ...]
    placed: set[str]  # runs
    today: date
    last: date  # day of the period

    # -- dyestuffs -----------------------------------------------------------------------------

    def dyestuffs(self) -> list[str]:
        """Dyestuffs that come by the piece or by pick-ups."""
        names = {lot.dyestuff for lot in self.facts.shelf.lots}
        coming = {row.dyestuff for row in self.facts.pick_ups}
        return sorted(coming | {name for name in names if self.piece_mg(name) is not None})

    def piece_mg(self, dyestuff: str) -> Fraction | None:
        found = find_figure(self.facts.figures, dyestuff, "piece_mass_g", on=self.today)
        return None if found is None else Fraction(found.value) * 1000

    def dyestuff(self, what: str) -> dict[str, object]:
        """Usable tonight by lot, left out and why, claimed, left, and how far it goes."""
        lots = sorted(
            (lot for lot in self.facts.shelf.lots if lot.dyestuff == what and lot.left_mg > 0),
            key=lambda lot: (lot.gathered_on or date.max, lot.code),
        )
        whys = {lot.code: self._left_out(lot) for lot in lots}
        usable = [lot for lot in lots if not whys[lot.code]]
        there = sum(lot.left_mg for lot in usable)
        runs: dict[str, int] = {}
        for lot in usable:
            for run, mg in self.claims.get(lot.code, {}).items():
                runs[run] = runs.get(run, 0) + mg
        left = there - sum(runs.values())
        return {
            "what": what,
            "usable_tonight_g": _thousandth(there),
            "lots": [{"lot": lot.code, "g": _thousandth(lot.left_mg)} for lot in usable],
            "left_out": [
                {"lot": lot.code, "g": _thousandth(lot.left_mg), "why": whys[lot.code]}
                for lot in lots
                if whys[lot.code]
            ],
            "claims": [{"run": run, "g": _thousandth(mg)} for run, mg in runs.items()],
            "after_claims_g": _thousandth(left),
            "ahead": self._ahead(what, left),
        }

    def _left_out(self, lot: LotFacts) -> str:
        """Why a lot is not usable tonight; empty when it is."""
        if lot.set_aside:
            return say("set aside: {set_aside}", set_aside=lot.set_aside)
        if not lot.labelled:
            return "no label"
        if lot.stay.state == "damp":
            return "damp"
        here = max(self.facts.at, lot.arrives_at or self.facts.at)
        comes = local_day(here, zone=self.facts.zone)
        if comes > self.today:
            return say("comes {comes}", comes=day_in_words(comes))
        good = last_good_day(lot, self.facts.figures, zone=self.facts.zone, at=here).day
        if good < self.today:
            days = (self.today - good).days
            return say(
                "past its last good day {good} by {days}", good=day_in_words(good), days=_days(days)
            )
        return ""

    def _ahead(self, what: str, left: int) -> dict[str, object] | None:
        """What the unplaced runs need by the last day that one of them needs its material."""
        needs = [row for row in self.needs if row.kind == "dyestuff" and row.what == what
                 and row.run.code not in self.placed]  # fmt: skip
        if not needs:
            return None
        by = max((day for row in needs if (day := self._needed_by(row.run))), default=self.last)
        coming = list(self._coming(what, by))
        likely = sum(row.likely_mg for row in coming)
        most = max((row.likely_mg for row in coming), default=0)
        need = sum(row.mg for row in needs)
        balance = self._balance(what, need)
        return {
            "by": by.isoformat(),
            "needs": [{"run": row.run.code, "g": _thousandth(row.mg)} for row in needs],
            "need_g": _thousandth(need),
            "pick_ups": [
                {"date": self._day(row.at).isoformat(), "source": row.source,
                 "likely_g": _thousandth(row.likely_mg), "worst_g": _thousandth(row.worst_mg)}
                for row in coming
            ],
            "likely": balance(left + likely),
            "one_missed": balance(left + likely - most) if coming else None,
            "worst": balance(left + sum(row.worst_mg for row in coming)),
        }  # fmt: skip

    def _balance(self, what: str, need: int) -> Callable[[int], dict[str, object]]:
        """Spare rounds down to whole pieces, short rounds up."""
        piece = self.piece_mg(what) if counted_by_piece(what, self.facts, on=self.today) else None

        def balance(there: int) -> dict[str, object]:
            spare, short = max(0, there - need), max(0, need - there)
            return {
                "there_g": _thousandth(there),
                "spare_g": _thousandth(spare),
                "spare_pieces": None if piece is None else pieces_spare(spare, piece),
                "short_g": _thousandth(short),
                "short_pieces": None if piece is None else pieces_short(short, piece),
            }

        return balance

    def _needed_by(self, run: RunFacts) -> date | None:
        if run.fibre_needed_by is not None:
            return run.fibre_needed_by
        return None if run.due is None else self._day(run.due)

    def _coming(self, what: str, by: date) -> Iterator[PickUpExpected]:
        """Unconfirmed pick-ups up to the end of a day."""
        for row in sorted(self.facts.pick_ups, key=lambda row: row.at):
            if row.dyestuff != what or row.at <= self.facts.at or self._day(row.at) > by:
                continue
            if row.confirmed_mg is None and row.in_window and not row.missed:
                yield row

    def _day(self, at: datetime) -> date:
        return local_day(at, zone=self.facts.zone)

    # -- supplies ------------------------------------------------------------------------------

    def supplies(self) -> list[str]:
        return sorted({supply.what for supply in self.facts.shelf.supplies})

    def supply(self, what: str) -> dict[str, object]:
        """A supply over all runs, dated ones first; a run that is short takes nothing."""
        there = left = sum(s.left_mg for s in self.facts.shelf.supplies if s.what == what)
        lines: list[dict[str, object]] = []
        scour = 0
        for row in self.needs:
            if row.kind != "supply" or row.what != what:
                continue
            short = max(0, row.mg - left)
            left -= 0 if short else row.mg
            scour = max(scour, row.mg if row.for_scour else 0)
            lines.append({"run": row.run.code, "g": _thousandth(row.mg),
                          "left_g": _thousandth(left), "short_g": _thousandth(short)})  # fmt: skip
        return {
            "what": what,
            "there_g": _thousandth(there),
            "runs": lines,
            "left_g": _thousandth(left),
            "second_scour": _second_scour(scour, left),
        }


def _second_scour(mg: int, left: int) -> dict[str, object] | None:
    """What a scour that has to be done again would take; linen's brown water often asks for it."""
    if mg <= 0:
        return None
    return {"g": _thousandth(mg), "short_g": _thousandth(max(0, mg - left))}


def _jar(jar: JarFacts, claims: dict[str, int]) -> dict[str, object]:
    """What the placed runs leave in a jar, in the order in which they claim."""
    left, lines = jar.left_ul, []
    for run, ul in claims.items():
        left -= ul
        lines.append({"run": run, "ml": _thousandth(ul), "left_ml": _thousandth(left)})
    return {
        "jar": jar.code,
        "name": jar.name,
        "there_ml": _thousandth(jar.left_ul),
        "claims": lines,
        "left_ml": _thousandth(left),
    }


def _evening(row: Evening) -> dict[str, object]:
    before = row.inside_mg - row.put_by_mg
    return {
        "date": row.day.isoformat(),
        "holds_g": _thousandth(row.holds_mg),
        "there_g": _thousandth(row.there_mg),
        "comes_g": _thousandth(row.comes_mg),
        "likely_g": _thousandth(row.likely_mg),
        "put_by_g": _thousandth(row.put_by_mg),
        "inside_g": _thousandth(row.inside_mg),
        "free_g": _thousandth(row.free_mg),
        "over_g": _thousandth(row.over_mg),
        "over_before_put_by_g": _thousandth(max(0, before - row.holds_mg)),
    }


def _cost(cost: Cost) -> dict[str, object]:
    """A run's cost, each sum rounded once."""
    return {
        "run": cost.run,
        "parts": [{"what": part.what, "money": money(part.money)} for part in cost.parts],
        "total": money(cost.total),
        "per_kg": money(cost.per_kg),
        "per_100g": money(cost.per_kg / 10),
        "labour_percent": f"{rounded(cost.labour_fraction * 100, '1')}",
        "kwh": f"{rounded(cost.kwh, '0.01')}",
        "warming": [
            {"step": step, "kwh": f"{rounded(kwh, '0.01')}"} for step, kwh in cost.warming_kwh
        ],
        "holds": cost.holds,
        "without_price": list(cost.unpriced),
        "water_l": decimal_string(rounded(cost.water_l, "0.1")),
    }


def _days(count: int) -> str:
    return "1 day" if count == 1 else say("{count} days", count=count)


def _thousandth(amount: int) -> str:
    """Milligrams as grams, microlitres as millilitres: exact decimals."""
    return decimal_string(Decimal(amount) / 1000)
