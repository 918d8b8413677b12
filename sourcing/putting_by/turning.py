"""What fresh material becomes once it is put by: the state it keeps best in, weight, last good day.

Figures of the studio go before the shipped ones; each answer names those it rests on.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, time
from fractions import Fraction
from math import ceil, floor
from zoneinfo import ZoneInfo

from inventory.science.catalogue import figure, find_figure
from inventory.science.days import local_day
from inventory.science.facts import LotFacts, Stay
from inventory.science.figures import Figure, Figures
from inventory.science.keeping import LastGood, if_put_by
from sourcing.week.facts import WeekFacts

DRIED, FROZEN = "dried", "frozen"


@dataclass(frozen=True)
class Turning:
    """How one dyestuff is put by here."""

    dyestuff: str
    state: str  # dried, frozen
    figures: Figures
    zone: ZoneInfo
    on: date  # the day whose figures hold

    @property
    def factor(self) -> Figure | None:
        """What one part fresh weighs dried; None when frozen, or where nobody knows."""
        if self.state != DRIED:
            return None
        return find_figure(self.figures, self.dyestuff, "dried_per_fresh_fraction", on=self.on)

    @property
    def loss(self) -> Figure | None:
        """What is lost on the way to dry beside water; None when frozen."""
        if self.state != DRIED:
            return None
        own = find_figure(self.figures, self.dyestuff, "drying_loss_fraction", on=self.on)
        return own or figure(self.figures, "any dyestuff", "drying_loss_fraction", on=self.on)

    @property
    def known(self) -> bool:
        """Whether fresh and kept weight can be worked out from each other."""
        return self.state != DRIED or (self.factor is not None and self.factor.value > 0)

    def kept_mg(self, fresh_mg: int) -> int:
        """What so much fresh weighs once it is put by; 0 where nobody knows."""
        return floor(fresh_mg * self._rate(0)) if self.known else 0

    def fresh_mg(self, kept_mg: int) -> int | None:
        """So much fresh is wanted for a kept weight, rounded up; None where nobody knows.

        References
        ----------
        kept = fresh × dried_per_fresh × (1 − drying_loss); frozen weighs what it did.
        """
        if not kept_mg:
            return 0
        return ceil(kept_mg / self._rate(0)) if self.known else None

    def fresh_between(self, kept_mg: int) -> tuple[int, int] | None:
        """The same at the best and the worst ends of both figures; None where there are none."""
        if self.factor is None or not self.known:
            return None
        return ceil(kept_mg / self._rate(1)), ceil(kept_mg / self._rate(-1))

    def good_to(self, day: date, lot: LotFacts | None = None) -> LastGood:
        """The last good day of what is put by on a day: a lot, or what comes fresh that day."""
        if lot is None:
            noon = datetime.combine(day, time(12), tzinfo=self.zone)
            lot = LotFacts("", self.dyestuff, (Stay(noon, "fresh", "bench", "bench"),), 0)
        return if_put_by(lot, self.state, self.figures, on=day, zone=self.zone)

    def _rate(self, end: int) -> Fraction:
        """Kept weight for one part fresh; `end` 1 at the best end of the figures, −1 the worst."""
        factor, loss = self.factor, self.loss
        if factor is None or loss is None:
            return Fraction(1)
        if end == 0:
            return Fraction(factor.value) * (1 - Fraction(loss.value))
        dry = factor.high if end > 0 else factor.low
        lost = loss.low if end > 0 else loss.high
        kept = Fraction(factor.value if dry is None else dry)
        return kept * (1 - Fraction(loss.value if lost is None else lost))


def turning_of(facts: WeekFacts, dyestuff: str, wanted: str) -> Turning:
    """How a dyestuff is put by: as it is wanted, else frozen where it keeps so, else dried.

    Parameters
    ----------
    wanted : dried, frozen, or empty
    """
    today = local_day(facts.at, zone=facts.zone)
    return Turning(dyestuff, wanted or _state(facts, dyestuff, today), facts.figures, facts.zone,
                   today)  # fmt: skip


def _state(facts: WeekFacts, dyestuff: str, today: date) -> str:
    wanted = {
        dose.state
        for recipe in facts.recipes
        for dose in recipe.doses
        if dose.what == dyestuff and dose.state in (DRIED, FROZEN)
    }
    if len(wanted) == 1:
        return wanted.pop()
    freezer = any(place.kind == "freezer" for place in facts.shelf.cold_places)
    keeps = any(
        find_figure(facts.figures, dyestuff, f"keeps_frozen_{unit}", on=today)
        for unit in ("days", "months")
    )
    return FROZEN if freezer and keeps else DRIED
