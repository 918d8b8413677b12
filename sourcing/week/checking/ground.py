"""The rules and the calendar that a plan is held against, read anew from the facts.

Nothing is shared with the placer, so that a mistake there is not made again here.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from decimal import Decimal
from fractions import Fraction
from functools import cached_property, lru_cache

from inventory.science.catalogue import find_figure
from inventory.science.figures import NoFigure
from sourcing.week.facts import DayHours, Recipe, RunFacts, WeekFacts

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def minute_of(moment: datetime) -> int:
    """Elapsed minutes since 1970: hours are elapsed hours also when the clocks change.

    Never kept by the moment: two moments of the hour that the clock shows twice count as equal.
    """
    return int(moment.timestamp() // 60)


@dataclass(frozen=True, slots=True)
class Rules:
    """The studio's figures that a plan must keep, in minutes unless the name says otherwise."""

    between_steps: int
    between_runs: int
    grid: int
    hanging_grid: int
    night_ends: int
    nights: int
    straining: int
    straining_per_load: int
    drying: int
    damp_days: int
    dip: int
    efficiency: Fraction


class Ground:
    """Facts by their code, open hours, mornings: all that the single checks look up."""

    def __init__(self, facts: WeekFacts, order: tuple[str, ...] = ()) -> None:
        self.facts = facts
        self.places = {code: number for number, code in enumerate(order)}
        self.zone = facts.zone
        self.today = facts.at.astimezone(facts.zone).date()
        self.rules = self._rules()
        shelf = facts.shelf
        self.vessels = {vessel.code: vessel for vessel in shelf.vessels}
        self.rings = {ring.code: ring for ring in shelf.rings}
        self.lines = {line.code: line for line in shelf.lines}
        self.lots = {lot.code: lot for lot in shelf.lots}
        self.jars = {jar.code: jar for jar in shelf.jars}
        self.baths = {bath.code: bath for bath in shelf.baths}
        self.supplies = {supply.code: supply for supply in shelf.supplies}
        self.fibre = {fibre.code: fibre for fibre in shelf.fibre}
        self.runs: dict[str, RunFacts] = {run.code: run for run in facts.runs}
        self.recipes: dict[str, Recipe] = {recipe.code: recipe for recipe in facts.recipes}
        self.blocks = {block.code: block for block in facts.blocks}
        self.weather = {row.day: row for row in facts.weather}
        self._open: dict[str, list[tuple[int, int]]] = {}

    def turn_of(self, run: RunFacts) -> tuple[bool, int, bool, int, str]:
        """When a run claims: begun ones as begun, then by the plan's order or due date."""
        if run.kept is not None and not run.group_block:
            return False, minute_of(run.kept.begun_at), False, 0, run.code
        due = 0 if run.due is None else minute_of(run.due)
        place = self.places.get(run.code, len(self.places))
        return True, place, run.due is None, due, run.code

    # -- figures -----------------------------------------------------------------------------

    def number(self, item: str, name: str, otherwise: str | None = None) -> Decimal:
        """A figure of the studio, else the shipped one, else what is given."""
        found = find_figure(self.facts.figures, item, name, on=self.today)
        if found is not None:
            return found.value
        if otherwise is None:
            raise NoFigure(item, name)
        return Decimal(otherwise)

    def _rules(self) -> Rules:
        def studio(name: str, otherwise: str | None = None) -> Decimal:
            return self.number("studio", name, otherwise)

        cool = studio("shed_c") <= studio("night_in_bath_warmest_c")
        return Rules(
            between_steps=int(studio("pause_between_steps_min")),
            between_runs=int(studio("pause_between_runs_min")),
            grid=int(studio("starts_fall_on_min")),
            hanging_grid=int(studio("hangs_on_min")),
            night_ends=int(studio("night_ends_h") * 60),
            nights=int(
                studio("nights_in_bath_at_most")
                if cool
                else studio("nights_in_bath_at_most_warm", "1")
            ),
            straining=int(studio("strain_min")),
            straining_per_load=int(studio("strain_per_load_min")),
            drying=int(studio("drying_h") * 60),
            damp_days=int(studio("damp_mordanted_days")),
            dip=int(studio("dip_min")),
            efficiency=Fraction(studio("ring_efficiency_fraction")),
        )

    # -- days and hours ----------------------------------------------------------------------

    def day_of(self, minute: int) -> date:
        """The studio's local date of a minute."""
        return _day_of(minute, self.zone.key)

    def moment(self, minute: int) -> datetime:
        """The local moment of a minute."""
        return (EPOCH + timedelta(minutes=minute)).astimezone(self.zone)

    def minute_at(self, day: date, minutes: int) -> int:
        """The minute at which the wall clock shows so many minutes after midnight on a day."""
        clock = time(minutes // 60 % 24, minutes % 60)
        return minute_of(datetime.combine(day, clock, tzinfo=self.zone).astimezone(UTC))

    def hours_of(self, site: str) -> Iterable[DayHours]:
        """Hours with hands in them that count at a site."""
        for row in self.facts.hours:
            if row.hands_min > 0 and (not site or row.site in ("", site)):
                yield row

    def open_at(self, site: str) -> list[tuple[int, int]]:
        """Stretches during which somebody is there, joined where they touch."""
        if site not in self._open:
            stretches = sorted(
                (minute_of(row.opens), minute_of(row.closes)) for row in self.hours_of(site)
            )
            self._open[site] = joined(stretches)
        return self._open[site]

    def somebody_there(self, since: int, until: int, site: str) -> bool:
        """Whether somebody is there from a minute to another."""
        return any(opens <= since and until <= closes for opens, closes in self.open_at(site))

    def night_over(self, minute: int, site: str) -> int | None:
        """The morning of the next open day after a minute's day; None: none is known."""
        day = self.day_of(minute)
        for opens, _ in self.open_at(site):
            if (later := self.day_of(opens)) > day:
                return max(opens, self.minute_at(later, self.rules.night_ends))
        return None

    def site_of(self, code: str) -> str:
        """Where a thing lies; empty: anywhere."""
        shelf = (self.lots, self.jars, self.baths, self.supplies, self.fibre)
        return next((things[code].site for things in shelf if code in things), "")

    # -- what is where -----------------------------------------------------------------------

    @cached_property
    def water_c(self) -> dict[str, int]:
        """Warmth of the cold water by site; the first water counts where a site has none."""
        by_site: dict[str, int] = {}
        for water in self.facts.waters:
            by_site.setdefault(water.site, water.temperature_c)
        return by_site

    def cold_water_c(self, site: str) -> int | None:
        """Warmth of the cold water at a site; None: no water is written down."""
        if site in self.water_c:
            return self.water_c[site]
        if "" in self.water_c:
            return self.water_c[""]
        return next(iter(self.water_c.values()), None) if not site else None


def joined(stretches: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Stretches in order, joined where they touch or overlap."""
    out: list[tuple[int, int]] = []
    for since, until in stretches:
        if out and since <= out[-1][1]:
            out[-1] = (out[-1][0], max(out[-1][1], until))
        else:
            out.append((since, until))
    return out


@lru_cache(maxsize=65536)
def _day_of(minute: int, zone: str) -> date:
    from zoneinfo import ZoneInfo

    return (EPOCH + timedelta(minutes=minute)).astimezone(ZoneInfo(zone)).date()
