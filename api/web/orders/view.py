"""*Fibre orders*: what to buy, the cheapest order, what is on its way; and one order on paper."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from http import HTTPStatus
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, QueryDict
from django.urls import reverse

from api.asked import Unreadable
from api.asked import shown as quoted
from api.orders_csv import order_csv
from api.question import Question, question_of
from api.shopping import FIBRES_AT_MOST, SECONDS, cheapest_of, shopping_of
from api.web.note.deeds import Deed
from api.web.note.ways import ways_from
from api.web.orders.cheapest import CheapestShown, cheapest_shown
from api.web.orders.orders import CLOSED_AT_MOST, OPEN_AT_MOST, OrderRow, rows_of
from api.web.orders.paper import COPIES, paper_of
from api.web.orders.to_buy import ToBuyShown, to_buy_shown
from api.web.orders.words import day_said, stuff_said, weight_said
from api.web.page import page, refused, shown
from inventory.science.saying import say
from sourcing.buying import Buying, buying_at, order_at
from sourcing.week.fibre_to_buy import FibreWanted

UNDATED_AT_MOST = 8


class CopyUnknown(Unreadable):
    """A copy of an order that there is not."""

    code = "copy_unknown"


@dataclass(frozen=True, slots=True)
class OrdersView:
    """The whole page."""

    today: str
    seconds: str
    ways: tuple[Deed, ...]
    terms: tuple[Deed, ...]  # to the forms of suppliers and their prices
    to_buy: tuple[ToBuyShown, ...]
    more_to_buy: int
    undated: tuple[str, ...]
    cheapest: CheapestShown | None
    no_order: str
    open: tuple[OrderRow, ...]
    more_open: int
    closed: tuple[OrderRow, ...]
    more_closed: int


@dataclass(frozen=True, slots=True)
class Ways:
    """Where else an order can be seen."""

    other: str
    csv: str
    back: str


@page
def orders_page(request: HttpRequest) -> HttpResponse:
    """The fibre orders of the only studio, or of the one that the address names."""
    question = question_of(request, what=say("The page of fibre orders"))
    view = view_of(buying_at(question.studio, at=question.at), question)
    return shown("orders/page.html", question, here="orders", view=view)


@page
def order_page(request: HttpRequest, order: int) -> HttpResponse:
    """One order, to be printed."""
    question = question_of(request, what=say("The page of an order"), more=("copy",))
    copy = copy_asked(request.GET)
    found = order_at(question.studio, order)
    if found is None:
        return refused(HTTPStatus.NOT_FOUND, no_such_order(order))
    paper = paper_of(*found, on=question.at.date(), copy=copy)
    other = urlencode((*question.said, *((("copy", "supplier"),) if paper.own else ())))
    ways = Ways(
        other=f"{reverse('order', args=[order])}{f'?{other}' if other else ''}",
        csv=reverse("order-csv", args=[order]) + question.carried,
        back=reverse("orders") + question.carried,
    )
    return shown("orders/paper.html", question, here="orders", paper=paper, ways=ways)


@page
def order_file(request: HttpRequest, order: int) -> HttpResponse:
    """One order as a file for a spreadsheet."""
    question = question_of(request, what=say("The file of an order"))
    found = order_at(question.studio, order)
    if found is None:
        return refused(HTTPStatus.NOT_FOUND, no_such_order(order))
    answer = HttpResponse(
        order_csv(found[0], question.studio), content_type="text/csv; charset=utf-8"
    )
    answer["Content-Disposition"] = f'attachment; filename="order-{found[0].label}.csv"'
    answer["Cache-Control"] = "no-cache"
    return answer


def no_such_order(order: int) -> str:
    """What is said where no order has a number."""
    return say(
        "No order has the number {order}. Look for it among the fibre orders.",
        order=str(order)[:20],
    )


def copy_asked(query: QueryDict) -> str:
    """Which copy of an order an address asks for; the studio's own where it names none."""
    copy = query.get("copy", "own")
    if copy not in COPIES:
        detail = say(
            "There is no copy {copy} of an order. Ask for own or supplier.", copy=quoted(copy)
        )
        raise CopyUnknown("copy", copy, detail)
    return copy


def view_of(buying: Buying, question: Question) -> OrdersView:
    """Everything on the page in words."""
    on, currency = buying.today, buying.currency
    rows = shopping_of(buying)
    found = cheapest_of(buying)
    still, closed = (
        [order for order in buying.orders if order.is_open is is_open] for is_open in (True, False)
    )
    return OrdersView(
        today=day_said(on, on),
        seconds=say("{seconds:g} seconds", seconds=SECONDS),
        ways=ways_from(question, "write-order"),
        terms=ways_from(question, "add-supplier", "change-supplier", "add-offer", "end-offer"),
        to_buy=to_buy_shown(
            rows, on=on, currency=currency, said=said_of(buying.wanted), question=question
        ),
        more_to_buy=max(0, len(buying.stuffs) - FIBRES_AT_MOST),
        undated=tuple(
            say(
                "{weight_said} {stuff_said} for run {run}",
                weight_said=weight_said(row.short_mg),
                stuff_said=stuff_said(row.stuff),
                run=row.run,
            )
            for row in buying.undated[:UNDATED_AT_MOST]
        ),
        cheapest=cheapest_shown(found, on=on, currency=currency),
        no_order=found.why,
        open=rows_of(still[:OPEN_AT_MOST], on=on, question=question),
        more_open=max(0, len(still) - OPEN_AT_MOST),
        closed=rows_of(closed[:CLOSED_AT_MOST], on=on, question=question),
        more_closed=max(0, len(closed) - CLOSED_AT_MOST),
    )


def said_of(wanted: Iterable[FibreWanted]) -> dict[str, str]:
    """Whose day it is by which each run needs its fibre."""
    return {row.run: row.by_said for row in wanted}
