"""Seasons: what can be gathered when, and when a hedge is looked over for nests."""

from __future__ import annotations

from collections import Counter
from datetime import date, timedelta
from decimal import Decimal

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.science.figures import Figure, Figures
from inventory.science.seasons import (
    SOUTH,
    Season,
    Where,
    check_valid_days,
    cut_from_of,
    gap_after,
    in_season,
    nest_check_wanted,
    nesting_season,
    seasons_of,
    shipped_nesting,
    shipped_seasons,
)
from inventory.science.table import BASES, lines_of

NONE = Figures()
ENGLAND = Where("GB", "England")
MAY_4 = date(2026, 5, 4)


def own(item: str, since: date | None = None, **said: int) -> list[Figure]:
    return [
        Figure(item, f"season_{name}", Decimal(value), own=True, since=since, basis="measured here")
        for name, value in said.items()
    ]


@pytest.mark.parametrize(
    ("where", "first", "last"),
    [
        # First and last day on which the season holds in 2026. Great Britain: March to August, as
        # the RSPB says (quoted at wisboroughgreen.org); Ireland: Wildlife Act 1976 s.40, notice at
        # kilkennyppn.ie; Germany: BNatSchG s.39(5), notice at gronau.de; France: BCAE 8, notice at
        # sainthilairedevillefranche.fr; Brussels: dhnet.be, 16 March 2023; Upper Austria:
        # naturschutzbund-ooe.at; the Netherlands: vogelbescherming.nl, 14 March 2024.
        (Where("GB"), (3, 1), (8, 31)),
        (ENGLAND, (3, 1), (8, 31)),
        (Where("GB", "Wales"), (3, 1), (8, 31)),
        (Where("GB", "Scotland"), (3, 1), (8, 31)),
        (Where("GB", "northern ireland"), (3, 1), (8, 31)),
        (Where("GB", "Ottersill"), (3, 1), (8, 31)),
        (Where("IE"), (3, 1), (8, 31)),
        (Where("DE"), (3, 1), (9, 30)),
        (Where("FR"), (3, 16), (8, 15)),
        (Where("BE", "Bruxelles"), (4, 1), (8, 15)),
        (Where("BE", "Wallonie"), (4, 1), (7, 31)),
        (Where("AT", "Oberösterreich"), (4, 1), (9, 30)),
        (Where("NL"), (3, 1), (7, 31)),
        (Where("ES"), (3, 1), (8, 31)),
        (Where("CA"), (3, 15), (8, 31)),
        (Where("AU"), (8, 1), (11, 30)),
        (Where("SE"), (3, 1), (8, 31)),
        (Where(), (3, 1), (8, 31)),
    ],
)
def test_the_nesting_season_begins_and_ends_on_its_days(
    where: Where, first: tuple[int, int], last: tuple[int, int]
) -> None:
    begins, ends, day = date(2026, *first), date(2026, *last), timedelta(days=1)

    def wanted(on: date) -> bool:
        return nest_check_wanted("privet", where, NONE, on=on) is not None

    assert [wanted(on) for on in (begins - day, begins, ends, ends + day)] == [
        *(False, True),
        *(True, False),
    ]


def test_a_rule_holds_from_its_day_on() -> None:
    # Farmed hedges in France: 1 April to 31 July by the order of 24 April 2015 (le-kiosque.org),
    # 16 March to 15 August since 2023.
    france = Where("FR")

    assert nesting_season(france, NONE, on=date(2022, 12, 31)).dates == "1 April to 31 July"
    assert nesting_season(france, NONE, on=date(2023, 1, 1)).dates == "16 March to 15 August"
    assert nesting_season(france, NONE, on=date(2015, 4, 23)).kind == "assumed, not measured"


def test_a_season_says_what_it_rests_on_and_what_to_check() -> None:
    assert nesting_season(Where("GB"), NONE, on=MAY_4).said == (
        "1 March to 31 August, risk season: no fixed dates for gardens; a nest in use or being "
        "built is protected all year; check your local rules"
    )
    assert nesting_season(Where("IE"), NONE, on=MAY_4).kind == "law"
    assert nesting_season(Where("SE"), NONE, on=MAY_4).said == (
        "1 March to 31 August, assumed, not measured: no date was looked up for this country; "
        "check your local rules"
    )


def test_the_studios_own_rule_stands_above_the_country_from_its_day_on() -> None:
    rules = Figures(tuple(own("nests", date(2026, 5, 1), from_month=2, to_month=9, to_day=15)))

    before = nesting_season(Where("IE"), rules, on=date(2026, 4, 30))
    after = nesting_season(Where("IE"), rules, on=date(2026, 5, 1))

    assert (before.dates, before.own) == ("1 March to 31 August", False)
    assert (after.dates, after.own) == ("1 February to 15 September", True)
    assert after.said == (
        "1 February to 15 September, the studio's own rule; check your local rules"
    )


@pytest.mark.parametrize(
    ("said", "dates"),
    [
        ({"from_month": 4, "to_month": 6}, "1 April to 30 June"),
        ({"from_month": 4, "from_day": 31, "to_month": 2}, "30 April to the end of February"),
        ({"from_month": 0, "to_month": 13}, "all year"),
        ({"from_month": 4}, "1 March to 31 August"),
        ({"to_month": 6, "from_day": 2}, "1 March to 31 August"),
    ],
)
def test_an_own_rule_needs_both_months_and_keeps_to_the_calendar(
    said: dict[str, int], dates: str
) -> None:
    assert nesting_season(ENGLAND, Figures(tuple(own("nests", **said))), on=MAY_4).dates == dates


def test_a_check_is_wanted_of_what_is_cut_from_a_hedge_or_tree_or_of_a_hedge() -> None:
    asked = [
        nest_check_wanted(plant, ENGLAND, NONE, on=MAY_4, cut_from=kind) is not None
        for plant, kind in [
            *(("privet", ""), ("ivy", ""), ("apple prunings", ""), ("nettle", "")),
            *(("avocado stones", "café"), ("hawthorn", "hedge"), ("hawthorn", "")),
        ]
    ]

    assert asked == [True, True, True, False, False, True, False]
    assert cut_from_of("hawthorn") == ""


def test_a_look_for_nests_counts_for_so_many_days() -> None:
    assert check_valid_days(NONE, on=MAY_4).value == 2
    week = Figure("nests", "checked_before_days", Decimal(0), own=True)
    assert check_valid_days(Figures((week,)), on=MAY_4).value == 0


def test_privet_is_gathered_from_september_to_the_end_of_february() -> None:
    days = [date(2026, 8, 31), date(2026, 9, 1), date(2027, 2, 28), date(2027, 3, 1)]

    assert [in_season("privet", ENGLAND, NONE, on=day) for day in days] == [
        *(False, True),
        *(True, False),
    ]
    assert in_season("privet", ENGLAND, NONE, on=date(2028, 2, 29))


def test_a_plant_with_two_parts_has_two_seasons() -> None:
    seasons = seasons_of("nettle", ENGLAND, NONE, on=MAY_4)

    assert [(row.part, row.dates) for row in seasons] == [
        ("young tops, for greens", "1 March to 30 June"),
        ("autumn regrowth, for beige", "1 September to 31 October"),
    ]
    assert [in_season("nettle", ENGLAND, NONE, on=date(2026, month, 1)) for month in (6, 7, 9)] == [
        *(True, False),
        True,
    ]


def test_where_nobody_knows_a_season_there_is_none() -> None:
    assert seasons_of("moss", ENGLAND, NONE, on=MAY_4) == ()
    assert all(seasons_of("privet", Where(each), NONE, on=MAY_4) == () for each in SOUTH)
    assert in_season("privet", Where("NZ"), NONE, on=MAY_4) is None


def test_the_studios_own_season_of_a_plant_stands_above_the_table() -> None:
    rules = Figures(tuple(own("privet", from_month=5, to_month=10)))

    (season,) = seasons_of("privet", Where("NZ"), rules, on=MAY_4)

    assert (season.dates, season.own, season.holds(MAY_4)) == ("1 May to 31 October", True, True)


def test_the_gap_of_privet_is_march_to_august() -> None:
    (privet,) = seasons_of("privet", ENGLAND, NONE, on=MAY_4)
    spring, summer = date(2027, 3, 1), date(2027, 8, 31)

    assert gap_after(privet, date(2026, 11, 23)) == (spring, summer)
    assert gap_after(privet, date(2027, 2, 28)) == (spring, summer)
    assert gap_after(privet, date(2027, 5, 4)) == (date(2027, 5, 4), summer)
    assert gap_after(privet, summer) == (summer, summer)
    (ivy,) = seasons_of("ivy", ENGLAND, NONE, on=MAY_4)
    assert (ivy.dates, gap_after(ivy, MAY_4)) == ("all year", None)


days_of_year = st.dates(date(2024, 1, 1), date(2024, 12, 31)).map(lambda day: (day.month, day.day))


@given(first=days_of_year, last=days_of_year, on=st.dates(date(2020, 1, 1), date(2090, 12, 31)))
def test_the_first_and_last_day_of_a_season_lie_in_it(
    first: tuple[int, int], last: tuple[int, int], on: date
) -> None:
    season = Season("moss", first, last)
    begins, ends = season.begins(on), season.ends(on)

    assert on <= begins < on + timedelta(days=367)
    assert on <= ends < on + timedelta(days=367)
    leap = (2, 29) in (first, last)
    assert leap or (season.holds(begins) and season.holds(ends))
    assert leap or season.holds(on) == (ends < begins or begins == on)


def test_each_row_of_both_tables_has_a_basis_and_stands_once() -> None:
    plants, nests = shipped_seasons(), shipped_nesting()

    for row in (*plants, *nests):
        assert row.season.basis in BASES
        assert row.season.source or row.season.basis != "published"
    parts = Counter((row.season.what, row.season.part, row.country, row.region) for row in plants)
    places = Counter((row.country, row.region, row.season.since) for row in nests)
    assert {*parts.values(), *places.values()} == {1}
    assert {row.country for row in nests} >= SOUTH


def test_no_row_gives_advice_on_law() -> None:
    said = [row.season.said for row in shipped_nesting()]

    assert [each for each in said if not each.endswith("; check your local rules")] == []


def test_the_seasons_are_those_of_the_catalogue() -> None:
    columns = ("item", "property", "low", "typical", "high", "unit", "basis", "source")
    months = {
        (line["item"], line["property"]): line["typical"]
        for line in lines_of("catalogue/dyestuffs.csv", columns)
    }
    other = {("nettle", "autumn regrowth, for beige"), ("apple prunings", "leaves")}
    seasons = [row.season for row in shipped_seasons()]
    compared = [each for each in seasons if (each.what, each.part) not in other]

    assert len(compared) == len(seasons) - 2
    for each in compared:
        found = (months[each.what, "season_start"], months[each.what, "season_end"])
        assert found == (str(each.first[0]), str(each.last[0])), each.what
