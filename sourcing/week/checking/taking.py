"""Nothing is promised twice: all that runs take is there, good and ready by then."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from datetime import datetime
from fractions import Fraction

from inventory.science.facts import BathFacts, FibreFacts
from inventory.science.keeping import bath_last_good_day, fibre_last_good_day
from sourcing.week.checking.fault import Fault
from sourcing.week.checking.ground import Ground, minute_of
from sourcing.week.checking.jars import most_ul, ready_at, wanted_ul
from sourcing.week.checking.lots import cleared, faults_in_lots
from sourcing.week.checking.second_baths import left_by_runs, second_bath_takes
from sourcing.week.checking.sheet import Sheet
from sourcing.week.checking.working import steps_wanted
from sourcing.week.facts import Dose, Making
from sourcing.week.plan import Take, Week


def there_at_first(ground: Ground) -> dict[str, tuple[int, str]]:
    """Amount and unit of everything on the shelf, by code."""
    there: dict[str, tuple[int, str]] = {}
    for lot in ground.lots.values():
        there[lot.code] = (lot.left_mg, "mg")
    for supply in ground.facts.shelf.supplies:
        there[supply.code] = (there.get(supply.code, (0, ""))[0] + supply.left_mg, "mg")
    for fibre in ground.fibre.values():
        there[fibre.code] = (fibre.left_mg, "mg")
    for jar in ground.jars.values():
        there[jar.code] = (jar.left_ul, "µL")
    for bath in ground.baths.values():
        there[bath.code] = (bath.left_ul, "µL")
    return there


def faults_in_claims(week: Week, ground: Ground) -> Iterator[Fault]:
    """What all runs take together, against what is there; and the amounts said to be left."""
    there = there_at_first(ground) | left_by_runs(week, ground)
    by_source: dict[str, list[Take]] = defaultdict(list)
    for answer in week.answers:
        for take in answer.takes:
            by_source[take.source].append(take)
    for code, takes in sorted(by_source.items()):
        if code not in there:
            yield Fault("unknown", takes[0].run, takes[0].at, f"{code} is not on the shelf")
            continue
        amount, unit = there[code]
        together = sum(take.amount for take in takes)
        if together > amount:
            yield Fault(
                "claimed twice",
                takes[-1].run,
                takes[-1].at,
                f"{together} {unit} of {code} are taken, {amount} are there",
            )
        yield from _left_after(code, takes, amount, unit, ground)


def _left_after(
    code: str, takes: list[Take], amount: int, unit: str, ground: Ground
) -> Iterator[Fault]:
    """Each claim leaves what those before it left, less itself."""

    def in_turn(take: Take) -> tuple[bool, int, bool, int, str, int]:
        return (*ground.turn_of(ground.runs[take.run]), -take.left_after)

    left = amount
    for take in sorted(takes, key=in_turn):
        left -= take.amount
        if take.unit != unit or take.amount <= 0:
            yield Fault("amount", take.run, take.at, f"{take.amount} {take.unit} of {code}")
        if take.left_after != left:
            yield Fault(
                "left after",
                take.run,
                take.at,
                f"{code}: {take.left_after} {unit} are said to be left, {left} are",
            )


# -- one run ---------------------------------------------------------------------------------


def faults_in_takes(sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """A run's takes against its recipe's doses and against what is good on their day."""
    doses: dict[str, list[Take]] = defaultdict(list)
    for take in sheet.answer.takes:
        doses[take.step].append(take)
    claimed: set[int] = set()
    yield from _fibre(sheet, ground, claimed)
    wanted = {step.name for step in steps_wanted(sheet.recipe, sheet.fibre)}
    for dose in sheet.recipe.doses:
        if dose.step in wanted:
            yield from _dose(dose, sheet, ground, claimed)
    claimed.update(id(take) for take in second_bath_takes(sheet))
    for take in sheet.answer.takes:
        if id(take) not in claimed:
            yield Fault("dose", sheet.code, take.at, f"{take.source} is in no dose of the recipe")
        yield from _in_time(take, sheet, ground)
        yield from _metres(take, sheet, ground)


def _in_time(take: Take, sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """A take happens when its step does."""
    if not take.step or sheet.run.group_block:
        return
    stage = sheet.stage(take.step)
    if stage is None or minute_of(take.at) not in {part.start for part in stage.rounds}:
        yield Fault(
            "take moment",
            sheet.code,
            take.at,
            f"{take.source} is taken when {take.step} does not begin",
        )


def _metres(take: Take, sheet: Sheet, ground: Ground) -> Iterator[Fault]:
    """Metres stand beside the weight of measured cloth, and of nothing else."""
    fibre = ground.fibre.get(take.source)
    wanted = None
    if fibre is not None and fibre.cloth is not None:
        grams_per_m = Fraction(fibre.cloth.g_per_m2) * fibre.cloth.width_mm / 1000
        wanted = round(take.amount / grams_per_m)
    if take.length_mm != wanted:
        yield Fault(
            "metres",
            sheet.code,
            take.at,
            f"{take.length_mm} mm of {take.source} are said to be taken, {wanted} are",
        )


def _sum_is(
    takes: list[Take], wanted: int, what: str, sheet: Sheet, *, within: int = 1
) -> Iterator[Fault]:
    together = sum(take.amount for take in takes)
    if abs(together - wanted) > within:
        yield Fault(
            "dose",
            sheet.code,
            takes[0].at if takes else None,
            f"{what}: {together} are taken, {wanted} by the recipe",
        )


def _dose(dose: Dose, sheet: Sheet, ground: Ground, claimed: set[int]) -> Iterator[Fault]:
    finders = {"dyestuff": _dyestuff, "supply": _supply, "liquor": _liquor, "bath": _bath}
    yield from finders[dose.kind](dose, sheet, ground, claimed)


def _of(dose: Dose, sheet: Sheet, codes: set[str], claimed: set[int]) -> list[Take]:
    takes = [
        take
        for take in sheet.answer.takes
        if take.step == dose.step and take.source in codes and id(take) not in claimed
    ]
    claimed.update(id(take) for take in takes)
    return takes


# -- fibre -----------------------------------------------------------------------------------


def _fibre(sheet: Sheet, ground: Ground, claimed: set[int]) -> Iterator[Fault]:
    takes = [take for take in sheet.answer.takes if take.source in ground.fibre]
    claimed.update(id(take) for take in takes)
    lots = [ground.fibre[take.source] for take in takes]
    scoured = Fraction(0)
    loss = Fraction(ground.number(sheet.run.fibre, "scour_loss_fraction", "0"))
    for take, lot in zip(takes, lots, strict=True):
        raw = sheet.recipe.needs_scoured and not lot.scoured
        scoured += take.amount * (1 - loss) if raw else take.amount
    if abs(scoured - sheet.run.weight_mg) > 1 + len(takes):
        yield Fault(
            "fibre",
            sheet.code,
            None,
            f"{float(scoured) / 1000:g} g of {sheet.run.fibre} are taken for "
            f"{sheet.run.weight_mg / 1000:g} g",
        )
    first = sheet.answer.first_step_at
    for lot in lots:
        for why in _fibre_barred(lot, sheet, first, ground):
            yield Fault("fibre", sheet.code, first, f"{lot.code} {why}")
    states = {
        (lot.scoured, lot.mordant, lot.mordant_percent, lot.shade, lot.quality) for lot in lots
    }
    if len(states) > 1:
        yield Fault("fibre", sheet.code, first, "fibre of different states goes in together")


def _mordanted(lot: FibreFacts, sheet: Sheet) -> bool:
    recipe = sheet.recipe
    return lot.mordant == recipe.mordant and lot.mordant_percent >= recipe.mordant_percent


def _fibre_barred(
    lot: FibreFacts, sheet: Sheet, first: datetime | None, ground: Ground
) -> Iterator[str]:
    kinds = {step.kind for step in sheet.recipe.steps}
    if lot.fibre != sheet.run.fibre or lot.fibre not in sheet.recipe.fibres:
        yield f"is {lot.fibre}, not {sheet.run.fibre}"
    if sheet.run.fibre_lot and lot.code != sheet.run.fibre_lot:
        yield f"is not {sheet.run.fibre_lot}, which the run is meant for"
    if lot.shade or lot.quality:
        yield from _dyed_before(lot, sheet)
    if sheet.recipe.needs_scoured and not lot.scoured and "scour" not in kinds:
        yield "is not scoured and the recipe has no scour"
    gives = kinds & {"mordant", sheet.recipe.mordant}
    if sheet.recipe.mordant and not _mordanted(lot, sheet) and not gives:
        yield f"has too little {sheet.recipe.mordant} and the recipe gives none"
    if first is None:
        return
    if lot.arrives_at is not None and first < lot.arrives_at:
        yield f"arrives {lot.arrives_at:%a %d %H:%M}"
    if cleared(lot.code, first, ground):
        return
    if lot.set_aside or not lot.labelled or (lot.clients_own and not lot.weighed):
        yield "is set aside"
    good = fibre_last_good_day(lot, ground.facts.figures, on=ground.today)
    if good is not None and ground.day_of(minute_of(first)) > good.day:
        yield f"has lain damp past {good.day:%a %d}"


def _dyed_before(lot: FibreFacts, sheet: Sheet) -> Iterator[str]:
    """What bars cloth with a shade in it."""
    unasked = sheet.run.fibre_lot != lot.code
    if unasked and lot.quality == "":
        yield f"is dyed {lot.shade} and nobody asked for it"
    if unasked and lot.quality == "second quality" and sheet.run.client:
        yield "is second quality, and a client did not ask for it"
    if lot.quality == "for re-dyeing" and 0 < sheet.recipe.depth <= lot.depth:
        yield f"is as dark as {lot.depth} already, the shade is {sheet.recipe.depth}"


# -- dyestuff, supplies, jars, baths ---------------------------------------------------------


def _dyestuff(dose: Dose, sheet: Sheet, ground: Ground, claimed: set[int]) -> Iterator[Fault]:
    wanted = round(dose.per_fibre * sheet.run.weight_mg)
    yield from _from_lots(dose, wanted, sheet, ground, claimed)


def _from_lots(
    dose: Dose, wanted_mg: int, sheet: Sheet, ground: Ground, claimed: set[int]
) -> Iterator[Fault]:
    codes = {lot.code for lot in ground.lots.values() if lot.dyestuff == dose.what}
    takes = _of(dose, sheet, codes, claimed)
    yield from _sum_is(takes, wanted_mg, f"mg of {dose.what}", sheet)
    if sheet.recipe.match == "lot" and len(takes) > 1 and dose.kind == "dyestuff":
        yield Fault("one lot", sheet.code, takes[0].at, f"{dose.what} is from {len(takes)} lots")
    yield from faults_in_lots(dose, takes, sheet, ground)


def _supply(dose: Dose, sheet: Sheet, ground: Ground, claimed: set[int]) -> Iterator[Fault]:
    what, wanted = dose.what, round(dose.per_fibre * sheet.run.weight_mg)
    supplies = ground.facts.shelf.supplies
    here = {supply.what for supply in supplies if supply.site in ("", sheet.site)}
    known = here if here & {what, "soda crystals"} else {supply.what for supply in supplies}
    if what == "soda ash" and what not in known:
        what = "soda crystals"
        wanted = round(wanted * Fraction(ground.number("soda ash", "crystals_per_ash")))
    codes = {supply.code for supply in supplies if supply.what == what}
    takes = _of(dose, sheet, codes, claimed)
    yield from _sum_is(takes, wanted, f"mg of {what}", sheet)


def _liquor(dose: Dose, sheet: Sheet, ground: Ground, claimed: set[int]) -> Iterator[Fault]:
    codes = {jar.code for jar in ground.jars.values() if jar.metal == dose.what}
    takes = _of(dose, sheet, codes, claimed)
    if len(takes) != 1:
        yield Fault("one jar", sheet.code, None, f"{dose.what} liquor comes from {len(takes)} jars")
        return
    take = takes[0]
    jar = ground.jars[take.source]
    if not ready_at(jar.code, take.at, ground):
        yield Fault("jar", sheet.code, take.at, f"{jar.name or jar.code} is not ready")
    already = max((lot.iron_percent for lot in sheet.fibre), default=None)
    most = most_ul(jar, sheet.run, already, ground)
    if most is not None and take.amount > most:
        yield Fault(
            "ceiling",
            sheet.code,
            take.at,
            f"{take.amount} µL of {jar.code} are over the ceiling of {most}",
        )
    wanted = wanted_ul(jar, dose, sheet.run, take.at, ground)
    if wanted is not None:
        wanted = wanted if most is None else min(wanted, most)
        yield from _sum_is(takes, wanted, f"µL of {jar.code}", sheet)


def _bath(dose: Dose, sheet: Sheet, ground: Ground, claimed: set[int]) -> Iterator[Fault]:
    wanted = round(Fraction(dose.l_per_kg) * sheet.run.weight_mg)
    codes = {bath.code for bath in ground.baths.values() if bath.what == dose.what}
    takes = _of(dose, sheet, codes, claimed)
    making = next((row for row in ground.facts.makings if row.bath == dose.what), None)
    if not takes and making is not None:
        yield from _made(making, wanted, dose, sheet, ground, claimed)
        return
    yield from _sum_is(takes, wanted, f"µL of {dose.what}", sheet)
    for take in takes:
        for why in _bath_barred(ground.baths[take.source], take, sheet, ground):
            yield Fault("bath", sheet.code, take.at, f"{take.source} {why}")


def _bath_barred(bath: BathFacts, take: Take, sheet: Sheet, ground: Ground) -> Iterator[str]:
    good = bath_last_good_day(bath, ground.facts.figures, zone=ground.zone).day
    if ground.day_of(minute_of(take.at)) > good:
        yield f"ends {good:%a %d}"
    if bath.set_aside:
        yield "is set aside"
    if bath.metal and sheet.recipe.bright:
        yield f"holds {bath.metal}, the shade is bright"
    if bath.depth and sheet.recipe.depth > bath.depth:
        yield "is too pale for the shade"


def _made(
    making: Making, wanted_ul: int, dose: Dose, sheet: Sheet, ground: Ground, claimed: set[int]
) -> Iterator[Fault]:
    """A bath that the studio makes itself: its plant, its job, its litres, its keeping."""
    plant_mg = round(Fraction(making.g_per_litre) * wanted_ul / 1000)
    plant = Dose(making.dyestuff, "making", dose.step, state=making.state)
    yield from _from_lots(plant, plant_mg, sheet, ground, claimed)
    jobs = [job for job in sheet.answer.jobs if job.kind == "make bath"]
    made = [placed for placed in sheet.answer.steps if placed.step == f"make {making.bath}"]
    if not any(job.lot == making.bath for job in jobs) or not made:
        yield Fault("bath", sheet.code, None, f"nobody makes {making.bath}")
        return
    litres_ul = sum(int(placed.litres * 1_000_000) for placed in made)
    if abs(litres_ul - wanted_ul) > 1000 * len(made):
        yield Fault("bath", sheet.code, made[0].start, f"{litres_ul} µL made, {wanted_ul} wanted")
    for placed in made:
        if placed.vessel in ground.vessels and not sheet.run.group_block:
            site = ground.vessels[placed.vessel].site
            if site not in ("", sheet.site):
                yield Fault("site", sheet.code, placed.start, f"{making.bath} is made at {site}")
    used = sheet.answer.first_step_at
    stage = sheet.stage(dose.step)
    used_at = stage.start if stage else minute_of(used) if used else None
    done = max(minute_of(placed.held_until) for placed in made)
    keeps = int(ground.number(making.bath, "keeps_days", "0"))
    if used_at is None:
        return
    if done > used_at:
        yield Fault("bath", sheet.code, made[0].start, f"{making.bath} is made too late")
    if (ground.day_of(used_at) - ground.day_of(done)).days > keeps:
        yield Fault("bath", sheet.code, made[0].start, f"{making.bath} is made too early")
