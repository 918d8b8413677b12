"""Runs served by intervals: against the library's own greatest flow, and a search over all ways."""

from __future__ import annotations

from datetime import date, timedelta
from itertools import combinations

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import maximum_flow

from sourcing.putting_by.facts import EVENLY, PutByWish, Stock, Use, uses_of
from sourcing.putting_by.serving import served

FIRST = date(2027, 3, 1)


def day(n: int) -> date:
    return FIRST + timedelta(days=n)


@st.composite
def yards(draw: st.DrawFn) -> tuple[list[Use], list[Stock]]:
    many = draw(st.integers(1, 5))
    uses = [Use(f"run {n}", day(10 * n), day(10 * n + 9), draw(st.integers(1, 9)))
            for n in range(many)]  # fmt: skip
    stocks = []
    for n in range(draw(st.integers(0, 5))):
        since = draw(st.integers(0, 60))
        last = draw(st.integers(since, 80))
        stocks.append(Stock(f"lot {n}", draw(st.integers(1, 12)), day(since), day(last)))
    return uses, stocks


def greatest_flow(uses: list[Use], stocks: list[Stock]) -> int:
    """What can be served at all: stocks on the left, runs on the right (scipy)."""
    many = len(stocks) + len(uses) + 2
    edges = np.zeros((many, many), dtype=np.int32)
    for i, stock in enumerate(stocks, 1):
        edges[0, i] = stock.mg
        for j, use in enumerate(uses, 1 + len(stocks)):
            if stock.since <= use.since and use.last <= stock.last:
                edges[i, j] = stock.mg
    for j, use in enumerate(uses, 1 + len(stocks)):
        edges[j, many - 1] = use.mg
    return int(maximum_flow(csr_matrix(edges), 0, many - 1).flow_value)


@given(yards())
def test_no_other_way_of_sharing_serves_more(yard: tuple[list[Use], list[Stock]]) -> None:
    uses, stocks = yard
    rows = served(uses, stocks)

    assert sum(use.mg for use in uses) - sum(row.short_mg for row in rows) == greatest_flow(
        uses, stocks
    )


@given(yards())
def test_nothing_is_used_twice_before_it_is_there_or_past_its_day(
    yard: tuple[list[Use], list[Stock]],
) -> None:
    uses, stocks = yard
    by_code = {stock.code: stock for stock in stocks}
    for whole in (False, True):
        used: dict[str, int] = {}
        for row in served(uses, stocks, whole=whole):
            assert not whole or row.short_mg in (0, row.use.mg)
            for code, mg in row.takes:
                used[code] = used.get(code, 0) + mg
                assert by_code[code].since <= row.use.since
                assert row.use.last <= by_code[code].last
        assert all(mg <= by_code[code].mg for code, mg in used.items())


@given(yards())
def test_whole_runs_are_served_where_all_of_them_can_be(
    yard: tuple[list[Use], list[Stock]],
) -> None:
    uses, stocks = yard
    whole = served(uses, stocks, whole=True)
    kept = [row.use for row in whole if not row.short_mg]

    assert all(row.short_mg == 0 for row in served(kept, stocks))
    if all(row.short_mg == 0 for row in served(uses, stocks)):
        assert len(kept) == len(uses)


@given(yards(), st.integers(0, 30), st.integers(1, 12))
def test_more_on_the_shelf_never_leaves_more_lacking(
    yard: tuple[list[Use], list[Stock]], since: int, mg: int
) -> None:
    uses, stocks = yard
    more = [*stocks, Stock("more", mg, day(since), day(since + 40))]

    def short(rows: list[Stock]) -> int:
        return sum(row.short_mg for row in served(uses, rows))

    assert short(more) <= short(stocks)


def test_runs_share_the_months_evenly_where_it_is_said_or_months_do_not_suffice() -> None:
    wish = PutByWish("w", "privet", 4, 1, date(2027, 3, 1), date(2027, 8, 31), spread=EVENLY)
    many = PutByWish("w", "privet", 12, 1, date(2027, 3, 1), date(2027, 8, 31))

    assert [use.since for use in uses_of(wish)] == [
        date(2027, 3, 1), date(2027, 4, 16), date(2027, 6, 1), date(2027, 7, 17),
    ]  # fmt: skip
    assert uses_of(wish)[-1].last == date(2027, 8, 31)
    assert len(uses_of(many)) == 12
    assert all(a.last < b.since for a, b in combinations(uses_of(many), 2))


def test_six_runs_take_six_months_and_a_seventh_makes_them_share() -> None:
    six = PutByWish("w", "privet", 6, 1, date(2027, 3, 1), date(2027, 8, 31))
    seven = PutByWish("w", "privet", 7, 1, date(2027, 3, 1), date(2027, 8, 31))

    assert uses_of(six)[5].since == date(2027, 8, 1)
    assert uses_of(seven)[1].since == date(2027, 3, 27)  # 184 days in seven parts


def test_more_runs_than_days_have_a_day_each_all_the_same() -> None:
    wish = PutByWish("w", "privet", 5, 1, date(2027, 3, 1), date(2027, 3, 3), spread=EVENLY)

    assert all(use.since == use.last for use in uses_of(wish))
