"""Orders in words: how each stands, what it brings, when it comes and what has come of it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date

from django.urls import reverse

from api.question import Question
from api.web.note.deeds import Deed
from api.web.note.ways import ways_from
from api.web.orders.words import day_said, money_said, packs_said, stuff_said, weight_said
from inventory.science.saying import counted, joined, say
from sourcing.ordered import DeliveryFacts, EventFacts, OrderFacts, State
from sourcing.week.words import listed

OPEN_AT_MOST = 60  # on the page
CLOSED_AT_MOST = 20
LINES_NAMED = 4  # of one order in the list
RUNS_NAMED = 8

# The tone of a state's word and the name of its mark.
LOOKS: dict[State, tuple[str, str]] = {
    "written": ("plain", "written"),
    "sent": ("wait", "sent"),
    "confirmed": ("yes", "confirmed"),
    "received in part": ("wait", "part"),
    "received": ("yes", "received"),
    "called off": ("no", "off"),
}
FORMS_OF: dict[State, tuple[str, ...]] = {
    "written": ("send-order", "call-off-order"),
    "sent": ("confirm-order", "order-came", "call-off-order"),
    "confirmed": ("order-came", "confirm-order", "call-off-order"),
    "received in part": ("order-came", "call-off-order"),
    "received": (),
    "called off": (),
}
NEXT: dict[State, str] = {
    "written": say("Send it, and say so here."),
    "sent": say("Ask the supplier for a day; until then no run counts on it."),
    "confirmed": say("Runs count on it from that day."),
    "received in part": say("The rest is still to come."),
    "received": "",
    "called off": "",
}


@dataclass(frozen=True, slots=True)
class OrderRow:
    """One order in the list."""

    label: str
    address: str
    supplier: str
    state: str
    tone: str
    mark: str
    overdue: str  # empty while it is not
    when: str
    brings: str
    came: str
    runs: str
    total: str
    next: str
    ways: tuple[Deed, ...]  # to the forms of what happens next


def rows_of(
    orders: Iterable[OrderFacts], *, on: date, question: Question | None = None
) -> tuple[OrderRow, ...]:
    """Orders as the page lists them, with ways to their forms; without those in a shell."""
    return tuple(_row(order, on, question) for order in orders)


def _row(order: OrderFacts, on: date, question: Question | None) -> OrderRow:
    tone, mark = LOOKS[order.state]
    return OrderRow(
        label=order.label,
        address=reverse("order", args=[order.number]) + (question.carried if question else ""),
        supplier=order.supplier,
        state=order.state,
        tone=tone,
        mark=mark,
        overdue=overdue_said(order, on),
        when=joined(". ", happened(order, on)),
        brings=brings(order),
        came=came(order),
        runs=listed(runs_named(order.runs)),
        total=money_said(order.minor, order.currency),
        next=NEXT[order.state],
        ways=ways_from(question, *FORMS_OF[order.state], order=str(order.number))
        if question
        else (),
    )


def overdue_said(order: OrderFacts, on: date) -> str:
    """That an order should have come by now; empty where it may still come in time."""
    if not order.is_overdue(on) or order.expected_on is None:
        return ""
    return say("should have come on {day_said}", day_said=day_said(order.expected_on, on))


def happened(order: OrderFacts, on: date) -> Iterator[str]:
    """What has become of an order, as it happened."""
    yield say("Written {day_said}", day_said=day_said(order.written_at.date(), on))
    said = [(event.at, _event(order, event, on)) for event in order.events]
    said += [(row.at, _delivery(row, on)) for row in order.deliveries]
    yield from (text for _, text in sorted(said, key=lambda row: row[0]))


def _event(order: OrderFacts, event: EventFacts, on: date) -> str:
    day = day_said(event.at.date(), on)
    note = say(" ({note})", note=event.note) if event.note else ""
    if event.what == "called off" or event.arrives_on is None:
        what = say("The rest called off") if order.rest_called_off else say("Called off")
        return say("{what} {day}{note}", what=what, day=day, note=note)
    comes = day_said(event.arrives_on, on)
    if event.what == "sent":
        return say("Sent {day}, counted to come {comes}{note}", day=day, comes=comes, note=note)
    return say("Confirmed {day}, comes {comes}{note}", day=day, comes=comes, note=note)


def _delivery(row: DeliveryFacts, on: date) -> str:
    packs = sum(one.packs for one in row.lines)
    lots = listed(one.lot for one in row.lines[:LINES_NAMED])
    return counted(
        "{count:,} pack came {day_said}, lot {lots}",
        "{count:,} packs came {day_said}, lot {lots}",
        count=packs,
        day_said=day_said(row.at.date(), on),
        lots=lots,
    )


def brings(order: OrderFacts) -> str:
    """What an order is of: `wool yarn 4 × 1 kg`."""
    named = [
        say(
            "{stuff_said} {packs_said}",
            stuff_said=stuff_said(line.stuff),
            packs_said=packs_said(line.packs, line.pack_mg),
        )
        for line in order.lines[:LINES_NAMED]
    ]
    if (more := len(order.lines) - LINES_NAMED) > 0:
        named.append(say("{more} more", more=more))
    return listed(named)


def came(order: OrderFacts) -> str:
    """What has come of an order, as weighed in; empty where nothing has."""
    if not order.deliveries:
        return ""
    packs, asked = (
        sum(line.came_packs for line in order.lines),
        sum(line.packs for line in order.lines),
    )
    weighed = weight_said(sum(line.came_mg for line in order.lines))
    return say(
        "{packs:,} of {asked:,} packs have come, {weighed} weighed in",
        packs=packs,
        asked=asked,
        weighed=weighed,
    )


def runs_named(runs: tuple[str, ...]) -> list[str]:
    """The first runs by their code, and how many more."""
    more = len(runs) - RUNS_NAMED
    return [*runs[:RUNS_NAMED], *([say("{more} more", more=more)] if more > 0 else [])]
