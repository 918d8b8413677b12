"""Door: what can be dyed in the coming days, as a sheet or as JSON."""

from __future__ import annotations

import json
import sys
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management.base import CommandError, CommandParser

from api.asked import StudioUnknown, Unreadable, days_asked, moment_asked, studio_asked
from api.management.door import Door
from api.question import moment_now
from api.rest.week import week_as_json
from api.sheet import sheet
from api.tables import make_ready
from inventory.science.figures import NoFigure
from sourcing.outlook import week_at
from sourcing.week.plan import Week

PLAIN_SIGNS = {"●": "+", "◐": "~", "○": "-", "·": "-", "–": "-", "½": "1/2"}


class Command(Door):
    help = "What can be dyed, in which pot, starting when, and what stops it."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument(
            "--at",
            metavar="MOMENT",
            help="such as 2026-11-23T07:30, by the studio's clock; now where not given",
        )
        parser.add_argument("--days", metavar="N", help="how many days, 1 to 28; 7 where not given")
        parser.add_argument("--studio", metavar="NAME", help="needed where there are several")
        parser.add_argument("--json", action="store_true", help="the same answer for programs")

    def handle(self, *args: Any, **options: Any) -> None:
        make_ready()
        try:
            week = _week(options["at"], options["days"], options["studio"])
        except (Unreadable, StudioUnknown, NoFigure) as error:
            raise CommandError(str(error)) from error
        if options["json"]:
            text = json.dumps(week_as_json(week), ensure_ascii=not _in_unicode(), indent=2) + "\n"
        else:
            text = sheet(week)
        self.stdout.write(text if _in_unicode() else _in_ascii(text), ending="")


def _in_unicode() -> bool:
    """Whether the terminal, or what the text is handed on to, takes every sign."""
    return (sys.stdout.encoding or "utf-8").lower().replace("-", "").startswith("utf")


def _in_ascii(text: str) -> str:
    """The text with marks and dashes that any terminal has; a word stands beside each mark."""
    for sign, plain in PLAIN_SIGNS.items():
        text = text.replace(sign, plain)
    return text.encode("ascii", "replace").decode("ascii")


def _week(at: str | None, days: str | int | None, name: str | None) -> Week:
    counted = days_asked(None if days is None else str(days))
    studio = studio_asked(name)
    moment = moment_now() if at is None else moment_asked(at, ZoneInfo(studio.zone))
    return week_at(studio, at=moment, days=counted)
