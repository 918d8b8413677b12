"""Door: what fibre to buy and from whom, and what becomes of an order, at the desk."""

from __future__ import annotations

import sys
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management.base import CommandError, CommandParser

from api.asked import StudioUnknown, Unreadable, moment_asked, studio_asked
from api.management.door import Door
from api.orders_text import buying_text
from api.question import moment_now
from api.shopping import cheapest_of, market_of
from api.tables import make_ready
from api.web.orders.cheapest import gap_said
from api.web.orders.words import money_said
from inventory.models import Studio
from inventory.science.figures import NoFigure
from inventory.science.unclear import OutOfRange
from sourcing.buying import Buying, buying_at
from sourcing.ordering.answer import OrderPlan
from sourcing.ordering.order import order_in_rounds
from sourcing.ordering.shopping import CANNOT, Together, counted_of
from sourcing.ordering.solve import Effort, Progress

PLAIN_SIGNS = {"●": "+", "◐": "~", "○": "-", "·": "-", "×": "x", "£": "GBP ", "€": "EUR "}


class Command(Door):
    help = "What fibre to buy, by when and from whom; and what becomes of an order."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--at",
            metavar="MOMENT",
            help="such as 2026-11-23T07:30, by the studio's clock; now where not given",
        )
        parser.add_argument("--studio", metavar="NAME", help="needed where there are several")
        parser.add_argument(
            "--longer",
            type=float,
            metavar="SECONDS",
            help="search so long for the cheapest order and show how far it has come; "
            "Ctrl+C keeps the best so far",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        make_ready()
        try:
            studio = studio_asked(options["studio"])
            buying = buying_at(studio, at=_moment(options["at"], studio))
            found = cheapest_of(buying) if options["longer"] is None else self._longer(
                buying, Effort(seconds=options["longer"])
            )  # fmt: skip
        except (Unreadable, StudioUnknown, NoFigure, OutOfRange) as error:
            raise CommandError(str(error)) from error
        self._say(buying_text(buying, found))

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
        said = f"  kept     {cost}. {plan.said} {gap_said(plan, self.currency)}"
        self.door.progress(said.rstrip())


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
