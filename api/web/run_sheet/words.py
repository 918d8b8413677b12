"""A step of the sheet in as few words as can be read at a metre."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction
from zoneinfo import ZoneInfo

from inventory.science.days import local_day
from inventory.science.saying import joined, say
from inventory.science.wording import bare_warmth, warmth
from sourcing.week.facts import Heat
from sourcing.week.plan import Placed
from sourcing.week.run_sheet import Given, SheetStep
from sourcing.week.words import amount, litres, moment_in_words

HOUR = timedelta(hours=1)


def litres_said(number: Decimal) -> str:
    """Litres to the tenth: what a jug or a mark on the pot can show.

    >>> litres_said(Decimal(36)), litres_said(Decimal("7.24"))
    ('36 L', '7.2 L')
    """
    return litres(Fraction(number) * 1000)


def gives_said(given: Given) -> str:
    """What goes in, and from where: `200 mL iron liquor (J2)`."""
    text = say("{amount} {what}", amount=amount(given.amount, given.unit), what=given.what)
    return (
        text
        if given.source in ("", given.what)
        else say("{text} ({source})", text=text, source=given.source)
    )


def heats_said(
    row: Placed, heats: tuple[Heat, ...], hot_at: datetime | None, zone: ZoneInfo
) -> str:
    """From which warmth to which, by when, and how long it is held there."""
    if row.goal_c is None:
        return ""
    if hot_at is not None and row.start_c is not None:
        hot = hot_at.astimezone(zone)
        return say(
            "{start} → {goal} by {hot:%H:%M}, hold {hold_min} min",
            start=bare_warmth(row.start_c),
            goal=warmth(row.goal_c),
            hot=hot,
            hold_min=row.hold_min,
        )
    return joined("; ", _heatings(row, heats))


def _heatings(row: Placed, heats: tuple[Heat, ...]) -> Iterator[str]:
    """Each heating of a bath that is heated more than once; the first from where it begins."""
    for number, heat in enumerate(heats):
        start = row.start_c if number == 0 else heat.start_c
        since = "" if start is None else say("{start} ", start=bare_warmth(start))
        yield say(
            "{since}→ {goal}, hold {hold_min} min",
            since=since,
            goal=warmth(heat.goal_c),
            hold_min=heat.hold_min,
        )


def until_said(row: Placed, zone: ZoneInfo) -> str:
    """When the flame goes off, or bath or rinse is over; of a long soak how long at least."""
    said = clock_said(row.end, row.start, zone)
    if row.ring:
        return say("off {said}", said=said)
    if not row.vessel:
        return say("done {said}", said=said)
    if row.held_until > row.end:
        stays = clock_said(row.held_until, row.start, zone)
        return say(
            "{end} h at least, stays in to {stays}",
            end=round((row.end - row.start) / HOUR),
            stays=stays,
        )
    return say("till {said}", said=said)


def held_said(step: SheetStep, zone: ZoneInfo) -> str:
    """How long the cloth stays in its bath after the flame, where it stays over night."""
    heated = any(load.placed.ring for load in step.loads)
    if not heated or local_day(step.held_until, zone=zone) == local_day(step.end, zone=zone):
        return ""
    return say("stays in to {held_until}", held_until=moment_in_words(step.held_until, zone))


def clock_said(at: datetime, since: datetime, zone: ZoneInfo) -> str:
    """An hour; with its day where that is not the day of `since`."""
    if local_day(at, zone=zone) == local_day(since, zone=zone):
        return f"{at.astimezone(zone):%H:%M}"
    return moment_in_words(at, zone)


def strained_said(step: SheetStep) -> str:
    """What is done with an extract before the cloth goes in."""
    if not step.strained_to_l:
        return ""
    water = (
        say(", add {litres_said} of cold water", litres_said=litres_said(step.water_l))
        if step.water_l
        else ""
    )
    whole = (
        say(" to make {litres_said}", litres_said=litres_said(step.strained_to_l))
        if step.water_l
        else ""
    )
    return say("then strain{water}{whole}", water=water, whole=whole)
