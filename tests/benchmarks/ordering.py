"""Orders of markets made up by chance: how long the search takes and how close it comes.

The bare equivalent is what the budget allows: ten seconds by the clock, a gap of a thousandth.
For the quick order it is the search itself, in time and in cost.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from fractions import Fraction
from typing import TypeVar

from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.costs import total_of
from sourcing.ordering.order import order_ahead, order_now
from sourcing.ordering.problem import now
from sourcing.ordering.shopping import stuffs_needed, to_buy, together
from sourcing.ordering.solve import Effort
from sourcing.ordering.step_by_step import step_by_step
from tests.benchmarks.rows import Row, ms, number, within
from tests.benchmarks.setting import Setting
from tests.sourcing.ordering.made_up import ON, Market, market

BUDGET_S, BUDGET_GAP = 10.0, 0.001
SECONDS, FIBRES_AT_MOST = 2.0, 24  # of the page, as api/shopping.py has them
LEAST_RATIO = 0.001  # a proved order has no gap at all, and a ratio is above nothing
KEEPING = Fraction(1, 2)  # pence a kg and day; made up, as the rest of the market
COUNTED = (
    "ordering: made-up markets, {seeds} of them, the slowest and the widest gap shown; four "
    "suppliers in five sell a fibre, in one or two packs at three price tiers, with carriage and "
    "least values; seconds by the clock, what others on the machine take counted in, the solver "
    "already loaded."
)

Answer = TypeVar("Answer")


@dataclass(frozen=True)
class Run:
    """One market worked out."""

    plan: OrderPlan
    clock_s: float
    work_s: float


def ordering(setting: Setting) -> Iterator[Row]:
    """One day of ordering at the size of the budget, the quick order, and several days ahead."""
    fibres, suppliers, seeds = (6, 3, 2) if setting.quick else (60, 8, 5)
    markets = [market(seed, fibres=fibres, suppliers=suppliers) for seed in range(1, seeds + 1)]
    counted = COUNTED.format(seeds=seeds)
    _one_day(market(0, fibres=2, suppliers=2))  # loads the solver
    runs = [_one_day(each) for each in markets]
    words = f"{fibres} fibres, {suppliers} suppliers"
    yield from _search(runs, f"ordering {words}", counted, judged=True)
    yield from _quick(markets, runs, words, counted)
    yield from _page(markets, words, counted)
    later = 4 if setting.quick else 20
    ahead = [_ahead(market(seed, fibres=later, suppliers=suppliers, days=3))
             for seed in range(1, setting.rounds(2, 1) + 1)]  # fmt: skip
    words = f"ahead, {later} fibres on 3 days, {suppliers} suppliers"
    yield from _search(ahead, f"ordering {words}", counted, judged=False)


def _search(runs: list[Run], what: str, counted: str, *, judged: bool) -> Iterator[Row]:
    slowest = max(runs, key=lambda run: run.clock_s)
    widest = max(runs, key=lambda run: run.plan.gap).plan
    time_, gap = slowest.clock_s / BUDGET_S, widest.gap / BUDGET_GAP
    said = f"{number(slowest.clock_s)} s, {number(slowest.work_s)} s of work"
    yield Row(what, said, f"{BUDGET_S:g} s", counted=counted, **_judged(time_, judged))
    proofs = ", ".join(sorted({run.plan.proof for run in runs}))
    yield Row(
        f"gap, {what.removeprefix('ordering ')}", f"{widest.gap:.4%} ({proofs})",
        f"{BUDGET_GAP:.1%}", counted=counted, **_judged(max(gap, LEAST_RATIO), judged),
    )  # fmt: skip


def _judged(ratio: float, judged: bool) -> dict[str, object]:
    return within(ratio, 1) if judged else {"ratio": ratio}


def _quick(markets: list[Market], runs: list[Run], words: str, counted: str) -> Iterator[Row]:
    quick = [_timed(lambda each=each: _step_by_step(each)) for each in markets]
    slowest = max(seconds for _, seconds, _ in quick)
    searched = max(run.clock_s for run in runs)
    yield Row(f"quick order, {words}", ms(slowest), ms(searched), slowest / searched,
              counted=counted)  # fmt: skip
    dearest = max(
        float(cost / run.plan.total_minor) for (cost, _, _), run in zip(quick, runs, strict=True)
    )
    yield Row(f"its cost, {words}", f"{dearest - 1:.2%} more", "the search", dearest,
              counted=counted)  # fmt: skip


def _page(markets: list[Market], words: str, counted: str) -> Iterator[Row]:
    """What the page works out: suppliers side by side, and an order searched for two seconds."""
    beside = max(_timed(lambda each=each: _side_by_side(each))[1] for each in markets)
    first = f"{min(FIBRES_AT_MOST, len(markets[0].needs))} fibres side by side"
    yield Row(first, ms(beside), f"{SECONDS:g} s", beside / SECONDS, counted=counted)
    found = [_timed(lambda each=each: _short(each)) for each in markets]
    slowest = max(seconds for _, seconds, _ in found)
    yield Row(f"page's search, {words}", f"{number(slowest)} s", f"{SECONDS:g} s",
              slowest / SECONDS, counted=counted)  # fmt: skip
    widest = max((plan for plan, _, _ in found), key=lambda plan: plan.gap)
    proofs = ", ".join(sorted({plan.proof for plan, _, _ in found}))
    yield Row(f"its gap, {words}", f"{widest.gap:.4%} ({proofs})", f"{BUDGET_GAP:.1%}",
              max(widest.gap / BUDGET_GAP, LEAST_RATIO), counted=counted)  # fmt: skip


def _side_by_side(each: Market) -> int:
    stuffs = stuffs_needed(each.needs)[:FIBRES_AT_MOST]
    return sum(
        len(to_buy(stuff, each.needs, each.suppliers, each.offers, on=ON).quotes)
        for stuff in stuffs
    )


def _short(each: Market) -> OrderPlan:
    effort = Effort(seconds=SECONDS)
    plan = together(each.needs, each.suppliers, each.offers, on=ON, effort=effort).plan
    assert plan is not None
    return plan


def _step_by_step(each: Market) -> Fraction:
    problem = now(each.needs, each.suppliers, each.offers, on=ON)
    picks = step_by_step(problem)
    assert picks is not None
    return total_of(picks, problem)


def _one_day(each: Market) -> Run:
    effort = Effort(seconds=BUDGET_S, gap=BUDGET_GAP)
    return Run(*_timed(
        lambda: order_now(each.needs, each.suppliers, each.offers, on=ON, effort=effort)
    ))  # fmt: skip


def _ahead(each: Market) -> Run:
    effort = Effort(seconds=BUDGET_S, gap=BUDGET_GAP)
    return Run(*_timed(
        lambda: order_ahead(each.needs, each.suppliers, each.offers, on=ON, keeping=KEEPING,
                            effort=effort)
    ))  # fmt: skip


def _timed(action: Callable[[], Answer]) -> tuple[Answer, float, float]:
    """An answer with its seconds by the clock and its seconds of work on all cores."""
    clock, work = time.perf_counter(), time.process_time()
    answer = action()
    return answer, time.perf_counter() - clock, time.process_time() - work
