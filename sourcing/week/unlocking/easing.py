"""One thing that could be different in a studio, and the facts as they would be then.

An easing is counted in whole grains: grams, millilitres, minutes, days, grades, or one yes.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from datetime import date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from typing import Any

from inventory.science.facts import (
    BathFacts,
    Dip,
    FibreFacts,
    JarFacts,
    LineFacts,
    LotFacts,
    RingFacts,
    Shelf,
    Stay,
    SupplyFacts,
    Verdict,
    VesselFacts,
)
from inventory.science.keeping import last_good_day
from inventory.science.saying import say
from sourcing.week.facts import DayHours, RunFacts, ShadeCard, WeekFacts
from sourcing.week.unlocking.carrying import carried
from sourcing.week.unlocking.hanging_up import Hung, hung

MG_PER_GRAM = 1_000
UL_PER_ML = 1_000

# In which order unlocks of one run stand: what the studio fetches itself, then a test, then room,
# then somebody's hours, then what another run has claimed, then what others have to allow. Ours; no
# source ranks them.
KINDS = (
    "carry", "hang", "dyestuff", "supply", "fibre", "liquor", "bath", "strip", "look over", "label",
    "card days", "reading", "line", "ring", "pot", "hands", "longer day", "open day", "arrival",
    "claim", "moved", "due", "permission", "nest check", "shade card", "in writing",
)  # fmt: skip

# What others have to allow; it stands behind what the studio can do itself.
LEAVE = frozenset({"moved", "due", "permission", "shade card", "in writing"})


@dataclass(frozen=True, slots=True)
class Easing:
    """One constraint that may be eased, up to `most` grains."""

    kind: str
    what: str  # code or name of the thing
    run: str
    most: int  # grains, above 0
    hints: tuple[int, ...] = ()  # amounts that the answer itself names, tried first
    day: date | None = None  # hands, longer day, open day
    # Fibre: the lot beside which it is laid; dyestuff: the state wanted; bath: the shade that it
    # gave; claim: the run that has it; carry: the site that it goes to.
    like: str = ""
    hung: Hung | None = None  # hang: on which line, from when to when

    @property
    def key(self) -> tuple[str, str, date | None, str]:
        return self.kind, self.what, self.day, self.like


def eased(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    """The facts of a studio in which so many grains more are there."""
    return _WAYS[easing.kind](facts, easing, grains) if grains else facts


# -- materials -------------------------------------------------------------------------------


def _dyestuff(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    lots = facts.shelf.lots
    return _shelf(facts, lots=(*lots, _more_of(facts, easing, grains * MG_PER_GRAM)))


def _more_of(facts: WeekFacts, easing: Easing, mg: int) -> LotFacts:
    """A sound lot on the shelf, in the state that is asked for or that keeps longest."""
    states = (easing.like,) if easing.like else ("frozen", "dried", "fresh")
    places = {"frozen": "freezer", "dried": "dry store", "fresh": "fridge"}
    lots = []
    for state in states:
        place = places.get(state, "bench")
        lot = LotFacts(
            say("more {what}", what=easing.what),
            easing.what,
            (Stay(facts.at, state, place, place),),
            mg,
            verdicts=(Verdict(facts.at, sound=True),),
            permission="given",
            gathered_on=facts.at.astimezone(facts.zone).date(),
            nest_checked=True,
        )
        lots.append(lot)
    return max(
        lots,
        key=lambda lot: last_good_day(lot, facts.figures, zone=facts.zone, at=facts.at).day,
    )


def _supply(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    more = SupplyFacts(say("more {what}", what=easing.what), easing.what, grains * MG_PER_GRAM)
    return _shelf(facts, supplies=(*facts.shelf.supplies, more))


def _fibre(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    mg = grains * MG_PER_GRAM
    rows = facts.shelf.fibre
    if any(row.code == easing.like for row in rows):
        more = tuple(
            replace(row, left_mg=row.left_mg + mg) if row.code == easing.like else row
            for row in rows
        )
        return _shelf(facts, fibre=more)
    code = easing.like or say("more {what}", what=easing.what)
    return _shelf(facts, fibre=(*rows, FibreFacts(code, easing.what, "yarn", mg, scoured=True)))


def _liquor(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    ul = grains * UL_PER_ML
    jars = facts.shelf.jars
    if any(jar.code == easing.what for jar in jars):
        more = tuple(
            replace(jar, left_ul=jar.left_ul + ul) if jar.code == easing.what else jar
            for jar in jars
        )
        return _shelf(facts, jars=more)
    return _shelf(facts, jars=(*jars, _another_jar(facts, easing.what, ul)))


def _another_jar(facts: WeekFacts, metal: str, ul: int) -> JarFacts:
    """A matured jar at strip 4, the strength at which recipes give their millilitres."""
    parts = Fraction(1, 3) if metal == "iron" else Fraction(1, 2)
    dips = (Dip(facts.at, grade=4),) if metal == "iron" else ()
    begun = facts.at - timedelta(days=60)
    return JarFacts(
        say("another {metal} jar", metal=metal),
        say("another {metal} jar", metal=metal),
        metal,
        parts,
        1 - parts,
        Decimal(5),
        begun,
        ul,
        ul,
        temperature_c=15,
        dips=dips,
    )


def _bath(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    more = BathFacts(
        say("more {what}", what=easing.what), easing.what, facts.at, grains * UL_PER_ML, 8,
        shade=easing.like,
    )  # fmt: skip
    return _shelf(facts, baths=(*facts.shelf.baths, more))


# -- what another run has --------------------------------------------------------------------


def _claim(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    """So many grams or millilitres that were promised to another run lie free."""
    left = grains * MG_PER_GRAM
    promised = []
    for row in facts.promised:
        freed = min(left, row.amount) if (row.run, row.code) == (easing.like, easing.what) else 0
        left -= freed
        promised.append(replace(row, amount=row.amount - freed) if freed else row)
    return replace(facts, promised=tuple(promised))


def _moved(facts: WeekFacts, _: Easing, __: int) -> WeekFacts:
    """Nothing of the studio differs: the other run is placed after this one (`moving.py`)."""
    return facts


# -- tests, looks and leave ------------------------------------------------------------------


def _strip(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    """A strip dipped now; on a jar before its day it counts from that day."""
    return _shelf(facts, jars=_each(facts.shelf.jars, easing.what, lambda jar: replace(
        jar, dips=(*jar.dips, Dip(facts.at, grade=grains)))))  # fmt: skip


def _look_over(facts: WeekFacts, easing: Easing, _: int) -> WeekFacts:
    today = facts.at.astimezone(facts.zone).date()
    lots = _each(facts.shelf.lots, easing.what, lambda lot: replace(lot, set_aside=""))
    fibre = _each(
        facts.shelf.fibre,
        easing.what,
        lambda row: replace(
            row, set_aside="", weighed=True, since=today if row.damp else row.since
        ),
    )
    return _shelf(facts, lots=lots, fibre=fibre)


def _label(facts: WeekFacts, easing: Easing, _: int) -> WeekFacts:
    def labelled(row: Any) -> Any:
        return replace(row, labelled=True)

    shelf = facts.shelf
    return _shelf(facts, lots=_each(shelf.lots, easing.what, labelled),
                  fibre=_each(shelf.fibre, easing.what, labelled))  # fmt: skip


def _permission(facts: WeekFacts, easing: Easing, _: int) -> WeekFacts:
    return _shelf(facts, lots=_each(facts.shelf.lots, easing.what,
                                    lambda lot: replace(lot, permission="given")))  # fmt: skip


def _nest_check(facts: WeekFacts, easing: Easing, _: int) -> WeekFacts:
    return _shelf(facts, lots=_each(facts.shelf.lots, easing.what,
                                    lambda lot: replace(lot, nest_checked=True)))  # fmt: skip


def _card_days(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    return _wish(facts, easing, lambda wish: replace(
        wish, begun_on=wish.begun_on and wish.begun_on - timedelta(grains)))  # fmt: skip


def _reading(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    """A grain is half a grade, as readings between two references are given."""
    return _wish(facts, easing, lambda wish: replace(wish, reading=Decimal(grains) / 2))


def _in_writing(facts: WeekFacts, easing: Easing, _: int) -> WeekFacts:
    return _wish(facts, easing, lambda wish: replace(wish, accepted_in_writing=True))


def _shade_card(facts: WeekFacts, easing: Easing, _: int) -> WeekFacts:
    def approved(run: RunFacts) -> RunFacts:
        return replace(run, shade_card=ShadeCard(approved=True))

    return _run(facts, easing, approved)


# -- room, hours and dates -------------------------------------------------------------------


def _line(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    mg = grains * MG_PER_GRAM

    def longer(line: LineFacts) -> LineFacts:
        return replace(line, holds_mg=line.holds_mg + mg)

    return _shelf(facts, lines=_each(facts.shelf.lines, easing.what, longer))


def _ring(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    strongest = max((ring.watts for ring in facts.shelf.rings), default=3_000)
    more = tuple(RingFacts(say("another ring {n}", n=n), strongest) for n in range(1, grains + 1))
    return _shelf(facts, rings=(*facts.shelf.rings, *more))


def _pot(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    """One more vessel of so many working litres, clean and sound."""
    today = facts.at.astimezone(facts.zone).date()
    iron = easing.what == "iron pot"
    kind = "pot" if iron else easing.what
    vessel = VesselFacts(say("another {what}", what=easing.what), kind, "stainless", grains * 1_000,
                         grains * 1_000, iron_pot=iron, blank_passed_on=today)  # fmt: skip
    return _shelf(facts, vessels=(*facts.shelf.vessels, vessel))


def _hands(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    """More minutes on a day that is open already: its first row of hours has them."""
    hours = list(facts.hours)
    for index, row in enumerate(hours):
        if is_in(row, easing):
            hours[index] = replace(row, hands_min=row.hands_min + grains)
            break
    return replace(facts, hours=tuple(hours))


def _longer_day(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    """Somebody stays so many minutes longer than the last who is in."""
    hours = list(facts.hours)
    there = [n for n, row in enumerate(hours) if is_in(row, easing)]
    if there:
        last = max(there, key=lambda n: hours[n].closes)
        closes = hours[last].closes + timedelta(minutes=grains)
        hours[last] = replace(hours[last], closes=closes)
    return replace(facts, hours=tuple(hours))


def is_in(row: DayHours, easing: Easing) -> bool:
    """Whether a row of hours is the easing's day and site, with somebody in."""
    return row.day == easing.day and row.hands_min > 0 and row.site in ("", easing.what)


def _open_day(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    """Somebody in on a closed day at the studio's usual hours, with so many minutes of hands."""
    assert easing.day is not None
    opens, closes = usual_hours(facts)
    row = DayHours(
        easing.day,
        datetime.combine(easing.day, opens, tzinfo=facts.zone),
        datetime.combine(easing.day, closes, tzinfo=facts.zone),
        grains,
        1,
        easing.what,
    )
    kept = tuple(hour for hour in facts.hours if hour.day != easing.day or hour.hands_min > 0)
    return replace(facts, hours=(*kept, row))


def usual_hours(facts: WeekFacts) -> tuple[time, time]:
    """The opening hours that the studio has most often."""
    found: dict[tuple[time, time], int] = {}
    for row in facts.hours:
        opens, closes = (m.astimezone(facts.zone).time() for m in (row.opens, row.closes))
        if row.hands_min > 0 and opens < closes:
            found[opens, closes] = found.get((opens, closes), 0) + 1
    return max(sorted(found), key=lambda hours: found[hours], default=(time(9), time(18)))


def arrivals(facts: WeekFacts) -> dict[str, datetime | None]:
    """When lots and fibre that are on the way come, by code; None for what is here."""
    comes = {row.code: row.arrives_at for row in facts.shelf.lots}
    return comes | {row.code: row.arrives_at for row in facts.shelf.fibre}


def _arrival(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    """A thing that is confirmed comes so many minutes sooner."""

    def sooner(row: Any) -> Any:
        if row.arrives_at is None:
            return row
        comes = max(facts.at, row.arrives_at - timedelta(minutes=grains))
        return replace(row, arrives_at=comes)

    shelf = facts.shelf
    return _shelf(facts, lots=_each(shelf.lots, easing.what, sooner),
                  fibre=_each(shelf.fibre, easing.what, sooner))  # fmt: skip


def _due(facts: WeekFacts, easing: Easing, grains: int) -> WeekFacts:
    return _run(facts, easing, lambda run: replace(
        run, due=run.due and run.due + timedelta(minutes=grains)))  # fmt: skip


# -- putting it back into the facts ----------------------------------------------------------


def _shelf(facts: WeekFacts, **changed: Any) -> WeekFacts:
    shelf: Shelf = replace(facts.shelf, **changed)
    return replace(facts, shelf=shelf)


def _each(rows: tuple[Any, ...], code: str, change: Callable[[Any], Any]) -> tuple[Any, ...]:
    """The rows with one changed; the very same tuple where none has the code."""
    if not any(row.code == code for row in rows):
        return rows
    return tuple(change(row) if row.code == code else row for row in rows)


def _run(facts: WeekFacts, easing: Easing, change: Callable[[Any], Any]) -> WeekFacts:
    return replace(facts, runs=_each(facts.runs, easing.run, change))


def _wish(facts: WeekFacts, easing: Easing, change: Callable[[Any], Any]) -> WeekFacts:
    return _run(facts, easing, lambda run: replace(run, wishes=tuple(
        change(wish) if wish.what == easing.what else wish for wish in run.wishes)))  # fmt: skip


_WAYS: dict[str, Callable[[WeekFacts, Easing, int], WeekFacts]] = {
    "carry": lambda facts, easing, grains: carried(
        facts, easing.what, grains * MG_PER_GRAM, site=easing.like, day=easing.day
    ),
    "hang": lambda facts, easing, _: (
        facts if easing.hung is None else hung(facts, easing.what, easing.hung)
    ),
    "dyestuff": _dyestuff,
    "supply": _supply,
    "fibre": _fibre,
    "liquor": _liquor,
    "bath": _bath,
    "claim": _claim,
    "moved": _moved,
    "strip": _strip,
    "look over": _look_over,
    "label": _label,
    "card days": _card_days,
    "reading": _reading,
    "line": _line,
    "ring": _ring,
    "pot": _pot,
    "hands": _hands,
    "longer day": _longer_day,
    "open day": _open_day,
    "arrival": _arrival,
    "due": _due,
    "permission": _permission,
    "nest check": _nest_check,
    "shade card": _shade_card,
    "in writing": _in_writing,
}
