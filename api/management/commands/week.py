"""Door: what can be dyed in the coming days, as a sheet or as JSON."""

from __future__ import annotations

import json
from typing import Any
from zoneinfo import ZoneInfo

from django.core.management.base import BaseCommand, CommandError, CommandParser

from api.asked import StudioUnknown, Unreadable, days_asked, moment_asked, studio_asked
from api.rest.week import moment_now, week_as_json
from api.sheet import sheet
from inventory.science.figures import NoFigure
from sourcing.outlook import week_at
from sourcing.week.plan import Week


class Command(BaseCommand):
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
        try:
            week = _week(options["at"], options["days"], options["studio"])
        except (Unreadable, StudioUnknown, NoFigure) as error:
            raise CommandError(str(error)) from error
        if options["json"]:
            self.stdout.write(json.dumps(week_as_json(week), ensure_ascii=False, indent=2))
        else:
            self.stdout.write(sheet(week), ending="")


def _week(at: str | None, days: str | int | None, name: str | None) -> Week:
    counted = days_asked(None if days is None else str(days))
    studio = studio_asked(name)
    moment = moment_now() if at is None else moment_asked(at, ZoneInfo(studio.zone))
    return week_at(studio, at=moment, days=counted)
