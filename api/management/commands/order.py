"""Door: what fibre to buy and from whom, and what becomes of an order, at the desk."""

from __future__ import annotations

import sys
from argparse import SUPPRESS
from collections.abc import Callable, Mapping
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management.base import CommandError, CommandParser

from api.asked import StudioUnknown, Unreadable, moment_asked, studio_asked
from api.management.door import Door
from api.orders_asked import (
    OrderUnreadable,
    came_asked,
    day_asked,
    entry_asked,
    line_asked,
    number_asked,
)
from api.orders_text import buying_text, order_lines, printable
from api.question import moment_now
from api.shopping import cheapest_of, market_of
from api.tables import make_ready
from api.web.orders.cheapest import WORDS, cheapest_shown, gap_said
from api.web.orders.orders import rows_of
from api.web.orders.words import money_said
from inventory.entries import Place
from inventory.models import Studio
from inventory.science.figures import NoFigure
from inventory.science.unclear import OutOfRange
from sourcing.buying import Buying, buying_at, orders_of_plan
from sourcing.errors import NoSuchSupplier
from sourcing.ordered import OrderFacts
from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.order import order_in_rounds
from sourcing.ordering.shopping import CANNOT, Together, counted_of
from sourcing.ordering.solve import Effort, Progress
from sourcing.orders import call_off, confirm, receive_delivery, send, write_order, write_plan

PLAIN_SIGNS = {"●": "+", "◐": "~", "○": "-", "·": "-", "×": "x", "£": "GBP ", "€": "EUR "}


class Command(Door):
    help = "What fibre to buy, by when and from whom; and what becomes of an order."

    def add_arguments(self, parser: CommandParser) -> None:
        _common(parser, default=None)
        parser.add_argument(
            "--longer",
            type=float,
            metavar="SECONDS",
            help="search so long for the cheapest order and show how far it has come; "
            "Ctrl+C keeps the best so far",
        )
        parts = parser.add_subparsers(dest="what", metavar="WHAT", title="what becomes of an order")
        for name, (said, add) in PARTS.items():
            part = parts.add_parser(name, help=said, description=f"{said}.")
            _common(part, default=SUPPRESS)
            add(part)
            part.add_argument(
                "--entry",
                metavar="UUID",
                help="the entry's own number; said twice with the same one it counts once",
            )

    def handle(self, *args: Any, **options: Any) -> None:
        make_ready()
        try:
            studio = studio_asked(options["studio"])
            at = _moment(options["at"], studio)
            if options["what"] is None:
                self._say(buying_text(*self._bought(studio, at, options)))
                return
            orders = self._done(studio, at, options)
        except (Unreadable, StudioUnknown, NoFigure, OutOfRange) as error:
            raise CommandError(str(error)) from error
        for row in rows_of(orders, on=at.astimezone(ZoneInfo(studio.zone)).date()):
            self._say(printable("\n".join(order_lines(row)) + "\n"))

    def _bought(
        self, studio: Studio, at: datetime, options: Mapping[str, Any]
    ) -> tuple[Buying, Together]:
        """What has to be bought, and the cheapest order as far as it was searched for."""
        buying, longer = buying_at(studio, at=at), options["longer"]
        if longer is None:
            return buying, cheapest_of(buying)
        return buying, self._longer(buying, Effort(seconds=longer))

    def _done(
        self, studio: Studio, at: datetime, options: Mapping[str, Any]
    ) -> tuple[OrderFacts, ...]:
        """One verb called; the orders as they then stand."""
        said: dict[str, Any] = {"entry": entry_asked(options["entry"]), "at": at}
        if options["what"] == "write":
            return self._written(studio, said, options)
        said |= {"order": number_asked(options["order"]), "note": options["note"]}
        if options["what"] == "sent":
            return (send(studio, **said),)
        if options["what"] == "confirmed":
            return (confirm(studio, **said, day=day_asked(options["day"])),)
        if options["what"] == "off":
            return (call_off(studio, **said),)
        came = [came_asked(words, studio.country) for words in options["line"]]
        place = Place(options["place"]) if options["place"] else None
        return (receive_delivery(studio, **said, came=came, place=place),)

    def _written(
        self, studio: Studio, said: Mapping[str, Any], options: Mapping[str, Any]
    ) -> tuple[OrderFacts, ...]:
        """The order that is named, or the cheapest of all that is lacking."""
        if options["cheapest"]:
            if options["supplier"] or options["run"] or options["by"] or options["note"]:
                detail = (
                    "The cheapest order names its suppliers, runs and days itself; say no more."
                )
                raise OrderUnreadable("cheapest", "", detail)
            if before := orders_of_plan(studio, said["entry"]):
                return before
            buying, found = self._bought(studio, said["at"], options)
            if found.plan is None or not found.plan.orders:
                raise OrderUnreadable("cheapest", "", found.why or "Nothing has to be bought.")
            cheapest = cheapest_shown(found, on=buying.today, currency=buying.currency)
            assert cheapest is not None
            self.progress(f"  {cheapest.total}, {cheapest.word}. {cheapest.said} {cheapest.gap}")
            return write_plan(studio, **said, plan=found.plan, needs=buying.needs)
        if not options["supplier"] or not options["lines"]:
            detail = "Name the supplier and at least one line, such as: near shop, 4 x wool yarn."
            raise OrderUnreadable("line", "", detail)
        buying = buying_at(studio, at=said["at"])
        theirs = [row for row in buying.offers if row.offer.supplier == options["supplier"]]
        if not any(row.name == options["supplier"] for row in buying.suppliers):
            raise NoSuchSupplier(options["supplier"])
        row = write_order(
            studio,
            **said,
            supplier=options["supplier"],
            lines=[line_asked(text, theirs) for text in options["lines"]],
            runs=options["run"],
            needed_by=day_asked(options["by"]) if options["by"] else None,
            note=options["note"],
        )
        return (row,)

    def _longer(self, buying: Buying, effort: Effort) -> Together:
        """The best order of so many seconds, or of those until somebody stops it."""
        telling = Telling(self, buying.currency)
        terms, offers = market_of(buying)
        counted, left_out = counted_of(terms, on=buying.today)
        best: OrderPlan | None = None
        try:
            effort = Effort(effort.seconds, effort.gap, telling.searching)
            for best in order_in_rounds(
                buying.needs, counted, offers, on=buying.today, effort=effort
            ):
                telling.kept(best)
        except KeyboardInterrupt:
            if best is None:
                raise
            self._say("Stopped; this is the best order so far.\n")
        except CANNOT as error:
            return Together(None, str(error), left_out)
        return Together(best, "", left_out)

    def _say(self, text: str) -> None:
        self.stdout.write(text if _in_unicode() else _in_ascii(text), ending="")

    def progress(self, text: str) -> None:
        """A line beside the answer, so that a file gets the answer alone."""
        self.stderr.write(text if _in_unicode() else _in_ascii(text), self.style.SUCCESS)


class Telling:
    """Lines that show how far a search has come, one a second at most."""

    def __init__(self, door: Command, currency: str) -> None:
        self.door, self.currency = door, currency
        self.said_s = -1.0

    def searching(self, progress: Progress) -> None:
        """What the search says of itself meanwhile."""
        if progress.seconds - self.said_s < 1 or progress.best_minor is None:
            return
        self.said_s = progress.seconds
        best = money_said(round(progress.best_minor), self.currency)
        none = (
            f", none below {money_said(int(progress.bound_minor), self.currency)}, "
            f"gap {progress.gap or 0:.2%}"
            if progress.bound_minor is not None
            else ""
        )
        self.door.progress(f"  {progress.seconds:5.1f} s  seen {best}{none}")

    def kept(self, plan: OrderPlan) -> None:
        """An order that is kept from now on, whoever stops the search."""
        cost = money_said(plan.cost_minor, self.currency)
        said = f"  kept     {cost}, {WORDS[plan.proof][0]}. {gap_said(plan, self.currency)}"
        self.door.progress(said.rstrip())


def _common(parser: CommandParser, *, default: str | None) -> None:
    """The moment and the studio, which every part of the command may be told."""
    parser.add_argument(
        "--at",
        metavar="MOMENT",
        default=default,
        help="such as 2026-11-23T07:30, by the studio's clock; now where not given",
    )
    parser.add_argument(
        "--studio", metavar="NAME", default=default, help="needed where there are several"
    )


def _write_words(part: CommandParser) -> None:
    part.add_argument("supplier", nargs="?", help="its name, as in the price lists")
    part.add_argument(
        "lines", nargs="*", metavar="LINE", help="“4 x wool yarn”, “4 x 1 kg wool yarn”"
    )
    part.add_argument(
        "--cheapest", action="store_true", help="the cheapest order for all that is lacking"
    )
    part.add_argument("--longer", type=float, metavar="SECONDS", default=SUPPRESS,
                      help="search so long for the cheapest")  # fmt: skip
    part.add_argument("--run", action="append", default=[], metavar="CODE",
                      help="a run that it is for; may be said several times")  # fmt: skip
    part.add_argument("--by", metavar="DAY", help="the day by which it has to be there")
    part.add_argument("--note", default="", metavar="WORDS")


def _of_order(part: CommandParser) -> None:
    part.add_argument("order", metavar="NUMBER", help="as stands on it, 2026-003")
    part.add_argument("--note", default="", metavar="WORDS")


def _confirmed_words(part: CommandParser) -> None:
    _of_order(part)
    part.add_argument("day", metavar="DAY", help="on which it comes, “Mon 30 Nov 2026”")


def _came_words(part: CommandParser) -> None:
    _of_order(part)
    part.add_argument(
        "--line",
        nargs=4,
        action="append",
        required=True,
        metavar=("LINE", "PACKS", "WEIGHT", "LOT"),
        help="“1 4 '4,012 g' W-101”, or the weight as “4,112 g less 100 g” for the bag; "
        "may be said several times",
    )
    part.add_argument("--place", default="", metavar="PLACE", help="where it is kept, “dry store”")


# What may become of an order, in words, and what has to be said of it.
PARTS: dict[str, tuple[str, Callable[[CommandParser], None]]] = {
    "write": ("Write an order", _write_words),
    "sent": ("An order has been sent", _of_order),
    "confirmed": ("The supplier has said the day", _confirmed_words),
    "came": ("A delivery came and is weighed in", _came_words),
    "off": ("An order is called off, or the rest of it", _of_order),
}


def _moment(at: str | None, studio: Studio) -> datetime:
    return moment_now() if at is None else moment_asked(at, ZoneInfo(studio.zone))


def _in_unicode() -> bool:
    """Whether the terminal, or what the text is handed on to, takes every sign."""
    return (sys.stdout.encoding or "utf-8").lower().replace("-", "").startswith("utf")


def _in_ascii(text: str) -> str:
    """The text with marks that any terminal has; a word stands beside each mark."""
    for sign, plain in PLAIN_SIGNS.items():
        text = text.replace(sign, plain)
    return text.encode("ascii", "replace").decode("ascii")
