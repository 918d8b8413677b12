"""Which fibre has to be ordered by when, from whom, and what is wrong with what is ordered.

Looked at every morning, so without a search: one fibre at a time, each supplier alone.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from fractions import Fraction

from inventory.science.days import local_day
from inventory.science.saying import counted, joined, say
from sourcing.ordering.facts import Coming, Need, Stuff
from sourcing.ordering.order import Quote, at_a_glance
from sourcing.week.facts import WeekFacts
from sourcing.week.fibre_to_buy import fibre_needs, fibre_wanted
from sourcing.week.plan import Answer, Flag
from sourcing.week.words import day_in_words, day_within, days_in_words, kilos, listed, priced

LATELY_DAYS = 7  # a supplier's order-by day that went by so lately is told once more


@dataclass(frozen=True, slots=True)
class ToOrder:
    """One fibre that runs are short of, with what each supplier could bring of it today."""

    stuff: Stuff
    name: str  # "wool", or "wool yarn" where two forms of it are wanted
    needs: tuple[Need, ...]  # the earliest first, at least one
    quotes: tuple[Quote, ...]  # those in time first, then the cheaper; may be empty

    @property
    def by(self) -> date:
        """The first day on which some of it is needed."""
        return self.needs[0].by

    @property
    def runs(self) -> tuple[str, ...]:
        return tuple(dict.fromkeys(run for need in self.needs for run in need.runs))

    @property
    def in_time(self) -> tuple[Quote, ...]:
        """Who can still bring all of it in time, the cheapest first."""
        return tuple(quote for quote in self.quotes if not quote.plan.late)

    @property
    def gone(self) -> tuple[Quote, ...]:
        """Whose order-by day has gone by, the last to go first."""
        late = [quote for quote in self.quotes if quote.plan.late]
        return tuple(sorted(late, key=lambda quote: (quote.order_by, quote.supplier), reverse=True))


def to_order(facts: WeekFacts) -> tuple[ToOrder, ...]:
    """Every fibre that somebody sells and runs are short of, by fibre."""
    if not facts.offers:
        return ()
    needs = fibre_needs(fibre_wanted(facts))
    stuffs = sorted({need.stuff for need in needs})
    forms = [stuff.fibre for stuff in stuffs]
    return tuple(
        _to_order(
            facts,
            stuff,
            stuff.fibre if forms.count(stuff.fibre) == 1 else joined(" ", stuff),
            tuple(need for need in needs if need.stuff == stuff),
        )
        for stuff in stuffs
    )


def _to_order(facts: WeekFacts, stuff: Stuff, name: str, needs: tuple[Need, ...]) -> ToOrder:
    today = local_day(facts.at, zone=facts.zone)
    offers = [offer for offer in facts.offers if offer.stuff == stuff]
    selling = {offer.supplier for offer in offers}
    suppliers = [row for row in facts.suppliers if row.name in selling]
    return ToOrder(stuff, name, needs, at_a_glance(needs, suppliers, offers, on=today))


# -- flags -----------------------------------------------------------------------------------


def order_flags(facts: WeekFacts, rows: tuple[ToOrder, ...], *, last: date) -> Iterator[Flag]:
    """What to order by which day, then what is to be sent, then what has not come.

    A fibre is flagged once an order-by day falls in the period, and once more, for today, after
    one has lately gone by: each that goes leaves fewer who can bring it.

    Parameters
    ----------
    last : the last day of the period
    """
    today = local_day(facts.at, zone=facts.zone)
    for row in rows:
        yield from _order_flag(facts, row, today, last)
    seen: set[tuple[str, str]] = set()
    for coming in facts.coming:
        for kind, flag in _on_the_way(coming, today):
            if (kind, coming.label) not in seen:
                seen.add((kind, coming.label))
                yield flag


def _order_flag(facts: WeekFacts, row: ToOrder, today: date, last: date) -> Iterator[Flag]:
    if not row.quotes:
        return
    best = row.in_time[0] if row.in_time else min(row.quotes, key=_soonest)
    lately = any(today - quote.order_by <= timedelta(LATELY_DAYS) for quote in row.gone)
    by = min((quote.order_by for quote in row.in_time), default=today)
    if lately or not row.in_time:
        by = today
    if by > last:
        return
    said = day_within(by, today)
    parts: list[str] = [
        say(
            "order {name} {which}",
            name=row.name,
            which=said if said == "today" else say("by {said}", said=said),
        )
    ]
    parts.append(say("{brings}, {needed_by}", brings=brings(facts, best), needed_by=needed_by(row)))
    if row.gone and row.in_time:
        parts.append(listed(gone_by(quote) for quote in row.gone[:2]))
    yield Flag(
        "order",
        row.name,
        by,
        say("{parts}: {parts_2}", parts=parts[0], parts_2=joined("; ", parts[1:])),
    )


def _soonest(quote: Quote) -> tuple[date, Fraction, str]:
    return quote.arrives_on, quote.plan.total_minor, quote.supplier


def _on_the_way(coming: Coming, today: date) -> Iterator[tuple[str, Flag]]:
    what = say("order {label}", label=coming.label)
    if coming.state == "written":
        text = say(
            "send {what} to {supplier}: {fibre} comes only then",
            what=what,
            supplier=coming.supplier,
            fibre=coming.stuff.fibre,
        )
        yield "send", Flag("order", coming.label, today, text)
    if coming.overdue_since is not None:
        days = days_in_words((today - coming.overdue_since).days)
        text = say(
            "ask {supplier} about {what}: {fibre} was to come {overdue_since}, {days} ago",
            supplier=coming.supplier,
            what=what,
            fibre=coming.stuff.fibre,
            overdue_since=day_in_words(coming.overdue_since),
            days=days,
        )
        yield "ask", Flag("order", coming.label, today, text)


# -- words -----------------------------------------------------------------------------------


def brings(facts: WeekFacts, quote: Quote) -> str:
    """What one brings, when and for how much: `near shop brings 4 kg Mon 30 Nov for £112`."""
    bought = kilos(sum(order_line.mg for order in quote.plan.orders for order_line in order.lines))
    cost = priced(quote.plan.cost_minor, facts.currency)
    most = "" if quote.plan.proof == "cheapest" else " at most"
    return say(
        "{supplier} brings {bought} {arrives_on} for {cost}{most}",
        supplier=quote.supplier,
        bought=bought,
        arrives_on=day_in_words(quote.arrives_on),
        cost=cost,
        most=most,
    )


def gone_by(quote: Quote) -> str:
    """Whose order-by day has gone by: `the order-by day of far mill was Thu 19 Nov`."""
    return say(
        "the order-by day of {supplier} was {order_by}",
        supplier=quote.supplier,
        order_by=day_in_words(quote.order_by),
    )


def needed_by(row: ToOrder) -> str:
    """By when it is needed and for which runs: `needed by Mon 7 Dec (G)`."""
    more = " at first" if len(row.needs) > 1 else ""
    return say(
        "needed by {by}{more} ({runs})", by=day_in_words(row.by), more=more, runs=listed(row.runs)
    )


# -- answers ---------------------------------------------------------------------------------


def with_suppliers(
    facts: WeekFacts, answers: tuple[Answer, ...], rows: tuple[ToOrder, ...]
) -> tuple[Answer, ...]:
    """The answers; those that are short of fibre with who could bring it, or what is ordered."""
    return tuple(_with_suppliers(facts, answer, rows) for answer in answers)


def _with_suppliers(facts: WeekFacts, answer: Answer, rows: tuple[ToOrder, ...]) -> Answer:
    short = {row.what for row in answer.short if row.kind == "fibre"}
    if not short:
        return answer
    notes = [
        note
        for row in rows
        if answer.run in row.runs and row.stuff.fibre in short
        for note in _quotes_said(facts, row)
    ]
    notes += [
        say(
            "{code} to {supplier} is {state}: its {fibre} counts once a day is confirmed",
            code=coming.code,
            supplier=coming.supplier,
            state=coming.state,
            fibre=coming.stuff.fibre,
        )
        for coming in facts.coming
        if coming.stuff.fibre in short and not coming.confirmed
    ]
    return replace(answer, notes=(*answer.notes, *notes)) if notes else answer


def _quotes_said(facts: WeekFacts, row: ToOrder) -> Iterator[str]:
    """Each supplier in a line: what it brings and when, and whether that is in time."""
    for quote in row.quotes:
        said = say("ordered today {brings}", brings=brings(facts, quote))
        if not quote.plan.late:
            yield say(
                "{said}: in time for {by}, order by {day}",
                said=said,
                by=day_in_words(row.by),
                day=_day(quote),
            )
            continue
        late = quote.late_working_days
        ago = (
            ""
            if not late
            else counted(", {count} working day ago", ", {count} working days ago", count=late)
        )
        gone = say("its order-by day was {day}{ago}", day=_day(quote), ago=ago)
        yield say(
            "{said}: too late for {by}, {gone}", said=said, by=day_in_words(row.by), gone=gone
        )


def _day(quote: Quote) -> str:
    return day_in_words(quote.order_by)
