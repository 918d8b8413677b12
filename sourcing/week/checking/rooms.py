"""What is said of freezer, fridge and trays, worked out again lot by lot and evening by evening.

Read from the sums that are shown; nothing is taken from what made them but the facts.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import Any

from inventory.science.catalogue import figure, find_figure
from inventory.science.facts import LotFacts
from sourcing.week.checking.fault import Fault
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Week

PARTS = ("there", "put_by", "comes", "likely")


@dataclass(frozen=True, slots=True)
class Part:
    """Some of a lot: where it lies on an evening and how it came to lie there."""

    lot: str
    mg: int
    kind: str
    site: str
    how: str
    claimed: bool


def faults_in_rooms(facts: WeekFacts, week: Week) -> list[Fault]:
    """Everything said of a room on an evening that is not so; empty when all is."""
    return list(_faults(facts, week))


def _faults(facts: WeekFacts, week: Week) -> Iterator[Fault]:
    rooms: Any = week.sums["rooms"]
    shown = sorted((room["kind"], room["site"]) for room in rooms)
    if shown != sorted({(place.kind, place.site) for place in facts.shelf.cold_places}):
        yield _fault("room", None, f"rooms shown are {shown}")
        return
    for room in rooms:
        yield from _of_room(facts, week, room, rooms)


def _of_room(facts: WeekFacts, week: Week, room: Any, rooms: Any) -> Iterator[Fault]:
    kind, site = room["kind"], room["site"]
    limits = [p.holds_mg for p in facts.shelf.cold_places if (p.kind, p.site) == (kind, site)]
    holds = None if None in limits else sum(mg or 0 for mg in limits)
    if _mg(room["holds_g"]) != holds:
        yield _fault("room", None, f"{kind} {site} holds {holds} mg")
    for row in room["evenings"]:
        day = date.fromisoformat(row["date"])
        parts = [p for p in _parts(facts, week, day) if (p.kind, p.site) == (kind, site)]
        sums = {how: sum(p.mg for p in parts if p.how == how) for how in PARTS}
        for how, mg in sums.items():
            if _mg(row[f"{how}_g"]) != mg:
                said = row[f"{how}_g"]
                yield _fault("room", day, f"{kind} {site}, {how}: {said} g, not {mg / 1000:g} g")
        sure = sum(sums.values()) - sums["likely"]
        over = 0 if holds is None else max(0, sure - holds)
        likely = 0 if holds is None else max(0, sure + sums["likely"] - holds)
        if (_mg(row["over_g"]), _mg(row["over_if_likely_g"])) != (over, likely):
            yield _fault("room", day, f"{kind} {site} is over by {over} mg, likely {likely} mg")
        yield from _todo(day, row["todo"], over, [p for p in parts if p.how != "likely"])
        yield from _todo(day, row["todo_if_likely"], likely, parts)
        for name, count in (("todo", 3), ("todo_if_likely", 4)):
            yield from _fits(day, row[name], rooms, PARTS[:count], facts)


def _todo(day: date, todo: Any, over: int, parts: list[Part]) -> Iterator[Fault]:
    """What is to be done comes to what is over, of what lies there and nobody has claimed."""
    if sum(_mg(row["g"]) or 0 for row in todo) != over:
        yield _fault("remedy", day, f"what is to be done does not come to {over} mg")
    moved: dict[tuple[str, bool], int] = {}
    told = len(todo) < 12  # a longer list is summed up in its last row
    for row in todo:
        if row["how"] == "more":
            continue
        if row["how"] == "no room":
            used = sum(_mg(each["g"]) or 0 for each in todo if each["how"] == "use first")
            free = sum(p.mg for p in parts if p.how == "there" and not p.claimed)
            if told and parts[0].kind != "tray" and used < free - _elsewhere(todo, parts):
                yield _fault("remedy", day, "no room, while something could be used first")
            continue
        name = (row["source"] if row["guess"] else row["lot"], row["guess"])
        moved[name] = moved.get(name, 0) + (_mg(row["g"]) or 0)
        if row["how"] == "fridge" and date.fromisoformat(row["until"]) <= day:
            yield _fault("remedy", day, f"{name[0]} is not good in the fridge after the evening")
    for (lot, guess), mg in moved.items():
        there = sum(p.mg for p in parts if p.lot == lot and (p.how == "likely") == guess)
        if mg > there:
            yield _fault("remedy", day, f"{mg} mg of {lot} to be moved, {there} mg there")


def _elsewhere(todo: Any, parts: list[Part]) -> int:
    """What goes to another room, of what has lain there."""
    lain = {p.lot for p in parts if p.how == "there" and not p.claimed}
    rows = [row for row in todo if row["how"] in ("fridge", "freezer", "tray")]
    return sum(_mg(row["g"]) or 0 for row in rows if row["lot"] in lain)


def _fits(
    day: date, todo: Any, rooms: Any, hows: tuple[str, ...], facts: WeekFacts
) -> Iterator[Fault]:
    """No room gets more than it has place for; where there are several, all of them together."""
    for kind in ("fridge", "freezer", "tray"):
        sent = sum(_mg(row["g"]) or 0 for row in todo if row["how"] == kind)
        mine = [room for room in rooms if room["kind"] == kind]
        if not sent or any(room["holds_g"] is None for room in mine):
            continue
        free = 0
        for room in mine:
            evening = next(row for row in room["evenings"] if row["date"] == day.isoformat())
            inside = sum(_mg(evening[f"{how}_g"]) or 0 for how in hows)
            free += max(0, (_mg(room["holds_g"]) or 0) - inside)
        if sent > free:
            yield _fault("remedy", day, f"{sent} mg sent to the {kind}, room for {free} mg")


# -- where everything lies -------------------------------------------------------------------


def _parts(facts: WeekFacts, week: Week, evening: date) -> Iterator[Part]:
    end = datetime.combine(evening + timedelta(1), time(0), tzinfo=facts.zone)
    for lot in facts.shelf.lots:
        yield from _parts_of(lot, facts, week, evening, end)
    for row in facts.pick_ups:
        open_still = row.confirmed_mg is None and row.in_window and not row.missed
        if facts.at < row.at < end and open_still:
            kind = _home(facts, row.dyestuff, "", wet=True)
            came = row.at.astimezone(facts.zone).date()
            if kind != "tray" or evening < came + timedelta(_dries(facts, row.dyestuff)):
                yield Part(row.source, row.likely_mg, kind, _site(facts, kind, ""), "likely",
                           claimed=False)  # fmt: skip


def _parts_of(
    lot: LotFacts, facts: WeekFacts, week: Week, evening: date, end: datetime
) -> Iterator[Part]:
    coming = lot.arrives_at is not None and lot.arrives_at > facts.at
    if coming and (lot.arrives_at is None or lot.arrives_at >= end):
        return
    since = (lot.arrives_at if coming and lot.arrives_at else lot.stay.since).astimezone(facts.zone)
    came, today = since.date(), facts.at.astimezone(facts.zone).date()
    wet = lot.stay.state in ("fresh", "damp")
    home = lot.stay.place_kind
    if coming:
        home = _home(facts, lot.dyestuff, lot.stay.place_kind, wet=wet)
    at_home = ("comes" if coming and came == evening else "there", came)
    rest = lot.left_mg
    for answer in week.answers:
        jobs = [job for job in answer.jobs if job.kind == "put by" and job.lot == lot.code]
        for take in answer.takes:
            if take.source != lot.code or answer.answer == "no":
                continue
            rest -= take.amount
            if take.at < end:
                continue
            to = None if not jobs else "tray" if jobs[0].what.startswith("dry ") else "freezer"
            where, (how, day) = home, at_home
            if to is not None and to != home and jobs[0].by <= evening:
                where, day = to, jobs[0].by
                how = "put_by" if day == evening else "there"
            if _still(facts, lot, where, day, evening, lain=where == home and not coming):
                yield Part(lot.code, take.amount, where, _site(facts, where, lot.site), how,
                           claimed=True)  # fmt: skip
    lain = not coming
    if (
        rest > 0
        and (not lain or evening >= today)
        and _still(facts, lot, home, came, evening, lain=lain)
    ):
        yield Part(lot.code, rest, home, _site(facts, home, lot.site), at_home[0], claimed=False)


def _still(
    facts: WeekFacts, lot: LotFacts, kind: str, day: date, evening: date, *, lain: bool
) -> bool:
    """Whether it is not dry and off the trays yet; what lies there is tonight in any case."""
    if kind != "tray":
        return True
    dries = _dries(facts, lot.dyestuff)
    if not lain:
        return evening < day + timedelta(dries)
    dry = day + timedelta(dries if lot.stay.state in ("fresh", "damp") else 0)
    return evening < dry or evening == facts.at.astimezone(facts.zone).date()


def _home(facts: WeekFacts, dyestuff: str, meant: str, *, wet: bool) -> str:
    """The kind of room for what comes."""
    kinds = {place.kind for place in facts.shelf.cold_places}
    doses = {dose.what for row in facts.recipes for dose in row.doses if dose.state == "dried"}
    dried = dyestuff in doses | {row.dyestuff for row in facts.makings if row.state == "dried"}
    if meant == "freezer":
        return meant
    if dried:
        return "tray" if wet and "tray" in kinds and _dries(facts, dyestuff) else ""
    if "freezer" in kinds and (_has(facts, dyestuff, "keeps_frozen_days")
                               or _has(facts, dyestuff, "keeps_frozen_months")):  # fmt: skip
        return "freezer"
    if meant in ("fridge", "tray"):
        return meant
    return (
        "fridge" if "fridge" in kinds and _has(facts, dyestuff, "keeps_fresh_fridge_days") else ""
    )


def _has(facts: WeekFacts, dyestuff: str, name: str) -> bool:
    return find_figure(facts.figures, dyestuff, name, on=facts.at.date()) is not None


def _dries(facts: WeekFacts, dyestuff: str) -> int:
    for item in (dyestuff, "any dyestuff"):
        if _has(facts, item, "drying_days"):
            value = figure(facts.figures, item, "drying_days", on=facts.at.date()).value
            return int(value) + (value != int(value))
    return 0


def _site(facts: WeekFacts, kind: str, own: str) -> str:
    """The site whose room takes it: its own, one without a name, or the first of the studio's."""
    sites = {place.site for place in facts.shelf.cold_places if place.kind == kind}
    if own in sites or not sites:
        return own
    if "" in sites:
        return ""
    return next((site for site in facts.sites if site in sites), min(sites))


def _fault(kind: str, day: date | None, text: str) -> Fault:
    return Fault(kind, "", None, text if day is None else f"{day:%a %d %b}: {text}")


def _mg(grams: str | None) -> int | None:
    if grams is None:
        return None
    whole, _, part = grams.partition(".")
    return int(whole) * 1000 + int((part + "000")[:3])
