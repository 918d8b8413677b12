"""When a plant's part can be gathered here, and when birds nest in the hedge that it is cut from.

Dated rows by country and region; the studio's own rule stands above them. What is said here is no
advice on law: every season ends with “check your local rules”.
"""

from __future__ import annotations

from calendar import monthrange
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache

from inventory.science.catalogue import figure
from inventory.science.figures import Figure, Figures
from inventory.science.saying import say
from inventory.science.table import Line, lines_of

PLANT_COLUMNS = (
    *("plant", "part", "cut_from", "country", "region", "first", "last", "since"),
    *("basis", "source"),
)
NEST_COLUMNS = ("country", "region", "kind", "first", "last", "since", "words", "basis", "source")
CUT_FROM = ("", "hedge", "tree")
KINDS = ("law", "farm rule", "local rule", "risk season", "advice")
NESTS = "nests"  # of the studio's own season; a plant's own season is its plant's
FROM_MONTH, FROM_DAY = "season_from_month", "season_from_day"
TO_MONTH, TO_DAY = "season_to_month", "season_to_day"
NORTH = "north"  # rows for the temperate north
# Temperate countries south of the equator (ISO 3166): rows for the north say nothing there.
SOUTH = frozenset({"AR", "AU", "CL", "NZ", "UY", "ZA"})
LEAP_YEAR = 2024
CHECK = say("check your local rules")
DayOfYear = tuple[int, int]  # month and day


@dataclass(frozen=True, slots=True)
class Where:
    """A country by its two letters (ISO 3166), and a region of it; empty: nobody said."""

    country: str = ""
    region: str = ""


@dataclass(frozen=True, slots=True)
class Season:
    """A stretch of each year, both days included; one over New Year begins late and ends early."""

    what: str  # "privet", or "nests"
    first: DayOfYear
    last: DayOfYear  # 29 February is the end of February
    part: str = ""
    kind: str = ""  # of a nesting season: law, risk season ...
    words: str = ""
    basis: str = "assumed"
    source: str = ""
    since: date | None = None  # from when the row holds; None: nobody said
    own: bool = False  # the studio's own rule

    def holds(self, on: date) -> bool:
        """Whether a day falls in it.

        Examples
        --------
        >>> winter = Season("privet", (9, 1), (2, 29))
        >>> winter.holds(date(2027, 2, 28)), winter.holds(date(2027, 3, 1))
        (True, False)
        """
        day = (on.month, on.day)
        if self.first <= self.last:
            return self.first <= day <= self.last
        return day >= self.first or day <= self.last

    def begins(self, on: date) -> date:
        """Its next first day, the day itself included.

        Examples
        --------
        >>> Season("privet", (9, 1), (2, 29)).begins(date(2026, 9, 2))
        datetime.date(2027, 9, 1)
        """
        return min(day for day in _in_years(self.first, on) if day >= on)

    def ends(self, on: date) -> date:
        """Its next last day, the day itself included.

        Examples
        --------
        >>> Season("privet", (9, 1), (2, 29)).ends(date(2026, 11, 23))
        datetime.date(2027, 2, 28)
        """
        return min(day for day in _in_years(self.last, on) if day >= on)

    @property
    def all_year(self) -> bool:
        return self.first == (1, 1) and self.last == (12, 31)

    @property
    def dates(self) -> str:
        """Both days in words.

        Examples
        --------
        >>> Season("nests", (3, 1), (8, 31)).dates
        '1 March to 31 August'
        >>> Season("privet", (9, 1), (2, 29)).dates
        '1 September to the end of February'
        """
        return (
            "all year"
            if self.all_year
            else say("{said} to {said_2}", said=_said(self.first), said_2=_said(self.last))
        )

    @property
    def said(self) -> str:
        """The whole season in one phrase, with what to check."""
        kind = say("the studio's own rule") if self.own else self.kind
        words = say(": {words}", words=self.words) if self.words else ""
        return (
            say(
                "{dates}, {kind}{words}; {check}",
                dates=self.dates,
                kind=kind,
                words=words,
                check=CHECK,
            )
            if kind
            else say("{dates}; {check}", dates=self.dates, check=CHECK)
        )


def seasons_of(plant: str, where: Where, figures: Figures, *, on: date) -> tuple[Season, ...]:
    """When each part of a plant can be gathered here, as of a day.

    Parameters
    ----------
    plant : trade word of the dyestuff
    where : of the studio; a row for its region stands above one for its country, that above the
        temperate north
    figures : the studio's own; its `season_from_month` and the like of the plant stand above all
    on : day as of which rows hold

    Returns
    -------
    by part and first day; empty where nobody has written down a season for here

    Examples
    --------
    >>> [row.dates for row in seasons_of("privet", Where("GB"), Figures(), on=date(2026, 11, 23))]
    ['1 September to the end of February']
    >>> seasons_of("privet", Where("NZ"), Figures(), on=date(2026, 11, 23))
    ()
    """
    own = _own(plant, figures, on)
    if own is not None:
        return (own,)
    rows = [row for row in shipped_seasons() if row.season.what == plant]
    parts = dict.fromkeys(row.season.part for row in rows)
    found = (
        _nearest((row for row in rows if row.season.part == part), where, on) for part in parts
    )
    return tuple(season for season in found if season is not None)


def in_season(plant: str, where: Where, figures: Figures, *, on: date) -> bool | None:
    """Whether some part of a plant can be gathered on a day; None where nobody knows.

    Examples
    --------
    >>> here, may = Where("GB"), date(2026, 5, 4)
    >>> [in_season(plant, here, Figures(), on=may) for plant in ("nettle", "privet", "moss")]
    [True, False, None]
    """
    seasons = seasons_of(plant, where, figures, on=on)
    return any(season.holds(on) for season in seasons) if seasons else None


def gap_after(season: Season, on: date) -> tuple[date, date] | None:
    """The next stretch in which a plant cannot be gathered, as first and last day; None: no gap.

    Examples
    --------
    >>> gap_after(Season("privet", (9, 1), (2, 29)), date(2026, 11, 23))
    (datetime.date(2027, 3, 1), datetime.date(2027, 8, 31))
    """
    if season.all_year:
        return None
    begins = season.ends(on) + timedelta(days=1) if season.holds(on) else on
    ends = season.begins(begins) - timedelta(days=1)
    return (begins, ends) if begins <= ends else None


def nesting_season(where: Where, figures: Figures, *, on: date) -> Season:
    """When birds nest here: the studio's rule, else its region's row, its country's, else assumed.

    Examples
    --------
    >>> nesting_season(Where("IE"), Figures(), on=date(2026, 5, 4)).said[:25]
    '1 March to 31 August, law'
    >>> nesting_season(Where("DE"), Figures(), on=date(2026, 5, 4)).dates
    '1 March to 30 September'
    """
    own = _own(NESTS, figures, on)
    if own is not None:
        return own
    return _nearest(shipped_nesting(), where, on) or _assumed(on)


def nest_check_wanted(
    plant: str, where: Where, figures: Figures, *, on: date, cut_from: str = ""
) -> Season | None:
    """The nesting season in which a plant cut on that day falls; None where no check is asked for.

    Parameters
    ----------
    plant : trade word of the dyestuff
    where, figures : as for `nesting_season`
    on : day of the cut
    cut_from : what the source is known to be, such as `hedge`; what else is asked of the tables

    Examples
    --------
    >>> asked = nest_check_wanted("privet", Where("GB"), Figures(), on=date(2026, 5, 4))
    >>> asked.dates
    '1 March to 31 August'
    >>> nest_check_wanted("privet", Where("GB"), Figures(), on=date(2026, 9, 1))
    >>> nest_check_wanted("nettle", Where("GB"), Figures(), on=date(2026, 5, 4))
    """
    if not (cut_from in CUT_FROM[1:] or cut_from_of(plant)):
        return None
    season = nesting_season(where, figures, on=on)
    return season if season.holds(on) else None


def check_valid_days(figures: Figures, *, on: date) -> Figure:
    """How many days before the cut a look for nests still counts; 0: the same day only."""
    return figure(figures, NESTS, "checked_before_days", on=on)


def cut_from_of(plant: str) -> str:
    """What a plant is cut from where birds may nest: hedge, tree, or nothing of the sort.

    Examples
    --------
    >>> cut_from_of("privet"), cut_from_of("apple prunings"), cut_from_of("nettle")
    ('hedge', 'tree', '')
    """
    found = (row.cut_from for row in shipped_seasons() if row.season.what == plant)
    return next(filter(None, found), "")


@dataclass(frozen=True, slots=True)
class Row:
    """A season as the tables have it: where it holds, and what the plant is cut from."""

    season: Season
    country: str
    region: str
    cut_from: str = ""


@cache
def shipped_seasons() -> tuple[Row, ...]:
    """When each part of each plant can be gathered, as the table has it."""
    return tuple(_plant(line) for line in lines_of("seasons.csv", PLANT_COLUMNS))


@cache
def shipped_nesting() -> tuple[Row, ...]:
    """When birds nest in each country and region, as the table has it."""
    return tuple(_nests(line) for line in lines_of("nesting.csv", NEST_COLUMNS))


def _nearest(rows: Iterable[Row], where: Where, on: date) -> Season | None:
    """The row of the region before that of the country before the north; the latest that holds."""
    region = where.region.casefold()
    places: list[tuple[str, str]] = [(where.country, region)] if region else []
    places += [(where.country, "")] if where.country else []
    places += [] if where.country in SOUTH else [(NORTH, "")]
    by_place: dict[tuple[str, str], Season] = {}
    for row in rows:
        key = (row.country, row.region.casefold())
        since, known = row.season.since or date.min, by_place.get(key)
        if since <= on and (known is None or since >= (known.since or date.min)):
            by_place[key] = row.season
    return next((by_place[place] for place in places if place in by_place), None)


def _own(item: str, figures: Figures, on: date) -> Season | None:
    """The season that the studio's own rules give; both months are needed, days are not."""
    months = [_own_figure(item, name, figures, on) for name in (FROM_MONTH, TO_MONTH)]
    if months[0] is None or months[1] is None:
        return None
    days = [_own_figure(item, name, figures, on) for name in (FROM_DAY, TO_DAY)]
    first, last = (_within(row, most=12) for row in months if row is not None)
    ends = monthrange(LEAP_YEAR, last)[1]
    begins = 1 if days[0] is None else _within(days[0], most=monthrange(LEAP_YEAR, first)[1])
    ends = ends if days[1] is None else _within(days[1], most=ends)
    row = months[0]
    return Season(
        item, (first, begins), (last, ends), basis=row.basis, source=row.source, since=row.since,
        own=True,
    )  # fmt: skip


def _own_figure(item: str, name: str, figures: Figures, on: date) -> Figure | None:
    found = figures.find(item, name, on=on)
    return found if found is not None and found.own else None


def _within(row: Figure, *, most: int) -> int:
    return min(max(round(row.value), 1), most)


def _assumed(on: date) -> Season:
    """The shipped season of a country of which nothing was looked up."""
    names = (FROM_MONTH, FROM_DAY, TO_MONTH, TO_DAY)
    rows = [figure(Figures(), NESTS, name, on=on) for name in names]
    month, day, to_month, to_day = (round(row.value) for row in rows)
    words = say("no date was looked up for this country")
    return Season(
        NESTS, (month, day), (to_month, to_day), kind="assumed, not measured", words=words,
        basis=rows[0].basis, source=rows[0].source,
    )  # fmt: skip


def _in_years(day: DayOfYear, on: date) -> list[date]:
    """A day of the year in the years round another; 29 February is the end of the month."""
    month, most = day[0], day[1]
    return [
        date(year, month, min(most, monthrange(year, month)[1]))
        for year in (on.year, on.year + 1)
    ]  # fmt: skip


def _said(day: DayOfYear) -> str:
    month, number = day
    if day == (2, 29):
        return say("the end of February")
    return say("{number} {date:%B}", number=number, date=date(LEAP_YEAR, month, 1))


def _plant(line: Line) -> Row:
    basis, source = line.sourced()
    return Row(
        Season(
            line.must("plant"),
            _day(line, "first"),
            _day(line, "last"),
            part=say(line.must("part")),
            basis=basis,
            source=source,
            since=_since(line),
        ),
        line.must("country"),
        line["region"],
        line.one_of("cut_from", CUT_FROM),
    )


def _nests(line: Line) -> Row:
    basis, source = line.sourced()
    return Row(
        Season(
            NESTS,
            _day(line, "first"),
            _day(line, "last"),
            kind=line.one_of("kind", KINDS),
            words=say(line.must("words")),
            basis=basis,
            source=source,
            since=_since(line),
        ),
        line.must("country"),
        line["region"],
    )


def _day(line: Line, column: str) -> DayOfYear:
    try:
        day = date.fromisoformat(f"{LEAP_YEAR}-{line.must(column)}")
    except ValueError:
        line.fail(
            say("{column} is “{line}”, not a day such as 03-01.", column=column, line=line[column])
        )
    return day.month, day.day


def _since(line: Line) -> date | None:
    if not line["since"]:
        return None
    try:
        return date.fromisoformat(line["since"])
    except ValueError:
        line.fail(say("since is “{line}”, not a day such as 2010-03-01.", line=line["since"]))
