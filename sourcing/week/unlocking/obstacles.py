"""What stands between a run and its yes, as easings to try: what it must have, and what it may.

Amounts and gates must all be lifted; of what pushed its steps in time, one may do.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import islice
from math import ceil

from inventory.science.facts import FibreFacts
from sourcing.week.desk import Desk
from sourcing.week.facts import Recipe, RunFacts, Step, WeekFacts
from sourcing.week.fits import Push
from sourcing.week.liquors import next_dips
from sourcing.week.moments import minute_of
from sourcing.week.plan import Answer, Reason, Shortage
from sourcing.week.unlocking.carrying import carry_day, elsewhere, free_of, way_minutes_of
from sourcing.week.unlocking.easing import MG_PER_GRAM, UL_PER_ML, Easing, arrivals, is_in
from sourcing.week.unlocking.hanging_up import hung_up
from sourcing.week.unlocking.moving import MOVED_AT_MOST, Earlier, in_the_way

LONGEST_DAY_MIN = 24 * 60
LONGER_MIN = 4 * 60  # how much longer somebody may stay
GRADES = 5  # of a strip
HALF_GRADES = 16  # of a reading, 1 to 8
# What no easing lifts: a mistake in the recipe, the fibre's ceiling, a shade that soon fades.
NO_WAY = {"recipe", "fibre", "order", "ceiling", "fugitive", "water"}


@dataclass(frozen=True)
class Obstacles:
    """Each must with the ways to lift it, the simplest first; and what could save time."""

    musts: tuple[tuple[Easing, ...], ...]
    may: tuple[Easing, ...]
    hopeless: bool = False


def obstacles(
    run: RunFacts, answer: Answer, desk: Desk, earlier: Earlier | None = None
) -> Obstacles:
    """Everything that could be eased for a run that is not yes.

    Parameters
    ----------
    earlier : the week as it was placed; None: what other runs have is left to them
    """
    musts: list[tuple[Easing, ...]] = []
    hopeless = any(row.kind in NO_WAY for row in answer.barred)
    for gate in answer.barred:
        musts.extend(_gate(gate, run))
    for row in _joined(answer.short):
        musts.append((*_carried(row, run, desk, earlier), *_left_out(row, run, answer, desk),
                      *_shortage(row, run, answer, desk),
                      *_of_others(row, run, desk, earlier)))  # fmt: skip
    may = () if musts else tuple(in_time(run, answer, desk, earlier))
    return Obstacles(tuple(musts), may, hopeless)


# -- what must be there ----------------------------------------------------------------------


def _gate(gate: Reason, run: RunFacts) -> Iterator[tuple[Easing, ...]]:
    if gate.kind == "shade card":
        yield (Easing("shade card", run.shade, run.code, 1),)
    if gate.kind == "reading":
        wish = next(row for row in run.wishes if row.what == gate.what)
        accepted = Easing("in writing", wish.what, run.code, 1)
        if gate.until is not None:
            yield Easing("card days", wish.what, run.code, wish.days), accepted
        if wish.reading is None or wish.reading < wish.wanted:
            wanted = int(wish.wanted * 2)
            most = max(wanted, HALF_GRADES)
            yield Easing("reading", wish.what, run.code, most, (wanted,)), accepted


def _carried(row: Shortage, run: RunFacts, desk: Desk, earlier: Earlier | None) -> Iterator[Easing]:
    """What is short, where it lies at another site; a plan that may fetch it has done so."""
    if desk.carries or len(desk.facts.sites) < 2:
        return
    short = -(-row.amount // MG_PER_GRAM)  # a millilitre has as many microlitres
    taken = {} if earlier is None else earlier.turns[run.code].taken
    for lot, site in elsewhere(row.what, row.kind, desk.facts):
        day = carry_day(desk, way_minutes_of(desk.facts, lot.code, site))
        most = free_of(lot.code, desk.facts, taken.get(lot.code, 0)) // MG_PER_GRAM
        if day is not None and most > 0 and (not run.fibre_lot or row.kind != "fibre"):
            hints = (min(short, most),)
            yield Easing("carry", lot.code, run.code, most, hints, day=day, like=site)


def _joined(short: Iterable[Shortage]) -> list[Shortage]:
    """Shortages of one thing at two steps of a run are one thing to fetch."""
    found: dict[tuple[str, str], Shortage] = {}
    for row in short:
        key = (row.kind, row.what)
        had = found.get(key)
        found[key] = row if had is None else replace(had, amount=had.amount + row.amount)
    return list(found.values())


def _shortage(row: Shortage, run: RunFacts, answer: Answer, desk: Desk) -> Iterator[Easing]:
    if row.kind == "fibre":
        yield from _fibre(row, run, desk)
        return
    grain = UL_PER_ML if row.unit == "µL" else MG_PER_GRAM
    short = -(-row.amount // grain)
    recipe = desk.recipes[run.recipe]
    doses = [dose for dose in recipe.doses if dose.what == row.what]
    whole = sum(round(dose.per_fibre * run.weight_mg) for dose in doses)
    most = max(short, -(-whole // grain)) * 2  # a lot in another state may count for less
    states = [dose.state for dose in doses]
    states += [making.state for making in desk.facts.makings if making.dyestuff == row.what]
    like = next(iter(states), "") or _shade_of_bath(row, recipe, desk)
    yield Easing(row.kind, row.what, run.code, most, (short, -(-whole // grain)), like=like)
    if row.kind == "liquor":
        metal = next((j.metal for j in desk.facts.shelf.jars if j.code == row.what), row.what)
        yield from _strips(metal, run, desk)


def _shade_of_bath(row: Shortage, recipe: Recipe, desk: Desk) -> str:
    """The shade whose bath is short, of a shade that follows in it."""
    first = desk.recipes.get(recipe.second_of) if row.kind == "bath" else None
    return "" if first is None else first.shade


def _fibre(row: Shortage, run: RunFacts, desk: Desk) -> Iterator[Easing]:
    """More beside a lot that is there, one lot after another, else a lot of its own."""
    short = -(-row.amount // MG_PER_GRAM)
    beside = [
        fibre.code
        for fibre in sorted(desk.facts.shelf.fibre, key=lambda fibre: fibre.code)
        if fibre.fibre == run.fibre
        and fibre.code == (run.fibre_lot or fibre.code)
        and desk.larder.left[fibre.code] > 0
        and not desk.larder.fibre_left_out(fibre)
    ]
    most = -(-run.weight_mg // MG_PER_GRAM) * 2
    own = [run.fibre_lot] if not run.fibre_lot or not beside else []
    for code in (*beside, *own):
        yield Easing("fibre", run.fibre, run.code, max(most, short), (short,), like=code)


def _strips(metal: str, run: RunFacts, desk: Desk) -> Iterator[Easing]:
    if metal != "iron":
        return
    for jar in sorted(desk.facts.shelf.jars, key=lambda jar: jar.code):
        if jar.metal == metal and jar.labelled and not jar.set_aside and jar.left_ul > 0:
            yield Easing("strip", jar.code, run.code, GRADES)


def _left_out(row: Shortage, run: RunFacts, answer: Answer, desk: Desk) -> Iterator[Easing]:
    """Things on the shelf that do not count yet, and what would make them count."""
    kinds = {"permission": "permission", "no label": "label", "set aside": "look over",
             "season": "nest check"}  # fmt: skip
    lots = {lot.code: lot for lot in desk.facts.shelf.lots}
    for reason in answer.barred:
        lot = lots.get(reason.what)
        if lot is not None and lot.dyestuff == row.what and reason.kind in kinds:
            yield Easing(kinds[reason.kind], lot.code, run.code, 1)
    if row.kind != "fibre":
        return
    for fibre in desk.facts.shelf.fibre:
        if fibre.fibre == run.fibre and fibre.damp and not desk.larder.fibre_left_out(fibre):
            yield from _hung(fibre, run, desk)
        if fibre.fibre != run.fibre or not desk.larder.fibre_left_out(fibre):
            continue
        kind = "label" if not fibre.labelled else "look over"
        yield Easing(kind, fibre.code, run.code, 1)


def _hung(fibre: FibreFacts, run: RunFacts, desk: Desk) -> Iterator[Easing]:
    """Damp fibre that ends before its bath, where a line has room for it sooner."""
    here = fibre.arrives_at is None or fibre.arrives_at <= desk.facts.at
    if here and fibre.code == (run.fibre_lot or fibre.code):
        when = hung_up(fibre, desk)
        if when is not None:
            yield Easing("hang", fibre.code, run.code, 1, like=when[0], hung=when)


# -- what other runs have --------------------------------------------------------------------


def _of_others(
    row: Shortage, run: RunFacts, desk: Desk, earlier: Earlier | None
) -> Iterator[Easing]:
    """What is short, where another run has it: claimed by name, or taken in its turn."""
    if earlier is None:
        return
    short = -(-row.amount // MG_PER_GRAM)  # a millilitre has as many microlitres
    codes = _codes(row.kind, row.what, desk.facts)
    yield from _claims(codes, short, run, earlier)
    yield from _takers(codes, run, earlier)


def _codes(kind: str, what: str, facts: WeekFacts) -> set[str]:
    """Codes of everything on the shelf that could be what is short."""
    shelf = facts.shelf
    if kind == "dyestuff":
        return {lot.code for lot in shelf.lots if lot.dyestuff == what}
    if kind == "fibre":
        return {row.code for row in shelf.fibre if row.fibre == what}
    if kind == "bath":
        return {bath.code for bath in shelf.baths if bath.what == what}
    if kind == "liquor":
        metal = next((jar.metal for jar in shelf.jars if jar.code == what), what)
        return {jar.code for jar in shelf.jars if jar.metal == metal}
    return {row.code for row in shelf.supplies if row.what == what}


def _claims(
    codes: set[str], short: int, run: RunFacts, earlier: Earlier
) -> Iterator[Easing]:  # fmt: skip
    """What is promised by name to a run whose turn has not come, or that was not placed."""
    waiting = earlier.waiting(run.code)
    for row in earlier.facts.promised:
        if row.code in codes and row.run in waiting and row.amount >= MG_PER_GRAM:
            most = row.amount // MG_PER_GRAM
            yield Easing("claim", row.code, run.code, most, (min(short, most),), like=row.run)


def _takers(codes: set[str], run: RunFacts, earlier: Earlier) -> Iterator[Easing]:
    """Runs placed before that take of it; after this one they may find something else."""
    takers = (
        answer.run
        for answer in earlier.movable_before(run.code)
        if any(take.source in codes for take in answer.takes)
    )
    yield from (Easing("moved", code, run.code, 1) for code in islice(takers, MOVED_AT_MOST))


# -- what would save time --------------------------------------------------------------------


def in_time(
    run: RunFacts, answer: Answer, desk: Desk, earlier: Earlier | None = None
) -> list[Easing]:
    """What pushed a run's steps, each as an easing up to what could ever help."""
    found: dict[tuple[str, str, date | None, str], Easing] = {}
    recipe = desk.recipes[run.recipe]
    for push in desk.pushes.get(run.code, ()):
        for easing in _of_push(push, run, recipe, desk):
            had = found.get(easing.key)
            if had is not None:
                hints = tuple(sorted({*had.hints, *easing.hints}))
                easing = replace(easing, most=max(had.most, easing.most), hints=hints)
            found[easing.key] = easing
    for easing in (*_waits(run, answer, desk, earlier), *_late(run, answer)):
        found[easing.key] = easing
    if earlier is not None:
        for easing in _before_it(run, desk, earlier):
            found[easing.key] = easing
    return list(found.values())


def _of_push(push: Push, run: RunFacts, recipe: Recipe, desk: Desk) -> Iterator[Easing]:
    day = desk.calendar.day_of(push.at)
    if push.at >= desk.until and push.kind != "line":
        return  # eased after the period, it could not begin within it
    if push.kind == "line" and push.amount > push.there and push.what:
        over = -(-(push.amount - push.there) // MG_PER_GRAM)
        yield Easing("line", push.what, run.code, over, (over,))
    elif push.kind == "hands":
        short = push.amount - max(push.there, 0)
        for site in _sites(desk.facts):
            yield Easing("hands", site, run.code, LONGEST_DAY_MIN, (short,), day)
    elif push.kind == "closed":
        yield from _closed(push, run, desk)
    elif push.kind == "attended":
        for site in _sites(desk.facts):
            yield Easing("longer day", site, run.code, LONGER_MIN, (), day)
    elif push.kind == "ring":
        yield Easing("ring", "ring", run.code, 1)
    elif push.kind == "vessel":
        yield from _pot(push, run, recipe)


def _closed(push: Push, run: RunFacts, desk: Desk) -> Iterator[Easing]:
    """Days on which nobody is in, between the wish to begin and the next opening."""
    first = desk.calendar.day_of(push.at)
    last = desk.calendar.day_of(min(push.until, desk.until - 1))
    taken = {row.day for row in desk.facts.hours if row.hands_min > 0}
    sites = _sites(desk.facts)
    if len(sites) > 1:
        # Fixed work is the main site's; who comes in elsewhere would seem to do it.
        taken |= _fixed_days(desk)
    for number in range((last - first).days + 1):
        day = first + timedelta(number)
        if day not in taken:
            for site in sites:
                yield Easing("open day", site, run.code, LONGEST_DAY_MIN, (), day)


def _fixed_days(desk: Desk) -> set[date]:
    """Days on which a chore, a dip, a pick-up or a block asks for hands."""
    facts = desk.facts
    moments = [row.at for row in facts.pick_ups] + [row.since for row in facts.blocks]
    fixed = {row.day for row in facts.chores} | set(next_dips(desk.larder))
    return fixed | {m.astimezone(facts.zone).date() for m in moments}


def _pot(push: Push, run: RunFacts, recipe: Recipe) -> Iterator[Easing]:
    step = _holder(push.step, recipe)
    kind = next(iter(step.vessels), "") if step else ""
    if step is None or not kind:
        return
    ratio = recipe.l_per_kg if step.l_per_kg is None else step.l_per_kg
    litres = -(-int(ratio * run.weight_mg) // 1_000_000) or 1
    yield Easing("pot", kind, run.code, litres)


def _holder(name: str, recipe: Recipe) -> Step | None:
    """The step whose vessel a step stands in."""
    steps = recipe.steps
    index = next((n for n, step in enumerate(steps) if step.name == name), None)
    while index and "same" in steps[index].vessels:
        index -= 1
    return None if index is None else steps[index]


def _before_it(run: RunFacts, desk: Desk, earlier: Earlier) -> Iterator[Easing]:
    """Runs placed before whose pots, rings, line or hands its steps would have needed."""
    before = earlier.movable_before(run.code)
    holds: dict[str, None] = {}
    for push in desk.pushes.get(run.code, ()):
        holds |= dict.fromkeys(in_the_way(push, before, desk))
    ordered = (answer.run for answer in before if answer.run in holds)
    yield from (Easing("moved", code, run.code, 1) for code in islice(ordered, MOVED_AT_MOST))


def _waits(
    run: RunFacts, answer: Answer, desk: Desk, earlier: Earlier | None
) -> Iterator[Easing]:  # fmt: skip
    arrives = arrivals(desk.facts)
    for wait in answer.waits_for:
        comes = arrives.get(wait.what)
        if wait.kind == "arrival" and comes is not None:
            minutes = minute_of(comes) - desk.now
            if minutes > 0:
                yield Easing("arrival", wait.what, run.code, minutes)
        if wait.kind == "jar":
            jar = next(row for row in desk.facts.shelf.jars if row.code == wait.what)
            yield from _strips(jar.metal, run, desk)
            if earlier is not None:
                codes = _codes("liquor", jar.metal, desk.facts)
                yield from _claims(codes, 0, run, earlier)
                yield from _takers(codes, run, earlier)


def _late(run: RunFacts, answer: Answer) -> Iterator[Easing]:
    if answer.late and run.due is not None and answer.dry_at is not None:
        minutes = minute_of(answer.dry_at) - minute_of(run.due)
        yield Easing("due", run.code, run.code, minutes, (minutes,))


def _sites(facts: WeekFacts) -> tuple[str, ...]:
    """Sites whose people are counted apart; one empty name where they are not."""
    return facts.sites if any(row.site for row in facts.hours) else ("",)


def used(easing: Easing, grains: int, answer: Answer, desk: Desk) -> tuple[int, ...]:
    """How much of an easing a plan makes use of that has plenty of it: the amount to try first."""
    if easing.kind in ("hands", "open day") and easing.day is not None:
        site = easing.what or desk.facts.sites[0]
        index = desk.placers[site].calendar.index_of_day(easing.day)
        return () if index is None else (grains - desk.board.hands[site][index],)
    if easing.kind == "longer day":
        rows = [row.closes for row in desk.facts.hours if is_in(row, easing)]
        ends = [step.attended_until or step.end for step in answer.steps
                if step.start.astimezone(desk.facts.zone).date() == easing.day]  # fmt: skip
        if not rows or not ends:
            return ()
        return (grains - (minute_of(max(rows)) - minute_of(max(ends))),)
    if easing.kind == "pot":
        litres = [step.litres for step in answer.steps if step.vessel == f"another {easing.what}"]
        return (ceil(max(litres)),) if litres else ()
    return ()
