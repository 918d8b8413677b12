"""The studio's own rules of working as plain numbers: pauses, nights, line, grid.

Each is a figure with a source (`inventory/science/figures.py`); nothing is fixed here.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction

from inventory.science.catalogue import figure, find_figure, shipped
from inventory.science.figures import Figure, Figures


@dataclass(frozen=True, slots=True)
class House:
    """Rules of one studio on one day, in minutes unless the name says otherwise."""

    between_steps: int
    between_runs: int
    starts_on: int
    hangs_on: int
    night_ends: int  # minutes after local midnight
    nights_at_most: int
    nights_at_most_warm: int
    night_warmest_c: float
    shed_c: float
    strain: int
    strain_per_load: int
    drying: int
    damp_days: int
    efficiency: Fraction
    hold_kwh: Fraction
    dip: int
    horizon_days: int
    carries: bool = False  # a plan may fetch from another site what a run's own lacks
    carry_ml_at_most: int = 0  # of a liquor or bath
    wetting: tuple[Figure, ...] = ()  # one a fibre: hours until it is wet through

    @property
    def nights(self) -> int:
        """Nights that cloth may stand in its cooling bath."""
        cool = self.shed_c <= self.night_warmest_c
        return self.nights_at_most if cool else self.nights_at_most_warm


def house_on(figures: Figures, *, on: date) -> House:
    """The rules that hold on a day.

    Raises
    ------
    NoFigure
        If a rule is neither the studio's nor shipped.
    """

    def number(name: str) -> Decimal:
        return figure(figures, "studio", name, on=on).value

    def minutes(name: str) -> int:
        return round(number(name))

    warm = find_figure(figures, "studio", "nights_in_bath_at_most_warm", on=on)
    return House(
        between_steps=minutes("pause_between_steps_min"),
        # Another run's pot is never taken over sooner than the run's own.
        between_runs=max(minutes("pause_between_runs_min"), minutes("pause_between_steps_min")),
        starts_on=minutes("starts_fall_on_min"),
        hangs_on=minutes("hangs_on_min"),
        night_ends=round(number("night_ends_h") * 60),
        nights_at_most=minutes("nights_in_bath_at_most"),
        nights_at_most_warm=1 if warm is None else round(warm.value),
        night_warmest_c=float(number("night_in_bath_warmest_c")),
        shed_c=float(number("shed_c")),
        strain=minutes("strain_min"),
        strain_per_load=minutes("strain_per_load_min"),
        drying=round(number("drying_h") * 60),
        damp_days=minutes("damp_mordanted_days"),
        efficiency=Fraction(number("ring_efficiency_fraction")),
        hold_kwh=Fraction(number("hold_kwh")),
        dip=minutes("dip_min"),
        horizon_days=minutes("horizon_days"),
        carries=number("carry_in_plan") > 0,
        carry_ml_at_most=round(number("carry_l_at_most") * 1000),
        wetting=_wetting(figures, on),
    )


def _wetting(figures: Figures, on: date) -> tuple[Figure, ...]:
    fibres = {row.item for row in (*figures.rows, *shipped().rows) if row.name == "wet_out_h"}
    found = (find_figure(figures, fibre, "wet_out_h", on=on) for fibre in sorted(fibres))
    return tuple(row for row in found if row is not None)
