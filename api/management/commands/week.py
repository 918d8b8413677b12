"""Door: what can be dyed in the coming days, as a sheet or as JSON."""

from __future__ import annotations

import json
import sys
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management.base import CommandError, CommandParser

from api.asked import StudioUnknown, Unreadable, days_asked, moment_asked, studio_asked
from api.management.door import Door
from api.missed_asked import visit_of
from api.missed_sheet import missed_sheet
from api.question import moment_now
from api.rest.missed import ripple_as_json
from api.rest.week import week_as_json
from api.sheet import sheet
from api.tables import make_ready
from api.tongue.reader import studio_reads
from inventory.errors import LarderError
from inventory.models import Studio
from inventory.science.figures import NoFigure
from sourcing.missed import missed_at
from sourcing.outlook import week_at

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
        parser.add_argument(
            "--missed",
            nargs=2,
            metavar=("SOURCE", "DAY"),
            help="what moves when a source's visit on a day, such as 2026-11-26, is missed",
        )
        parser.add_argument(
            "--gives",
            metavar="DYESTUFF",
            help="with --missed: one thing of a source that gives more",
        )
        parser.add_argument("--json", action="store_true", help="the same answer for programs")

    def handle(self, *args: Any, **options: Any) -> None:
        make_ready()
        question = (options["at"], options["days"], options["studio"])
        try:
            if options["missed"]:
                source, on = options["missed"]
                text = _missed(*question, (source, on, options["gives"] or ""), options["json"])
            elif options["gives"]:
                raise CommandError("--gives goes with --missed SOURCE DAY.")
            else:
                text = _week(*question, options["json"])
        except (Unreadable, StudioUnknown, NoFigure, LarderError) as error:
            raise CommandError(str(error)) from error
        self.stdout.write(text if _in_unicode() else _in_ascii(text), ending="")


def _in_unicode() -> bool:
    """Whether the terminal, or what the text is handed on to, takes every sign."""
    return (sys.stdout.encoding or "utf-8").lower().replace("-", "").startswith("utf")


def _in_ascii(text: str) -> str:
    """The text with marks and dashes that any terminal has; a word stands beside each mark."""
    for sign, plain in PLAIN_SIGNS.items():
        text = text.replace(sign, plain)
    return text.encode("ascii", "replace").decode("ascii")


def _asked(
    at: str | None, days: str | int | None, name: str | None
) -> tuple[Studio, datetime, int]:
    counted = days_asked(None if days is None else str(days))
    studio = studio_asked(name)
    moment = moment_now() if at is None else moment_asked(at, ZoneInfo(studio.zone))
    return studio, moment, counted


def _week(at: str | None, days: str | int | None, name: str | None, as_json: bool) -> str:
    studio, moment, counted = _asked(at, days, name)
    week = week_at(studio, at=moment, days=counted)
    if as_json:
        return _in_json(week_as_json(week))
    with studio_reads(studio):
        return sheet(week)


def _missed(
    at: str | None,
    days: str | int | None,
    name: str | None,
    visit_said: tuple[str, str, str],
    as_json: bool,
) -> str:
    source, on, gives = (text.strip() for text in visit_said)
    visit = visit_of(source, on, gives)
    studio, moment, counted = _asked(at, days, name)
    found = missed_at(studio, at=moment, days=counted, source=visit.source, on=visit.on,
                      gives=visit.gives)  # fmt: skip
    if as_json:
        return _in_json({"studio": studio.name, **ripple_as_json(found)})
    with studio_reads(studio):
        return missed_sheet(found)


def _in_json(answer: object) -> str:
    return json.dumps(answer, ensure_ascii=not _in_unicode(), indent=2) + "\n"
