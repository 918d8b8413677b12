"""How long is a lot, a bath or damp fibre good, and which lot should be used first?

Each day takes its part of the life that the lot has in its place; somebody's eye beats the sum.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field, replace
from datetime import date, datetime, time, timedelta
from fractions import Fraction
from functools import lru_cache
from math import floor
from zoneinfo import ZoneInfo

from inventory.science.catalogue import figure, find_figure
from inventory.science.days import add_months, local_day
from inventory.science.facts import BathFacts, FibreFacts, LotFacts, Stay, Verdict
from inventory.science.figures import Figure, Figures, NoFigure
from inventory.science.warmth import q10_factor

LONGEST_LIFE_DAYS = 36_500  # a hundred years: bounds a figure mistyped
PLACE_OF = {"frozen": "freezer", "dried": "dry store"}


@dataclass(frozen=True, slots=True)
class LastGood:
    """The last date on which something should still be used, and what decided it."""

    day: date
    figure: Figure
    by_eye: str = ""  # sound, bad; empty: by the sum
    too_late: bool = False  # put by or moved only after it had gone


@dataclass(frozen=True, slots=True)
class LifeUsed:
    """How much of the life that a lot has where it is has gone by."""

    good: LastGood
    fraction: Fraction  # 0 to 1; 1 on its last good day and after it
    since: date  # day from which its present life counts


@dataclass(frozen=True, slots=True)
class Picks:
    """What is taken from which lot, in order of use first, and what is lacking."""

    takes: tuple[tuple[LotFacts, int], ...]  # lot, mg
    short_mg: int


def last_good_day(
    lot: LotFacts, figures: Figures, *, zone: ZoneInfo, at: datetime | None = None
) -> LastGood:
    """The last date on which a lot should still be used.

    Parameters
    ----------
    lot : lot with at least one stay, oldest first
    figures : the studio's own; shipped ones stand in for what it has not
    zone : the studio's time zone; days are its dates
    at : moment; later stays and verdicts are not counted, and its day's figures hold.
        None: everything written counts, with the latest figures.

    Returns
    -------
    LastGood
        The day that a life begins is day 0 of it. Moving between bench and fridge carries the
        used part; freezing or drying by the last good day starts the new state's full life.
        Thawing goes on where the fresh life stopped. A move after the last good day mends nothing.

    References
    ----------
    Life used up in parts, 1 / life a day: linear damage rule; each life is a figure.

    Examples
    --------
    >>> from datetime import timezone
    >>> kept = Stay(datetime(2026, 11, 16, 17, tzinfo=timezone.utc), "fresh", "fridge", "fridge")
    >>> stones = LotFacts("AV-1116", "avocado stones", (kept,), left_mg=1_180_000)
    >>> last_good_day(stones, Figures(), zone=ZoneInfo("Europe/London")).day
    datetime.date(2026, 11, 23)
    """
    return _life_of(lot, figures, zone=zone, at=at).good


def life_used(lot: LotFacts, figures: Figures, *, at: datetime, zone: ZoneInfo) -> LifeUsed:
    """How far a lot has come through its life at a moment, as it is kept then.

    What is on its way counts from its arrival.

    Examples
    --------
    >>> from datetime import timezone
    >>> kept = Stay(datetime(2026, 11, 16, 17, tzinfo=timezone.utc), "fresh", "fridge", "fridge")
    >>> stones = LotFacts("AV-1116", "avocado stones", (kept,), left_mg=1_180_000)
    >>> thursday = datetime(2026, 11, 19, 9, tzinfo=timezone.utc)
    >>> life_used(stones, Figures(), at=thursday, zone=ZoneInfo("Europe/London")).fraction
    Fraction(3, 7)
    """
    here = max(at, lot.arrives_at) if lot.arrives_at is not None else at
    life = _life_of(lot, figures, zone=zone, at=here)
    today = local_day(at, zone=zone)
    if today >= life.good.day:
        return LifeUsed(life.good, Fraction(1), life.since)
    used = life.used_by(max(today, life.since))[_state(life.stay)]
    return LifeUsed(life.good, min(max(used, Fraction(0)), Fraction(1)), life.since)


def _life_of(lot: LotFacts, figures: Figures, *, zone: ZoneInfo, at: datetime | None) -> _Life:
    on = date.max if at is None else local_day(at, zone=zone)
    sums = _Sums(lot.dyestuff, figures, on, zone)
    first, *later = _happenings(lot, at)
    assert isinstance(first, Stay)
    life = sums.begin(first)
    for happening in later:
        if isinstance(happening, Verdict):
            life = sums.seen(life, happening)
        else:
            life = sums.moved(life, happening)
    return life


def is_past(
    lot: LotFacts, figures: Figures, *, zone: ZoneInfo, on: date, at: datetime | None = None
) -> bool:
    """Whether a lot is past its last good day on a day; the last good day itself is not."""
    return on > last_good_day(lot, figures, zone=zone, at=at).day


def if_put_by(
    lot: LotFacts,
    state: str,
    figures: Figures,
    *,
    on: date,
    zone: ZoneInfo,
    at: datetime | None = None,
) -> LastGood:
    """The last good day of a lot if it were frozen or dried on a day.

    `too_late` says that it would be past by then; the old day stands in that case.
    """
    noon = datetime.combine(on, time(12), tzinfo=zone)
    put_by = Stay(noon, state, "", PLACE_OF.get(state, "bench"))
    counted = lot if at is None else replace(lot, stays=_stays(lot, at))
    return last_good_day(replace(counted, stays=(*counted.stays, put_by)), figures, zone=zone)


def use_first(
    lots: Iterable[LotFacts],
    figures: Figures,
    *,
    at: datetime,
    zone: ZoneInfo,
    good: Callable[[LotFacts], LastGood] | None = None,
) -> tuple[LotFacts, ...]:
    """Lots in the order in which they should be used.

    By last good day as kept at the moment, then day gathered, then code. What arrives later stands
    behind what is here, by its arrival. `good` gives last good days that are known already.
    """

    def rank(lot: LotFacts) -> tuple[object, ...]:
        comes = lot.arrives_at if lot.arrives_at is not None and lot.arrives_at > at else None
        here = comes or at
        last = good(lot) if good else last_good_day(lot, figures, zone=zone, at=here)
        return (
            comes is not None,
            here,
            last.day,
            lot.gathered_on or local_day(lot.stays[0].since, zone=zone),
            lot.code,
        )

    return tuple(sorted(lots, key=rank))


def pick(
    lots: Iterable[LotFacts],
    figures: Figures,
    *,
    need_mg: int,
    on: date,
    at: datetime,
    zone: ZoneInfo,
) -> Picks:
    """What to take for a need on a day: each lot whole before the next is opened.

    Left out: set aside, without label, past its last good day on that day, not here by then.
    """
    takes: list[tuple[LotFacts, int]] = []
    for lot in use_first(lots, figures, at=at, zone=zone):
        if need_mg <= 0 or not _may_be_used(lot, figures, on=on, at=at, zone=zone):
            continue
        taken_mg = min(need_mg, lot.left_mg)
        takes.append((lot, taken_mg))
        need_mg -= taken_mg
    return Picks(tuple(takes), max(need_mg, 0))


def bath_last_good_day(
    bath: BathFacts, figures: Figures, *, zone: ZoneInfo, at: datetime | None = None
) -> LastGood:
    """The last date on which a kept bath should still be used.

    Its days hold at the figure's warmth or below; a warmer bath keeps shorter by Q10.

    Examples
    --------
    >>> from datetime import timezone
    >>> made = datetime(2026, 11, 19, 12, tzinfo=timezone.utc)
    >>> bath = BathFacts("J6", "nettle bath", made, left_ul=8_000_000, temperature_c=8)
    >>> bath_last_good_day(bath, Figures(), zone=ZoneInfo("Europe/London")).day
    datetime.date(2026, 11, 24)
    """
    on = date.max if at is None else local_day(at, zone=zone)

    def of_bath(name: str) -> Figure:
        found = find_figure(figures, bath.what, name, on=on)
        return found or figure(figures, "any bath", name, on=on)

    keeps = of_bath("keeps_days")
    warmest_c = float(of_bath("keeps_at_most_c").value)
    days = Fraction(keeps.value)
    if bath.temperature_c > warmest_c:
        q10 = float(of_bath("spoils_q10").value)
        days /= Fraction(q10_factor(bath.temperature_c, reference_c=warmest_c, q10=q10))
    return LastGood(_after(local_day(bath.made_at, zone=zone), days), keeps)


def fibre_last_good_day(fibre: FibreFacts, figures: Figures, *, on: date) -> LastGood | None:
    """The last date on which damp fibre may be used unseen; None for dry fibre.

    `on` is the day whose figures hold.
    """
    if not fibre.damp or fibre.since is None:
        return None
    keeps = figure(figures, "studio", "damp_mordanted_days", on=on)
    return LastGood(_after(fibre.since, Fraction(keeps.value)), keeps)


@dataclass(frozen=True, slots=True)
class _Life:
    """Where a lot stands: its stay, the life it has there, the part used before it came."""

    stay: Stay
    since: date
    days: Fraction
    good: LastGood
    used: dict[str, Fraction] = field(default_factory=dict)  # by state, before `since`

    def used_by(self, day: date) -> dict[str, Fraction]:
        """Part of its life used by a day, for the present state and those before."""
        state = _state(self.stay)
        here = Fraction((day - self.since).days) / self.days if self.days else Fraction(1)
        return {**self.used, state: self.used[state] + here}


@dataclass(frozen=True, slots=True)
class _Sums:
    """The sums for one dyestuff by the figures of one day."""

    dyestuff: str
    figures: Figures
    on: date
    zone: ZoneInfo

    def begin(self, stay: Stay, used: dict[str, Fraction] | None = None) -> _Life:
        """A life in a new stay with what was used of that state's life before."""
        since = local_day(stay.since, zone=self.zone)
        keeps = self._keeps(stay)
        days = self._life(stay, keeps, since)
        parts = {_state(stay): Fraction(0), **(used or {})}
        gone = parts[_state(stay)]
        day = _after(since, (1 - gone) * days if gone else days)
        return _Life(stay, since, days, LastGood(day, keeps), parts)

    def moved(self, life: _Life, stay: Stay) -> _Life:
        """Put by, thawed, or moved between bench and fridge."""
        since = local_day(stay.since, zone=self.zone)
        if since > life.good.day:
            # A spoiled lot stays spoiled wherever it is put; only a verdict revives it.
            return replace(self.begin(stay), good=replace(life.good, too_late=True))
        used = life.used_by(since)
        state = _state(stay)
        if state not in ("fresh", _state(life.stay)):
            used.pop(state, None)
        return self.begin(stay, used)

    def seen(self, life: _Life, verdict: Verdict) -> _Life:
        """What somebody saw beats the sum."""
        day = local_day(verdict.at, zone=self.zone)
        if not verdict.sound:
            last = min(life.good.day, day - timedelta(days=1))
            return replace(life, good=replace(life.good, day=last, by_eye="bad"))
        if day <= life.good.day and not life.good.by_eye:
            return life
        span = self._of("looked_sound_days")
        state = _state(life.stay)
        left = min(Fraction(1), Fraction(span.value) / life.days) if life.days else Fraction(0)
        used = {**life.used_by(day), state: 1 - left}
        good = LastGood(_after(day, Fraction(span.value)), span, by_eye="sound")
        return replace(life, since=day, used=used, good=good)

    def _keeps(self, stay: Stay) -> Figure:
        """The life in a state and place: the particular before the general, own before shipped."""
        names = _keeps_names(stay)
        for item in (self.dyestuff, "any dyestuff"):
            shipped_row: Figure | None = None
            for name in names:
                row = find_figure(self.figures, item, name, on=self.on)
                if row is not None and row.own:
                    return row
                shipped_row = shipped_row or row
            if shipped_row is not None:
                return shipped_row
        raise NoFigure(self.dyestuff, names[0])

    def _life(self, stay: Stay, keeps: Figure, since: date) -> Fraction:
        """Days of the whole life in a stay, by the warmth there where it is recorded."""
        if keeps.name.endswith("_months"):
            months = min(int(keeps.value), LONGEST_LIFE_DAYS // 30)
            part = Fraction(keeps.value) % 1 * 30
            return (add_months(since, months) - since).days + part
        days = Fraction(keeps.value)
        if stay.temperature_c is None or _state(stay) not in ("fresh", "damp"):
            return days
        place = "fridge" if stay.place_kind == "fridge" else "bench"
        meant_c = float(self._of(f"{place}_c").value)
        q10 = float(self._of("spoils_q10").value)
        return days / Fraction(q10_factor(stay.temperature_c, reference_c=meant_c, q10=q10))

    def _of(self, name: str) -> Figure:
        found = find_figure(self.figures, self.dyestuff, name, on=self.on)
        return found or figure(self.figures, "any dyestuff", name, on=self.on)


def _happenings(lot: LotFacts, at: datetime | None) -> list[Stay | Verdict]:
    """Stays and verdicts in the order in which they happened."""
    stays = _stays(lot, at)
    verdicts = [v for v in lot.verdicts if (at is None or v.at <= at) and v.at >= stays[0].since]
    moments: list[tuple[datetime, int, Stay | Verdict]] = [
        *((stay.since, 0, stay) for stay in stays),
        *((verdict.at, 1, verdict) for verdict in verdicts),
    ]
    return [what for _, _, what in sorted(moments, key=lambda moment: moment[:2])]


def _stays(lot: LotFacts, at: datetime | None) -> tuple[Stay, ...]:
    """The stays begun by a moment; the first one in any case."""
    return tuple(s for n, s in enumerate(lot.stays) if n == 0 or at is None or s.since <= at)


def _state(stay: Stay) -> str:
    return "frozen" if stay.place_kind == "freezer" else stay.state


def _keeps_names(stay: Stay) -> tuple[str, ...]:
    return _names_of_life(_state(stay), stay.place_kind)


@lru_cache(maxsize=256)
def _names_of_life(state: str, place_kind: str) -> tuple[str, ...]:
    """Names under which a life may be written; a place without one counts as the bench."""
    stems = [f"keeps_{state}_{place_kind.replace(' ', '_')}", f"keeps_{state}"]
    if state == "fresh" and place_kind != "fridge":
        stems.insert(1, "keeps_fresh_bench")
    return tuple(f"{stem}_{unit}" for stem in stems for unit in ("days", "months"))


def _may_be_used(
    lot: LotFacts, figures: Figures, *, on: date, at: datetime, zone: ZoneInfo
) -> bool:
    if lot.set_aside or not lot.labelled or lot.left_mg <= 0:
        return False
    if lot.arrives_at is not None and local_day(lot.arrives_at, zone=zone) > on:
        return False
    counted = max(at, lot.arrives_at) if lot.arrives_at is not None else at
    return not is_past(lot, figures, zone=zone, on=on, at=counted)


def _after(day: date, days: Fraction) -> date:
    return day + timedelta(days=min(floor(days), LONGEST_LIFE_DAYS))
