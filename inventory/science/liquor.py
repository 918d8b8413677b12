"""What is in a jar of home-made liquor: a mass balance of acid and metal between its events.

The acid sets the bound, time and warmth how near it is; a strip or a reading resets the estimate.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from fractions import Fraction
from math import log1p

from inventory.science.balance import (
    UL_PER_L,
    Contents,
    Pace,
    changed,
    days_until,
    reachable,
    reset,
    worked,
)
from inventory.science.catalogue import figure, find_figure
from inventory.science.facts import Dip, JarEvent, JarFacts
from inventory.science.figures import Figure, Figures
from inventory.science.saying import say

METALS = ("iron", "copper")
SULPHATE = {"iron": "ferrous sulphate", "copper": "copper sulphate"}
STRIP_4_ACID_G_PER_L = Fraction(50, 3)  # 5 % vinegar at one to two
LONGEST_DAYS = 36_500  # a jar slower than that never gets there


@dataclass(frozen=True, slots=True)
class Strongest:
    """The most that a jar can ever hold and give off, from what was put in."""

    metal_mol_per_l: Fraction
    sulphate_g_per_l: Fraction  # as ferrous sulphate or copper sulphate crystals
    sulphate_g: Fraction  # in the whole jar as begun
    gas_l: Fraction  # hydrogen while it works; copper gives none
    limited_by: str  # acid, metal, solubility


@dataclass(frozen=True, slots=True)
class Liquor:
    """What a jar holds at a moment, by the model and its last strip."""

    metal_mol_per_l: float
    low_mol_per_l: float
    high_mol_per_l: float
    most_mol_per_l: Fraction  # never more than this, whatever the model says
    sulphate_g_per_l: float  # as ferrous sulphate or copper sulphate crystals
    acid_left_mol_per_l: float
    fraction: float  # of the strongest that its acid and metal allow, 0 to 1
    volume_l: Fraction
    gas_l: float  # given off so far
    gas_at_most_l: float  # so far and to come
    rests_on: str  # model, strip 4 on 2026-11-02, reading on 2026-11-02


def is_known(jar: JarFacts) -> bool:
    """Whether enough is written on a jar to reckon its strength."""
    made = jar.metal in METALS and jar.vinegar_parts + jar.water_parts > 0
    return made and jar.acid_percent > 0 and (jar.begun_at is not None or bool(jar.dips))


def strongest_possible(jar: JarFacts, figures: Figures, *, on: date) -> Strongest:
    """The bound on a jar's strength and gas, from its vinegar, its metal and solubility.

    Parameters
    ----------
    jar : jar with metal and parts; vinegar % is g of acid per 100 mL
    figures : the studio's own; shipped ones stand in
    on : day whose figures hold

    References
    ----------
    Fe + 2 CH3COOH = Fe(CH3COO)2 + H2; 2 Cu + O2 + 4 CH3COOH = 2 Cu(CH3COO)2 + 2 H2O, which needs
    air: 2 mol acid per mol metal. Volumes taken as additive. Masses and solubility (of copper
    acetate at 20 °C): tables/liquors.csv.

    Examples
    --------
    >>> from decimal import Decimal
    >>> jar = JarFacts("J1", "Iron 7", "iron", Fraction(1), Fraction(2), Decimal(5), None,
    ...                begun_volume_ul=3_000_000, left_ul=3_000_000, temperature_c=8)
    >>> most = strongest_possible(jar, Figures(), on=date(2026, 11, 23))
    >>> round(float(most.metal_mol_per_l), 3), round(float(most.sulphate_g), 1)
    (0.139, 115.7)
    >>> round(float(most.gas_l), 1), most.limited_by
    (10.0, 'acid')
    """
    made = jar.metal, jar.vinegar_parts, jar.water_parts, jar.acid_percent
    key = ("strongest", *made, jar.begun_volume_ul, jar.metal_put_in_mg, on)
    return figures.once(key, lambda: _strongest(jar, figures, on))


def _strongest(jar: JarFacts, figures: Figures, on: date) -> Strongest:
    volume_l = Fraction(jar.begun_volume_ul, UL_PER_L)
    acid = acid_as_begun(jar, figures, on=on)
    bounds = [(acid / 2, "acid")]
    if jar.metal_put_in_mg is not None and volume_l:
        bounds.append((_metal_put_in(jar, figures, on) / volume_l, "metal"))
    soluble = _soluble(jar.metal, figures, on)
    if soluble is not None:
        bounds.append((soluble, "solubility"))
    metal, limited_by = min(bounds)
    per_l = metal * sulphate_g_per_mol(jar.metal, figures, on=on)
    gas = _gas_l_per_mol(jar, figures, on) * metal * volume_l
    return Strongest(metal, per_l, per_l * volume_l, gas, limited_by)


def liquor_at(jar: JarFacts, figures: Figures, *, at: datetime) -> Liquor | None:
    """What a jar holds at a moment; None where too little is written on it.

    Parameters
    ----------
    jar : its events and dips up to the moment count, later ones do not
    figures : the studio's own; shipped ones stand in
    at : aware moment; one before the jar was begun finds it as begun

    Returns
    -------
    Liquor
        Free acid falls as dA/dt = -k(T) A while there is metal, metal rises by half of it, up to
        the metal put in and to what dissolves. Drawing changes no strength, topping up thins or
        feeds, evaporation thickens, straining ends the working. k is such that at 20 °C the jar
        reaches its usable fraction on the trade's day; Q10 moves it with warmth (measured
        nowhere: assumed). The range comes from the ranges of pace, warmth and strip.

    References
    ----------
    First-order approach to a limit, OpenStax, Chemistry 2e (2019), section 12.4; figures in
    tables/liquors.csv.

    Examples
    --------
    >>> from datetime import timezone
    >>> from decimal import Decimal
    >>> begun = datetime(2026, 11, 3, 9, tzinfo=timezone.utc)
    >>> jar = JarFacts("J9", "Iron 9", "iron", Fraction(1), Fraction(2), Decimal(5), begun,
    ...                begun_volume_ul=3_000_000, left_ul=3_000_000, temperature_c=20)
    >>> day_7 = datetime(2026, 11, 10, 9, tzinfo=timezone.utc)
    >>> round(liquor_at(jar, Figures(), at=day_7).fraction, 2)
    0.69
    """
    if not is_known(jar):
        return None
    on = at.date()
    likely = contents_at(jar, figures, at=at, pace=pace_of(jar, figures, on=on))
    # Of the edges only the strength is asked, which no draw moves: the long walk is made once.
    slow, fast = (
        contents_at(_undrawn(jar), figures, at=at, pace=pace_of(jar, figures, on=on, edge=edge))
        for edge in ("low", "high")
    )
    most = _most(jar, likely, figures, on)
    reached = min(float(most), reachable(likely))
    gas_l_per_mol = float(_gas_l_per_mol(jar, figures, on))
    to_come_mol = max(reached - likely.metal_mol_per_l, 0.0) * float(likely.volume_l)
    return Liquor(
        metal_mol_per_l=likely.metal_mol_per_l,
        low_mol_per_l=min(slow.metal_mol_per_l, likely.metal_mol_per_l),
        high_mol_per_l=max(fast.metal_mol_per_l, likely.metal_mol_per_l),
        most_mol_per_l=most,
        sulphate_g_per_l=likely.metal_mol_per_l
        * float(sulphate_g_per_mol(jar.metal, figures, on=on)),
        acid_left_mol_per_l=likely.free_mol_per_l,
        fraction=min(likely.metal_mol_per_l / float(most), 1.0) if most else 0.0,
        volume_l=likely.volume_l,
        gas_l=likely.dissolved_mol * gas_l_per_mol,
        gas_at_most_l=(likely.dissolved_mol + to_come_mol) * gas_l_per_mol,
        rests_on=_rests_on(jar, at),
    )


def strength_at(jar: JarFacts, figures: Figures, *, at: datetime) -> float | None:
    """The likely metal [mol/L] of a jar at a moment; None where too little is written on it."""
    if not is_known(jar):
        return None
    pace = pace_of(jar, figures, on=at.date())
    return contents_at(_undrawn(jar), figures, at=at, pace=pace).metal_mol_per_l


def reaches_at(
    jar: JarFacts, figures: Figures, *, fraction: float, at: datetime
) -> datetime | None:
    """The moment at which a jar first holds a fraction of what it can, left as it is at `at`.

    None if it never does, or if too little is written on it.
    """
    if not is_known(jar):
        return None
    on = at.date()
    pace = pace_of(jar, figures, on=on)
    walk = list(_walk(jar, figures, at=at, pace=pace))
    for begun, ended in zip(walk, [*walk[1:], None], strict=True):
        goal = fraction * float(_most(jar, begun, figures, on)) - 1e-9
        days = days_until(begun, goal, pace)
        if days is None or days > LONGEST_DAYS:
            continue
        moment = begun.at.astimezone(UTC) + timedelta(days=days)
        if ended is None or moment <= ended.at:
            return moment
    return None


def most_on(jar: JarFacts, figures: Figures, *, on: date) -> Fraction:
    """The most metal [mol/L] that a jar can hold by the end of a day, exact, whatever it reads.

    Where the vinegar's strength or the parts are not written down, the strongest household vinegar,
    neat, is taken: a bound must not be too low.
    """
    if not jar.acid_percent:
        vinegar = figure(figures, "vinegar", "acid_percent", on=on)
        jar = replace(jar, acid_percent=vinegar.high or vinegar.value)
    if not jar.vinegar_parts + jar.water_parts:
        jar = replace(jar, vinegar_parts=Fraction(1))
    end = datetime.combine(on + timedelta(days=1), time(0), tzinfo=UTC)
    jar = _undrawn(jar)
    bare = replace(jar, begun_at=min([end, *(e.at for e in jar.events)]), dips=())
    return _most(jar, contents_at(bare, figures, at=end, pace=pace_of(jar, figures, on=on)),
                 figures, on)  # fmt: skip


def contents_at(jar: JarFacts, figures: Figures, *, at: datetime, pace: Pace) -> Contents:
    """A jar's liquid at a moment at one pace.

    The way up to its last event is gone once a day, however often it is asked what came after.
    """

    def walked() -> Contents:
        *_, last = _walk(jar, figures, at=at, pace=pace)
        return last

    if not is_all_behind(jar, at):
        return worked(walked(), at, pace)
    return worked(figures.once(("walked", jar, at.date(), pace), walked), at, pace)


def is_all_behind(jar: JarFacts, at: datetime) -> bool:
    """Whether all that is written of a jar after its beginning has happened by a moment."""
    events, dips = jar.events, jar.dips
    return all(event.at <= at for event in events) and all(dip.at <= at for dip in dips)


def undisturbed(jar: JarFacts, *, temperature_c: float, begun_at: datetime) -> JarFacts:
    """The same make, begun then, left alone at one warmth."""
    return replace(jar, begun_at=begun_at, temperature_c=temperature_c, events=(), dips=())


def pace_of(jar: JarFacts, figures: Figures, *, on: date, edge: str = "likely") -> Pace:
    """The pace by the figures of a day; `edge` low gives the weakest liquor, high the strongest."""
    metal = jar.metal
    return figures.once(("pace", metal, on, edge), lambda: _pace(metal, figures, on, edge))


def _pace(metal: str, figures: Figures, on: date, edge: str) -> Pace:
    item = say("{metal} liquor", metal=metal)

    def get(name: str, *, stronger_when: str) -> float:
        return _edge(figure(figures, item, name, on=on), edge, stronger_when)

    days = get("usable_at_20c_days", stronger_when="low")
    usable = float(figure(figures, item, "usable_fraction", on=on).value)
    within = float(figure(figures, item, "reading_within_fraction", on=on).value)
    strips: dict[int, float] = {}
    if metal == "iron":
        bound = float(STRIP_4_ACID_G_PER_L / acid_g_per_mol(figures, on=on) / 2)
        strip_4 = bound * get("strip_4_fraction", stronger_when="high")
        strips = {
            grade: strip_4 / get(f"strip_{grade}_factor", stronger_when="low")
            for grade in range(1, 6)
        }
    return Pace(
        per_day=-log1p(-usable) / days,
        # In the cold it is the low Q10 that leaves the acid faster.
        q10_above=get("works_q10", stronger_when="high"),
        q10_below=get("works_q10", stronger_when="low"),
        acid_g_per_mol=acid_g_per_mol(figures, on=on),
        metal_g_per_mol=metal_g_per_mol(metal, figures, on=on),
        soluble_mol_per_l=_soluble(metal, figures, on),
        strip_mol_per_l=strips,
        reading_factor=1 + {"low": -within, "high": within}.get(edge, 0.0),
    )


def acid_as_begun(jar: JarFacts, figures: Figures, *, on: date) -> Fraction:
    """Acid of a jar as begun [mol/L], exact."""
    made = jar.vinegar_parts, jar.water_parts, jar.acid_percent

    def acid() -> Fraction:
        vinegar, water, percent = made
        return vinegar / (vinegar + water) * Fraction(percent) * 10 / acid_g_per_mol(figures, on=on)

    return figures.once(("acid", *made, on), acid)


def acid_g_per_mol(figures: Figures, *, on: date) -> Fraction:
    return _molar_mass("acetic acid", figures, on)


def sulphate_g_per_mol(metal: str, figures: Figures, *, on: date) -> Fraction:
    """Grams of the sulphate crystals that hold as much metal as one mol of it."""
    return _molar_mass(SULPHATE[metal], figures, on)


def metal_g_per_mol(metal: str, figures: Figures, *, on: date) -> Fraction:
    return _molar_mass(metal, figures, on)


def _molar_mass(what: str, figures: Figures, on: date) -> Fraction:
    """Grams per mol, exact."""
    name = "molar_mass_g_per_mol"
    return figures.once(
        (name, what, on), lambda: Fraction(figure(figures, what, name, on=on).value)
    )


def _undrawn(jar: JarFacts) -> JarFacts:
    """The jar without its draws where they move no strength: an old jar has thousands of them."""
    kinds = {event.kind for event in jar.events}
    if jar.metal_put_in_mg is not None or "drawn" not in kinds:
        return jar
    if "topped up" in kinds or "evaporated" in kinds:
        return jar
    return replace(jar, events=tuple(event for event in jar.events if event.kind != "drawn"))


def _walk(jar: JarFacts, figures: Figures, *, at: datetime, pace: Pace) -> Iterator[Contents]:
    """The contents just after the beginning, each event and each dip up to a moment."""
    on = at.date()
    contents = _begun(jar, figures, on)
    yield contents
    happened: list[tuple[datetime, int, JarEvent | Dip]] = [
        *((event.at, 0, event) for event in jar.events),
        *((dip.at, 1, dip) for dip in jar.dips),
    ]
    for moment, _, what in sorted(happened, key=lambda each: (each[0].timestamp(), each[1])):
        if not contents.at.timestamp() <= moment.timestamp() <= at.timestamp():
            continue
        contents = worked(contents, moment, pace)
        if isinstance(what, Dip):
            contents = reset(contents, what, pace)
        else:
            contents = changed(contents, what, pace)
        yield contents


def _begun(jar: JarFacts, figures: Figures, on: date) -> Contents:
    """A jar as begun; one without a date begins at its first dip."""
    begun_at = jar.begun_at or jar.dips[0].at
    scrap_mol = None
    if jar.metal_put_in_mg is not None:
        scrap_mol = float(_metal_put_in(jar, figures, on))
    if any(e.kind == "strained" and e.at <= begun_at for e in jar.events):
        scrap_mol = 0.0
    warmth = jar.temperature_c
    if warmth is None:
        warmth = float(figure(figures, "studio", "shed_c", on=on).value)
    volume_l = Fraction(jar.begun_volume_ul, UL_PER_L)
    acid = acid_as_begun(jar, figures, on=on)
    return Contents(begun_at, volume_l, acid, 0.0, scrap_mol, 0.0, warmth)


def _most(jar: JarFacts, contents: Contents, figures: Figures, on: date) -> Fraction:
    """The bound [mol/L] on a jar's metal at a moment, exact, whatever the model says."""
    bounds = [contents.acid_mol_per_l / 2]
    soluble = _soluble(jar.metal, figures, on)
    if soluble is not None:
        bounds.append(soluble)
    if jar.metal_put_in_mg is not None and contents.volume_l:
        bounds.append(_metal_put_in(jar, figures, on) / contents.volume_l)
    return max(min(bounds), Fraction(0))


def _metal_put_in(jar: JarFacts, figures: Figures, on: date) -> Fraction:
    assert jar.metal_put_in_mg is not None
    return Fraction(jar.metal_put_in_mg, 1000) / metal_g_per_mol(jar.metal, figures, on=on)


def _soluble(metal: str, figures: Figures, on: date) -> Fraction | None:
    """What dissolves [mol/L]; None where no figure sets a limit."""
    return figures.once(("soluble", metal, on), lambda: _dissolves(metal, figures, on))


def _dissolves(metal: str, figures: Figures, on: date) -> Fraction | None:
    grams = find_figure(figures, say("{metal} acetate", metal=metal), "soluble_g_per_l", on=on)
    if grams is None:
        return None
    per_mol = figure(figures, say("{metal} acetate", metal=metal), "molar_mass_g_per_mol", on=on)
    return Fraction(grams.value) / Fraction(per_mol.value)


def _gas_l_per_mol(jar: JarFacts, figures: Figures, on: date) -> Fraction:
    """Hydrogen per mol of metal: acid frees it from iron, never from copper."""
    if jar.metal != "iron":
        return Fraction(0)
    return Fraction(figure(figures, "studio", "gas_l_per_mol", on=on).value)


def _edge(row: Figure, edge: str, stronger_when: str) -> float:
    """The end of a figure's range that makes a weak or a strong liquor."""
    if edge == "likely":
        return float(row.value)
    low, high = (row.value if end is None else end for end in (row.low, row.high))
    return float(low if (edge == "high") == (stronger_when == "low") else high)


def _rests_on(jar: JarFacts, at: datetime) -> str:
    told = [d for d in jar.dips if d.at <= at and (d.metal_mg_per_l is not None or d.grade)]
    if not told or (jar.metal != "iron" and told[-1].metal_mg_per_l is None):
        return "model"
    what = (
        "reading"
        if told[-1].metal_mg_per_l is not None
        else say("strip {grade}", grade=told[-1].grade)
    )
    return say("{what} on {date}", what=what, date=told[-1].at.date().isoformat())
