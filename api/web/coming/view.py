"""*What will come* ready to show: a fan, the same as a table, pick-ups, and who is short."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from api.coming_words import gist_of, rests_in_words, state_of
from api.question import Question
from api.web.coming.fan import Fan, fan
from api.web.this_week.flags import begun_large
from inventory.science.saying import say
from sourcing.week.coming import AllComing, ByDay, Coming, Wanting
from sourcing.week.enough import percent
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.words import day_in_words, grams, pieces

LOOKS = {"told of": "yes", "likely": "wait", "missed": "no", "shut": "plain"}
WORDS = {
    "told of": say("told of"),
    "likely": say("a guess"),
    "missed": say("missed"),
    "shut": say("not to be fetched"),
}
NOT_IN_SIGHT = say("not in sight")


@dataclass(frozen=True, slots=True)
class PickUpShown:
    """One expected pick-up."""

    when: str
    source: str
    look: str
    word: str
    likely: str
    worst: str
    note: str  # why not, or that it counts on the shelf
    missed: str  # the address of what moves without it; empty: nothing can


@dataclass(frozen=True, slots=True)
class DayShown:
    """One row of the table: a day and the amounts at each chance."""

    day: str
    amounts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ShortShown:
    """A run that is short: how surely enough comes, and from which day."""

    run: str
    shade: str
    short: str
    chance: str
    days: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class RestsShown:
    """What the forecast of one source rests on."""

    text: str
    thin: bool  # on its word more than on what came


@dataclass(frozen=True, slots=True)
class ComingShown:
    """One dyestuff."""

    anchor: str
    name: str  # begins a line
    plain: str
    gist: str
    fan: Fan | None
    days: tuple[DayShown, ...]
    by: str  # last day that is looked at
    short: tuple[ShortShown, ...]
    pick_ups: tuple[PickUpShown, ...]
    more: int
    rests_on: tuple[RestsShown, ...]


@dataclass(frozen=True, slots=True)
class AllComingShown:
    """The whole page."""

    until: str
    dyestuffs: tuple[ComingShown, ...]
    others: tuple[tuple[str, str], ...]  # name and address
    all: str  # the address of all, where one alone was asked for


def coming_shown(question: Question, facts: WeekFacts, found: AllComing) -> AllComingShown:
    """The page of what will come."""
    alone = len(found.dyestuffs) == 1 and len(found.agreed) > 1
    return AllComingShown(
        until=day_in_words(found.last),
        dyestuffs=tuple(
            _coming(question, facts, found, row, f"coming-{number}")
            for number, row in enumerate(found.dyestuffs, start=1)
        ),
        others=tuple((name, _address("coming", question, gives=name)) for name in found.others),
        all=reverse("coming") + question.carried if alone else "",
    )


def _coming(
    question: Question, facts: WeekFacts, found: AllComing, row: Coming, key: str
) -> ComingShown:
    return ComingShown(
        anchor=key,
        name=begun_large(row.dyestuff),
        plain=row.dyestuff,
        gist=begun_large(gist_of(row)),
        fan=_fan(found, row, key) if row.days else None,
        days=tuple(_day(each) for each in row.days),
        by=day_in_words(found.last),
        short=tuple(_short(each) for each in row.short),
        pick_ups=tuple(_pick_up(question, facts, each) for each in row.pick_ups),
        more=row.more,
        rests_on=tuple(RestsShown(rests_in_words(each), each.thin) for each in row.rests_on),
    )


def _fan(found: AllComing, row: Coming, key: str) -> Fan:
    return fan(
        key,
        say("{dyestuff} that will have come by each day", dyestuff=row.dyestuff),
        say("{gist_of} The table below has every day.", gist_of=gist_of(row)),
        row.days,
        row.short,
        first=found.first,
        last=found.last,
    )


def _day(row: ByDay) -> DayShown:
    """From what is all but sure to what would be luck."""
    return DayShown(day_in_words(row.day), tuple(grams(mg) for mg in row.mg))


def _short(row: Wanting) -> ShortShown:
    return ShortShown(
        run=row.run,
        shade=row.shade,
        short=grams(row.short_mg),
        chance=percent(row.chance),
        days=tuple(NOT_IN_SIGHT if day is None else day_in_words(day) for _, day in row.days),
    )


def _pick_up(question: Question, facts: WeekFacts, row: PickUpExpected) -> PickUpShown:
    at, state = row.at.astimezone(facts.zone), state_of(row)
    struck = state in ("told of", "likely")
    return PickUpShown(
        when=say("{date} {at:%H:%M}", date=day_in_words(at.date()), at=at),
        source=row.source,
        look=LOOKS[state],
        word=WORDS[state],
        likely=_amount(row, row.likely_mg if row.confirmed_mg is None else row.confirmed_mg),
        worst="" if row.confirmed_mg is not None else _amount(row, row.worst_mg),
        note=say("counts on the shelf from its hour") if state == "told of" else row.why_not,
        missed=_address("missed", question, source=row.source, gives=row.dyestuff,
                        on=at.date().isoformat()) if struck else "",
    )  # fmt: skip


def _amount(row: PickUpExpected, mg: int) -> str:
    """Grams, and the pieces where it comes by the piece."""
    if not row.piece_mg or not mg:
        return grams(mg)
    return say(
        "{mg}, {pieces}", mg=grams(mg), pieces=pieces(round(mg / row.piece_mg), row.dyestuff)
    )


def _address(name: str, question: Question, **more: str) -> str:
    return f"{reverse(name)}?{urlencode({**dict(question.said), **more})}"
