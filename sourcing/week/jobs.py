"""Jobs that the studio can do itself so that a run works: putting a lot by, making a bath."""

from __future__ import annotations

from datetime import date, timedelta
from fractions import Fraction

from inventory.science.catalogue import find_figure
from inventory.science.days import local_day
from inventory.science.facts import BathFacts
from inventory.science.keeping import bath_last_good_day, if_put_by
from inventory.science.saying import say
from sourcing.week.allowed import allowed_vessels, can_heat
from sourcing.week.desk import Desk, spend
from sourcing.week.facts import Step
from sourcing.week.fits import Round
from sourcing.week.larder import Pick, serves
from sourcing.week.place import Placer
from sourcing.week.plan import Job
from sourcing.week.rooms import drying_days
from sourcing.week.stages import Option, Stage, options_for
from sourcing.week.wants import MakingWanted
from sourcing.week.words import amount, day_in_words, grams

ROOM_FOR = {"frozen": "freezer", "dried": "tray"}


def put_by_job(
    pick: Pick, run: str, desk: Desk, planned: list[tuple[Job, Pick]], *, wanted: date
) -> Job | str:
    """The job that keeps a lot usable past its last good day, as late as it fits, else why not.

    Hands are not taken yet; `book_put_by` does that once the run is placed.

    Parameters
    ----------
    planned : putting-by that the same run asks for beside this
    wanted : day on which the lot is used
    """
    assert pick.last_good is not None
    if not pick.put_by:
        return say(
            "{code} ends {last_good} and cannot be put by",
            code=pick.code,
            last_good=day_in_words(pick.last_good),
        )
    minutes = put_by_minutes(pick.what, desk)
    day = _last_day_with_hands(desk, desk.today, pick.last_good, minutes)
    if day is None:
        return say(
            "{code} ends {last_good}; nobody is in to put it by",
            code=pick.code,
            last_good=day_in_words(pick.last_good),
        )
    room = _room_mg(pick, desk, planned, since=day, until=wanted)
    if room is not None and room < pick.amount:
        over = grams(pick.amount - room)
        where = "to freeze it" if pick.put_by == "frozen" else say("on the trays to dry it")
        return say(
            "{code} ends {last_good}; no room {where}, {over} over",
            code=pick.code,
            last_good=day_in_words(pick.last_good),
            where=where,
            over=over,
        )
    good_to = _good_to(pick, day, desk)
    if good_to < wanted:
        state = say(
            "{code} {put_by} {day}", code=pick.code, put_by=pick.put_by, day=day_in_words(day)
        )
        return say(
            "{state} would be good to {good_to} only", state=state, good_to=day_in_words(good_to)
        )
    freezes = pick.put_by == "frozen"
    when = "today" if day == desk.today else day_in_words(day)
    whole = desk.larder.left[pick.code] == pick.amount
    part = "" if whole else say("{amount} of ", amount=grams(pick.amount))
    return Job(
        say("freeze {code}", code=pick.code) if freezes else say("dry {code}", code=pick.code),
        day,
        say("freeze {part}{code} {when}", part=part, code=pick.code, when=when)
        if freezes
        else say("dry {part}{code} {when}", part=part, code=pick.code, when=when),
        run,
        minutes,
        "put by",
        pick.code,
    )


def _good_to(pick: Pick, day: date, desk: Desk) -> date:
    """The last good day of a lot put by on a day."""
    lot = next(row for row in desk.facts.shelf.lots if row.code == pick.code)
    facts = desk.facts
    return if_put_by(lot, pick.put_by, facts.figures, on=day, zone=facts.zone).day


def put_by_minutes(dyestuff: str, desk: Desk) -> int:
    """Minutes of hands to put a lot by."""
    for item in (dyestuff, "any dyestuff"):
        found = find_figure(desk.facts.figures, item, "put_by_min", on=desk.today)
        if found is not None:
            return round(found.value)
    return 0


def _room_mg(
    pick: Pick, desk: Desk, planned: list[tuple[Job, Pick]], *, since: date, until: date
) -> int | None:
    """Room in the freezer or on the trays on every evening from a putting-by until the lot is used
    or dry; None: no limit.

    What arrives later does not count: it can wait in the fridge.
    """
    kind = _takes_room(pick, desk)
    places = [p for p in desk.facts.shelf.cold_places if p.kind == kind]
    if not kind or any(place.holds_mg is None for place in places):
        return None
    first, last = (
        desk.calendar.day_number_of(day) for day in (since, _till(pick, since, until, desk))
    )
    booked = [(day, mg) for where, day, mg in desk.rooms if where == kind]
    booked += _lies_there(kind, desk)
    fullest = max(
        sum(mg for day, mg in booked if day <= evening)
        for evening in range(first, max(first + 1, last))
    )
    inside = sum(row.amount for _, row in planned if row.put_by == pick.put_by)
    return sum(place.holds_mg or 0 for place in places) - inside - fullest


def _takes_room(pick: Pick, desk: Desk) -> str:
    """The kind of room that a putting-by takes anew; empty where the lot lies in it already."""
    kind = ROOM_FOR.get(pick.put_by, "")
    lot = next((row for row in desk.facts.shelf.lots if row.code == pick.code), None)
    return "" if lot is not None and lot.stay.place_kind == kind else kind


def _lies_there(kind: str, desk: Desk) -> list[tuple[int, int]]:
    """What lies in a kind of room now, and leaves the trays once it is dry."""
    rows = []
    for lot in desk.facts.shelf.lots:
        if lot.stay.place_kind != kind:
            continue
        rows.append((0, lot.left_mg))
        if kind == "tray":
            spread = local_day(lot.stay.since, zone=desk.facts.zone)
            wet = lot.stay.state in ("fresh", "damp")
            dry = spread + timedelta(_drying_days(lot.dyestuff, desk) if wet else 0)
            rows.append((max(1, desk.calendar.day_number_of(dry)), -lot.left_mg))
    return rows


def _till(pick: Pick, since: date, used: date, desk: Desk) -> date:
    """The day on which a lot that was put by leaves its room: used, or dry before that."""
    if pick.put_by != "dried":
        return used
    return min(used, since + timedelta(_drying_days(pick.what, desk)))


def _drying_days(dyestuff: str, desk: Desk) -> int:
    return drying_days(dyestuff, desk.facts.figures, on=desk.today)


def take_from_freezer(pick: Pick, at: int, desk: Desk) -> None:
    """A placed step takes a lot out of the freezer on its day."""
    lots = {lot.code: lot for lot in desk.facts.shelf.lots}
    lot = lots.get(pick.code)
    if lot is not None and lot.stay.place_kind == "freezer":
        desk.rooms.append(("freezer", desk.calendar.day_number(at), -pick.amount))


def _last_day_with_hands(desk: Desk, since: date, until: date, minutes: int) -> date | None:
    """The latest open day of a stretch that has the minutes left."""
    site = desk.facts.sites[0]
    hands = desk.board.hands[site]
    best = None
    for index, day in enumerate(desk.placers[site].calendar.open_days):
        if since <= day.day <= until and day.closes > desk.now and hands[index] >= minutes:
            best = day.day
    return best


def book_put_by(job: Job, pick: Pick, desk: Desk, *, used: int) -> None:
    """Take the hands of a putting-by, and the room until the minute at which the lot is used."""
    spend(desk, job.by, job.hands_min)
    kind = _takes_room(pick, desk)
    if kind:
        leaves = _till(pick, job.by, desk.calendar.day_of(used), desk)
        desk.rooms.append((kind, desk.calendar.day_number_of(job.by), pick.amount))
        desk.rooms.append((kind, desk.calendar.day_number_of(leaves), -pick.amount))


def make_bath(
    wanted: MakingWanted, run: str, desk: Desk, *, before: int, not_before: date, site: str
) -> tuple[Job, Round] | str:
    """The latest moment before a step at which a bath can be made, booked; else why there is none.

    Parameters
    ----------
    before : minute at which the bath is wanted
    not_before : day from which it keeps until then
    site : where it is wanted; empty: any
    """
    best = _best(wanted, desk, before=before, not_before=not_before, site=site)
    if best is None:
        return say("no time to make {bath} before it is wanted", bath=wanted.making.bath)
    done, placer = best
    book_round(done, run, placer)
    day = placer.calendar.day_of(done.start)
    text = say(
        "make {need_ul} of {bath} {which}",
        need_ul=amount(wanted.need_ul, "µL"),
        bath=wanted.making.bath,
        which=say("today") if day == desk.today else day_in_words(day),
    )
    job = Job(
        say("make {bath}", bath=wanted.making.bath),
        day,
        text,
        run,
        done.hands_min,
        "make bath",
        wanted.making.bath,
    )
    return job, done


def can_make(
    wanted: MakingWanted, desk: Desk, *, before: int, not_before: date, site: str = ""
) -> bool:
    """Whether a bath can be made so; nothing is booked."""
    return _best(wanted, desk, before=before, not_before=not_before, site=site) is not None


def _best(
    wanted: MakingWanted, desk: Desk, *, before: int, not_before: date, site: str
) -> tuple[Round, Placer] | None:
    """The latest round of making a bath, over the sites, with the placer of its own."""
    best: tuple[Round, Placer] | None = None
    for placer in desk.placers.values():
        if not serves(placer.room.site, site):
            continue
        stage = _making_stage(wanted, placer)
        found = _latest(stage, placer, desk, before=before, not_before=not_before)
        if found is not None and (best is None or found[0].start > best[0].start):
            best = found[0], placer
    return best


def book_round(done: Round, run: str, placer: Placer) -> None:
    """Write one round into the board."""
    placer.board.hands[placer.room.site][done.day] -= done.hands_min
    placer.board.watch(placer.room.site, done.start, done.attended_until)
    for load in done.loads:
        placer.board.vessels[load.vessel].add(done.start, done.free_at, run)
        if load.ring:
            placer.board.rings[load.ring].add(done.start, load.heat_until, run)


def _making_stage(wanted: MakingWanted, placer: Placer) -> Stage:
    making = wanted.making
    step = Step(say("make {bath}", bath=making.bath), "decoct", making.vessels, heats=making.heats,
                hands_min=making.hands_min)  # fmt: skip
    litres_ml = Fraction(wanted.need_ul, 1000)
    room = placer.room
    fit = [
        vessel
        for vessel in allowed_vessels(room.vessels, step, bright=wanted.bright, site=room.site)
        if can_heat(vessel, room.rings)
    ]
    start = room.water_c
    heats = []
    for heat in making.heats:
        begin = start if heat.start_c is None else heat.start_c
        heats.append((begin, heat.goal_c, heat.hold_min))
        start = heat.goal_c
    options = options_for(litres_ml, tuple((v.code, v.working_ml) for v in fit), len(room.rings))
    return Stage(step, 0, litres_ml, tuple(o for o in options if o.rounds == 1),
                 making.hands_min, making.hands_min, tuple(heats), False, 0)  # fmt: skip


def _latest(
    stage: Stage, placer: Placer, desk: Desk, *, before: int, not_before: date
) -> tuple[Round, Option] | None:
    """The latest round that is over before a minute: day by day backwards, then by the grid."""
    calendar, grid = placer.calendar, desk.house.starts_on
    hands = placer.board.hands[placer.room.site]
    for index in range(len(calendar.openings) - 1, -1, -1):
        day = calendar.openings[index]
        if day.opens >= before or day.day < not_before or day.closes <= desk.now:
            continue
        latest = min(day.closes, before) // grid * grid
        for minute in range(latest, max(day.opens, desk.now) - 1, -grid):
            for option in stage.options:
                tried = placer.try_at(stage, option, minute, index, hands[day.pool])
                if isinstance(tried, Round) and tried.end <= before:
                    return tried, option
    return None


def keeps_from(bath: str, needed: int, desk: Desk) -> date:
    """The first day on which a bath made then is still good on the day it is needed."""
    day = desk.calendar.day_of(needed)
    made = BathFacts(bath, bath, desk.calendar.moment(needed), 0, desk.house.shed_c)
    keeps = bath_last_good_day(made, desk.facts.figures, zone=desk.facts.zone).day - day
    return day - keeps


def dip_chores(desk: Desk, next_dips: list[date], *, site: str = "") -> None:
    """Minutes for the dips that fall due, on their day or the next open one, where the jars are."""
    placer = desk.placers.get(site) or desk.placers[desk.facts.sites[0]]
    calendar = placer.calendar
    for day in next_dips:
        for open_day in calendar.open_days:
            if open_day.day >= max(day, desk.today):
                spend(desk, open_day.day, desk.house.dip, site=placer.room.site)
                break
