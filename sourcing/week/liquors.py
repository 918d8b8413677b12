"""Which jar a run draws from, how much, and when it may: one jar a run.

A jar ready at the moment asked for is preferred to one ready later; a pencilled jar is a wish that
is moved, and said so.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date, datetime
from decimal import Decimal

from inventory.science.dosing import Ceiling, ceiling, dose_of
from inventory.science.facts import FibreFacts, JarFacts
from inventory.science.maturing import JarState, state_of
from inventory.science.saying import say
from inventory.science.wording import OF_FIBRE, liquor_dose
from sourcing.week.facts import Dose, RunFacts
from sourcing.week.larder import Larder, Pick, fetched, serves
from sourcing.week.moments import minute_of
from sourcing.week.plan import Reason, Shortage
from sourcing.week.reasons import because
from sourcing.week.words import amount, day_in_words, figure_in_words, moment_in_words


@dataclass(slots=True)
class Chosen:
    """The jar of one dose, or what is lacking."""

    pick: Pick | None = None
    short: list[Shortage] = field(default_factory=list)
    lacking: list[Reason] = field(default_factory=list)
    waits: list[Reason] = field(default_factory=list)
    reasons: list[Reason] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Candidate:
    """A jar with its state now and the moment from which it may be used."""

    jar: JarFacts
    state: JarState
    usable_from: int


def pick_liquor(
    dose: Dose,
    run: RunFacts,
    larder: Larder,
    *,
    fibre: FibreFacts | None,
    without: frozenset[str],
    minute: int | None,
    site: str,
    far: bool = False,
) -> Chosen:
    """The jar for a dose: ready now before ready later, the pencilled one first among equals.

    Parameters
    ----------
    minute : when the step was placed at the last attempt; None: not known yet
    far : liquor of a jar at another site may be fetched, behind the jars at the site
    """
    chosen = Chosen()
    rows, idle = _candidates(dose.what, larder, without, site, far=far)
    now = minute_of(larder.facts.at)
    rows.sort(key=lambda row: (row.usable_from > now, not serves(row.jar.site, site),
                               row.jar.code != run.jar, row.usable_from, row.jar.code))  # fmt: skip
    most, most_jar = -1, None
    for row in rows:
        at = larder.moment(max(now if minute is None else minute, row.usable_from))
        need_ul, refused, reasons = _need(dose, run, row.jar, fibre, larder, at)
        if refused is not None:
            chosen.lacking.append(refused)
            return chosen
        there = larder.left[row.jar.code]
        if need_ul > larder.carry_ul_at_most and not serves(row.jar.site, site):
            continue
        if there < need_ul:
            if there > most:
                most, most_jar = there, (row, need_ul)
            continue
        chosen.reasons.extend(reasons)
        _choose(row, need_ul, dose, run, larder, chosen, site)
        return chosen
    _none(dose, run, larder, idle, most, most_jar, chosen)
    return chosen


def _candidates(
    metal: str, larder: Larder, without: frozenset[str], site: str, *, far: bool = False
) -> tuple[list[Candidate], list[tuple[JarFacts, JarState]]]:
    """Jars that are usable now or by the clock later, and those that are not.

    A jar at another site is never carried while it matures: only liquor that is ready is poured
    off and fetched, so one that is not is of no account.
    """
    facts = larder.facts
    rows: list[Candidate] = []
    idle: list[tuple[JarFacts, JarState]] = []
    for jar in larder.jars_of(metal, site=site, far=far):
        state = state_now(jar, larder)
        begins = facts.at if state.usable else state.usable_from
        if begins is None:
            if serves(jar.site, site):
                idle.append((jar, state))
        elif jar.code not in without:
            # One ruled out at its hour is named with that hour by what ruled it out.
            rows.append(Candidate(jar, state, max(minute_of(begins), larder.comes(jar))))
    return rows, idle


def usable_jars(
    metal: str, larder: Larder, site: str, *, far: bool = False
) -> list[tuple[str, int]]:
    """Jars that can be used, with the minute from which, none left out for its hour."""
    rows, _ = _candidates(metal, larder, frozenset(), site, far=far)
    return [(row.jar.code, row.usable_from) for row in rows]


def least_ul(
    dose: Dose,
    run: RunFacts,
    code: str,
    fibre: FibreFacts,
    larder: Larder,
    minutes: Iterable[int],
) -> int | None:
    """The least that a run takes of a jar at any of some minutes; None: its fibre bears none."""
    jar = next(row for row in larder.facts.shelf.jars if row.code == code)
    found = [_need(dose, run, jar, fibre, larder, larder.moment(minute)) for minute in minutes]
    return min((need for need, refused, _ in found if refused is None), default=None)


def state_now(jar: JarFacts, larder: Larder) -> JarState:
    """A jar's state at the moment asked for."""
    facts = larder.facts
    return larder.once(
        jar, "state", work=lambda: state_of(jar, facts.figures, at=facts.at, zone=facts.zone)
    )


def _need(
    dose: Dose,
    run: RunFacts,
    jar: JarFacts,
    fibre: FibreFacts | None,
    larder: Larder,
    at: datetime,
) -> tuple[int, Reason | None, list[Reason]]:
    """Microlitres of a jar that the run takes at a moment, within the fibre's ceiling."""
    figures = larder.facts.figures
    on = larder.calendar.day_of(minute_of(at))
    already = fibre.iron_percent if fibre is not None and jar.metal == "iron" else Decimal(0)
    top = larder.once(
        jar, "ceiling", run.fibre, on, already,
        work=lambda: ceiling(jar, run.fibre, figures, on=on, already_percent=already),
    )  # fmt: skip
    found = larder.once(
        jar, "dose", dose.ml_per_100g, at,
        work=lambda: dose_of(jar, dose.ml_per_100g, figures, at=at, zone=larder.facts.zone),
    )  # fmt: skip
    ml = found.ml_per_100g
    if top is not None and ml > top.ml_per_100g:
        if dose.ml_per_100g > top.ml_per_100g:
            return 0, _above(dose, run, jar, top), []
        # A weak strip asks for more than the fibre may bear if the jar were at its strongest.
        ml = Decimal(top.ml_per_100g)
    need_ul = round(ml * run.weight_mg / 100)
    text = say(
        "{dose} of {name} per {of_fibre}: {rests_on}",
        dose=liquor_dose(ml, places=".1f"),
        of_fibre=OF_FIBRE,
        name=jar.name or jar.code,
        rests_on=found.rests_on,
    )
    return need_ul, None, [Reason("liquor", jar.code, text)]


def _above(dose: Dose, run: RunFacts, jar: JarFacts, top: Ceiling) -> Reason:
    """A recipe that asks for more than the fibre bears is refused, with what is allowed."""
    text = say(
        "{dose} of {name} per {of_fibre} {fibre} would be up to {percent_of} % {metal}, "
        "over {percent} %; {most} is allowed",
        dose=liquor_dose(dose.ml_per_100g),
        of_fibre=OF_FIBRE,
        name=jar.name or jar.code,
        fibre=run.fibre,
        percent_of=top.percent_of(dose.ml_per_100g),
        metal=jar.metal,
        percent=top.percent,
        most=liquor_dose(top.ml_per_100g, most=True),
    )
    return Reason("ceiling", jar.code, text, figure=figure_in_words(top.figure),
                  own=top.figure.own)  # fmt: skip


def _choose(
    row: Candidate,
    need_ul: int,
    dose: Dose,
    run: RunFacts,
    larder: Larder,
    chosen: Chosen,
    site: str,
) -> None:
    jar = row.jar
    chosen.pick = Pick(
        jar.code,
        say("{metal} liquor", metal=jar.metal),
        need_ul,
        "µL",
        dose.step,
        row.usable_from,
        far=fetched(jar.site, site),
    )
    if row.usable_from > minute_of(larder.facts.at):
        ready = larder.moment(row.usable_from)
        text = say(
            "{name} is usable {ready}",
            name=jar.name or jar.code,
            ready=moment_in_words(ready, larder.facts.zone),
        )
        chosen.waits.append(because("jar", jar.code, text, row.state.figure, ready))
    if run.jar and run.jar != jar.code:
        chosen.reasons.append(_moved(run.jar, jar, need_ul, larder))


def _moved(pencilled: str, jar: JarFacts, need_ul: int, larder: Larder) -> Reason:
    """A pencilled jar was a wish: the claim moves to another, with what is left in it."""
    facts = larder.facts
    wish = next((row for row in facts.shelf.jars if row.code == pencilled), None)
    name = wish.name if wish is not None and wish.name else pencilled
    left = larder.left[jar.code] - need_ul
    why = "is not there"
    if wish is not None:
        state = state_now(wish, larder)
        why = "holds too little" if state.usable else "is not ready"
    text = say(
        "{name} {why}; the claim moves to {name_2}, {left} left after it",
        name=name,
        why=why,
        name_2=jar.name or jar.code,
        left=amount(left, "µL"),
    )
    return Reason("jar moved", jar.code, text)


def _none(
    dose: Dose,
    run: RunFacts,
    larder: Larder,
    idle: list[tuple[JarFacts, JarState]],
    most: int,
    most_jar: tuple[Candidate, int] | None,
    chosen: Chosen,
) -> None:
    """No jar serves: short in the fullest one, or none may be used."""
    for jar, state in idle:
        chosen.lacking.append(_idle(jar, state, larder))
    if most_jar is not None:
        row, need_ul = most_jar
        name = row.jar.name or row.jar.code
        text = say(
            "{name} short by {need_ul}: {need_ul_2} wanted, {most} left",
            name=name,
            need_ul=amount(need_ul - most, "µL"),
            need_ul_2=amount(need_ul, "µL"),
            most=amount(most, "µL"),
        )
        chosen.short.append(Shortage("liquor", row.jar.code, need_ul - most, "µL", None, text))
        return
    need_ul = round(dose.ml_per_100g * run.weight_mg / 100)
    text = say(
        "no jar of {what} liquor may be used: {need_ul} wanted",
        what=dose.what,
        need_ul=amount(need_ul, "µL"),
    )
    chosen.short.append(Shortage("liquor", dose.what, need_ul, "µL", None, text))


def _idle(jar: JarFacts, state: JarState, larder: Larder) -> Reason:
    """Why a jar may not be used, and when to dip it."""
    name = jar.name or jar.code
    text = say("{name} is {word}", name=name, word=state.word)
    if state.word == "retest" and state.strip_age_days is not None:
        text = say(
            "{name}: strip is {strip_age_days} days old, dip it",
            name=name,
            strip_age_days=state.strip_age_days,
        )
    if state.next_dip is not None and state.next_dip > larder.calendar.since:
        text += say("; dip {next_dip}", next_dip=day_in_words(state.next_dip))
    return because("jar", jar.code, text, state.figure)


def still_usable(pick: Pick, larder: Larder, *, minute: int) -> Reason | None:
    """Why a jar may no longer be used at its step's moment; None when it may, or is no jar."""
    jar = next((row for row in larder.facts.shelf.jars if row.code == pick.code), None)
    if jar is None:
        return None
    at = larder.moment(minute)
    state = state_of(jar, larder.facts.figures, at=at, zone=larder.facts.zone)
    if state.usable:
        return None
    text = say(
        "{name} is {word} on {at}",
        name=jar.name or jar.code,
        word=state.word,
        at=moment_in_words(at, larder.facts.zone),
    )
    return because("jar", jar.code, text, state.figure)


def next_dips(larder: Larder) -> list[date]:
    """Days on which a steeping jar is to be dipped, today or later."""
    return [day for days in dips_by_site(larder).values() for day in days]


def dips_by_site(larder: Larder) -> dict[str, list[date]]:
    """Days on which steeping jars are to be dipped, by the site where they stand; empty: any."""
    found: dict[str, list[date]] = {}
    for jar in larder.facts.shelf.jars:
        state = state_now(jar, larder)
        if state.word in ("steeping", "ready to dip") and state.next_dip is not None:
            found.setdefault(jar.site, []).append(state.next_dip)
    return found
