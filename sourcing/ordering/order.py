"""What to order: today, over the coming weeks, and one supplier beside another."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import date
from fractions import Fraction

from inventory.science.saying import say
from inventory.science.unclear import OutOfRange
from sourcing.ordering.answer import OrderPlan, Proof
from sourcing.ordering.costs import Picks, keeping_of, orders_of, surplus_of, total_of
from sourcing.ordering.facts import Need, Offer, Supplier
from sourcing.ordering.one_fibre import one_fibre
from sourcing.ordering.problem import Problem, ahead, now
from sourcing.ordering.solve import CannotBeMet, Effort, Found, Progress, search
from sourcing.ordering.step_by_step import cheaper, step_by_step
from sourcing.ordering.working_days import (
    NoWorkingDays,
    arrives_on,
    order_by_day,
    working_days_late,
)

# Beginning from the quick order leaves a smaller gap after 2 s; a search of ten seconds comes
# within a thousandth as soon or sooner without it (five made-up markets of sixty fibres and eight
# suppliers, measured here, 27 November 2026).
SHORT_S = 3.0
ROUND_S = 2.0  # the first round; each further one takes twice as long
EXACT_MINOR = 1e-3  # the search counts in floats; what differs by less costs the same


@dataclass(frozen=True, slots=True)
class Quote:
    """All that one supplier can bring, bought there alone, and what speaks against it."""

    supplier: str
    arrives_on: date  # ordered on the day asked for
    order_by: date  # the last day on which all of it still arrives in time
    late_working_days: int  # since that day; 0 when in time
    plan: OrderPlan


def order_now(
    needs: Iterable[Need],
    suppliers: Iterable[Supplier],
    offers: Iterable[Offer],
    *,
    on: date,
    effort: Effort | None = None,
) -> OrderPlan:
    """The cheapest orders of one day that meet every need in time, each fibre from one supplier.

    Parameters
    ----------
    needs : any order, may be empty; ready to dye, net of what is there (`needs_of`)
    suppliers : any order, one a name
    offers : any order, several a supplier and fibre allowed; all of them count together
    on : the day of ordering
    effort : how long to search and how close to come; None: ten seconds, a thousandth

    Returns
    -------
    plan : what nobody brings in time is counted at the earliest arrival and named as late; what
        nobody sells is named and left out; `proof` and `said` tell how good it is

    Raises
    ------
    CannotBeMet
        If a least value of an order stands against what the suppliers have.
    NoWorkingDays, UnknownCountry, OutOfRange

    References
    ----------
    The project's design papers, 13.7, "Orders": a whole line at its tier's price, a fibre from
    one supplier.
    """
    return _solved(now(needs, suppliers, offers, on=on), effort or Effort())


def order_in_rounds(
    needs: Iterable[Need],
    suppliers: Iterable[Supplier],
    offers: Iterable[Offer],
    *,
    on: date,
    effort: Effort,
) -> Iterator[OrderPlan]:
    """Ever better orders of one day: the quick one, then what rounds of searching add to it.

    Whoever stops listening keeps the last; a search on its own hands out nothing before its end.

    Parameters
    ----------
    The same as those of `order_now`. A round takes two seconds, each further one twice as long, all
    together no more than the effort; each begins from the best order so far.

    Returns
    -------
    plans : one or more, none dearer and none less sure than the one before; the last is `cheapest`
        or `within the gap`, or the time is out

    Raises
    ------
    The errors of `order_now`.
    """
    problem = now(needs, suppliers, offers, on=on)
    quick, bound = step_by_step(problem) if problem.needs else None, 0.0
    if not problem.needs or one_fibre(problem) is not None:
        yield _solved(problem, effort)
        return
    if quick is not None:
        yield _plan(quick, problem, "step by step", bound)
    best, gone, length = quick, 0.0, ROUND_S
    while gone < effort.seconds:
        seconds = min(length, effort.seconds - gone)
        told = _since(effort.tell, gone)
        found = search(problem, replace(effort, seconds=seconds, tell=told), known=best)
        best = cheaper(problem, (best, found.picks))
        gone, length, bound = gone + seconds, length * 2, max(bound, found.bound_minor)
        if best is not None:
            sure = replace(found, bound_minor=bound)
            proof = _proof(problem, sure, best, effort, searched=best is not quick)
            yield _plan(best, problem, proof, bound)
            if proof in ("cheapest", "within the gap"):
                return
    if best is None:
        raise OutOfTime(effort.seconds)


def _since(
    tell: Callable[[Progress], None] | None, gone: float
) -> Callable[[Progress], None] | None:  # fmt: skip
    """The same listener, told the seconds of all rounds."""
    if tell is None:
        return None
    return lambda progress: tell(replace(progress, seconds=gone + progress.seconds))


def order_ahead(
    needs: Iterable[Need],
    suppliers: Iterable[Supplier],
    offers: Iterable[Offer],
    *,
    on: date,
    keeping: Fraction,
    effort: Effort | None = None,
) -> OrderPlan:
    """The cheapest orders of a day and later ones, with what it costs to keep fibre until its use.

    Parameters
    ----------
    keeping : minor units a kg ready to dye and day, 0 or more; the studio's own figure

    The others, the answer and the errors as in `order_now`.
    """
    problem = ahead(needs, suppliers, offers, on=on, keeping=keeping)
    return _solved(problem, effort or Effort())


def side_by_side(
    needs: Iterable[Need],
    suppliers: Iterable[Supplier],
    offers: Iterable[Offer],
    *,
    on: date,
    effort: Effort | None = None,
) -> tuple[Quote, ...]:
    """What each supplier alone would bring: day of arrival, cost, surplus, order-by day.

    Parameters
    ----------
    The same as those of `order_now`; the effort is spent on each supplier.

    Returns
    -------
    quotes : one a supplier who brings something; those in time first, then the more complete,
        then the cheaper
    """
    needs, offers = tuple(needs), tuple(offers)

    def solve(problem: Problem) -> OrderPlan:
        return _solved(problem, effort or Effort())

    quotes = [
        quote
        for supplier in suppliers
        if (quote := _quote(needs, supplier, offers, on, solve)) is not None
    ]
    return tuple(sorted(quotes, key=_rank))


def at_a_glance(
    needs: Iterable[Need],
    suppliers: Iterable[Supplier],
    offers: Iterable[Offer],
    *,
    on: date,
) -> tuple[Quote, ...]:
    """The same without a search, for a morning's flags: exact for one fibre, else fibre by fibre.

    Parameters
    ----------
    The same as those of `side_by_side`. Who is closed for too long to count an arrival is left
    out.
    """
    needs, offers = tuple(needs), tuple(offers)
    quotes = []
    for supplier in suppliers:
        try:
            quote = _quote(needs, supplier, offers, on, _glanced)
        except (NoWorkingDays, OutOfRange):
            continue
        if quote is not None:
            quotes.append(quote)
    return tuple(sorted(quotes, key=_rank))


def _glanced(problem: Problem) -> OrderPlan:
    """An order without a search.

    Raises
    ------
    CannotBeMet
        If there is none, or none was found.
    """
    plainly = one_fibre(problem)
    if plainly is not None:
        return _plan(plainly, problem, "cheapest", float(total_of(plainly, problem)))
    quick = step_by_step(problem)
    if quick is None:
        raise CannotBeMet(sorted(problem.slots_of))
    return _plan(quick, problem, "step by step", 0.0)


def _quote(
    needs: tuple[Need, ...],
    supplier: Supplier,
    offers: tuple[Offer, ...],
    on: date,
    solve: Callable[[Problem], OrderPlan],
) -> Quote | None:
    problem = now(needs, [supplier], offers, on=on)
    brought = [need for need in needs if need not in problem.not_sold]
    if not brought:
        return None
    try:
        plan = solve(problem)
    except CannotBeMet:
        return None
    last = order_by_day(supplier, needed_by=min(need.by for need in brought))
    late = working_days_late(supplier, order_by=last, on=on)
    return Quote(supplier.name, arrives_on(supplier, ordered_on=on), last, late, plan)


def _rank(quote: Quote) -> tuple[bool, int, Fraction, str]:
    plan = quote.plan
    return bool(plan.late), len(plan.not_sold), plan.total_minor, quote.supplier


def _solved(problem: Problem, effort: Effort) -> OrderPlan:
    """The cheapest order by a plain sum where that will do, else the better of the quick order and
    what the search finds."""
    if not problem.needs:
        return _plan((), problem, "cheapest", 0.0)
    plainly = one_fibre(problem)
    if plainly is not None:
        return _plan(plainly, problem, "cheapest", float(total_of(plainly, problem)))
    quick = step_by_step(problem)
    known = quick if effort.seconds <= SHORT_S else None
    found = search(problem, _telling(effort, problem, quick), known=known)
    best = cheaper(problem, (quick, found.picks))
    if best is None:
        raise OutOfTime(effort.seconds)
    proof = _proof(problem, found, best, effort, searched=best is not quick)
    return _plan(best, problem, proof, found.bound_minor)


def _telling(effort: Effort, problem: Problem, quick: Picks | None) -> Effort:
    """The same effort; what is told begins with the quick order and never falls behind it."""
    tell = effort.tell
    if tell is None or quick is None:
        return effort
    known = float(total_of(quick, problem))

    def listen(progress: Progress) -> None:
        best = known if progress.best_minor is None else min(known, progress.best_minor)
        tell(replace(progress, best_minor=best))

    tell(Progress(0.0, known, None))
    return replace(effort, tell=listen)


class OutOfTime(RuntimeError):
    """Neither the search nor the quick way found any order."""

    def __init__(self, seconds: float) -> None:
        self.seconds = seconds
        super().__init__(
            say(
                "No order was found in {seconds:g} s, and buying each fibre where it is "
                "cheapest breaks a least value of an order. Allow more time, or ask fewer "
                "suppliers.",
                seconds=seconds,
            )
        )


def _proof(
    problem: Problem, found: Found, best: Picks, effort: Effort, *, searched: bool
) -> Proof:  # fmt: skip
    total = float(total_of(best, problem))
    assert found.bound_minor <= total + EXACT_MINOR, "an order is cheaper than any can be"
    if found.bound_minor >= total - EXACT_MINOR:
        return "cheapest"
    if found.bound_minor >= total * (1 - effort.gap):
        return "within the gap"
    return "time ran out" if searched else "step by step"


def _plan(picks: Picks, problem: Problem, proof: Proof, bound_minor: float) -> OrderPlan:
    orders = orders_of(picks)
    plan = OrderPlan(
        orders,
        sum(order.minor for order in orders),
        keeping_of(picks, problem),
        proof,
        bound_minor,
        surplus_of(picks, problem),
        problem.late,
        problem.not_sold,
    )
    return replace(plan, bound_minor=min(bound_minor, float(plan.total_minor)))
