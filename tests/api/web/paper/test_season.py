"""The season wheel: what the tables say, round a year, with the same in words."""

from __future__ import annotations

from datetime import date
from math import hypot
from typing import Any

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from hypothesis import given
from hypothesis import strategies as st

from api.web.season.days import YEAR, packed, shared, stretch_of, within_year
from api.web.season.wheel import HUB, MIDDLE, RIM, Told, arc, sector, wheel_of
from inventory.models import Studio
from inventory.science.seasons import Season, shipped_seasons
from tests.api.web.pages import as_read, read, sound, words
from tests.api.web.yard import MONDAY

MAY = "2027-05-04T07:30"
stretches = st.tuples(st.integers(0, YEAR - 1), st.integers(1, YEAR)).map(lambda s: (s[0], sum(s)))


def page(client: Client, at: str = MONDAY) -> Any:
    return client.get("/season/", {"at": at})


def row(client: Client, what: str, at: str = MONDAY) -> str:
    """What the tables say of a dyestuff."""
    rows = read(page(client, at)).query(".season-rows tbody tr")
    return next(text for text in (as_read(row.to_text()) for row in rows) if text.startswith(what))


@pytest.mark.usefixtures("yard")
def test_the_wheel_stands_in_words_too(client: Client) -> None:
    found = page(client)
    said = words(found)

    assert sound(found) == []
    assert "1 March to 31 August, risk season" in said
    assert "check your local rules" in said
    assert "privet, 1 September to the end of February" in said
    assert "birds nest, 1 March to 31 August: look before hedge or tree is cut" in said


@pytest.mark.usefixtures("yard")
def test_what_is_drawn_or_named_is_all_that_the_tables_know(client: Client) -> None:
    said = words(page(client))

    for what in {each.season.what for each in shipped_seasons()}:
        assert what in said


@pytest.mark.usefixtures("yard")
def test_privet_says_who_gives_it_when_nothing_comes_and_when_birds_nest(client: Client) -> None:
    said = row(client, "privet")

    assert "1 September to the end of February yes" in said
    assert "Hedge at the corner house, 27 Nov 2026, to 28 Feb 2027" in said
    assert "1 Mar 2027 to 31 Aug 2027" in said
    assert "look for nests, 1 March to 31 August" in said


@pytest.mark.usefixtures("yard")
def test_in_may_the_hedge_is_left_alone(client: Client) -> None:
    assert "1 September to the end of February no" in row(client, "privet", MAY)
    assert "That is now." in words(page(client, MAY))
    assert "That is now." not in words(page(client))


@pytest.mark.usefixtures("yard")
def test_a_dyestuff_without_a_season_comes_as_its_source_gives_it(client: Client) -> None:
    said = row(client, "avocado stones")

    assert "no season is written down" in said
    assert "Lantern Steps café, Mon and Thu" in said


@pytest.mark.usefixtures("yard")
def test_the_studio_s_country_decides_when_birds_nest(client: Client) -> None:
    Studio.objects.update(country="DE", region="")

    assert "1 March to 30 September, law" in words(page(client))


@pytest.mark.usefixtures("yard")
def test_a_studio_of_the_south_is_told_no_northern_season(client: Client) -> None:
    Studio.objects.update(country="NZ", region="")

    found = page(client)

    assert sound(found) == []
    assert "no season is written down" in row(client, "privet")


@pytest.mark.usefixtures("yard")
def test_the_wheel_asks_the_tables_no_more_often_than_the_week(client: Client) -> None:
    with CaptureQueriesContext(connection) as asked:
        page(client)

    assert len(asked) <= 8


# -- shapes ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("first", "last", "stretch"),
    [
        ((1, 1), (12, 31), (0, 366)),
        ((3, 1), (8, 31), (60, 244)),
        ((9, 1), (2, 29), (244, 426)),
        ((2, 29), (2, 29), (59, 60)),
    ],
)
def test_a_season_is_a_stretch_of_a_leap_year(
    first: tuple[int, int], last: tuple[int, int], stretch: tuple[int, int]
) -> None:
    assert stretch_of(Season("x", first, last)) == stretch


@given(stretches, stretches)
def test_days_in_both_are_in_each(one: tuple[int, int], other: tuple[int, int]) -> None:
    def days(stretch: tuple[int, int]) -> set[int]:
        return {day for part in within_year(stretch) for day in range(*part)}

    both = {day for part in shared(one, other) for day in range(*part)}

    assert both == days(one) & days(other)


@given(st.lists(stretches, max_size=20))
def test_no_two_on_one_ring_touch(rows: list[tuple[int, int]]) -> None:
    places = packed(rows)

    for n, one in enumerate(rows):
        for m, other in enumerate(rows[:n]):
            assert places[n] != places[m] or not shared(one, other)


def test_january_is_at_the_top_and_april_at_the_right() -> None:
    """The first of January at twelve o'clock, a quarter of a year later at three."""
    assert arc(100, (0, 10)).startswith(f"M{MIDDLE:.1f} {MIDDLE - 100:.1f}A")
    x, y = (float(text) for text in arc(100, (91, 100))[1:].partition("A")[0].split())
    assert x > MIDDLE + 99
    assert abs(y - MIDDLE) < 2


def test_a_whole_year_is_drawn_in_two_halves() -> None:
    assert sector(100, 200, (0, YEAR)).count("M") == 2


def test_what_finds_no_ring_is_named() -> None:
    own = [Told(f"plant {n}", f"plant {n}, all year", (0, YEAR), f"plant {n}") for n in range(40)]

    wheel = wheel_of(own, [], nests=(60, 244), nest_words="birds nest", today=327)

    drawn = {row.text for row in wheel.words}
    assert wheel.left_out
    assert {row.words for row in own} == drawn & {row.words for row in own} | set(wheel.left_out)


def test_nothing_is_drawn_beyond_the_rim_or_over_the_hub() -> None:
    told = [Told("privet", "privet", (244, 426), "privet", cut=True, given=((327, 425),))]
    wheel = wheel_of(told, told, nests=(60, 244), nest_words="birds nest", today=327)

    for shape in wheel.shapes:
        for part in shape.path.replace("M", " M").replace("L", " L").split(" M")[1:]:
            x, y = (float(text) for text in part.partition("A")[0].split()[:2])
            assert HUB - 1 <= hypot(x - MIDDLE, y - MIDDLE) <= RIM + 1


def test_this_week_is_marked_where_the_year_stands() -> None:
    wheel = wheel_of([], [], nests=(60, 244), nest_words="birds nest", today=0)

    assert date(2026, 1, 1).timetuple().tm_yday - 1 == 0
    assert wheel.week == sector(HUB, RIM, (0, 7))
