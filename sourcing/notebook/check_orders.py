"""What the pages about buying fibre say against each other."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from sourcing.errors import TermsUnclear
from sourcing.notebook.notebook import Notebook
from sourcing.notebook.page import Row
from sourcing.notebook.prices import share_of
from sourcing.notebook.problem import Problem
from sourcing.notebook.saying import say
from sourcing.notebook.yard_pages import BY_NAME
from sourcing.ordered import number_in
from sourcing.ordering.facts import LOSS_BELOW
from sourcing.suppliers import WORKING_WEEK, check_prices, check_terms, facts_of

Found = Iterator[Problem]
WRITE_NUMBER = say("Write year and number of the order, such as 2026-001.")


def check_orders(notebook: Notebook) -> Found:
    """Terms that no sum can be made with, and orders that cannot have gone so."""
    for row in notebook.page("suppliers"):
        yield from _supplier(row)
    for row in notebook.page("offers"):
        yield from _offer(row)
    for row in notebook.page("orders"):
        yield from _order(notebook, row)
    for row in notebook.page("order_events"):
        yield from _event(notebook, row)
    for row in notebook.page("deliveries"):
        yield from _delivery(notebook, row)


def terms_of(row: Row) -> dict[str, object]:
    """A supplier's terms by the names of their columns in the table."""
    return {
        "lead_days": row.whole("lead"),
        "weekdays": row.values.get("works on", WORKING_WEEK),
        "shutdowns": row.values.get("closed", ()),
        "country": row.text("country"),
        "region": row.text("region"),
        "carriage_minor": row.whole("carriage"),
        "carriage_free_from_minor": row.whole_or_none("free from"),
        "least_minor": row.whole("least order"),
    }


def _supplier(row: Row) -> Found:
    try:
        check_terms(facts_of({"name": row.text("supplier"), **terms_of(row)}))
    except TermsUnclear as wrong:
        column = "country" if "holidays" in str(wrong) else "supplier"
        yield _problem(row, column, str(wrong))


def _offer(row: Row) -> Found:
    loss = share_of(row.number("scour loss")) or Fraction(0)
    if row.has("scour loss") and row.yes("scoured"):
        yield _problem(
            row, "scour loss", say("It is sold scoured and loses nothing. Leave it out.")
        )
    elif not 0 <= loss <= LOSS_BELOW:
        yield _problem(
            row, "scour loss", say("Write from 0 to {most} %.", most=int(LOSS_BELOW * 100))
        )
    since, until = row.day("since"), row.day("until")
    if since is not None and until is not None and until < since:
        yield _problem(row, "until", say("It ends before it begins. Look at the days again."))
    if not row.sound or not 0 <= loss <= LOSS_BELOW:
        return
    words = row.text("supplier"), row.text("fibre"), row.text("form")
    tiers = row.values.get("prices", ())
    assert isinstance(tiers, tuple)
    try:
        check_prices(
            *words, row.whole("pack"), tiers,
            least_mg=row.whole("least"), loss=loss, most=row.whole_or_none("packs there"),
        )  # fmt: skip
    except TermsUnclear as wrong:
        yield _problem(row, "prices", str(wrong))


def _order(notebook: Notebook, row: Row) -> Found:
    number = number_in(row.text("order"))
    if number is None:
        yield _problem(row, "order", WRITE_NUMBER)
    lines = [line for line in notebook.page("order_lines") if line.text("order") == _name(row)]
    if not lines:
        yield _problem(
            row, "order", say("It has no line. Add what was ordered to order_lines.csv.")
        )


def _event(notebook: Notebook, row: Row) -> Found:
    off = row.text("what") == "called off"
    if off == row.has("arrives"):
        note = (
            say("Leave it empty: nothing more comes.")
            if off
            else say("Write the day on which it comes.")
        )
        yield _problem(row, "arrives", note)
    same = [
        other
        for other in notebook.page("order_events")
        if (other.text("order"), other.text("what")) == (row.text("order"), row.text("what"))
    ]
    if row.text("what") != "confirmed" and same[0] is not row:
        yield _problem(
            row, "what", say("Line {line} says so already. It happens once.", line=same[0].line)
        )
    order = notebook.named_row("orders", row.text("order"))
    written, at = None if order is None else order.moment("written"), row.moment("at")
    if written is not None and at is not None and at < written:
        yield _problem(
            row, "at", say("The order was written later. Look at the day and hour again.")
        )


def _delivery(notebook: Notebook, row: Row) -> Found:
    lines = [
        line
        for line in notebook.page("order_lines")
        if (line.text("order"), line.whole("no")) == (row.text("order"), row.whole("no"))
    ]
    if not lines:
        yield _problem(row, "no", say("The order has no such line. Look at order_lines.csv."))
        return
    came = sum(
        other.whole("packs")
        for other in notebook.page("deliveries")
        if (other.text("order"), other.whole("no")) == (row.text("order"), row.whole("no"))
        and other.line <= row.line
    )
    if came > lines[0].whole("packs"):
        yield _problem(
            row,
            "packs",
            say(
                "That makes {came} packs, {whole} ordered.",
                came=came,
                whole=lines[0].whole("packs"),
            ),
        )


def _name(row: Row) -> str:
    return row.text("order")


def _problem(row: Row, column: str, write: str) -> Problem:
    value = row.values.get(column, "")
    stands = value if isinstance(value, str | int) else ""
    return Problem(BY_NAME[row.page].file, row.line, column, str(stands), write)
