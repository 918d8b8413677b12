"""What a jar has to tell at a moment: its state and since when, how far it has come, its strength.

Everything here is put together from `maturing` and `liquor`; no new rule is made.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from fractions import Fraction
from zoneinfo import ZoneInfo

from inventory.science.catalogue import find_figure
from inventory.science.days import day_begins, local_day
from inventory.science.facts import Dip, JarEvent, JarFacts
from inventory.science.figures import Figure, Figures
from inventory.science.liquor import METALS, sulphate_g_per_mol
from inventory.science.maturing import (
    JarState,
    Liquor,
    Strongest,
    liquor_at,
    state_of,
    strongest_possible,
)
from inventory.science.saying import say

# Figures that a strength rests on, by metal; each is shown with its range where it is known.
PACE = ("usable_at_20c_days", "usable_fraction", "works_q10")


@dataclass(frozen=True, slots=True)
class Goal:
    """What a jar is on its way to, and how much of the way is behind it."""

    what: str  # dip, ready, strip ends
    since: datetime
    until: datetime
    at: datetime
    days_gone: int  # calendar days since it began
    days_whole: int

    @property
    def fraction(self) -> Fraction:
        """Part of the way behind it, 0 to 1, by elapsed time."""
        whole = self.until.timestamp() - self.since.timestamp()
        gone = self.at.timestamp() - self.since.timestamp()
        part = Fraction(gone) / Fraction(whole) if whole > 0 else Fraction(1)
        return min(max(part, Fraction(0)), Fraction(1))

    @property
    def hours(self) -> tuple[int, int]:
        """Whole hours gone and to go to, for a way of a day or two."""
        begun = self.since.timestamp()
        whole = round((self.until.timestamp() - begun) / 3600)
        return min(int((self.at.timestamp() - begun) // 3600), whole), whole


@dataclass(frozen=True, slots=True)
class Strength:
    """Grams of metal salt in a litre, as the sulphate crystals that hold as much metal."""

    likely_g_per_l: float
    low_g_per_l: float
    high_g_per_l: float
    most_g_per_l: float  # never more, by its acid, its metal and what dissolves
    metal_mg_per_l: float
    fraction: float  # of the most
    rests_on: str  # model, strip, reading
    told_on: date | None  # day of the strip or reading


@dataclass(frozen=True, slots=True)
class Happening:
    """One thing that was done to a jar: begun, dipped, topped up, drawn, strained, moved."""

    at: datetime
    kind: str
    event: JarEvent | None = None
    dip: Dip | None = None


@dataclass(frozen=True, slots=True)
class JarStory:
    """One jar at a moment."""

    jar: JarFacts
    state: JarState
    level: Fraction  # left of what it was begun with, 0 to 1
    since: datetime | date | None  # of its present state; None: nobody wrote it down
    goal: Goal | None
    strength: Strength | None
    liquor: Liquor | None
    strongest: Strongest | None
    happened: tuple[Happening, ...]  # newest first
    rests_on: tuple[Figure, ...]  # figures behind state and strength, each once


def story_of(
    jar: JarFacts,
    figures: Figures,
    *,
    at: datetime,
    zone: ZoneInfo,
    aside_since: datetime | None = None,
) -> JarStory:
    """What a jar tells at a moment.

    Parameters
    ----------
    jar : its dips and events after the moment do not count
    figures : the studio's own; shipped ones stand in
    at : aware moment
    zone : the studio's
    aside_since : when it was set aside, where it is
    """
    state = state_of(jar, figures, at=at, zone=zone)
    liquor = liquor_at(jar, figures, at=at)
    on = local_day(at, zone=zone)
    known = liquor is not None
    return JarStory(
        jar=jar,
        state=state,
        level=_level(jar),
        since=_since(jar, state, figures, on=on, zone=zone, aside_since=aside_since),
        goal=_goal(jar, state, figures, at=at, zone=zone),
        strength=_strength(jar, liquor, figures, at=at, zone=zone),
        liquor=liquor,
        strongest=strongest_possible(jar, figures, on=on) if known else None,
        happened=tuple(_happened(jar, at)),
        rests_on=_figures_behind(jar, state, liquor, figures, on=on),
    )


def _level(jar: JarFacts) -> Fraction:
    """A jar topped up beyond what it began with is full."""
    whole = max(jar.begun_volume_ul, jar.left_ul)
    return Fraction(jar.left_ul, whole) if whole > 0 else Fraction(0)


def _since(
    jar: JarFacts,
    state: JarState,
    figures: Figures,
    *,
    on: date,
    zone: ZoneInfo,
    aside_since: datetime | None,
) -> datetime | date | None:
    """When the present state began, where what is written says it."""
    if state.word == "set aside":
        return aside_since
    if state.word == "steeping":
        return jar.begun_at
    if state.word == "retest" and state.strip_age_days is not None:
        valid = find_figure(figures, "iron liquor", "strip_valid_days", on=on)
        days = int(valid.value) if valid is not None else 0
        return on - timedelta(days=state.strip_age_days - days - 1)
    if state.word == "ready to dip" and state.grade is None and jar.begun_at is not None:
        row = state.figure
        if row is not None and row.name == "usable_from_days":
            return local_day(jar.begun_at, zone=zone) + timedelta(days=int(row.value))
    return state.since


def _goal(
    jar: JarFacts, state: JarState, figures: Figures, *, at: datetime, zone: ZoneInfo
) -> Goal | None:
    """The next moment of a jar: its dip, its readiness, or the end of its strip."""
    if state.word == "matured" and state.strip_good_to is not None:
        return _strip_goal(jar, state, at=at, zone=zone)
    if state.word != "steeping" or jar.begun_at is None or jar.begun_at > at:
        return None
    if state.next_dip is not None:
        return _way("dip", jar.begun_at, day_begins(state.next_dip, zone=zone), at, zone)
    if state.usable_from is not None:
        return _way("ready", jar.begun_at, state.usable_from, at, zone)
    return None


def _strip_goal(jar: JarFacts, state: JarState, *, at: datetime, zone: ZoneInfo) -> Goal | None:
    assert state.strip_good_to is not None
    told = [dip.at for dip in jar.dips if dip.at <= at] if state.strip_age_days is not None else []
    begins = told[-1] if told else state.since
    if begins is None:
        return None
    return _way("strip ends", begins, day_begins(state.strip_good_to, zone=zone), at, zone)


def _way(what: str, since: datetime, until: datetime, at: datetime, zone: ZoneInfo) -> Goal:
    first = local_day(since, zone=zone)
    gone = (local_day(at, zone=zone) - first).days
    return Goal(what, since, until, at, gone, (local_day(until, zone=zone) - first).days)


def _strength(
    jar: JarFacts, liquor: Liquor | None, figures: Figures, *, at: datetime, zone: ZoneInfo
) -> Strength | None:
    if liquor is None:
        return None
    per_mol = float(sulphate_g_per_mol(jar.metal, figures, on=local_day(at, zone=zone)))
    metal = find_figure(figures, jar.metal, "molar_mass_g_per_mol", on=local_day(at, zone=zone))
    rests_on = liquor.rests_on.split()[0]
    told = [dip.at for dip in jar.dips if dip.at <= at] if rests_on != "model" else []
    return Strength(
        likely_g_per_l=liquor.sulphate_g_per_l,
        low_g_per_l=liquor.low_mol_per_l * per_mol,
        high_g_per_l=liquor.high_mol_per_l * per_mol,
        most_g_per_l=float(liquor.most_mol_per_l) * per_mol,
        metal_mg_per_l=liquor.metal_mol_per_l * float(metal.value) * 1000 if metal else 0.0,
        fraction=liquor.fraction,
        rests_on=rests_on,
        told_on=local_day(told[-1], zone=zone) if told else None,
    )


def _happened(jar: JarFacts, at: datetime) -> Iterator[Happening]:
    rows = [
        *(Happening(event.at, event.kind, event=event) for event in jar.events),
        *(Happening(dip.at, "dipped", dip=dip) for dip in jar.dips),
    ]
    if jar.begun_at is not None:
        rows.append(Happening(jar.begun_at, "begun"))
    yield from sorted((row for row in rows if row.at <= at), key=lambda row: row.at, reverse=True)


def _figures_behind(
    jar: JarFacts, state: JarState, liquor: Liquor | None, figures: Figures, *, on: date
) -> tuple[Figure, ...]:
    """The figure that decided its state, then those that its strength rests on."""
    decided = (state.figure,) if state.figure is not None else ()
    if liquor is None or jar.metal not in METALS:
        return decided
    strained = any(event.kind == "strained" for event in jar.events)
    told = tuple(liquor.rests_on.split()[:2])
    key = ("behind", jar.metal, told, strained, jar.temperature_c is None, on)
    behind = figures.once(key, lambda: tuple(_behind_strength(jar, told, strained, figures, on)))
    return tuple(dict.fromkeys((*decided, *behind)))


def _behind_strength(
    jar: JarFacts, told: tuple[str, ...], strained: bool, figures: Figures, on: date
) -> Iterator[Figure]:
    item = say("{metal} liquor", metal=jar.metal)
    wanted: list[tuple[str, str]] = []
    if told[0] == "strip":
        wanted += [(item, "strip_4_fraction"), (item, f"strip_{told[1]}_factor")]
    if told[0] == "reading":
        wanted.append((item, "reading_within_fraction"))
    if not strained:
        wanted += [(item, name) for name in PACE]
    if jar.temperature_c is None:
        wanted.append(("studio", "shed_c"))
    if jar.metal == "iron":
        wanted.append(("studio", "gas_l_per_mol"))
    for of, name in wanted:
        row = find_figure(figures, of, name, on=on)
        if row is not None:
            yield row
