"""The least that a run takes of lots, supplies, jars and fibre, and from when that can be there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from fractions import Fraction

from inventory.science.facts import FibreFacts
from sourcing.week.best.goals import Measure
from sourcing.week.facts import Dose, Recipe, RunFacts
from sourcing.week.larder import Larder, RankedLot, serves
from sourcing.week.liquors import least_ul, usable_jars
from sourcing.week.moments import NEVER
from sourcing.week.second_wants import could_follow
from sourcing.week.stages import needed_steps
from sourcing.week.wants import supply_as_kept

LOOK_EVERY_MIN = 4 * 24 * 60
LEAST_OF_LOOKS = 0.95  # assumed, not measured: a jar changes by less between two looks
ROUNDED_MG = 2  # what rounding to whole milligrams may take off a need


@dataclass(frozen=True, slots=True)
class Amount:
    """At least so much of some things together."""

    step: str  # that takes it; empty: the run as a whole
    codes: frozenset[str]  # of what serves; empty: counted by nobody
    amount: int  # mg or µL, at the least
    there_from: int  # minute before which it cannot all be there
    until: int = NEVER  # minute from which it cannot all be good any more
    one_of: tuple[tuple[str, int], ...] = ()  # all from one of these, and how much of it then


def fibre_amount(
    run: RunFacts, recipe: Recipe, group: list[FibreFacts], measure: Measure
) -> Amount | None:
    """Fibre in one state; None where that cannot be enough or does not serve the recipe."""
    larder = measure.desk.larder
    first = group[0]
    if recipe.mordant and first.mordant not in ("", recipe.mordant):
        return None
    raw = not first.scoured and recipe.needs_scoured
    loss, _ = larder.loss(run.fibre)
    need = Fraction(run.weight_mg) / (1 - loss) if raw else Fraction(run.weight_mg)
    rows = [
        (larder.fibre_from(row), _end_of(_good_to(row, larder), measure), there(row.code, measure))
        for row in group
    ]
    return _amount("", [row.code for row in group], int(need) - ROUNDED_MG, rows)


def _good_to(fibre: FibreFacts, larder: Larder) -> date | None:
    last = larder.fibre_good_to(fibre)
    return None if last is None else last.day


def _end_of(day: date | None, measure: Measure) -> int:
    """The minute after a last good day; never where there is none."""
    if day is None:
        return NEVER
    calendar = measure.desk.calendar
    number = calendar.day_number_of(day) + 1
    return calendar.midnights[number] if number < len(calendar.midnights) else NEVER


def amounts_of(
    run: RunFacts, recipe: Recipe, fibre: FibreFacts, site: str, measure: Measure
) -> tuple[Amount, ...] | None:
    """What a run's doses take at the least; None where something cannot be enough."""
    if recipe.second_of and not could_follow(run, recipe, measure.desk.larder):
        return None
    steps = {step.name for step in needed_steps(recipe, fibre)}
    found = []
    for dose in recipe.doses:
        if dose.step in steps:
            row = _of_dose(dose, run, recipe, fibre, site, measure)
            if row is None:
                return None
            found.append(row)
    return tuple(found)


def _of_dose(
    dose: Dose, run: RunFacts, recipe: Recipe, fibre: FibreFacts, site: str, measure: Measure
) -> Amount | None:
    if dose.kind == "dyestuff":
        return _dyestuff(dose, run, recipe, site, measure)
    if dose.kind == "supply":
        return _supply(dose, run, site, measure)
    if dose.kind == "liquor":
        return _liquor(dose, run, fibre, site, measure)
    return Amount(dose.step, frozenset(), 0, 0)


def _supply(dose: Dose, run: RunFacts, site: str, measure: Measure) -> Amount | None:
    """A supply as it stands at the site, or as it may be fetched: of two kinds the lesser need."""
    larder, far = measure.desk.larder, measure.desk.carries
    found = []
    for fetched in (False, True) if far else (False,):
        what, factor, _ = supply_as_kept(dose.what, larder, site, far=fetched)
        need = round(round(dose.per_fibre * run.weight_mg) * factor)
        codes = larder.supplies_of(what, site=site, far=far)
        rows = [(measure.desk.now, NEVER, there(code, measure)) for code in codes]
        found.append((frozenset(codes), _amount(dose.step, codes, need, rows)))
    if len({codes for codes, _ in found}) > 1:
        # It may be one kind or the other: nothing is certain but that a run without either is none.
        fits = [row for _, row in found if row is not None]
        return Amount(dose.step, frozenset(), 0, 0) if fits else None
    return found[0][1]


def _liquor(
    dose: Dose, run: RunFacts, fibre: FibreFacts, site: str, measure: Measure
) -> Amount | None:
    """A jar that is ready and holds enough; all jars together for all that want one.

    A jar only grows stronger while it is left alone, so the least is asked for now or at the end
    of a stretch with one strip; between such looks a part is taken off to be on the safe side.
    """
    larder, desk = measure.desk.larder, measure.desk
    looks = [desk.now, *range(desk.now, desk.calendar.end, LOOK_EVERY_MIN), desk.calendar.end]
    found = []
    for code, since in usable_jars(dose.what, larder, site, far=desk.carries):
        asked = least_ul(dose, run, code, fibre, larder, looks)
        least = 0 if asked is None else int(asked * LEAST_OF_LOOKS)
        if asked is not None and there(code, measure) >= least:
            found.append((least, since, code))
    if not found:
        return None
    codes = frozenset(row[2] for row in found)
    return Amount(dose.step, codes, min(row[0] for row in found), min(row[1] for row in found),
                  one_of=tuple((code, least) for least, _, code in found))  # fmt: skip


def _dyestuff(
    dose: Dose, run: RunFacts, recipe: Recipe, site: str, measure: Measure
) -> Amount | None:
    larder = measure.desk.larder
    need = round(dose.per_fibre * run.weight_mg)
    rows = [
        (row, rate)
        for row in larder.lots_of(dose.what)
        if not row.left_out
        and (measure.desk.carries or serves(row.lot.site, site))
        and not (run.client and row.lot.foraged and not row.lot.permission)
        and (rate := larder.mg_for_mg(row.lot, dose.state)) is not None
    ]
    rate = min((rate for _, rate in rows), default=Fraction(1))
    least = int(need * rate) - ROUNDED_MG * (len(rows) + 1)
    codes = frozenset(row.lot.code for row, _ in rows)
    lots = [(row.usable_from, _lot_until(row, dose, measure), there(row.lot.code, measure))
            for row, _ in rows]  # fmt: skip
    if recipe.match != "lot":
        return _amount(dose.step, codes, least, lots)
    enough = [
        (since, until, row.lot.code)
        for (row, _), (since, until, mg) in zip(rows, lots, strict=True)
        if mg >= least
    ]
    if not enough:
        return None
    return Amount(dose.step, codes, least, min(row[0] for row in enough),
                  max(row[1] for row in enough),
                  one_of=tuple((code, least) for _, _, code in enough))  # fmt: skip


def _lot_until(row: RankedLot, dose: Dose, measure: Measure) -> int:
    """The minute from which a lot cannot serve a dose any more; never where it can be put by."""
    if not dose.state and measure.desk.larder.can_put_by(row.lot):
        return NEVER
    return _end_of(row.good.day, measure)


def there(code: str, measure: Measure) -> int:
    """What there is of a thing for the runs that are not begun."""
    return measure.desk.larder.left.get(code, 0)


@contextmanager
def all_open(measure: Measure) -> Iterator[None]:
    """What is promised to runs that are not begun counts as there for any of them meanwhile."""
    left = measure.desk.larder.left
    before = dict(left)
    for code, amount in measure.promised.items():
        left[code] = left.get(code, 0) + amount
    try:
        yield
    finally:
        left.clear()
        left.update(before)


def _amount(
    step: str, codes: Iterable[str], need: int, rows: list[tuple[int, int, int]]
) -> Amount | None:
    """An amount with the moments between which enough is there; None: it never is.

    Parameters
    ----------
    rows : of each thing from when, until when, and how much
    """
    codes = frozenset(codes)
    if need <= 0:
        return Amount(step, codes, 0, 0)
    since = _enough(need, sorted((since, mg) for since, _, mg in rows))
    until = _enough(need, sorted(((until, mg) for _, until, mg in rows), reverse=True))
    if since is None or until is None:
        return None
    return Amount(step, codes, need, since, until)


def _enough(need: int, rows: list[tuple[int, int]]) -> int | None:
    """The moment of the row with which there is enough."""
    together = 0
    for moment, mg in rows:
        together += mg
        if together >= need:
            return moment
    return None


def most_saved(run: RunFacts, recipe: Recipe, larder: Larder) -> dict[str, int]:
    """The most that a run can take of each dyestuff, a bath that is made for it counted in."""
    found: dict[str, int] = {}
    facts = larder.facts
    for dose in recipe.doses:
        if dose.kind == "dyestuff":
            found_rates = [larder.mg_for_mg(row.lot, dose.state)
                           for row in larder.lots_of(dose.what)]  # fmt: skip
            rates = [rate for rate in found_rates if rate is not None]
            # Each lot in another state rounds what is left of the need once more.
            more = 0 if set(rates) <= {1} else len(rates)
            mg = int(round(dose.per_fibre * run.weight_mg) * max(rates, default=Fraction(0))) + more
            found[dose.what] = found.get(dose.what, 0) + mg
        for making in facts.makings if dose.kind == "bath" else ():
            if making.bath == dose.what:
                ul = round(Fraction(dose.l_per_kg) * run.weight_mg)
                mg = round(Fraction(making.g_per_litre) * ul / 1000)
                found[making.dyestuff] = found.get(making.dyestuff, 0) + mg
    return found
