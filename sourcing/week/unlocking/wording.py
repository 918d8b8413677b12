"""An unlock in a dyer's words, each change with its amount and its moment."""

from __future__ import annotations

from datetime import date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction

from inventory.science.catalogue import find_figure
from inventory.science.saying import say
from sourcing.week.desk import Desk
from sourcing.week.facts import WeekFacts
from sourcing.week.moments import minute_of
from sourcing.week.needs import counted_by_piece
from sourcing.week.plan import Answer, Change, Unlock
from sourcing.week.unlocking.carrying import (
    carried_code,
    carry_begins,
    is_liquid,
    thing_of,
    way_minutes_of,
)
from sourcing.week.unlocking.easing import (
    MG_PER_GRAM,
    UL_PER_ML,
    Easing,
    arrivals,
    is_in,
    usual_hours,
)
from sourcing.week.unlocking.hanging_up import Hung
from sourcing.week.unlocking.trials import Pulled, Trial, Trials
from sourcing.week.words import (
    amount,
    day_in_words,
    days_in_words,
    decimal_string,
    kilos,
    listed,
    moment_in_words,
    pieces,
    pieces_short,
)

TOGETHER = {2: "both", 3: "all three", 4: "all four", 5: "all five", 6: "all six"}
WEEKDAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


def unlock_of(pulled: Pulled, trial: Trial, trials: Trials) -> Unlock:
    """An unlock from the answer that its changes lead to."""
    answer = trial.answer
    assert answer.first_step_at is not None
    changes = tuple(_change(easing, grains, trial, trials) for easing, grains in pulled)
    text = listed(change.text for change in changes)
    if len(changes) > 1:
        text = say("{together} together: {text}", together=TOGETHER[len(changes)], text=text)
    if any(easing.kind == "card days" for easing, _ in pulled):
        # The card has to hang first: the hours that it would have led to are not offered.
        return Unlock(changes, text, None, None)
    return Unlock(changes, text, answer.first_step_at, answer.dry_at)


def _change(easing: Easing, grains: int, trial: Trial, trials: Trials) -> Change:
    kind, answer, desk, facts = easing.kind, trial.answer, trial.desk, trials.facts
    if kind == "moved":
        return _moved(easing, trial, trials)
    if kind == "carry":
        return _carry(easing, grains, answer, facts)
    if kind == "hang" and easing.hung is not None:
        return hang_said(easing.what, easing.hung, facts)
    if kind == "claim":
        return _claim(easing, grains, answer, facts)
    if kind in ("dyestuff", "supply", "fibre", "liquor", "bath"):
        return _material(easing, grains, answer, facts)
    if kind == "line":
        return _line(easing, grains, desk, facts)
    if kind in ("ring", "pot"):
        return _place(easing, grains, answer, facts)
    if kind in ("hands", "longer day", "open day"):
        return _hours(easing, grains, facts)
    if kind in ("card days", "reading", "in writing"):
        return _card(easing, grains, facts)
    if kind in ("arrival", "due"):
        return _sooner(easing, grains, answer, facts)
    return _word(easing, grains, facts)


# -- materials -------------------------------------------------------------------------------


def _material(easing: Easing, grains: int, answer: Answer, facts: WeekFacts) -> Change:
    """So much more of it, by the step that takes it."""
    liquid = easing.kind in ("liquor", "bath")
    unit = "µL" if liquid else "mg"
    number = grains * (UL_PER_ML if liquid else MG_PER_GRAM)
    count = _pieces(easing, number, facts)
    counted = "" if count is None else say(" ({pieces})", pieces=pieces(count, easing.what))
    names = (say("more {what}", what=easing.what), easing.what, easing.like)
    by = next(
        (take.at for take in answer.takes if take.source in names or take.what == easing.what),
        answer.first_step_at,
    )
    when = "" if by is None else say(" by {by}", by=moment_in_words(by, facts.zone))
    text = say(
        "{number}{counted} more {called}{when}",
        number=amount(number, unit),
        counted=counted,
        called=_called(easing, facts),
        when=when,
    )
    return Change(easing.kind, easing.what, number, unit, text, count, until=by)


def _called(easing: Easing, facts: WeekFacts) -> str:
    if easing.kind == "liquor":
        jar = next((row for row in facts.shelf.jars if row.code == easing.what), None)
        return (
            say("{what} liquor", what=easing.what)
            if jar is None
            else say("in {name}", name=jar.name or jar.code)
        )
    if easing.kind == "bath" and easing.like:
        return say("of the bath of {shade}", shade=easing.like)
    if easing.kind == "fibre":
        lot = next((row for row in facts.shelf.fibre if row.code == easing.like), None)
        state = "" if lot is None or lot.scoured else say("unscoured ")
        return state + easing.what
    return easing.what


def _pieces(easing: Easing, mg: int, facts: WeekFacts) -> int | None:
    today = facts.at.astimezone(facts.zone).date()
    if easing.kind != "dyestuff" or not counted_by_piece(easing.what, facts, on=today):
        return None
    found = find_figure(facts.figures, easing.what, "piece_mass_g", on=today)
    return None if found is None else pieces_short(mg, Fraction(found.value) * MG_PER_GRAM)


def hang_said(code: str, when: Hung, facts: WeekFacts) -> Change:
    """`W-85 hung up Tue 24 Nov 09:00, dry Thu 26 Nov 09:00`."""
    _, since, until = when
    text = say(
        "{code} hung up {since}, dry {until}",
        code=code,
        since=moment_in_words(since, facts.zone),
        until=moment_in_words(until, facts.zone),
    )
    return Change("hang", code, 1, "yes", text, since=since, until=until)


def _carry(easing: Easing, grains: int, answer: Answer, facts: WeekFacts) -> Change:
    """So much of a lot taken to another site by the step that takes it."""
    assert easing.day is not None
    minutes = way_minutes_of(facts, easing.what, easing.like)
    begins = carry_begins(facts, easing.day, minutes)
    assert begins is not None
    lot = thing_of(facts, easing.what)
    unit = "µL" if is_liquid(lot) else "mg"
    number = grains * (UL_PER_ML if is_liquid(lot) else MG_PER_GRAM)
    code = carried_code(easing.what, easing.like)
    by = next((take.at for take in answer.takes if take.source == code), None)
    text = say(
        "{amount} of {code} carried from {site} to {like}{when}, weighed at both ends "
        "({minutes} min of hands on {day})",
        amount=amount(number, unit),
        code=easing.what,
        site=lot.site,
        like=easing.like,
        when="" if by is None else say(" by {by}", by=moment_in_words(by, facts.zone)),
        minutes=minutes,
        day=_day(easing.day, facts),
    )
    return Change("carry", easing.what, number, unit, text, since=begins, until=by)


# -- what another run has --------------------------------------------------------------------


def _claim(easing: Easing, grains: int, answer: Answer, facts: WeekFacts) -> Change:
    """So much of what another run has claimed by name, by the step that takes it."""
    jar = next((row for row in facts.shelf.jars if row.code == easing.what), None)
    unit = "mg" if jar is None and not _is_bath(easing.what, facts) else "µL"
    number = grains * (MG_PER_GRAM if unit == "mg" else UL_PER_ML)
    name = easing.what if jar is None else jar.name or jar.code
    by = next((take.at for take in answer.takes if take.source == easing.what), None)
    text = say("{amount} of {name} that {run} has claimed",
               amount=amount(number, unit), name=name, run=easing.like)  # fmt: skip
    return Change("claim", easing.what, number, unit, text, until=by, run=easing.like)


def _is_bath(code: str, facts: WeekFacts) -> bool:
    return any(bath.code == code for bath in facts.shelf.baths)


def _moved(easing: Easing, trial: Trial, trials: Trials) -> Change:
    """Another run made to come after this one: when it is dry then, and whether that is in time."""
    assert trials.earlier is not None
    facts = trials.facts
    after = next(row for row in trial.moved if row.run == easing.what)
    before = trials.earlier.answer_of(easing.what)
    assert before.dry_at is not None
    assert after.dry_at is not None
    was, then = (moment_in_words(row, facts.zone) for row in (before.dry_at, after.dry_at))
    instead = (
        say("dry {then} instead of {was}", then=then, was=was)
        if then != was
        else say("dry {then} as before", then=then)
    )
    text = say("{run} {shade} moved, if its asker agrees ({instead}, {late})", run=after.run,
               shade=after.shade, instead=instead, late=_in_time(after, facts))  # fmt: skip
    return Change("moved", easing.what, 1, "run", text, since=after.first_step_at,
                  until=after.dry_at, run=after.run)  # fmt: skip


def late_by(answer: Answer, facts: WeekFacts) -> int:
    """Minutes by which a run is dry after it was wanted; 0 where it is in time or has no day."""
    due = next(run.due for run in facts.runs if run.code == answer.run)
    if due is None or answer.dry_at is None:
        return 0
    return max(0, minute_of(answer.dry_at) - minute_of(due))


def _in_time(answer: Answer, facts: WeekFacts) -> str:
    """`still in time`, or by how much it is late."""
    late = late_by(answer, facts)
    if not late:
        return say("still in time")
    days, minutes = divmod(late, 24 * 60)
    hours = -(-minutes // 60)
    if not days:
        return say("late by {hours} h", hours=hours)
    if not hours:
        return say("late by {days}", days=days_in_words(days))
    return say("late by {days} and {hours} h", days=days_in_words(days), hours=hours)


# -- room ------------------------------------------------------------------------------------


def _line(easing: Easing, grains: int, desk: Desk, facts: WeekFacts) -> Change:
    """So much more room, while the line holds more than it can now."""
    holds = next(row.holds_mg for row in facts.shelf.lines if row.code == easing.what)
    rail = desk.board.rails[easing.what]
    moments = sorted({m for since, until, _ in rail.hung for m in (since, until)})
    over = [m for m in moments if rail.load_at(m) > holds and m >= desk.now]
    since = desk.calendar.moment(over[0])
    until = desk.calendar.moment(next(m for m in moments if m > over[-1]))
    room = "line room" if len(facts.shelf.lines) == 1 else say("room on {what}", what=easing.what)
    number = grains * MG_PER_GRAM
    text = say(
        "{number} more {room} on {stretch}",
        number=kilos(number),
        room=room,
        stretch=_stretch(since, until, facts),
    )
    return Change("line", easing.what, number, "mg", text, since=since, until=until)


def _place(easing: Easing, grains: int, answer: Answer, facts: WeekFacts) -> Change:
    """One more pot or ring, from its first use to its last."""
    code = "another ring" if easing.kind == "ring" else say("another {what}", what=easing.what)
    used = [step for step in answer.steps if step.vessel == code or step.ring.startswith(code)]
    since = min((step.start for step in used), default=None)
    until = max(
        (step.held_until if step.vessel == code else step.end for step in used), default=None
    )
    stretch = (
        ""
        if since is None or until is None
        else say(" on {stretch}", stretch=_stretch(since, until, facts))
    )
    if easing.kind == "ring":
        kw = decimal_string(Decimal(max(row.watts for row in facts.shelf.rings)) / 1000)
        return Change(
            "ring",
            "ring",
            grains,
            "ring",
            say("one more ring ({kw} kW){stretch}", kw=kw, stretch=stretch),
            since=since,
            until=until,
        )
    text = say(
        "one more {what} of {grains} working litres{stretch}",
        what=easing.what,
        grains=grains,
        stretch=stretch,
    )
    return Change("pot", easing.what, grains, "L", text, since=since, until=until)


def _hours(easing: Easing, grains: int, facts: WeekFacts) -> Change:
    assert easing.day is not None
    day = _day(easing.day, facts)
    place = say(" at {what}", what=easing.what) if easing.what else ""
    opens, closes_at = usual_hours(facts)
    since, until = (datetime.combine(easing.day, clock, tzinfo=facts.zone)
                    for clock in (opens, closes_at))  # fmt: skip
    if easing.kind == "longer day":
        # On a day that is shut as things are, longer than on a usual one.
        there = [row.closes for row in facts.hours if is_in(row, easing)]
        closes = max(there, default=until)
        until = closes + timedelta(minutes=grains)
        text = say(
            "somebody there{place} until {astimezone:%H:%M} on {day}",
            place=place,
            astimezone=until.astimezone(facts.zone),
            day=day,
        )
        return Change("longer day", easing.what, grains, "min", text, since=closes, until=until)
    if easing.kind == "open day":
        text = say(
            "{grains} min of hands{place} on {day}, {opens:%H:%M} to {closes_at:%H:%M}",
            grains=grains,
            place=place,
            day=day,
            opens=opens,
            closes_at=closes_at,
        )
        return Change("hands", easing.what, grains, "min", text, since=since, until=until)
    text = say("{grains} min more hands{place} on {day}", grains=grains, place=place, day=day)
    return Change("hands", easing.what, grains, "min", text, since=since, until=until)


# -- tests, dates and leave ------------------------------------------------------------------


def _card(easing: Easing, grains: int, facts: WeekFacts) -> Change:
    if easing.kind == "in writing":
        text = say("the client's yes in writing to the {what} reading as it is", what=easing.what)
        return Change("leave", easing.what, 1, "yes", text)
    if easing.kind == "card days":
        until = facts.at + timedelta(grains)
        day = day_in_words(until.astimezone(facts.zone).date())
        text = say(
            "{grains} more for the {what} card (to {day})",
            grains=days_in_words(grains),
            what=easing.what,
            day=day,
        )
        return Change("card days", easing.what, grains, "day", text, until=until)
    grade = decimal_string(Decimal(grains) / 2)
    return Change(
        "reading",
        easing.what,
        grains,
        "half grade",
        say("a {what} reading of {grade}", what=easing.what, grade=grade),
    )


def _sooner(easing: Easing, grains: int, answer: Answer, facts: WeekFacts) -> Change:
    if easing.kind == "due":
        run = next(row for row in facts.runs if row.code == easing.run)
        assert run.due is not None
        by = run.due + timedelta(minutes=grains)
        was, then = moment_in_words(run.due, facts.zone), moment_in_words(by, facts.zone)
        text = say("leave for it to be dry {then} instead of {was}", then=then, was=was)
        return Change("due", easing.what, grains, "min", text, until=by)
    comes = arrivals(facts)[easing.what]
    assert comes is not None
    by = max(facts.at, comes - timedelta(minutes=grains))
    text = say("{what} here by {by}", what=easing.what, by=moment_in_words(by, facts.zone))
    return Change("arrival", easing.what, minute_of(comes) - minute_of(by), "min", text, until=by)


def _word(easing: Easing, grains: int, facts: WeekFacts) -> Change:
    """A strip passed, a look, a label, a permission: one thing done or said."""
    jar = next((row for row in facts.shelf.jars if row.code == easing.what), None)
    name = easing.what if jar is None else jar.name or jar.code
    texts = {
        "strip": say("a strip of {grains} on {name}", grains=grains, name=name),
        "label": say("{name} known for certain and labelled", name=name),
        "look over": say("{name} looked over and found sound", name=name),
        "permission": say("permission for {name} written down", name=name),
        "nest check": say("a nest check on record for {name}", name=name),
        "shade card": say("the shade card for {name} approved", name=name),
    }
    unit = "grade" if easing.kind == "strip" else "yes"
    kind = "leave" if easing.kind in ("permission", "nest check", "shade card") else easing.kind
    return Change(kind, easing.what, grains, unit, texts[easing.kind], until=facts.at)


def _day(day: date, facts: WeekFacts) -> str:
    """A day of the week to come by its name, else with its date."""
    ahead = (day - facts.at.astimezone(facts.zone).date()).days
    if 0 <= ahead < 7:
        return WEEKDAYS[day.weekday()]
    return day_in_words(day)


def _stretch(since: datetime, until: datetime, facts: WeekFacts) -> str:
    """From a moment to a moment: `Friday (15:00 to Sat 28 Nov 10:00)`."""
    begins, ends = since.astimezone(facts.zone), until.astimezone(facts.zone)
    end = f"{ends:%H:%M}" if ends.date() == begins.date() else moment_in_words(until, facts.zone)
    return say(
        "{day} ({begins:%H:%M} to {end})", day=_day(begins.date(), facts), begins=begins, end=end
    )
