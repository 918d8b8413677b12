"""A put-by plan in sentences: what to put by and when, what is a guess, which runs fall."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from inventory.science.saying import joined, say
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
        return (
            say("{turn} Then nothing more is wanted.", turn=turn)
            if turn
            else say("Nothing more has to be put by.")
        )
    much = say(
        "Put by at least {up} of {dyestuff}, {state}",
        up=_up(plan.lacks_mg),
        dyestuff=plan.dyestuff,
        state=plan.state,
    )
    if plan.state == "dried" and plan.lacks_fresh_mg is not None:
        much += say(" ({up} fresh)", up=_up(plan.lacks_fresh_mg))
    when = (
        say(", by {dated}.", dated=dated(plan.by))
        if plan.by is not None
        else say("; nothing is agreed that comes in time.")
    )
    return say("{turn} {much}{when}", turn=turn, much=much, when=when).strip()


def fresh_range(plan: PutByPlan) -> str:
    """Between how much and how much fresh, as the figures go; empty where they have no range."""
    between, factor, loss = plan.lacks_fresh_between, plan.turning.factor, plan.turning.loss
    if not plan.lacks_mg or plan.state != "dried":
        return ""
    if between is None or factor is None or loss is None:
        return say(
            "Nobody knows what {dyestuff} dries to: weigh some fresh and again dried, and "
            "write the figure in the studio's rules.",
            dyestuff=plan.dyestuff,
        )
    whose = "the studio's own" if factor.own else factor.basis
    return say(
        "{up} to {up_2} fresh, as the figures range: dried weight from fresh {percent} "
        "({whose}), lost on the way {percent_2} ({which}).",
        up=_up(between[0]),
        up_2=_up(between[1]),
        percent=_percent(factor.value),
        whose=whose,
        percent_2=_percent(loss.value),
        which=say("the studio’s own") if loss.own else loss.basis,
    )


def what_is_there(plan: PutByPlan) -> str:
    """What is wanted, and what of it the shelf has."""
    runs = [use for use in plan.uses if use.wish]
    asked = [use.what for use in plan.uses if not use.wish]
    said = say(
        "{count} wanted: {mg}, {state}.",
        count=_count(len(runs), "run"),
        mg=grams(sum(use.mg for use in runs)),
        state=plan.state,
    )
    if asked:
        waits = sum(use.mg for use in plan.uses if not use.wish)
        said += say(
            " Before them {asked} still lacks {waits}.", asked=listed(asked), waits=grams(waits)
        )
    said += say(" The shelf has {there_mg} that keeps till its run.", there_mg=grams(plan.there_mg))
    if plan.undated:
        said += say(" Not counted, as it has no day: run {undated}.", undated=listed(plan.undated))
    return said


def what_comes(plan: PutByPlan) -> str:
    """What may come in time, and how surely: a guess."""
    if not plan.lacks_mg:
        return ""
    if not plan.pick_ups:
        return say("No pick-up is agreed that would come in time.")
    count, last = _count(len(plan.pick_ups), "pick-up"), plan.pick_ups[-1].day
    if plan.coming.forecast is None:
        return say(
            "{count} till {dated}; nobody has said or noted what one brings.",
            count=count,
            dated=dated(last),
        )
    likely = grams(sum(mg for day, mg in plan.coming.likely() if day <= last))
    least = grams(sum(mg for day, mg in plan.coming.at_least(CAUTIOUS) if day <= last))
    said = say(
        "A guess: {likely} fresh likely come in {count} till {dated}, nine times in ten at "
        "least {least}, at worst nothing",
        likely=likely,
        count=count,
        dated=dated(last),
        least=least,
    )
    if plan.chance is not None:
        said += say("; a chance of {percent} that it is enough", percent=percent(plan.chance))
    told = [row.said_mg for row in plan.pick_ups]
    if None not in told:
        said += say(". Its sources said {mg}", mg=grams(sum(mg for mg in told if mg is not None)))
    return said + "."


def what_to_ask(plan: PutByPlan) -> str:
    """What is still short when everything that likely comes is put by; empty when nothing is."""
    if not plan.likely_short_mg:
        return ""
    said = say(
        "With what likely comes it is still short by {up}, {state}",
        up=_up(plan.likely_short_mg),
        state=plan.state,
    )
    more, till = plan.more_pick_ups, plan.open_till
    if more is None:
        return said + "."
    if till is None or till < plan.today:
        return say("{said}. No source is open before the first run that falls.", said=said)
    return say(
        "{said}: ask for {more} more {word} by {dated}.",
        said=said,
        more=more,
        word=_word(more, "pick-up"),
        dated=dated(till),
    )


def what_falls(rows: Sequence[Served]) -> str:
    """Which runs fall, of how many.

    `3 of 4 runs fall: Hedge Olive in Apr, May and Jun 2027.`
    """
    fallen = [row.use for row in rows if row.short_mg]
    if not fallen:
        return (
            say("all {count} runs can be dyed.", count=len(rows))
            if len(rows) > 1
            else say("the run can be dyed.")
        )
    by_name: dict[str, list[date]] = {}
    for use in fallen:
        by_name.setdefault(use.name or use.what, []).append(use.since)
    named = [
        say("{name} in {months}", name=name, months=_months(days)) for name, days in by_name.items()
    ]
    shown = named[:NAMES_SHOWN]
    if len(named) > NAMES_SHOWN:
        shown.append(say("{count} more", count=len(named) - NAMES_SHOWN))
    return say(
        "{count} of {count_2} {fall}: {shown}.",
        count=len(fallen),
        count_2=_count(len(rows), "run"),
        fall=_fall(len(fallen)),
        shown=joined("; ", shown),
    )


def _months(days: Sequence[date]) -> str:
    """Months in a row, each year once."""
    by_year: dict[int, list[str]] = {}
    for day in days:
        months = by_year.setdefault(day.year, [])
        if MONTHS[day.month - 1] not in months:
            months.append(MONTHS[day.month - 1])
    return listed(
        say("{months} {year}", months=listed(months), year=year) for year, months in by_year.items()
    )


def shade_gap(plan: PutByPlan) -> str:
    """The months without the shade if nothing more is put by; empty where there are none.

    From the first run that falls to the end of the gap: `no Hedge Olive May to Aug 2027`.
    """
    found = gap_of(plan, plan.without)
    if found is None:
        return ""
    shades = [wish.shade or wish.dyestuff for wish in plan.wishes]
    return say(
        "no {fromkeys} {months_in_words}",
        fromkeys=listed(dict.fromkeys(shades)),
        months_in_words=months_in_words(*found),
    )


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
    end = say("{months} {year}", months=MONTHS[last.month - 1], year=last.year)
    if (since.year, since.month) == (last.year, last.month):
        return end
    begin = MONTHS[since.month - 1]
    return (
        say("{begin} to {end}", begin=begin, end=end)
        if since.year == last.year
        else say("{begin} {year} to {end}", begin=begin, year=since.year, end=end)
    )


def what_room(plan: PutByPlan, room: Room) -> str:
    """Whether freezer or trays hold it."""
    needs = kilos(room.needs_mg)
    if room.kind == "freezer":
        if room.free_mg is None:
            return say("{needs} go into the freezer; no limit of it is written down.", needs=needs)
        if room.over_mg:
            return say(
                "{needs} go into the freezer, {free_mg} are free: over by {over_mg}. Use some "
                "first, or find other room.",
                needs=needs,
                free_mg=kilos(room.free_mg),
                over_mg=kilos(room.over_mg),
            )
        return say(
            "{needs} go into the freezer, {free_mg} are free.",
            needs=needs,
            free_mg=kilos(room.free_mg),
        )
    if room.free_mg is None:
        return say(
            "{needs} fresh have to be dried; no drying tray is written down to check room by.",
            needs=needs,
        )
    return say(
        "{needs} fresh have to be dried; the trays hold {free_mg}: {count}, one after the other.",
        needs=needs,
        free_mg=kilos(room.free_mg),
        count=_count(room.loads, "load"),
    )


def flag_words(plan: PutByPlan, *, by: date, today: date) -> str:
    """One line for the morning: a lot that spoils, else what a pick-up is wanted for.

    `put privet by Fri: 1,840 g dried (4,600 g fresh) are wanted for Hedge Olive, else 4 runs fall`
    """
    for_what = listed(dict.fromkeys(wish.shade or wish.dyestuff for wish in plan.wishes))
    when = day_within(by, today)
    turned = [
        say("{lot_mg} of {code}", lot_mg=grams(row.lot_mg), code=row.code)
        for row in plan.to_turn
        if row.turn_by == by
    ]
    if turned:
        verb = "dry" if plan.state == "dried" else "freeze"
        return say(
            "{verb} {turned} {when}: {for_what} counts on it",
            verb=verb,
            turned=listed(turned),
            when=_on(when),
            for_what=for_what,
        )
    fallen = sum(1 for row in plan.without if row.short_mg)
    said = say(
        "put {dyestuff} by {when}: {up} {state}",
        dyestuff=plan.dyestuff,
        when=_on(when),
        up=_up(plan.lacks_mg),
        state=plan.state,
    )
    if plan.state == "dried" and plan.lacks_fresh_mg is not None:
        said += say(" ({up} fresh)", up=_up(plan.lacks_fresh_mg))
    last = "" if plan.by is None or plan.by == by else say(" by {by}", by=day_in_words(plan.by))
    return say(
        "{said} wanted{last} for {for_what}, else {count} {fall}",
        said=said,
        last=last,
        for_what=for_what,
        count=_count(fallen, "run"),
        fall=_fall(fallen),
    )


def _on(when: str) -> str:
    return when if when == "today" else say("on {when}", when=when)


def dated(day: date) -> str:
    """
    >>> dated(date(2026, 11, 27))
    'Fri 27 Nov 2026'
    """
    return say("{day} {year}", day=day_in_words(day), year=day.year)


def _turning_words(plan: PutByPlan) -> str:
    """Lots that lie fresh and must be put by."""
    verb = "Dry" if plan.state == "dried" else "Freeze"
    rows = [
        say(
            "{lot_mg} of {code} by {dated}",
            lot_mg=grams(row.lot_mg),
            code=row.code,
            dated=dated(row.turn_by),
        )
        for row in plan.to_turn
        if row.turn_by is not None
    ]
    return say("{verb} {rows}.", verb=verb, rows=listed(rows)) if rows else ""


def _up(mg: int) -> str:
    """At least so much: whole grams, rounded up."""
    return grams(-(-mg // 1000) * 1000)


def _percent(value: object) -> str:
    text = f"{float(str(value)) * 100:.1f}".removesuffix(".0")
    return say("{text} %", text=text)


def _count(many: int, word: str) -> str:
    return say("{many} {word}", many=many, word=_word(many, word))


def _word(many: int, word: str) -> str:
    return word if many == 1 else f"{word}s"


def _fall(many: int) -> str:
    return "falls" if many == 1 else "fall"
