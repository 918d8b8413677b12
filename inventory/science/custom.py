"""How the people of a studio write amounts: their units, and what a point or a comma means."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from inventory.science.amounts import Amount, read_amount
from inventory.science.unclear import TwoReadings
from inventory.science.units import POINT_COUNTRIES

METRIC, IMPERIAL, US = "metric", "imperial", "us"
UNITS = (METRIC, IMPERIAL, US)
# Pints, gallons and fluid ounces of a studio that said in which it measures.
VOLUMES_OF = {IMPERIAL: "GB", US: "US"}
METRIC_MASSES, METRIC_VOLUMES = ("g", "kg"), ("mL", "L")
CELSIUS, FAHRENHEIT = "°C", "°F"
POUNDS, PINTS = ("oz", "lb"), ("fl oz", "pt", "gal")
# One mark before three digits, which groups thousands or leads a fraction.
ONE_MARK = re.compile(r"(?<![\d.,])([1-9]\d{0,2})([.,])(\d{3})(?![\d.,])")


@dataclass(frozen=True, slots=True)
class Custom:
    """How amounts are written somewhere.

    `country` is its ISO 3166 code; `point_groups` whether a point may group thousands there, None:
    as in the country; `units` one of `metric`, `imperial`, `us`.
    """

    country: str = "GB"
    point_groups: bool | None = None
    units: str = METRIC

    @property
    def open_point(self) -> bool:
        """Whether “1.500” may mean fifteen hundred."""
        if self.point_groups is not None:
            return self.point_groups
        return (self.country or "GB").upper() not in POINT_COUNTRIES

    def offered(self, units: Sequence[str]) -> tuple[str, ...]:
        """The units that a form offers, those of the studio in front of the metric ones.

        Examples
        --------
        >>> Custom("US", units="us").offered(("stones", "g", "kg"))
        ('stones', 'oz', 'lb', 'g', 'kg')
        """
        if self.units == METRIC:
            return tuple(units)
        found: list[str] = []
        for unit in units:
            found += POUNDS if unit in METRIC_MASSES else ()
            found += PINTS if unit in METRIC_VOLUMES else ()
            found.append(unit)
        return tuple(dict.fromkeys(found))

    @property
    def degrees(self) -> tuple[str, ...]:
        """The degrees that a form offers, those of the studio in front.

        Examples
        --------
        >>> Custom("US", units="us").degrees, Custom("DE").degrees
        (('°F', '°C'), ('°C', '°F'))
        """
        return (CELSIUS, FAHRENHEIT) if self.units == METRIC else (FAHRENHEIT, CELSIUS)

    def amount(
        self, words: str, *, pieces: Iterable[str] = (), may_be_zero: bool = False
    ) -> Amount:
        """What was meant by a weight, a volume, a count or a container measure.

        Parameters
        ----------
        pieces : the studio's own words for what it counts, singular

        Raises
        ------
        Unclear
            With the part, its place and what to write.

        Examples
        --------
        >>> Custom("GB").amount("1 pt").ul, Custom("GB", units="us").amount("1 pt").ul
        (568261, 473176)
        """
        return read_amount(
            words,
            country=VOLUMES_OF.get(self.units, self.country or "GB"),
            pieces=pieces,
            may_be_zero=may_be_zero,
            point_groups=self.open_point,
        )

    def mass(self, words: str) -> int:
        """A weight in whole milligrams.

        Examples
        --------
        >>> Custom().mass("1½ kg")
        1500000
        """
        return self.amount(words).mg

    def check_marks(self, words: str) -> None:
        """Refuse a plain number whose one mark means either here, such as “1.500”.

        Raises
        ------
        TwoReadings

        Examples
        --------
        >>> Custom("GB").check_marks("1.500")
        >>> Custom("DE").check_marks("1.500 min")
        Traceback (most recent call last):
        inventory.science.unclear.TwoReadings: “1.500 min”: “1.500” at character 1 may mean \
1500 or 1.5. Write 1500 or 1.5.
        """
        found = ONE_MARK.search(words) if self.open_point else None
        if found is not None:
            many, few = found[1] + found[3], f"{found[1]}.{found[3]}".rstrip("0").rstrip(".")
            raise TwoReadings(words, many, few, part=found[0], position=found.start() + 1)
