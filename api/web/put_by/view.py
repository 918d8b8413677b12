"""What the page of putting-by shows of a plan, in words and numbers ready to read."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date, timedelta

from api.web.put_by.drawing import Drawing, drawing_of
from inventory.science.cautions import Caution, cautions_for_lot
from inventory.science.saying import counted, first_large, joined, say
from sourcing.put_by_outlook import PutByOutlook
from sourcing.putting_by import words
from sourcing.putting_by.gaps import Gap
from sourcing.putting_by.months import Month, months_of
from sourcing.putting_by.plan import PutByPlan
from sourcing.week.words import MONTHS, day_in_words, grams

PICK_UPS_SHOWN = 12
WORDS = {
    "there": say("there"),
    "likely": say("if it comes"),
    "short": say("short"),
    "": say("none wanted"),
}
MARKS = {"there": "is-yes", "likely": "is-wait", "short": "is-no", "": "is-plain"}


@dataclass(frozen=True, slots=True)
class MonthShown:
    name: str
    there: str
    likely: str
    wanted: str
    short: str
    word: str
    mark: str
    runs: str
    closed: bool


@dataclass(frozen=True, slots=True)
class PickUpShown:
    day: str
    sources: str
    likely: str
    said: str


@dataclass(frozen=True, slots=True)
class PlanShown:
    """One plan."""

    anchor: str
    heading: str
    asked: bool
    dye: str  # of the ticket's edge: yes, wait, no
    word: str
    mark: str
    to_do: str
    lines: tuple[str, ...]
    guesses: tuple[str, ...]
    falls: str
    falls_likely: str
    falls_cautious: str
    shade_gap: str
    gap: str
    pick_ups: tuple[PickUpShown, ...]
    more_pick_ups: int
    left_out: tuple[str, ...]
    months: tuple[MonthShown, ...]
    drawing: Drawing
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True)
class GapShown:
    dyestuff: str
    days: str
    why: str
    if_agreed: bool


@dataclass(frozen=True, slots=True)
class PutByView:
    """The whole page."""

    plans: tuple[PlanShown, ...]
    more: int
    gaps: tuple[GapShown, ...]
    known: tuple[str, ...]


def view_of(outlook: PutByOutlook) -> PutByView:
    """The page of an outlook."""
    plans = [_plan(outlook, plan, n) for n, plan in enumerate((*outlook.asked, *outlook.plans), 1)]
    return PutByView(tuple(plans), outlook.more, tuple(_gap(gap) for gap in outlook.gaps),
                     outlook.known)  # fmt: skip


def _plan(outlook: PutByOutlook, plan: PutByPlan, number: int) -> PlanShown:
    word, dye, mark = _standing(plan)
    months = months_of(plan)
    lines = [words.what_is_there(plan), words.fresh_range(plan)]
    if plan.room is not None:
        lines.append(words.what_room(plan, plan.room))
    shades = dict.fromkeys(wish.shade or wish.dyestuff for wish in plan.wishes)
    runs = sum(wish.runs for wish in plan.wishes)
    return PlanShown(
        anchor=f"plan-{number}",
        heading=_heading(plan, shades, runs),
        asked=any(wish.asked for wish in plan.wishes),
        dye=dye,
        word=word,
        mark=mark,
        to_do=words.what_to_do(plan),
        lines=tuple(line for line in lines if line),
        guesses=tuple(g for g in (words.what_comes(plan), words.what_to_ask(plan)) if g),
        falls=words.what_falls(plan.without),
        falls_likely=words.what_falls(plan.likely) if plan.pick_ups else "",
        falls_cautious=words.what_falls(plan.cautious) if plan.pick_ups else "",
        shade_gap=words.shade_gap(plan),
        gap=_gap_words(plan.gap) if plan.gap is not None else "",
        pick_ups=tuple(
            PickUpShown(
                day=words.dated(row.day),
                sources=joined(", ", row.sources),
                likely=_likely(plan, row.day),
                said="" if row.said_mg is None else grams(row.said_mg),
            )
            for row in plan.pick_ups[:PICK_UPS_SHOWN]
        ),
        more_pick_ups=max(0, len(plan.pick_ups) - PICK_UPS_SHOWN),
        left_out=(
            *(
                say("{code}, {mg}: {why}", code=row.code, mg=grams(row.mg), why=row.why)
                for row in plan.left_out
            ),
            *(say("{source}: {why}", source=source, why=why) for source, why in plan.barred),
        ),
        months=tuple(_month(row) for row in months),
        drawing=drawing_of(months),
        cautions=_cautions(outlook, plan.dyestuff),
    )


def _likely(plan: PutByPlan, day: date) -> str:
    mg = plan.coming.likely_by_day.get(day)
    return say("not known") if mg is None else grams(mg)


def _heading(plan: PutByPlan, shades: Iterable[str], runs: int) -> str:
    """`Hedge Olive: privet, dried, for 4 runs`; without a shade the dyestuff alone."""
    said = counted(
        "{dyestuff}, {state}, for {count} run",
        "{dyestuff}, {state}, for {count} runs",
        count=runs,
        dyestuff=plan.dyestuff,
        state=plan.state,
    )
    named = [shade for shade in shades if shade != plan.dyestuff]
    return (
        say("{named}: {said}", named=joined(", ", named), said=said) if named else first_large(said)
    )


def _standing(plan: PutByPlan) -> tuple[str, str, str]:
    """How a plan stands: the word, the dye of its edge, the class of the word."""
    if not plan.lacks_mg:
        return (
            say("enough once it is put by") if plan.to_turn else say("enough is put by"),
            "yes",
            "is-yes",
        )
    if not plan.likely_short_mg:
        return say("to be put by"), "wait", "is-wait"
    return say("short even so"), "no", "is-no"


def _month(row: Month) -> MonthShown:
    return MonthShown(
        name=say("{months} {year}", months=MONTHS[row.first.month - 1], year=row.first.year),
        there=grams(row.shelf_mg),
        likely=grams(row.likely_mg),
        wanted=grams(row.wanted_mg) if row.wanted_mg else "",
        short=grams(row.short_mg) if row.short_mg else "",
        word=WORDS[row.word],
        mark=MARKS[row.word],
        runs=joined(", ", row.runs),
        closed=row.closed,
    )


def _gap_words(gap: Gap) -> str:
    if gap.until is None:
        return say(
            "nothing comes from {dated} on ({why})", dated=words.dated(gap.since), why=gap.why
        )
    last = gap.until - timedelta(days=1)
    again = say(" if it is agreed anew") if gap.anew else ""
    return say(
        "nothing comes {since} {year} to {dated}, then again{again} ({why})",
        since=day_in_words(gap.since),
        year=gap.since.year,
        dated=words.dated(last),
        again=again,
        why=gap.why,
    )


def _gap(gap: Gap) -> GapShown:
    if gap.until is None:
        days = say("from {dated} on", dated=words.dated(gap.since))
    else:
        days = say(
            "{dated} to {dated_2}",
            dated=words.dated(gap.since),
            dated_2=words.dated(gap.until - timedelta(days=1)),
        )
    return GapShown(gap.dyestuff, days, gap.why, gap.anew)


def _cautions(outlook: PutByOutlook, dyestuff: str) -> tuple[Caution, ...]:
    own = joined("; ", (text for name, text in outlook.facts.hazards if name == dyestuff))
    fugitive = dyestuff in outlook.facts.fugitive
    return tuple(cautions_for_lot(dyestuff, fugitive=fugitive, own=own))
