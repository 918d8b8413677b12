"""What has to be seen to this morning: flags with a day and one thing to do, in a fixed order.

Kinds in their order: use today, past, dip, retest, no label, bath ends, damp fibre, damp lot,
ends before its use, room, put by, pick-up, pot, order, promise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from functools import cached_property

from inventory.science.catalogue import figure
from inventory.science.days import local_day
from inventory.science.facts import FibreFacts, JarFacts, LotFacts
from inventory.science.keeping import (
    LastGood,
    bath_last_good_day,
    fibre_last_good_day,
    last_good_day,
)
from inventory.science.maturing import JarState, state_of
from inventory.science.saying import joined, say
from sourcing.putting_by.plan import plans_of
from sourcing.putting_by.words import flag_words
from sourcing.week.facts import FastnessWish, Recipe, RunFacts, WeekFacts
from sourcing.week.freezer import is_frozen_to_keep
from sourcing.week.gates import card_out_on
from sourcing.week.pick_up_flags import pick_up_flags
from sourcing.week.plan import Answer, Flag, Job, Take
from sourcing.week.room_remedies import RoomsOfWeek, over_in_words, rooms_of_week
from sourcing.week.rooms import Room, RoomEvening
from sourcing.week.to_order import ToOrder, order_flags, to_order
from sourcing.week.words import amount, day_in_words, day_within, grams, listed

DIPS = ("steeping", "ready to dip")


def flags_of(
    facts: WeekFacts,
    answers: tuple[Answer, ...],
    *,
    until: datetime,
    rooms: RoomsOfWeek | None = None,
    orders: tuple[ToOrder, ...] | None = None,
) -> tuple[Flag, ...]:
    """The morning's flags, kind by kind, within a kind in the order of the shelves.

    Parameters
    ----------
    facts : everything at one moment; today is its `at`
    answers : one a run, placed ones with what they take and the jobs they ask for
    until : end of the period; what ends or is dipped later is no flag yet
    rooms, orders : where they have been worked out already
    """
    rooms = rooms or rooms_of_week(facts, answers, until=until)
    orders = to_order(facts) if orders is None else orders
    morning = _Morning(facts, answers, until, rooms)
    return (
        *_use_today(morning),
        *_past(morning),
        *_jars(morning),
        *_no_label(morning),
        *_baths(morning),
        *_damp_fibre(morning),
        *_damp_lots(morning),
        *_ends_before_use(morning),
        *_room(morning),
        *_put_by(morning),
        *pick_up_flags(facts, answers, until=until),
        *_pots(morning),
        *order_flags(facts, orders, last=morning.day(until) - timedelta(days=1)),
        *_promises(morning),
    )


@dataclass(frozen=True)
class _Morning:
    """One morning's facts and answers, asked by lot and run."""

    facts: WeekFacts
    answers: tuple[Answer, ...]
    until: datetime
    rooms: RoomsOfWeek

    @cached_property
    def today(self) -> date:
        return self.day(self.facts.at)

    @cached_property
    def takes(self) -> dict[str, list[Take]]:
        """What placed runs take, by what they take it from."""
        rows: dict[str, list[Take]] = {}
        for answer in self.answers:
            for take in answer.takes if answer.answer != "no" else ():
                rows.setdefault(take.source, []).append(take)
        return rows

    @cached_property
    def jobs(self) -> dict[tuple[str, str], Job]:
        """Jobs by run and lot."""
        return {(job.run, job.lot): job for answer in self.answers for job in answer.jobs}

    @cached_property
    def lots(self) -> tuple[tuple[LotFacts, LastGood], ...]:
        """Lots that are here and in use, with their last good day as kept now."""
        here = [
            lot
            for lot in self.facts.shelf.lots
            if lot.left_mg > 0 and (lot.arrives_at is None or lot.arrives_at <= self.facts.at)
        ]
        return tuple((lot, self.good(lot)) for lot in here if in_use(lot))

    def good(self, lot: LotFacts) -> LastGood:
        facts = self.facts
        return last_good_day(lot, facts.figures, zone=facts.zone, at=facts.at)

    def day(self, at: datetime) -> date:
        return local_day(at, zone=self.facts.zone)

    def within(self, day: date) -> bool:
        """Whether a day's first moment falls in the period."""
        return day < self.day(self.until) or day == self.today

    def said(self, day: date) -> str:
        return day_within(day, self.today)


def in_use(lot: LotFacts) -> bool:
    """Whether a lot may be used as it stands."""
    return not lot.set_aside and lot.labelled and lot.stay.state != "damp"


# -- lots ------------------------------------------------------------------------------------


def _use_today(morning: _Morning) -> Iterator[Flag]:
    for lot, good in morning.lots:
        if good.day == morning.today:
            do = put_by_words(morning.facts, lot)
            text = say(
                "{do} {code} today ({dyestuff}, {left_mg}): last good day",
                do=do,
                code=lot.code,
                dyestuff=lot.dyestuff,
                left_mg=grams(lot.left_mg),
            )
            yield Flag("use today", lot.code, morning.today, text)


def put_by_words(facts: WeekFacts, lot: LotFacts) -> str:
    """What keeps a lot: freezing or drying where that is its way, else only using it."""
    if lot.stay.state != "fresh":
        return "use"
    if is_frozen_to_keep(facts, lot):
        return "freeze or use"
    return "dry or use"


def _past(morning: _Morning) -> Iterator[Flag]:
    """Lots and baths past their last good day: nothing is counted of them."""
    for lot, good in morning.lots:
        days = (morning.today - good.day).days
        if days > 0:
            text = say(
                "compost {code} ({dyestuff}, {left_mg}): past its last good day by {days}",
                code=lot.code,
                dyestuff=lot.dyestuff,
                left_mg=grams(lot.left_mg),
                days=_days(days),
            )
            yield Flag("past", lot.code, morning.today, text)
    for bath in morning.facts.shelf.baths:
        good = bath_last_good_day(bath, morning.facts.figures, zone=morning.facts.zone)
        days = (morning.today - good.day).days
        if bath.left_ul > 0 and not bath.set_aside and days > 0:
            text = say(
                "tip out {code} ({what}, {left_ul}): past its last good day by {days}",
                code=bath.code,
                what=bath.what,
                left_ul=amount(bath.left_ul, "µL"),
                days=_days(days),
            )
            yield Flag("past", bath.code, morning.today, text)


def _damp_lots(morning: _Morning) -> Iterator[Flag]:
    for lot in morning.facts.shelf.lots:
        damp = lot.stay.state == "damp" or lot.set_aside == "damp"
        if damp and lot.labelled and lot.left_mg > 0:
            text = say(
                "dry {code} ({dyestuff}, {left_mg} damp) and weigh it again",
                code=lot.code,
                dyestuff=lot.dyestuff,
                left_mg=grams(lot.left_mg),
            )
            yield Flag("damp lot", lot.code, morning.today, text)


def _ends_before_use(morning: _Morning) -> Iterator[Flag]:
    """Lots that end after today, but before the step that takes of them."""
    for lot, good in morning.lots:
        if good.day <= morning.today:
            continue
        late = [t for t in morning.takes.get(lot.code, ()) if morning.day(t.at) > good.day]
        if not late:
            continue
        first = min(late, key=lambda take: take.at)
        used = morning.said(morning.day(first.at))
        job = morning.jobs.get((first.run, lot.code))
        ends = say(
            "{code} ({dyestuff}) ends {said}",
            code=lot.code,
            dyestuff=lot.dyestuff,
            said=morning.said(good.day),
        )
        todo = job.text if job is not None else say("put {amount} by", amount=grams(first.amount))
        yield Flag(
            say("ends before its use"),
            lot.code,
            good.day,
            say(
                "{ends}, before {used} ({run}): {todo}",
                ends=ends,
                used=used,
                run=first.run,
                todo=todo,
            ),
        )


# -- jars and baths --------------------------------------------------------------------------


def _jars(morning: _Morning) -> Iterator[Flag]:
    """Jars to dip, then jars whose strip is too old."""
    facts = morning.facts
    states = [(jar, state_of(jar, facts.figures, at=facts.at, zone=facts.zone))
              for jar in facts.shelf.jars]  # fmt: skip
    for jar, state in states:
        if state.word in DIPS and state.next_dip is not None and morning.within(state.next_dip):
            yield Flag("dip", jar.code, state.next_dip, _dip_words(morning, jar, state))
    for jar, state in states:
        if state.word == "retest":
            yield Flag("retest", jar.code, morning.today, _retest_words(morning, jar, state))


def _dip_words(morning: _Morning, jar: JarFacts, state: JarState) -> str:
    assert state.next_dip is not None
    text = say("dip {jar_name} {said}", jar_name=jar_name(jar), said=morning.said(state.next_dip))
    if state.age_days is not None:
        text += say(": today is day {age_days}", age_days=state.age_days)
    if state.usable_from is None:
        return text
    return say(
        "{text}, by the clock alone usable {day}",
        text=text,
        day=day_in_words(morning.day(state.usable_from)),
    )


def _retest_words(morning: _Morning, jar: JarFacts, state: JarState) -> str:
    valid = figure(morning.facts.figures, "iron liquor", "strip_valid_days", on=morning.today).value
    if state.strip_age_days is None:
        return say(
            "dip {jar_name}: it has stood past the {valid} days that count without a strip",
            jar_name=jar_name(jar),
            valid=valid,
        )
    return say(
        "dip {jar_name} again: its strip is {strip_age_days} days old, limit {valid}",
        jar_name=jar_name(jar),
        strip_age_days=state.strip_age_days,
        valid=valid,
    )


def jar_name(jar: JarFacts) -> str:
    """A jar by its name and code."""
    return say("{name} ({code})", name=jar.name, code=jar.code) if jar.name else jar.code


def _no_label(morning: _Morning) -> Iterator[Flag]:
    for jar in morning.facts.shelf.jars:
        if not jar.labelled and jar.left_ul > 0:
            looks = say("{looks}, ", looks=jar.looks) if jar.looks else ""
            text = say(
                "find out what {code} is ({looks}{left_ul}): no label",
                code=jar.code,
                looks=looks,
                left_ul=amount(jar.left_ul, "µL"),
            )
            yield Flag("no label", jar.code, morning.today, text)
    for lot in morning.facts.shelf.lots:
        if not lot.labelled and lot.left_mg > 0:
            text = say(
                "find out what {code} is ({left_mg}): no label",
                code=lot.code,
                left_mg=grams(lot.left_mg),
            )
            yield Flag("no label", lot.code, morning.today, text)
    for fibre in morning.facts.shelf.fibre:
        if not fibre.labelled and fibre.left_mg > 0:
            text = say(
                "find out what {code} has had ({left_mg}): no label",
                code=fibre.code,
                left_mg=grams(fibre.left_mg),
            )
            yield Flag("no label", fibre.code, morning.today, text)


def _baths(morning: _Morning) -> Iterator[Flag]:
    """Baths that end in the period, with the run that would want them later."""
    facts = morning.facts
    for bath in facts.shelf.baths:
        good = bath_last_good_day(bath, facts.figures, zone=facts.zone)
        if bath.set_aside or bath.left_ul <= 0:
            continue
        if good.day < morning.today or not morning.within(good.day):
            continue
        text = say(
            "{code} ({what}) ends {said}",
            code=bath.code,
            what=bath.what,
            said=morning.said(good.day),
        )
        later = [row for row in _uses(morning, bath.what) if row[0] > good.day]
        if later:
            day, run = min(later)
            text += say(", before {said} ({run})", said=morning.said(day), run=run)
        yield Flag(
            "bath ends", bath.code, good.day, say("{text}: use it or tip it out by then", text=text)
        )


def _uses(morning: _Morning, bath: str) -> Iterator[tuple[date, str]]:
    """Days on which runs use a kind of bath."""
    facts = morning.facts
    recipes = {row.code: row for row in facts.recipes}
    by_run = {answer.run: answer for answer in morning.answers}
    for run in facts.runs:
        recipe = recipes.get(run.recipe)
        for step in _bath_steps(recipe, bath):
            at = _used_at(facts, run, by_run.get(run.code), step)
            if at is not None:
                yield morning.day(at), run.code


def _bath_steps(recipe: Recipe | None, bath: str) -> set[str]:
    doses = recipe.doses if recipe is not None else ()
    return {dose.step for dose in doses if dose.kind == "bath" and dose.what == bath}


def _used_at(facts: WeekFacts, run: RunFacts, answer: Answer | None, step: str) -> datetime | None:
    """When a run comes to a step: its group day, the step as placed, else the day it is due."""
    blocks = [block.since for block in facts.blocks if run.group_block == block.code]
    if run.group_block and blocks:
        return min(blocks)
    placed = [row.start for row in answer.steps if row.step == step] if answer else []
    return min(placed) if placed else run.due


# -- fibre, room, pots -----------------------------------------------------------------------


def _damp_fibre(morning: _Morning) -> Iterator[Flag]:
    facts = morning.facts
    limit = figure(facts.figures, "studio", "damp_mordanted_days", on=morning.today).value
    for fibre in facts.shelf.fibre:
        good = fibre_last_good_day(fibre, facts.figures, on=morning.today)
        if fibre.left_mg <= 0 or good is None or good.day >= morning.today:
            continue
        assert fibre.since is not None
        days = (morning.today - fibre.since).days
        text = say(
            "{code} ({fibre}) damp for {days}, limit {limit}",
            code=fibre.code,
            fibre=fibre.fibre,
            days=_days(days),
            limit=limit,
        )
        yield Flag("damp fibre", fibre.code, *_check(morning, fibre, text))


def _check(morning: _Morning, fibre: FibreFacts, text: str) -> tuple[date, str]:
    """The day on which damp fibre is looked at, by a chore of the studio's or today, in words."""
    chore = next((row for row in morning.facts.chores if row.clears == fibre.code), None)
    day = chore.day if chore is not None else morning.today
    return day, say("{text}: check it for mould {said}", text=text, said=morning.said(day))


def _room(morning: _Morning) -> Iterator[Flag]:
    """Each room on the first evening of every stretch that is over, with what makes it hold.

    What is only likely is no flag before the day itself, when it has to be seen to as it comes.
    """
    for room in morning.rooms.rooms:
        before = False
        for evening in room.evenings:
            today = evening.day == morning.today
            over = evening.over_mg > 0 or (today and evening.likely_over_mg > 0)
            if over and not before:
                text = _room_words(morning, room, evening)
                yield Flag("room", room.name, evening.day, text)
            before = over


def _room_words(morning: _Morning, room: Room, evening: RoomEvening) -> str:
    sure, today = evening.over_mg > 0, evening.day == morning.today
    rows = morning.rooms.todo(room, evening, likely=not sure)
    todo = [row.text for row in rows if row.how not in ("use first", "no room")]
    rest = sum(row.mg for row in rows if row.how in ("use first", "no room"))
    if rest:
        doing = "use" if room.kind == "tray" else "use or dry"
        todo.append(
            say(
                "{doing} {rest} {which}",
                doing=doing,
                rest=grams(rest),
                which=say("today") if today else say("by then"),
            )
        )
    when = "tonight" if today else say("on {day}", day=day_in_words(evening.day))
    return say(
        "{over_in_words}: {todo}",
        over_in_words=over_in_words(room, evening, when=when),
        todo=listed(todo),
    )


def _put_by(morning: _Morning) -> Iterator[Flag]:
    """What has to be put by in the period for runs that are wished for over a gap."""
    if not morning.facts.put_by:
        return
    for plan in plans_of(morning.facts, morning.answers, morning.facts.put_by):
        by = next((day for day in plan.days_to_act if morning.within(day)), None)
        if by is not None:
            text = flag_words(plan, by=by, today=morning.today)
            yield Flag("put by", plan.dyestuff, by, text)


def _pots(morning: _Morning) -> Iterator[Flag]:
    for vessel in morning.facts.shelf.vessels:
        if vessel.chipped:
            text = say(
                "{code} ({material} {kind}) is chipped: no brights in it",
                code=vessel.code,
                material=vessel.material,
                kind=vessel.kind,
            )
            yield Flag("pot", vessel.code, None, text)


# -- promises --------------------------------------------------------------------------------


def _promises(morning: _Morning) -> Iterator[Flag]:
    """Runs for a client that must not be promised yet, each with its reasons and next look."""
    recipes = {row.code: row for row in morning.facts.recipes}
    for run in morning.facts.runs:
        if not run.client:
            continue
        bars = [*_readings(morning, run), *_card(run), *_fades(morning, recipes.get(run.recipe))]
        if not bars:
            continue
        days = [day for day, _ in bars if day is not None]
        text = say(
            "do not promise {shade} ({code}): {text}",
            shade=run.shade,
            code=run.code,
            text=joined("; ", (text for _, text in bars)),
        )
        yield Flag("promise", run.code, max(days, default=None), text)


def _readings(morning: _Morning, run: RunFacts) -> Iterator[tuple[date | None, str]]:
    for wish in run.wishes:
        out = card_out_on(wish)
        young = out is None or morning.today < out
        low = wish.reading is None or wish.reading < wish.wanted
        if wish.accepted_in_writing or not (young or low):
            continue
        yield (out if young else None), _reading_words(morning, wish, out, young=young)


def _reading_words(morning: _Morning, wish: FastnessWish, out: date | None, *, young: bool) -> str:
    there = "no reading" if wish.reading is None else say("reading {reading}", reading=wish.reading)
    text = say("{what} {there}, {wanted} wanted", what=wish.what, there=there, wanted=wish.wanted)
    if out is None or wish.begun_on is None:
        return say("{text}, no card hung yet", text=text)
    if not young:
        return text
    day = (morning.today - wish.begun_on).days
    return say(
        "{text}, day {day} of {days}, look again {out}",
        text=text,
        day=day,
        days=wish.days,
        out=day_in_words(out),
    )


def _card(run: RunFacts) -> Iterator[tuple[date | None, str]]:
    if run.group_block:
        return
    if run.shade_card is None or not run.shade_card.exists:
        yield None, say("no shade card on {fibre}", fibre=run.fibre)
    elif not run.shade_card.approved:
        yield None, say("shade card on {fibre} not approved", fibre=run.fibre)


def _fades(morning: _Morning, recipe: Recipe | None) -> Iterator[tuple[date | None, str]]:
    if recipe is None:
        return
    fading = sorted({d.what for d in recipe.doses if d.what in morning.facts.fugitive})
    if fading or recipe.fugitive:
        yield None, say("{fading} is fugitive", fading=listed(fading) or recipe.shade)


def _days(count: int) -> str:
    return "1 day" if count == 1 else say("{count} days", count=count)
