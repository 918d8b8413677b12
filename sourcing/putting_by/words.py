"""A put-by plan in sentences: what to put by and when, what is a guess, which runs fall."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from sourcing.putting_by.plan import CAUTIOUS, PutByPlan, Room
from sourcing.putting_by.serving import Served
from sourcing.week.enough import percent
from sourcing.week.words import MONTHS, day_in_words, day_within, grams, kilos, listed

NAMES_SHOWN = 6
ONE_DAY = timedelta(days=1)


def what_to_do(plan: PutByPlan) -> str:
    """The one thing to do, or that nothing is.

    `Put by at least 1,840 g of privet, dried (4,600 g fresh), by Fri 27 Nov 2026.`
    """
    turn = _turning_words(plan)
    if not plan.lacks_mg:
        return f"{turn} Then nothing more is wanted." if turn else "Nothing more has to be put by."
    much = f"Put by at least {_up(plan.lacks_mg)} of {plan.dyestuff}, {plan.state}"
    if plan.state == "dried" and plan.lacks_fresh_mg is not None:
        much += f" ({_up(plan.lacks_fresh_mg)} fresh)"
    when = (
        f", by {dated(plan.by)}."
        if plan.by is not None
        else "; nothing is agreed that comes in time."
    )
    return f"{turn} {much}{when}".strip()


def fresh_range(plan: PutByPlan) -> str:
    """Between how much and how much fresh, as the figures go; empty where they have no range."""
    between, factor, loss = plan.lacks_fresh_between, plan.turning.factor, plan.turning.loss
    if not plan.lacks_mg or plan.state != "dried":
        return ""
    if between is None or factor is None or loss is None:
        return (
            f"Nobody knows what {plan.dyestuff} dries to: weigh some fresh and again dried, "
            "and write the figure in the studio's rules."
        )
    whose = "the studio's own" if factor.own else factor.basis
    return (
        f"{_up(between[0])} to {_up(between[1])} fresh, as the figures range: dried weight "
        f"from fresh {_percent(factor.value)} ({whose}), lost on the way {_percent(loss.value)} "
        f"({'the studio’s own' if loss.own else loss.basis})."
    )


def what_is_there(plan: PutByPlan) -> str:
    """What is wanted, and what of it the shelf has."""
    runs = [use for use in plan.uses if use.wish]
    asked = [use.what for use in plan.uses if not use.wish]
    said = f"{_count(len(runs), 'run')} wanted: {grams(sum(use.mg for use in runs))}, {plan.state}."
    if asked:
        waits = sum(use.mg for use in plan.uses if not use.wish)
        said += f" Before them {listed(asked)} still lacks {grams(waits)}."
    said += f" The shelf has {grams(plan.there_mg)} that keeps till its run."
    if plan.undated:
        said += f" Not counted, as it has no day: run {listed(plan.undated)}."
    return said


def what_comes(plan: PutByPlan) -> str:
    """What may come in time, and how surely: a guess."""
    if not plan.lacks_mg:
        return ""
    if not plan.pick_ups:
        return "No pick-up is agreed that would come in time."
    count, last = _count(len(plan.pick_ups), "pick-up"), plan.pick_ups[-1].day
    if plan.coming.forecast is None:
        return f"{count} till {dated(last)}; nobody has said or noted what one brings."
    likely = grams(sum(mg for day, mg in plan.coming.likely() if day <= last))
    least = grams(sum(mg for day, mg in plan.coming.at_least(CAUTIOUS) if day <= last))
    said = (
        f"A guess: {likely} fresh likely come in {count} till {dated(last)}, nine times in ten at "
        f"least {least}, at worst nothing"
    )
    if plan.chance is not None:
        said += f"; a chance of {percent(plan.chance)} that it is enough"
    told = [row.said_mg for row in plan.pick_ups]
    if None not in told:
        said += f". Its sources said {grams(sum(mg for mg in told if mg is not None))}"
    return f"{said}."


def what_to_ask(plan: PutByPlan) -> str:
    """What is still short when everything that likely comes is put by; empty when nothing is."""
    if not plan.likely_short_mg:
        return ""
    said = f"With what likely comes it is still short by {_up(plan.likely_short_mg)}, {plan.state}"
    more, till = plan.more_pick_ups, plan.open_till
    if more is None:
        return f"{said}."
    if till is None or till < plan.today:
        return f"{said}. No source is open before the first run that falls."
    return f"{said}: ask for {more} more {_word(more, 'pick-up')} by {dated(till)}."


def what_falls(rows: Sequence[Served]) -> str:
    """Which runs fall, of how many.

    `3 of 4 runs fall: Hedge Olive in Apr, May and Jun 2027.`
    """
    fallen = [row.use for row in rows if row.short_mg]
    if not fallen:
        return f"all {len(rows)} runs can be dyed." if len(rows) > 1 else "the run can be dyed."
    by_name: dict[str, list[date]] = {}
    for use in fallen:
        by_name.setdefault(use.name or use.what, []).append(use.since)
    named = [f"{name} in {_months(days)}" for name, days in by_name.items()]
    shown = named[:NAMES_SHOWN]
    if len(named) > NAMES_SHOWN:
        shown.append(f"{len(named) - NAMES_SHOWN} more")
    return f"{len(fallen)} of {_count(len(rows), 'run')} {_fall(len(fallen))}: {'; '.join(shown)}."


def _months(days: Sequence[date]) -> str:
    """Months in a row, each year once."""
    by_year: dict[int, list[str]] = {}
    for day in days:
        months = by_year.setdefault(day.year, [])
        if MONTHS[day.month - 1] not in months:
            months.append(MONTHS[day.month - 1])
    return listed(f"{listed(months)} {year}" for year, months in by_year.items())


def shade_gap(plan: PutByPlan) -> str:
    """The months without the shade if nothing more is put by; empty where there are none.

    From the first run that falls to the end of the gap: `no Hedge Olive May to Aug 2027`.
    """
    found = gap_of(plan, plan.without)
    if found is None:
        return ""
    shades = [wish.shade or wish.dyestuff for wish in plan.wishes]
    return f"no {listed(dict.fromkeys(shades))} {months_in_words(*found)}"


def gap_of(plan: PutByPlan, rows: Iterable[Served]) -> tuple[date, date] | None:
    """First and last day of the gap that runs leave which fall; None where none falls."""
    fallen = [row.use for row in rows if row.short_mg and row.use.wish]
    if not fallen:
        return None
    since, last = fallen[0].since, max(use.last for use in fallen)
    last = max(last, max(wish.last_on for wish in plan.wishes))
    if plan.gap is not None and plan.gap.until is not None and plan.gap.holds(since):
        last = plan.gap.until - ONE_DAY
    return since, last


def months_in_words(since: date, last: date) -> str:
    """
    >>> months_in_words(date(2027, 5, 1), date(2027, 8, 31))
    'May to Aug 2027'
    >>> months_in_words(date(2026, 12, 24), date(2027, 1, 4))
    'Dec 2026 to Jan 2027'
    """
    end = f"{MONTHS[last.month - 1]} {last.year}"
    if (since.year, since.month) == (last.year, last.month):
        return end
    begin = MONTHS[since.month - 1]
    return f"{begin} to {end}" if since.year == last.year else f"{begin} {since.year} to {end}"


def what_room(plan: PutByPlan, room: Room) -> str:
    """Whether freezer or trays hold it."""
    needs = kilos(room.needs_mg)
    if room.kind == "freezer":
        if room.free_mg is None:
            return f"{needs} go into the freezer; no limit of it is written down."
        if room.over_mg:
            return (
                f"{needs} go into the freezer, {kilos(room.free_mg)} are free: over by "
                f"{kilos(room.over_mg)}. Use some first, or find other room."
            )
        return f"{needs} go into the freezer, {kilos(room.free_mg)} are free."
    if room.free_mg is None:
        return f"{needs} fresh have to be dried; no drying tray is written down to check room by."
    return (
        f"{needs} fresh have to be dried; the trays hold {kilos(room.free_mg)}: "
        f"{_count(room.loads, 'load')}, one after the other."
    )


def flag_words(plan: PutByPlan, *, by: date, today: date) -> str:
    """One line for the morning: a lot that spoils, else what a pick-up is wanted for.

    `put privet by Fri: 1,840 g dried (4,600 g fresh) are wanted for Hedge Olive, else 4 runs fall`
    """
    for_what = listed(dict.fromkeys(wish.shade or wish.dyestuff for wish in plan.wishes))
    when = day_within(by, today)
    turned = [f"{grams(row.lot_mg)} of {row.code}" for row in plan.to_turn if row.turn_by == by]
    if turned:
        verb = "dry" if plan.state == "dried" else "freeze"
        return f"{verb} {listed(turned)} {_on(when)}: {for_what} counts on it"
    fallen = sum(1 for row in plan.without if row.short_mg)
    said = f"put {plan.dyestuff} by {_on(when)}: {_up(plan.lacks_mg)} {plan.state}"
    if plan.state == "dried" and plan.lacks_fresh_mg is not None:
        said += f" ({_up(plan.lacks_fresh_mg)} fresh)"
    last = "" if plan.by is None or plan.by == by else f" by {day_in_words(plan.by)}"
    return f"{said} wanted{last} for {for_what}, else {_count(fallen, 'run')} {_fall(fallen)}"


def _on(when: str) -> str:
    return when if when == "today" else f"on {when}"


def dated(day: date) -> str:
    """
    >>> dated(date(2026, 11, 27))
    'Fri 27 Nov 2026'
    """
    return f"{day_in_words(day)} {day.year}"


def _turning_words(plan: PutByPlan) -> str:
    """Lots that lie fresh and must be put by."""
    verb = "Dry" if plan.state == "dried" else "Freeze"
    rows = [
        f"{grams(row.lot_mg)} of {row.code} by {dated(row.turn_by)}"
        for row in plan.to_turn
        if row.turn_by is not None
    ]
    return f"{verb} {listed(rows)}." if rows else ""


def _up(mg: int) -> str:
    """At least so much: whole grams, rounded up."""
    return grams(-(-mg // 1000) * 1000)


def _percent(value: object) -> str:
    text = f"{float(str(value)) * 100:.1f}".removesuffix(".0")
    return f"{text} %"


def _count(many: int, word: str) -> str:
    return f"{many} {_word(many, word)}"


def _word(many: int, word: str) -> str:
    return word if many == 1 else f"{word}s"


def _fall(many: int) -> str:
    return "falls" if many == 1 else "fall"
