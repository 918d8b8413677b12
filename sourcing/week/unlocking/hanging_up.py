"""Damp fibre hung up to dry by itself: when somebody is in and a line has room until it is dry."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from inventory.science.facts import FibreFacts
from sourcing.week.desk import Desk
from sourcing.week.facts import Hanging, WeekFacts
from sourcing.week.hanging import Lines
from sourcing.week.moments import rounded_up
from sourcing.week.place import Placer

Hung = tuple[str, datetime, datetime]  # line, hung up, dry


def hung_up(fibre: FibreFacts, desk: Desk) -> Hung | None:
    """The first hours in which a lot of damp fibre can dry beside all that hangs by then.

    None where no line has room for it in the period. Hanging takes no hands, as it does of a run.
    """
    for site, placer in desk.placers.items():
        if fibre.site in ("", site):
            found = _on_a_line(fibre, placer, desk)
            if found is not None:
                return found
    return None


def _on_a_line(fibre: FibreFacts, placer: Placer, desk: Desk) -> Hung | None:
    lines = Lines(placer.board, placer.calendar, placer.house, placer.lines, placer.outdoors,
                  placer.weather)  # fmt: skip
    drying = placer.house.drying
    for day in placer.calendar.open_days:
        at = rounded_up(max(desk.now, day.opens), placer.house.hangs_on)
        while at <= min(day.closes, desk.until):
            line, later = lines.free_from(at, fibre.left_mg)
            if later == at:
                moment = placer.calendar.moment
                return line, moment(at), moment(at + drying)
            at = rounded_up(later, placer.house.hangs_on)
    return None


def hung(facts: WeekFacts, code: str, when: Hung) -> WeekFacts:
    """The facts of a studio in which a lot of damp fibre hangs then, and is dry afterwards."""
    line, since, until = when
    fibre = next((row for row in facts.shelf.fibre if row.code == code), None)
    if fibre is None:
        return facts
    day = until.astimezone(facts.zone).date()
    dry = replace(fibre, damp=False, since=day, arrives_at=until)
    rows = tuple(dry if row.code == code else row for row in facts.shelf.fibre)
    there = Hanging(line, since, until, fibre.left_mg, code)
    return replace(facts, shelf=replace(facts.shelf, fibre=rows), hanging=(*facts.hanging, there))
