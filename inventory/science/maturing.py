"""When is a jar ready, when is it dipped next, and what does it hold by then?

The studio's own day rule decides readiness where it has one, else the model at the jar's warmth;
the strength always follows the model (see `liquor`).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from decimal import ROUND_CEILING
from zoneinfo import ZoneInfo

from inventory.science.catalogue import figure, find_figure
from inventory.science.days import day_begins, hours_after, local_day
from inventory.science.facts import Dip, JarFacts
from inventory.science.figures import Figure, Figures
from inventory.science.liquor import (
    METALS,
    Liquor,
    Strongest,
    is_all_behind,
    is_known,
    liquor_at,
    pace_of,
    reaches_at,
    strongest_possible,
)

__all__ = [
    "JarState",
    "Liquor",
    "Strongest",
    "has_matured",
    "last_strip",
    "liquor_at",
    "reaches_at",
    "ready_by_rule",
    "state_of",
    "strongest_possible",
]


@dataclass(frozen=True, slots=True)
class JarState:
    """A jar's state in a dyer's word, and what decided it."""

    word: str  # steeping, ready to dip, matured, retest, set aside, spent
    usable: bool
    since: datetime | None = None  # usable since
    usable_from: datetime | None = None  # earliest without another strip; None: needs one
    next_dip: date | None = None
    grade: int | None = None  # of the last strip
    figure: Figure | None = None  # the figure that decided
    age_days: int | None = None
    strip_age_days: int | None = None
    strip_good_to: date | None = None  # last day on which the strip, or the clock, counts


@dataclass(frozen=True, slots=True)
class _Rule:
    """From when a strip counts and from when none is needed; None: never."""

    strip_from: datetime | None
    clock_from: datetime | None
    strip_figure: Figure
    clock_figure: Figure


def state_of(jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo) -> JarState:
    """A jar's state at a moment; dips and events after the moment do not count.

    Parameters
    ----------
    jar : one without label, metal or date is set aside
    figures : the studio's own; an own `usable_from_days`, `by_clock_days` or `ready_after_h` is
        its day rule, shipped ones are not
    at : aware moment
    zone : the studio's time zone; iron's days are its dates, copper's hours elapsed hours

    Returns
    -------
    JarState
        Iron is usable from its day with a strip that passes and is not too old, or from its longer
        day by the clock; a strip that failed on or after that day bars it. Copper is usable from
        its hour. `usable_from` counts on no future strip.

    References
    ----------
    Days, grade and hours: tables/liquors.csv.

    Examples
    --------
    >>> from datetime import timezone
    >>> from decimal import Decimal
    >>> from fractions import Fraction
    >>> begun = datetime(2026, 11, 17, 9, tzinfo=timezone.utc)
    >>> jar = JarFacts("J1", "Iron 7", "iron", Fraction(1), Fraction(2), Decimal(5), begun,
    ...                begun_volume_ul=3_000_000, left_ul=3_000_000, temperature_c=8)
    >>> rule = Figures((Figure("iron liquor", "usable_from_days", Decimal(7), own=True),))
    >>> monday = datetime(2026, 11, 23, 7, 30, tzinfo=timezone.utc)
    >>> state = state_of(jar, rule, at=monday, zone=ZoneInfo("Europe/London"))
    >>> state.word, state.age_days, str(state.next_dip), str(state.usable_from.date())
    ('steeping', 6, '2026-11-24', '2026-12-01')
    """
    if jar.set_aside or not jar.labelled or jar.metal not in METALS:
        return JarState("set aside", usable=False)
    if jar.left_ul <= 0:
        return JarState("spent", usable=False)
    local_day(at, zone=zone)  # refuses a naive moment
    at = at.astimezone(UTC)
    if jar.metal == "copper":
        return _copper(jar, figures, at=at, zone=zone)
    return _iron(jar, figures, at=at, zone=zone)


def has_matured(jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo) -> bool:
    """Whether a jar may be dyed from at a moment."""
    return state_of(jar, figures, at=at, zone=zone).usable


def last_strip(jar: JarFacts, figures: Figures, *, at: datetime) -> tuple[Dip, int] | None:
    """The last dip by a moment with its grade; a reading in mg/L counts as the grade it reaches."""
    for dip in reversed(jar.dips):
        if dip.at <= at and (dip.grade is not None or dip.metal_mg_per_l is not None):
            return dip, dip.grade if dip.grade is not None else _grade_of(jar, dip, figures)
    return None


def ready_by_rule(
    jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo
) -> datetime | None:
    """When a jar is ready without any strip: by the studio's own rule, else by the model."""
    if jar.metal == "copper":
        return _copper(jar, figures, at=at, zone=zone).usable_from
    return _rule(jar, figures, at=at, zone=zone).clock_from


def _copper(jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo) -> JarState:
    if jar.begun_at is None:
        return JarState("set aside", usable=False)
    on = local_day(at, zone=zone)
    ready = figure(figures, "copper liquor", "ready_after_h", on=on)
    from_moment: datetime | None = hours_after(jar.begun_at, float(ready.value), zone=zone)
    if not ready.own and is_known(jar):
        ready = figure(figures, "copper liquor", "usable_fraction", on=on)
        from_moment = reaches_at(jar, figures, fraction=float(ready.value), at=at)
    age = (on - local_day(jar.begun_at, zone=zone)).days
    if from_moment is None:
        return JarState("spent", usable=False, figure=ready, age_days=age)
    usable = at >= from_moment
    return JarState(
        word="matured" if usable else "steeping",
        usable=usable,
        since=from_moment if usable else None,
        usable_from=from_moment,
        figure=ready,
        age_days=age,
    )


def _iron(jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo) -> JarState:
    on = local_day(at, zone=zone)
    rule = _rule(jar, figures, at=at, zone=zone)
    strip = last_strip(jar, figures, at=at)
    if strip is None:
        found = _without_strip(rule, figures, at=at, zone=zone)
    else:
        found = _by_strip(jar, rule, strip, figures, at=at, zone=zone)
    dip, grade = strip if strip is not None else (None, None)
    return replace(
        found,
        grade=grade,
        age_days=(on - local_day(jar.begun_at, zone=zone)).days if jar.begun_at else None,
        strip_age_days=(on - local_day(dip.at, zone=zone)).days if dip else None,
    )


def _without_strip(rule: _Rule, figures: Figures, *, at: datetime, zone: ZoneInfo) -> JarState:
    """An iron jar never dipped: by the clock, and for as long as a strip would count."""
    on = local_day(at, zone=zone)
    clock, strip_from = rule.clock_from, rule.strip_from
    if clock is not None and at >= clock:
        valid = figure(figures, "iron liquor", "strip_valid_days", on=on)
        good_to = local_day(clock, zone=zone) + timedelta(days=int(valid.value))
        if on > good_to:
            return JarState("retest", usable=False, next_dip=on, figure=valid)
        return _matured(clock, rule.clock_figure, good_to)
    if strip_from is None or at >= strip_from:
        return JarState(
            "ready to dip", False, usable_from=clock, next_dip=on, figure=rule.strip_figure
        )
    dip_on = local_day(strip_from, zone=zone)
    return JarState("steeping", False, usable_from=clock, next_dip=dip_on, figure=rule.strip_figure)


def _by_strip(
    jar: JarFacts,
    rule: _Rule,
    strip: tuple[Dip, int],
    figures: Figures,
    *,
    at: datetime,
    zone: ZoneInfo,
) -> JarState:
    """An iron jar with a strip: too old, passed, or failed."""
    dip, grade = strip
    on = local_day(at, zone=zone)
    valid = figure(figures, "iron liquor", "strip_valid_days", on=on)
    good_to = local_day(dip.at, zone=zone) + timedelta(days=int(valid.value))
    if on > good_to:
        return JarState("retest", usable=False, next_dip=on, figure=valid)
    least = figure(figures, "iron liquor", "least_strip_grade", on=on)
    if grade < least.value:
        return _failed(jar, rule, dip, least, figures, at=at, zone=zone)
    begins = dip.at if rule.strip_from is None else max(rule.strip_from, dip.at)
    if at >= begins:
        return _matured(begins, least, good_to)
    return JarState("steeping", False, usable_from=begins, figure=rule.strip_figure)


def _failed(
    jar: JarFacts,
    rule: _Rule,
    dip: Dip,
    least: Figure,
    figures: Figures,
    *,
    at: datetime,
    zone: ZoneInfo,
) -> JarState:
    """A strip below the least grade: the clock still runs, unless it had run out by then."""
    on = local_day(at, zone=zone)
    strained = any(event.kind == "strained" and event.at <= at for event in jar.events)
    if strained:
        return JarState("spent", usable=False, figure=least)
    clock = rule.clock_from if rule.clock_from is None or dip.at < rule.clock_from else None
    if clock is not None and at >= clock:
        return _matured(clock, rule.clock_figure, None)
    again = figure(figures, "iron liquor", "redip_days", on=on)
    next_dip = local_day(dip.at, zone=zone) + timedelta(days=int(again.value))
    if rule.strip_from is not None:
        next_dip = max(next_dip, local_day(rule.strip_from, zone=zone))
    if next_dip <= on:
        return JarState("ready to dip", False, usable_from=clock, next_dip=on, figure=least)
    return JarState("steeping", False, usable_from=clock, next_dip=next_dip, figure=least)


def _matured(since: datetime, row: Figure, good_to: date | None) -> JarState:
    return JarState(
        "matured", True, since=since, usable_from=since, figure=row, strip_good_to=good_to
    )


def _rule(jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo) -> _Rule:
    """The studio's own day rule where it has one, else the model's moments.

    Once all that is written of a jar has happened it holds for the day.
    """
    if not is_all_behind(jar, at):
        return _rule_at(jar, figures, at=at, zone=zone)
    key = ("rule", jar, at.date(), local_day(at, zone=zone), zone.key)
    return figures.once(key, lambda: _rule_at(jar, figures, at=at, zone=zone))


def _rule_at(jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo) -> _Rule:
    on = local_day(at, zone=zone)
    strip_row = figure(figures, "iron liquor", "usable_from_days", on=on)
    clock_row = figure(figures, "iron liquor", "by_clock_days", on=on)
    if strip_row.own or clock_row.own:
        return _Rule(
            _day_of(jar, strip_row, zone), _day_of(jar, clock_row, zone), strip_row, clock_row
        )
    usable = figure(figures, "iron liquor", "usable_fraction", on=on)
    full = figure(figures, "iron liquor", "full_fraction", on=on)
    if jar.begun_at is None:
        return _Rule(None, None, usable, full)
    # Without its strips: a strip is asked for by the clock that ran before it.
    bare = replace(jar, dips=())
    strip_from = reaches_at(bare, figures, fraction=float(usable.value), at=at)
    passed = next((d.at for d in jar.dips if d.at <= at and _passes(jar, d, figures)), None)
    if passed is not None and (strip_from is None or passed < strip_from):
        strip_from = passed
    clock_from = reaches_at(bare, figures, fraction=float(full.value), at=at)
    return _Rule(strip_from, clock_from, usable, full)


def _day_of(jar: JarFacts, row: Figure, zone: ZoneInfo) -> datetime | None:
    """The beginning of the jar's day of this number; a part of a day counts as a whole one."""
    if jar.begun_at is None:
        return None
    days = int(row.value.to_integral_value(rounding=ROUND_CEILING))
    return day_begins(local_day(jar.begun_at, zone=zone) + timedelta(days=days), zone=zone)


def _passes(jar: JarFacts, dip: Dip, figures: Figures) -> bool:
    grade = dip.grade if dip.grade is not None else _grade_of(jar, dip, figures)
    least = find_figure(figures, "iron liquor", "least_strip_grade", on=dip.at.date())
    return least is not None and grade >= least.value


def _grade_of(jar: JarFacts, dip: Dip, figures: Figures) -> int:
    """The strip grade whose strength a reading reaches; 0 below the faintest."""
    pace = pace_of(jar, figures, on=dip.at.date())
    mol_per_l = (dip.metal_mg_per_l or 0.0) / 1000 / float(pace.metal_g_per_mol)
    return max((g for g, need in pace.strip_mol_per_l.items() if mol_per_l >= need), default=0)
