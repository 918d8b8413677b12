"""Which lots of dyestuff count at a moment, which spoils first, and what each dyestuff comes to.

The same rules as the week's: what is set aside, damp, without label or past its day counts nothing.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, datetime
from fractions import Fraction
from zoneinfo import ZoneInfo

from inventory.science.days import local_day
from inventory.science.facts import LotFacts
from inventory.science.figures import Figures
from inventory.science.keeping import LastGood, life_used

# Why a lot is left out, the gravest first.
NO_LABEL, SET_ASIDE, DAMP, PAST, NESTS, COMES_LATER = (
    "no label",
    "set aside",
    "damp",
    "past",
    "nests not checked",
    "comes later",
)


@dataclass(frozen=True, slots=True)
class Counted:
    """One lot at a moment: its last good day, how much of its life has gone, whether it counts."""

    lot: LotFacts
    good: LastGood
    life: Fraction  # gone by, 0 to 1
    since: date  # from which this life counts
    days_left: int  # to its last good day; below 0: past by so many
    left_out: str  # why it does not count, one of the words above; empty when it does
    comes: datetime | None  # not here yet

    @property
    def usable(self) -> bool:
        return not self.left_out


@dataclass(frozen=True, slots=True)
class Total:
    """What the lots of one dyestuff come to, in mg."""

    dyestuff: str
    now_mg: int  # here and usable
    tonight_mg: int  # with what comes today
    out: tuple[Counted, ...]  # lots left out

    @property
    def out_mg(self) -> int:
        return sum(row.lot.left_mg for row in self.out)


def counted(
    lots: Iterable[LotFacts], figures: Figures, *, at: datetime, zone: ZoneInfo
) -> tuple[Counted, ...]:
    """Every lot with its last good day, in the order in which they should be used.

    Parameters
    ----------
    lots : any order, each with something left; one on its way counts from its arrival
    figures : the studio's own; shipped ones stand in
    at : aware moment
    zone : the studio's; days are its dates
    """
    rows = [_of_its_day(lot, figures, at=at, zone=zone) for lot in lots]
    return tuple(sorted(rows, key=lambda row: _rank(row, at, zone)))


def totals(rows: Iterable[Counted]) -> tuple[Total, ...]:
    """What each dyestuff comes to, by name."""
    by_stuff: dict[str, list[Counted]] = {}
    for row in rows:
        by_stuff.setdefault(row.lot.dyestuff, []).append(row)
    return tuple(_total(name, by_stuff[name]) for name in sorted(by_stuff))


def _total(name: str, rows: list[Counted]) -> Total:
    usable = [row for row in rows if row.usable]
    now = sum(row.lot.left_mg for row in usable if row.comes is None)
    tonight = sum(row.lot.left_mg for row in usable)
    return Total(name, now, tonight, tuple(row for row in rows if not row.usable))


def _of_its_day(lot: LotFacts, figures: Figures, *, at: datetime, zone: ZoneInfo) -> Counted:
    """A lot at a moment; one to which nothing more is to happen stands so for the whole day."""
    if not _is_all_behind(lot, at):
        return _counted(lot, figures, at=at, zone=zone)
    key = ("counted", lot, local_day(at, zone=zone), zone.key)
    return figures.once(key, lambda: _counted(lot, figures, at=at, zone=zone))


def _is_all_behind(lot: LotFacts, at: datetime) -> bool:
    """Whether all that is written of a lot has happened by a moment."""
    if lot.arrives_at is not None and lot.arrives_at > at:
        return False
    return all(stay.since <= at for stay in lot.stays) and all(v.at <= at for v in lot.verdicts)


def _counted(lot: LotFacts, figures: Figures, *, at: datetime, zone: ZoneInfo) -> Counted:
    today = local_day(at, zone=zone)
    life = life_used(lot, figures, at=at, zone=zone)
    comes = lot.arrives_at if lot.arrives_at is not None and lot.arrives_at > at else None
    return Counted(
        lot=lot,
        good=life.good,
        life=life.fraction,
        since=life.since,
        days_left=(life.good.day - today).days,
        left_out=_left_out(lot, life.good.day, today, comes, zone),
        comes=comes,
    )


def _left_out(
    lot: LotFacts, last_good: date, today: date, comes: datetime | None, zone: ZoneInfo
) -> str:
    if not lot.labelled:
        return NO_LABEL
    if lot.set_aside:
        return SET_ASIDE
    if lot.stay.state == "damp":
        return DAMP
    if last_good < today:
        return PAST
    if lot.foraged and lot.nest_checked is False:
        return NESTS
    if comes is not None and local_day(comes, zone=zone) > today:
        return COMES_LATER
    return ""


def _rank(row: Counted, at: datetime, zone: ZoneInfo) -> tuple[object, ...]:
    """As `keeping.use_first` ranks: what is here by its last good day, then what comes."""
    gathered = row.lot.gathered_on or local_day(row.lot.stays[0].since, zone=zone)
    return (row.comes is not None, row.comes or at, row.good.day, gathered, row.lot.code)
