"""How much of a jar or a salt does a fibre ask for, and how much does it bear?

A recipe's mL hold at strip 4; a jar's strip, warmth, topping-up and drying-in move them. Wool and
silk have a ceiling that is reckoned from the acid, never from a reading.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime
from decimal import ROUND_HALF_UP, Decimal
from fractions import Fraction
from math import floor
from zoneinfo import ZoneInfo

from inventory.science.catalogue import figure, find_figure
from inventory.science.days import local_day
from inventory.science.facts import BathFacts, Dip, JarFacts
from inventory.science.figures import Figure, Figures
from inventory.science.liquor import (
    is_known,
    liquor_at,
    most_on,
    pace_of,
    strength_at,
    sulphate_g_per_mol,
    undisturbed,
)
from inventory.science.maturing import last_strip, ready_by_rule
from inventory.science.saying import say
from inventory.science.wording import OF_FIBRE, liquor_dose

MOST_TIMES_THE_RECIPE = Decimal(100)  # a liquor thinner than that is water
TENTH = Decimal("0.1")


@dataclass(frozen=True, slots=True)
class Ceiling:
    """The most of a jar that 100 g of dry fibre bears, and what it rests on."""

    ml_per_100g: int  # rounded down
    percent: Decimal  # the fibre's ceiling, as sulphate, % of dry weight
    already_percent: Decimal  # in the fibre before
    most_g_per_l: Fraction  # strongest that the jar can be, as sulphate
    figure: Figure

    def percent_of(self, ml_per_100g: Decimal) -> Decimal:
        """Most metal [%] that a dose would bring the fibre to; a tenth, finer near the ceiling."""
        exact = Fraction(self.already_percent) + Fraction(ml_per_100g) * self.most_g_per_l / 1000
        shown = Decimal(exact.numerator) / Decimal(exact.denominator)
        tenth = shown.quantize(TENTH, rounding=ROUND_HALF_UP)
        if (tenth > self.percent) == (shown > self.percent):
            return tenth
        return shown.quantize(Decimal("0.001"), rounding=ROUND_HALF_UP)


@dataclass(frozen=True, slots=True)
class LiquorDose:
    """Millilitres of a jar for 100 g of dry fibre, and what they rest on."""

    ml_per_100g: Decimal
    factor: Decimal  # of the recipe's mL; exactly the strip's where nothing changed since
    rests_on: str


class AboveCeiling(ValueError):
    """A recipe asks for more of a metal liquor than its fibre bears."""

    def __init__(self, jar: JarFacts, fibre: str, asked_ml: Decimal, top: Ceiling) -> None:
        self.jar, self.fibre, self.asked_ml, self.top = jar.code, fibre, asked_ml, top
        super().__init__(
            say(
                "{name} on {fibre}: {asked} per {of_fibre} asked for, which can be "
                "{percent_of} % {metal}, over {percent} %. {most} per {of_fibre} is allowed.",
                name=jar.name or jar.code,
                fibre=fibre,
                asked=liquor_dose(asked_ml),
                of_fibre=OF_FIBRE,
                percent_of=top.percent_of(asked_ml),
                metal=jar.metal,
                percent=top.percent,
                most=liquor_dose(top.ml_per_100g, most=True),
            )
        )


class UsedTooOften(ValueError):
    """A mordant bath has been used as often as it may be."""

    def __init__(self, bath: str, times_used: int, at_most: int) -> None:
        self.bath, self.times_used, self.at_most = bath, times_used, at_most
        super().__init__(
            say(
                "{bath}: used {times_used} times, {at_most} at most. Make a fresh one, whole dose.",
                bath=bath,
                times_used=times_used,
                at_most=at_most,
            )
        )


def dose_of(
    jar: JarFacts, ml_per_100g: Decimal, figures: Figures, *, at: datetime, zone: ZoneInfo
) -> LiquorDose:
    """The dose of a jar at a moment for a recipe's dose.

    Parameters
    ----------
    jar : jar to be drawn from
    ml_per_100g : the recipe's dose, which holds at strip 4
    figures : the studio's own; shipped ones stand in
    at : the moment of the draw
    zone : the studio's time zone

    Returns
    -------
    LiquorDose
        With a strip: the strip's factor, times the model's strength at the strip over its strength
        now; exactly the factor for a strained jar that was left alone. With a reading in mg/L: the
        strength of strip 4 over the strength now. With neither: never less than the recipe, and
        more where the jar is weaker than its make left alone in the shed was when it became ready.

    References
    ----------
    Dose times strength is constant. Strip factors: tables/liquors.csv (common practice).

    Examples
    --------
    >>> from datetime import timezone
    >>> begun, dipped = (datetime(2026, m, d, 9, tzinfo=timezone.utc) for m, d in ((9, 1), (11, 2)))
    >>> jar = JarFacts("J2", "Iron 6", "iron", Fraction(1), Fraction(2), Decimal(5), begun,
    ...                900_000, 900_000, temperature_c=8, dips=(Dip(dipped, grade=3),))
    >>> london = ZoneInfo("Europe/London")
    >>> dose_of(jar, Decimal(50), Figures(), at=dipped, zone=london).ml_per_100g
    Decimal('65.0')
    """
    on = local_day(at, zone=zone)
    strip = last_strip(jar, figures, at=at)
    if strip is not None and strip[0].metal_mg_per_l is not None:
        factor, rests_on = _by_reading(jar, strip[0], figures, at=at, zone=zone)
    elif strip is not None and jar.metal == "iron":
        factor, rests_on = _by_strip(jar, *strip, figures, at=at, on=on, zone=zone)
    else:
        factor, rests_on = _without_strip(jar, figures, at=at, zone=zone)
    factor = min(factor, MOST_TIMES_THE_RECIPE)
    return LiquorDose(ml_per_100g * factor, factor, rests_on)


def ceiling(
    jar: JarFacts,
    fibre: str,
    figures: Figures,
    *,
    on: date,
    already_percent: Decimal = Decimal(0),
) -> Ceiling | None:
    """The most of a jar that a fibre bears; None for a fibre without a ceiling.

    Parameters
    ----------
    jar : jar to be drawn from, with its toppings-up until the end of the day
    fibre : wool, silk, ...
    figures : the studio's own; shipped ones stand in
    on : day of the draw
    already_percent : metal in the fibre before, as sulphate, % of dry weight

    References
    ----------
    The jar taken as strong as its acid allows (`liquor.most_on`). Ceiling: tables/fibres.csv.

    Examples
    --------
    >>> jar = JarFacts("J2", "Iron 6", "iron", Fraction(1), Fraction(2), Decimal(5), None,
    ...                900_000, 900_000, temperature_c=8)
    >>> top = ceiling(jar, "silk", Figures(), on=date(2026, 11, 23))
    >>> top.ml_per_100g, top.percent_of(Decimal(60)), top.percent_of(Decimal(50))
    (51, Decimal('2.3'), Decimal('1.9'))
    """
    row = find_figure(figures, fibre, "metal_ceiling_percent", on=on)
    if row is None:
        return None
    per_l = sulphate_at_most_g_per_l(jar, figures, on=on)
    room = max(Fraction(row.value) - Fraction(already_percent), Fraction(0))
    # A % of 100 g is a gram.
    allowed = floor(room * 1000 / per_l) if per_l else 0
    percent = row.value if row.value % TENTH else row.value.quantize(TENTH)
    return Ceiling(allowed, percent, already_percent, per_l, row)


def refuse_above_ceiling(
    jar: JarFacts,
    fibre: str,
    ml_per_100g: Decimal,
    figures: Figures,
    *,
    on: date,
    already_percent: Decimal = Decimal(0),
) -> None:
    """Refuse a recipe that asks for more than the fibre bears.

    Raises
    ------
    AboveCeiling
        With the mL that would be allowed.
    """
    top = ceiling(jar, fibre, figures, on=on, already_percent=already_percent)
    if top is not None and ml_per_100g > top.ml_per_100g:
        raise AboveCeiling(jar, fibre, ml_per_100g, top)


def sulphate_at_most_g_per_l(jar: JarFacts, figures: Figures, *, on: date) -> Fraction:
    """The strongest that a jar can be on a day [g/L of sulphate crystals], exact."""
    return most_on(jar, figures, on=on) * sulphate_g_per_mol(jar.metal, figures, on=on)


def ml_for_percent(
    jar: JarFacts, percent: Decimal, figures: Figures, *, at: datetime
) -> float | None:
    """Likely mL of a jar per 100 g of dry fibre for a wanted % of sulphate; None if unknown."""
    liquor = liquor_at(jar, figures, at=at)
    if liquor is None or not liquor.sulphate_g_per_l:
        return None
    return float(percent) * 1000 / liquor.sulphate_g_per_l


def salt_mg(fibre_mg: int, percent: Decimal) -> Fraction:
    """Salt [mg] for a dose in % of the dry weight of fibre, exact.

    Examples
    --------
    >>> salt_mg(2_000_000, Decimal(12)) == 240_000
    True
    """
    return fibre_mg * Fraction(percent) / 100


def crystals_for_ash(ash_mg: Fraction, figures: Figures, *, on: date) -> Fraction:
    """Soda crystals [mg] that do the work of soda ash.

    Examples
    --------
    >>> crystals_for_ash(Fraction(300_000), Figures(), on=date(2026, 11, 23)) == 810_000
    True
    """
    return ash_mg * Fraction(figure(figures, "soda ash", "crystals_per_ash", on=on).value)


def ash_for_crystals(crystals_mg: Fraction, figures: Figures, *, on: date) -> Fraction:
    """Soda ash [mg] that does the work of soda crystals."""
    return crystals_mg / Fraction(figure(figures, "soda ash", "crystals_per_ash", on=on).value)


def as_other_salt(
    mass_mg: Fraction, had: str, wanted: str, figures: Figures, *, on: date
) -> Fraction:
    """The mass [mg] of another form of a salt that holds as many mol of metal.

    `had` and `wanted` are items with a molar mass for one mol of the same metal, such as `iron` and
    `ferrous sulphate`, or a salt dry and with its water.

    Examples
    --------
    >>> day = date(2026, 11, 23)
    >>> crystals = as_other_salt(Fraction(1), "copper", "copper sulphate", Figures(), on=day)
    >>> round(float(crystals), 2)
    3.93
    """
    masses = [
        Fraction(figure(figures, item, "molar_mass_g_per_mol", on=on).value)
        for item in (had, wanted)
    ]
    return mass_mg * masses[1] / masses[0]


def alum_to_add_mg(bath: BathFacts, dose_mg: Fraction, figures: Figures, *, on: date) -> Fraction:
    """Alum [mg] to add to a bath for a dose: the whole one to a fresh bath, less to one used.

    A bath used before asks for a part of the dose only; alum known to be left counts instead.

    Raises
    ------
    UsedTooOften
        Where the bath has been used as often as it may be.

    References
    ----------
    Half the dose, up to seven times: "Water-saving tips", botanicalcolors.com.
    """
    at_most = int(figure(figures, "alum bath", "times_used_at_most", on=on).value)
    if bath.times_used >= at_most:
        raise UsedTooOften(bath.code, bath.times_used, at_most)
    if bath.times_used == 0:
        return max(dose_mg - bath.alum_left_mg, Fraction(0))
    if bath.alum_left_mg:
        return max(dose_mg - bath.alum_left_mg, Fraction(0))
    return dose_mg * Fraction(figure(figures, "alum", "recharge_fraction", on=on).value)


def alum_left_after_mg(dose_mg: Fraction, figures: Figures, *, on: date) -> Fraction:
    """Alum [mg] still in a bath after one use: what a recharge need not bring, an estimate."""
    return dose_mg * (1 - Fraction(figure(figures, "alum", "recharge_fraction", on=on).value))


def tip_out_content_g(jar: JarFacts, taken_ul: int, figures: Figures, *, on: date) -> Fraction:
    """The most metal [g, as sulphate] in a bath made with so much of a jar, none taken up.

    Examples
    --------
    >>> jar = JarFacts("J4", "Copper 4", "copper", Fraction(1), Fraction(1), Decimal(5), None,
    ...                1_000_000, 1_000_000, temperature_c=8)
    >>> round(float(tip_out_content_g(jar, 210_000, Figures(), on=date(2026, 11, 27))), 1)
    10.9
    """
    return sulphate_at_most_g_per_l(jar, figures, on=on) * taken_ul / 1_000_000


def _by_strip(
    jar: JarFacts,
    dip: Dip,
    grade: int,
    figures: Figures,
    *,
    at: datetime,
    on: date,
    zone: ZoneInfo,
) -> tuple[Decimal, str]:
    grade = min(max(grade, 1), 5)
    factor = figure(figures, "iron liquor", f"strip_{grade}_factor", on=on).value
    words = say("strip {grade} of {at}", grade=grade, at=_in_words(dip.at, zone))
    then, now = strength_at(jar, figures, at=dip.at), strength_at(jar, figures, at=at)
    if then is None or now is None or then == now:
        return factor, words
    return factor * _ratio(then, now), say(
        "{words}, {change} since", words=words, change=_change(then, now)
    )


def _by_reading(
    jar: JarFacts, dip: Dip, figures: Figures, *, at: datetime, zone: ZoneInfo
) -> tuple[Decimal, str]:
    words = say(
        "{metal_mg_per_l:.0f} mg/L read {at}",
        metal_mg_per_l=dip.metal_mg_per_l,
        at=_in_words(dip.at, zone),
    )
    meant = _recipe_strength(jar, figures, at=at, zone=zone)
    now = strength_at(jar, figures, at=at)
    if meant is None or now is None:
        return Decimal(1), words
    return _ratio(meant, now), words


def _without_strip(
    jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo
) -> tuple[Decimal, str]:
    """By the model: the recipe's dose, more of a jar weaker than its make should be."""
    make = _ready_strength(jar, figures, at=at, zone=zone)
    now = strength_at(jar, figures, at=at)
    if make is None or now is None or now >= make * (1 - 1e-6):
        return Decimal(1), say("the recipe's dose, no strip")
    return _ratio(make, now), say(
        "no strip; by the model {change} than its make when ready", change=_change(make, now)
    )


def _recipe_strength(
    jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo
) -> float | None:
    """The strength [mol/L] that recipes are written for: strip 4 of iron, a ready copper jar."""
    if jar.metal == "iron":
        return pace_of(jar, figures, on=local_day(at, zone=zone)).strip_mol_per_l[4]
    return _ready_strength(jar, figures, at=at, zone=zone)


def _ready_strength(
    jar: JarFacts, figures: Figures, *, at: datetime, zone: ZoneInfo
) -> float | None:
    """The strength [mol/L] of the same make, left alone in the shed, when it became ready."""
    if jar.begun_at is None or not is_known(jar):
        return None
    shed_c = figure(figures, "studio", "shed_c", on=local_day(at, zone=zone)).value
    alone = undisturbed(jar, temperature_c=float(shed_c), begun_at=jar.begun_at)
    ready = ready_by_rule(alone, figures, at=at, zone=zone)
    return None if ready is None else strength_at(alone, figures, at=ready)


def _ratio(then: float, now: float) -> Decimal:
    if now <= 0 or then / now > MOST_TIMES_THE_RECIPE:
        return MOST_TIMES_THE_RECIPE
    return Decimal(then) / Decimal(now)


def _change(then: float, now: float) -> str:
    percent = round(abs(now / then - 1) * 100) if then else 100
    return say(
        "{percent} % {which}",
        percent=percent,
        which=say("stronger") if now > then else say("weaker"),
    )


def _in_words(moment: datetime, zone: ZoneInfo) -> str:
    day = local_day(moment, zone=zone)
    return say("{day} {day_2:%b %Y}", day=day.day, day_2=day)
