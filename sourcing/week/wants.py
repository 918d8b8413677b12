"""What a run takes, from which lot, and what is lacking: the amounts before the hours.

Amounts are worked out before the run is placed; what depends on the hour (a jar's strength, a last
good day) is looked at again once its steps have their moments.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from fractions import Fraction

from inventory.science.catalogue import find_figure
from inventory.science.facts import FibreFacts
from inventory.science.figures import Figure
from inventory.science.saying import say
from sourcing.week.facts import Dose, Making, Recipe, RunFacts
from sourcing.week.fibre_wants import want_fibre
from sourcing.week.larder import Larder, Pick, RankedLot, fetched
from sourcing.week.liquors import pick_liquor
from sourcing.week.moments import minute_of
from sourcing.week.needs import counted_by_piece
from sourcing.week.plan import Reason, Shortage
from sourcing.week.reasons import because
from sourcing.week.second_bath import dyed_in
from sourcing.week.second_wants import want_second_bath
from sourcing.week.stages import needed_steps
from sourcing.week.wetting import wetting_reasons
from sourcing.week.words import (
    amount,
    day_in_words,
    figure_in_words,
    grams,
    moment_in_words,
    pieces_spare,
)
from sourcing.week.words import pieces as pieces_in_words


@dataclass(slots=True)
class MakingWanted:
    """A bath that the studio has to make itself before a step."""

    making: Making
    need_ul: int
    step: str
    bright: bool = True  # iron spoils the shade that it is made for


@dataclass(slots=True)
class Wants:
    """Everything that one run takes, and everything that it lacks."""

    site: str = ""
    far: bool = False  # what lies at another site may be fetched
    picks: list[Pick] = field(default_factory=list)
    fibre: FibreFacts | None = None
    short: list[Shortage] = field(default_factory=list)
    lacking: list[Reason] = field(default_factory=list)
    waits: list[Reason] = field(default_factory=list)
    reasons: list[Reason] = field(default_factory=list)
    makings: list[MakingWanted] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    @property
    def enough(self) -> bool:
        return not self.short and not self.lacking

    @property
    def fetched(self) -> list[Pick]:
        """What is fetched from another site."""
        return [pick for pick in self.picks if pick.far]


@dataclass(frozen=True, slots=True)
class Without:
    """Lots, jars and baths that a placed attempt showed to be of no use at their hour."""

    codes: frozenset[str] = frozenset()
    whys: tuple[Reason, ...] = ()

    def and_(self, code: str, why: Reason) -> Without:
        return Without(self.codes | {code}, (*self.whys, why))


StepMinute = Callable[[str], int | None]


def wants_of(
    run: RunFacts,
    recipe: Recipe,
    larder: Larder,
    *,
    without: Without,
    minute_of_step: StepMinute,
    site: str,
    far: bool = False,
) -> Wants:
    """What a run takes and lacks.

    Parameters
    ----------
    without : what an earlier attempt ruled out
    minute_of_step : when a step was placed at the last attempt; None: not known yet
    site : where the run would be worked; things that stand elsewhere do not serve it
    far : unless they may be fetched
    """
    wants = Wants(site=site, far=far)
    want_fibre(run, recipe, larder, wants, without.codes)
    needed = needed_steps(recipe, wants.fibre)
    wants.reasons.extend(wetting_reasons(run, needed, larder.facts.figures, on=larder.today))
    steps = {step.name for step in needed}
    for dose in recipe.doses:
        if dose.step in steps:
            _dose(dose, run, recipe, larder, wants, without, minute_of_step(dose.step))
    if recipe.second_of:
        step = dyed_in(recipe)
        want_second_bath(run, recipe, larder, wants, without.codes,
                         None if step is None else minute_of_step(step.name))  # fmt: skip
    if not wants.enough:
        wants.lacking.extend(without.whys)
    return wants


# -- doses -----------------------------------------------------------------------------------


def _dose(
    dose: Dose,
    run: RunFacts,
    recipe: Recipe,
    larder: Larder,
    wants: Wants,
    without: Without,
    minute: int | None,
) -> None:
    if dose.kind == "dyestuff":
        _dyestuff(dose, run, recipe, larder, wants, without)
    elif dose.kind == "supply":
        _supply(dose, run, larder, wants)
    elif dose.kind == "liquor":
        _liquor(dose, run, larder, wants, without, minute)
    else:
        _bath(dose, run, recipe, larder, wants, without, minute)


def _dyestuff(
    dose: Dose, run: RunFacts, recipe: Recipe, larder: Larder, wants: Wants, without: Without
) -> None:
    need = round(dose.per_fibre * run.weight_mg)
    picks, short, out = larder.pick_lots(
        dose,
        run,
        need,
        one_lot=recipe.match == "lot",
        without=without.codes,
        site=wants.site,
        far=wants.far,
    )
    if short == 0:
        wants.picks.extend(picks)
        _note_arrivals(picks, larder, wants)
        return
    there = need - short
    best = max((larder.left[p.lot.code] for p in larder.lots_of(dose.what)), default=0)
    if recipe.match == "lot":
        there, short = best, need - best
        if short <= 0:
            short = need
    wants.short.append(_dyestuff_short(dose, larder, need, there, short))
    for row in out:
        if row.left_out:
            # One ruled out at its hour is named with that hour by what ruled it out.
            wants.lacking.append(_left_out(row))
    _next_pick_ups(dose.what, short, larder, wants)


def _left_out(row: RankedLot) -> Reason:
    """A lot that does not count, with the life it rests on where it is past it."""
    text = say(
        "{left_out} ({left_mg} not counted)", left_out=row.left_out, left_mg=grams(row.lot.left_mg)
    )
    keeps = row.good.figure if row.kind == "past" else None
    return because(row.kind, row.lot.code, text, keeps)


def _dyestuff_short(dose: Dose, larder: Larder, need: int, there: int, short: int) -> Shortage:
    piece = _piece_mg(dose.what, larder)
    pieces = None if piece is None else -(-short // piece)
    counted = (
        ""
        if pieces is None
        else say(" = {pieces_in_words}", pieces_in_words=pieces_in_words(pieces, dose.what))
    )
    text = say(
        "{what} short by {short}{counted}: {need} wanted, {there} left",
        what=dose.what,
        short=grams(short),
        counted=counted,
        need=grams(need),
        there=grams(there),
    )
    return Shortage("dyestuff", dose.what, short, "mg", pieces, text)


def _piece_mg(dyestuff: str, larder: Larder) -> int | None:
    """Mass of one piece of what is counted here; None of what nobody counts."""
    if not counted_by_piece(dyestuff, larder.facts, on=larder.today):
        return None
    found = find_figure(larder.facts.figures, dyestuff, "piece_mass_g", on=larder.today)
    return None if found is None else round(found.value * 1000)


def _note_arrivals(picks: list[Pick], larder: Larder, wants: Wants) -> None:
    """Lots of the run that are confirmed but not here yet."""
    now = minute_of(larder.facts.at)
    lots = {lot.code: lot for lot in larder.facts.shelf.lots}
    for pick in picks:
        comes = lots[pick.code].arrives_at
        if comes is not None and minute_of(comes) > now:
            zone, here = larder.facts.zone, None
            usable = say("not usable within the horizon")
            if pick.usable_from < larder.calendar.end:
                here = larder.moment(pick.usable_from)
                usable = say("usable {here}", here=moment_in_words(here, zone))
            text = say(
                "{code} comes in {comes}, {usable}",
                code=pick.code,
                comes=moment_in_words(comes, zone),
                usable=usable,
            )
            wants.waits.append(Reason("arrival", pick.code, text, here))


def _next_pick_ups(dyestuff: str, short: int, larder: Larder, wants: Wants) -> None:
    """The first pick-ups that would likely close a shortage; worst beside likely."""
    likely = worst = 0
    now = minute_of(larder.facts.at)
    for row in sorted(larder.facts.pick_ups, key=lambda p: p.at):
        if row.dyestuff != dyestuff or minute_of(row.at) <= now or row.confirmed_mg is not None:
            continue
        if row.missed or not row.in_window:
            if row.why_not:
                wants.lacking.append(Reason("season", row.source, row.why_not))
            continue
        likely += row.likely_mg
        worst += row.worst_mg
        if likely >= short:
            # What comes behind the horizon is of no use in it, however long anybody waits.
            usable = min(larder.calendar.night_over(minute_of(row.at)), larder.calendar.end)
            here = larder.moment(usable)
            over = grams(likely - short)
            if row.piece_mg:
                spare = pieces_spare(likely - short, Fraction(row.piece_mg))
                over += say(", {pieces_in_words}", pieces_in_words=pieces_in_words(spare, dyestuff))
            text = say(
                "{dyestuff}: pick-ups up to {date} likely bring {likely} ({over} over), at "
                "worst {worst}",
                dyestuff=dyestuff,
                date=day_in_words(row.at.date()),
                likely=grams(likely),
                over=over,
                worst=grams(worst),
            )
            wants.waits.append(Reason("pick-up", dyestuff, text, here))
            return


def _supply(dose: Dose, run: RunFacts, larder: Larder, wants: Wants) -> None:
    need = round(dose.per_fibre * run.weight_mg)
    what, factor, figure = supply_as_kept(dose.what, larder, wants.site, far=wants.far)
    need = round(need * factor)
    codes = larder.supplies_of(what, site=wants.site, far=wants.far)
    there = sum(larder.left[code] for code in codes)
    if figure is not None:
        text = say(
            "{need} {what} stand for {need_2} {dose_what}",
            need=grams(need),
            what=what,
            need_2=grams(round(need / factor)),
            dose_what=dose.what,
        )
        wants.reasons.append(Reason("supply", what, text, figure=figure_in_words(figure),
                                    own=figure.own))  # fmt: skip
    if there < need:
        text = say(
            "{what} short by {need}: {need_2} wanted, {there} left",
            what=what,
            need=grams(need - there),
            need_2=grams(need),
            there=grams(there),
        )
        wants.short.append(Shortage("supply", what, need - there, "mg", None, text))
        return
    for code, where in codes.items():
        taken = min(need, larder.left[code])
        if taken > 0:
            begins = larder.supply_from(code)
            wants.picks.append(Pick(code, what, taken, "mg", dose.step, begins, far=where,
                                    any_day=True))  # fmt: skip
        need -= taken


def supply_as_kept(
    what: str, larder: Larder, site: str, *, far: bool = False
) -> tuple[str, Fraction, Figure | None]:
    """A supply as it stands on the shelf: soda ash may be kept as crystals."""
    if far:
        here = supply_as_kept(what, larder, site)
        if larder.supplies_of(here[0], site=site):
            return here
    if larder.supplies_of(what, site=site, far=far):
        return what, Fraction(1), None
    today = larder.calendar.day_of(minute_of(larder.facts.at))
    found = find_figure(larder.facts.figures, what, "crystals_per_ash", on=today)
    crystals = what.replace(" ash", " crystals")
    if found is not None and larder.supplies_of(crystals, site=site, far=far):
        return crystals, Fraction(found.value), found
    return what, Fraction(1), None


def _liquor(
    dose: Dose, run: RunFacts, larder: Larder, wants: Wants, without: Without, minute: int | None
) -> None:
    chosen = pick_liquor(dose, run, larder, fibre=wants.fibre, without=without.codes,
                         minute=minute, site=wants.site, far=wants.far)  # fmt: skip
    wants.lacking.extend(chosen.lacking)
    wants.short.extend(chosen.short)
    wants.waits.extend(chosen.waits)
    wants.reasons.extend(chosen.reasons)
    if chosen.pick is not None:
        wants.picks.append(chosen.pick)


def _bath(
    dose: Dose,
    run: RunFacts,
    recipe: Recipe,
    larder: Larder,
    wants: Wants,
    without: Without,
    minute: int | None,
) -> None:
    """A bath that is good on the day and fit for the shade, else one to make."""
    need_ul = round(Fraction(dose.l_per_kg) * run.weight_mg)
    now = minute_of(larder.facts.at)
    day = larder.calendar.day_of(now if minute is None else minute)
    far = wants.far and need_ul <= larder.carry_ul_at_most
    for bath, last in larder.baths_of(dose.what, need_ul, site=wants.site, far=far):
        if bath.code in without.codes:
            continue
        barred = ""
        if bath.metal and recipe.bright:
            barred = say(
                "{code} holds {metal}: brights come before it", code=bath.code, metal=bath.metal
            )
        elif bath.depth and recipe.depth > bath.depth:
            barred = say(
                "{code} gave {shade}: second bath is paler",
                code=bath.code,
                shade=bath.shade or "a lighter shade",
            )
        elif last.day < day:
            barred = say(
                "{code} ends {day}, before {day_2}",
                code=bath.code,
                day=day_in_words(last.day),
                day_2=day_in_words(day),
            )
        if barred:
            figure = last.figure if last.day < day else None
            wants.reasons.append(because("bath", bath.code, barred, figure))
            continue
        begins = larder.comes(bath)
        wants.picks.append(Pick(bath.code, bath.what, need_ul, "µL", dose.step, begins, last.day,
                                keeps=last.figure, far=fetched(bath.site, wants.site)))  # fmt: skip
        return
    making = next((row for row in larder.facts.makings if row.bath == dose.what), None)
    if making is None or making.bath in without.codes:
        text = say(
            "{what} short by {need_ul}: none good on {day}",
            what=dose.what,
            need_ul=amount(need_ul, "µL"),
            day=day_in_words(day),
        )
        wants.short.append(Shortage("bath", dose.what, need_ul, "µL", None, text))
        wants.lacking.extend(row for row in wants.reasons if row.kind == "bath")
        return
    _making(making, dose, run, need_ul, larder, wants, without)
    if wants.makings:
        wants.makings[-1].bright = recipe.bright


def _making(
    making: Making,
    dose: Dose,
    run: RunFacts,
    need_ul: int,
    larder: Larder,
    wants: Wants,
    without: Without,
) -> None:
    need_mg = round(Fraction(making.g_per_litre) * need_ul / 1000)
    plant = Dose(making.dyestuff, "dyestuff", dose.step, state=making.state)
    picks, short, out = larder.pick_lots(
        plant,
        run,
        need_mg,
        one_lot=False,
        without=without.codes,
        site=wants.site,
        far=wants.far,
    )
    if short:
        wants.short.append(_dyestuff_short(plant, larder, need_mg, need_mg - short, short))
        wants.lacking.extend(_left_out(row) for row in out if row.left_out)
        return
    wants.picks.extend(picks)
    wants.makings.append(MakingWanted(making, need_ul, dose.step))
