"""Who is in on which days: the days ticked, with one choice of hours for all of them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from django.http import QueryDict

from api.web.ask.choices import Choice
from api.web.form_unclear import FormUnclear
from inventory.models import Studio
from inventory.science.saying import say
from sourcing.models import Hours
from sourcing.notebook.one_page import load_pages
from sourcing.week.words import DAYS

WHO = "dyer"
# From, to, and how much of that is time at the pots; assumed, to be changed by whoever is in.
HOURS = {
    "day": ("09:00", "18:00", "6 h", say("09:00 to 18:00, 6 h at the pots")),
    "morning": ("09:00", "13:00", "3 h", say("09:00 to 13:00, 3 h at the pots")),
    "evening": ("18:00", "22:00", "3 h", say("18:00 to 22:00, 3 h at the pots")),
}


@dataclass(frozen=True, slots=True)
class DaysForm:
    """The days of the week, and the hours to choose from."""

    days: tuple[Choice, ...]
    hours: tuple[Choice, ...]


def days_form(studio: Studio) -> DaysForm:
    """The form with the days on which somebody is in already."""
    rows = Hours.objects.of(studio).filter(who=WHO, weekday__isnull=False, since=None)
    opens = {row.weekday: row for row in rows if row.hands_min}
    first = next(iter(opens.values()), None)
    chosen = "day"
    if first is not None and first.opens is not None:
        starts = f"{first.opens:%H:%M}"
        chosen = "evening" if starts == "18:00" else chosen
        chosen = "morning" if first.closes and f"{first.closes:%H:%M}" == "13:00" else chosen
    return DaysForm(
        days=tuple(Choice(str(n), day, chosen=n in opens) for n, day in enumerate(DAYS)),
        hours=tuple(Choice(name, row[3], chosen=name == chosen) for name, row in HOURS.items()),
    )


def keep_days(studio: Studio, post: QueryDict, at: datetime) -> None:
    """Every day of the week as it was ticked: in, or not in.

    Raises
    ------
    FormUnclear
        If no day is ticked: nothing could ever be dyed.
    """
    ticked = {text for text in post.getlist("day") if text in tuple("0123456")}
    if not ticked:
        raise FormUnclear("day", "", say("Tick the days on which somebody is in."))
    since, until, hands, _ = HOURS.get(post.get("hours", ""), HOURS["day"])
    rows = ["who,day,hands,from,to"]
    for number, day in enumerate(DAYS):
        is_in = str(number) in ticked
        rows.append(f"{WHO},{day},{hands},{since},{until}" if is_in else f"{WHO},{day},0 h,,")
    load_pages(studio, {"hours.csv": "\n".join(rows).encode()}, at=at)
