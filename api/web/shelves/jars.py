"""Jars and baths as the page shows them: drawn, with state, next moment, strength and history."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache
from math import gcd, lcm
from zoneinfo import ZoneInfo

from django.utils.translation import get_language

from api.templating.lately import Lately
from api.web.drawing.bar import LifeBar, life_bar
from api.web.drawing.jar import JarDrawing, draw_jar, gives_gas
from api.web.note.deeds import Deed, bath_deed, jar_deed
from api.web.shelves.anchors import anchor_of, label_address
from api.web.shelves.figures import FigureShown, figure_shown, figures_shown
from api.web.shelves.words import (
    TONES,
    day_said,
    last_good_said,
    moment_said,
    mood_of,
    one_or,
    quantity,
)
from inventory.science.cautions import Caution, cautions_for_jar
from inventory.science.days import local_day
from inventory.science.facts import BathFacts
from inventory.science.jar_story import Goal, Happening, JarStory
from inventory.science.keeping import bath_last_good_day
from inventory.science.maturing import JarState
from inventory.science.saying import measured, say
from inventory.science.wording import warmth
from sourcing.shelves import ShelvesFacts
from sourcing.week.words import WORDS_KEPT, grams, volume

HAPPENED_AT_MOST = 8
# Mark and mood of each state: the mark is drawn, the word stands beside it.
STATES = {
    "steeping": ("wait", "wait"),
    "ready to dip": ("wait", "dip"),
    "matured": ("yes", "matured"),
    "retest": ("see", "retest"),
    "set aside": ("no", "aside"),
    "spent": ("plain", "spent"),
}
GRADES = {1: "faint", 5: "black"}
SALT = {"iron": say("iron sulphate"), "copper": say("copper sulphate")}
GOALS = {
    "dip": say("its dip"),
    "ready": say("its first use"),
    "strip ends": say("the end of its strip"),
}


@dataclass(frozen=True, slots=True)
class GoalShown:
    """How far a jar has come."""

    words: str  # "day 6 of 7 to its dip"
    bar: LifeBar


@dataclass(frozen=True, slots=True)
class StrengthShown:
    """What a jar holds, with its range and what that rests on."""

    likely: str
    span: str
    rests_on: str
    most: str
    counted_as: str  # the salt whose crystals hold as much metal
    metal: str
    percent: int  # of the most


@dataclass(frozen=True, slots=True)
class JarShown:
    """One jar, ready to be put on the page."""

    number: int
    anchor: str
    label: str  # where it is printed
    code: str
    name: str
    what: str  # "iron liquor, 1 vinegar to 2 water, 5 % vinegar"
    state: str
    mood: str
    edge: str  # the dyed strip down its ticket
    mark: str
    since: str
    left: str
    begun_with: str
    text: str  # the drawing in words
    drawing: JarDrawing
    next: str  # "dip Tue 24 Nov, by the clock alone Tue 1 Dec"
    goal: GoalShown | None
    strength: StrengthShown | None
    strip: tuple[bool, ...]  # five fields, the grade's filled; empty: never dipped
    strip_words: str
    gas: str
    cautions: tuple[Caution, ...]
    happened: tuple[str, ...]
    more_happened: str
    figures: tuple[FigureShown, ...]
    site: str
    deed: Deed  # the form that sees to it, filled


@dataclass(frozen=True, slots=True)
class BathShown:
    """One bath kept for use."""

    anchor: str
    label: str  # where it is printed
    code: str
    what: str
    left: str
    made: str
    life: str
    tone: str
    bar: LifeBar
    notes: tuple[str, ...]
    left_out: str  # why it is not to be used; empty when it may be
    figure: FigureShown
    deed: Deed


def jars_shown(
    facts: ShelvesFacts, stories: Sequence[JarStory], *, carried: str
) -> tuple[JarShown, ...]:
    """Jars in the order of the shelf, in their sizes beside each other."""
    largest = max((story.jar.begun_volume_ul for story in stories), default=0)
    return tuple(
        _jar(facts, story, number, largest, carried) for number, story in enumerate(stories, 1)
    )


@dataclass(frozen=True, slots=True)
class _Seen:
    """What is said of a jar that moves with the hour; all else of it holds for the day."""

    goal: GoalShown | None
    strength: StrengthShown | None
    gas: str
    gas_to_come: str  # in the tenths that the caution names; empty: none
    bubbles: bool
    lies_ahead: bool  # begun after the moment that is looked from


_JARS: Lately[JarShown] = Lately(at_most=1024)


def _jar(facts: ShelvesFacts, story: JarStory, number: int, largest: int, carried: str) -> JarShown:
    jar = story.jar
    to_come = gas_to_come(story)
    seen = _Seen(
        goal=_goal(story.goal),
        strength=_strength(story, facts.today),
        gas=_gas(story),
        gas_to_come=f"{to_come:.1f}" if to_come else "",
        bubbles=gives_gas(story),
        lies_ahead=jar.begun_at is not None and jar.begun_at > facts.at,
    )
    about = story.state, story.since, story.level, story.happened, story.rests_on
    where = facts.today, facts.zone, len(facts.sites) > 1
    key = (jar, about, where, seen, number, largest, carried, get_language())
    return _JARS.of(key, _shown, facts, story, seen, number, largest, carried)


def _shown(
    facts: ShelvesFacts, story: JarStory, seen: _Seen, number: int, largest: int, carried: str
) -> JarShown:
    jar, today = story.jar, facts.today
    mood, mark = STATES[story.state.word]
    name = jar.name or jar.looks or say("unknown liquor")
    left, begun = volume(jar.left_ul), volume(jar.begun_volume_ul)
    taped = day_said(jar.begun_at.astimezone(facts.zone).date(), today) if jar.begun_at else ""
    grade = story.state.grade
    return JarShown(
        number=number,
        anchor=anchor_of(jar.code),
        label=label_address(jar.code, carried=carried),
        code=jar.code,
        name=name,
        what=made_of(story),
        state=story.state.word,
        mood=mood,
        edge="no" if mood == "see" else mood,
        mark=mark,
        since=_since(story, facts),
        left=left,
        begun_with=begun,
        text=say(
            "{name} ({code}): {left} of {begun}, {word}",
            name=name,
            code=jar.code,
            left=left,
            begun=begun,
            word=story.state.word,
        ),
        drawing=draw_jar(story, largest_ul=largest, begun_words=begun, day_words=taped),
        next=_next(story, facts),
        goal=seen.goal,
        strength=seen.strength,
        strip=tuple(step <= grade for step in range(1, 6)) if grade is not None else (),
        strip_words=_strip_words(story),
        gas=seen.gas,
        cautions=cautions_for_jar(jar.metal, gas_l=gas_to_come(story)),
        happened=tuple(_happening(row, today, facts.zone) for row in _last(story)),
        more_happened=_more(story),
        figures=figures_shown(story.rests_on, carried=carried),
        site=jar.site if len(facts.sites) > 1 else "",
        deed=jar_deed(story, carried=carried),
    )


def made_of(story: JarStory) -> str:
    """What a jar was made of: metal, parts, vinegar."""
    jar = story.jar
    if not jar.labelled or not jar.metal:
        return say("no label: nobody knows what is in it")
    return _made(jar.metal, jar.vinegar_parts, jar.water_parts, jar.acid_percent)


@lru_cache(maxsize=WORDS_KEPT)
def _made(metal: str, vinegar_parts: Fraction, water_parts: Fraction, acid_percent: Decimal) -> str:
    text = say("{metal} liquor", metal=metal)
    if vinegar_parts + water_parts:
        vinegar, water = _whole_parts(vinegar_parts, water_parts)
        text += say(", {vinegar} vinegar to {water} water", vinegar=vinegar, water=water)
    return (
        say("{text}, vinegar {normalize:f} %", text=text, normalize=acid_percent.normalize())
        if acid_percent
        else text
    )


def _whole_parts(vinegar: Fraction, water: Fraction) -> tuple[int, int]:
    """Parts as they were measured out: a third to two thirds is 1 to 2."""
    whole = lcm(vinegar.denominator, water.denominator)
    counts = int(vinegar * whole), int(water * whole)
    common = gcd(*counts) or 1
    return counts[0] // common, counts[1] // common


def _since(story: JarStory, facts: ShelvesFacts) -> str:
    if story.since is None:
        return ""
    return say("since {moment_said}", moment_said=moment_said(story.since, facts.today, facts.zone))


def _next(story: JarStory, facts: ShelvesFacts) -> str:
    """The one thing to do with it, or from when it can be used."""
    state, jar = story.state, story.jar
    if jar.begun_at is not None and jar.begun_at > facts.at:
        return say("the day on which it was begun lies ahead: put it right before it is used")
    if state.word == "set aside":
        return say(
            "set aside: {set_aside}. Find out what it is before it is used.",
            set_aside=jar.set_aside or say("no label"),
        )
    if state.word == "spent":
        return say("its strip failed after straining: it gives no more")
    if state.word == "retest":
        return say("dip a new strip before it is used")
    return _may_be_used(state, facts) if state.usable else _waits(state, facts)


def _may_be_used(state: JarState, facts: ShelvesFacts) -> str:
    if state.strip_good_to is None:
        return say("may be used")
    return say(
        "may be used; dip again after {day_said}",
        day_said=day_said(state.strip_good_to, facts.today),
    )


def _waits(state: JarState, facts: ShelvesFacts) -> str:
    """Its dip, and the day from which it can be used without one; copper has its hour."""
    ready = state.usable_from
    if state.next_dip is None:
        return (
            say("usable {moment_said}", moment_said=moment_said(ready, facts.today, facts.zone))
            if ready
            else ""
        )
    dip = say("dip {day_said}", day_said=day_said(state.next_dip, facts.today))
    if ready is None:
        return dip
    return say(
        "{dip}, by the clock alone {day_said}",
        dip=dip,
        day_said=day_said(local_day(ready, zone=facts.zone), facts.today),
    )


def _goal(goal: Goal | None) -> GoalShown | None:
    if goal is None:
        return None
    whole_days = goal.days_whole
    if goal.what == "ready" and whole_days <= 3:
        gone, whole = goal.hours
        words = say("hour {gone} of {whole}", gone=gone, whole=whole)
    else:
        words = say(
            "day {days_gone} of {whole_days}", days_gone=goal.days_gone, whole_days=whole_days
        )
    mood = "soon" if goal.what != "strip ends" else mood_of(whole_days - goal.days_gone)
    return GoalShown(
        say("{words} to {goals}", words=words, goals=GOALS[goal.what]),
        life_bar(goal.fraction, mood=mood),
    )


def _strength(story: JarStory, today: date) -> StrengthShown | None:
    row = story.strength
    if row is None:
        return None
    likely, low, high, most = (
        quantity(each)
        for each in (row.likely_g_per_l, row.low_g_per_l, row.high_g_per_l, row.most_g_per_l)
    )
    return _strength_in_words(
        story.jar.metal,
        (likely, low, high, most),
        round(row.metal_mg_per_l),
        round(row.fraction * 100),
        row.rests_on,
        row.told_on,
        today,
    )


@lru_cache(maxsize=WORDS_KEPT)
def _strength_in_words(
    metal: str,
    grams_in_a_litre: tuple[str, str, str, str],
    metal_mg_per_l: int,
    percent: int,
    rests_on: str,
    told_on: date | None,
    today: date,
) -> StrengthShown:
    likely, low, high, most = grams_in_a_litre
    told = say(" of {day_said}", day_said=day_said(told_on, today)) if told_on is not None else ""
    words = {
        "model": say("reckoned from days and warmth alone"),
        "strip": say("from the strip{told}, reckoned on from there", told=told),
        "reading": say("from the test strip{told}, reckoned on from there", told=told),
    }[rests_on]
    return StrengthShown(
        likely=say("{quantity} g in a litre", quantity=likely),
        span=say("{quantity} to {quantity_2} g", quantity=low, quantity_2=high),
        rests_on=words,
        most=say("{quantity} g in a litre", quantity=most),
        counted_as=say("{salt} crystals", salt=SALT[metal]),
        metal=say("{metal_mg_per_l:,.0f} mg/L", metal_mg_per_l=metal_mg_per_l),
        percent=percent,
    )


def _strip_words(story: JarStory) -> str:
    grade, age = story.state.grade, story.state.strip_age_days
    if grade is None:
        return ""
    said = say(" ({grades})", grades=GRADES[grade]) if grade in GRADES else ""
    days = (
        say(", {one_or} old", one_or=one_or(age, "day", "days")) if age else say(", dipped today")
    )
    return say("strip {grade} of 5{said}{days}", grade=grade, said=said, days=days)


def gas_to_come(story: JarStory) -> float | None:
    """What the caution names: all that a jar at work may give off; nothing for one that is done."""
    liquor = story.liquor
    if liquor is None or quantity(liquor.gas_l) == quantity(liquor.gas_at_most_l):
        return None
    return liquor.gas_at_most_l


def _gas(story: JarStory) -> str:
    liquor = story.liquor
    if liquor is None or story.jar.metal != "iron":
        return ""
    if quantity(liquor.gas_l) == quantity(liquor.gas_at_most_l):
        return say("{so_far} of hydrogen given off; none to come", so_far=_litres(liquor.gas_l))
    return say(
        "{so_far} of hydrogen so far, {at_most} at most",
        so_far=_litres(liquor.gas_l),
        at_most=_litres(liquor.gas_at_most_l),
    )


def _litres(gas_l: float) -> str:
    return measured(say("{volume} L", volume=quantity(gas_l)), gas_l * 1_000_000, "µL")


# -- what happened -----------------------------------------------------------------------------


def _last(story: JarStory) -> tuple[Happening, ...]:
    return story.happened[:HAPPENED_AT_MOST]


def _more(story: JarStory) -> str:
    """The happenings before those shown, summed in words."""
    rest = story.happened[HAPPENED_AT_MOST:]
    if not rest:
        return ""
    drawn = [row.event.volume_ul for row in rest if row.event and row.event.kind == "drawn"]
    text = say("and {one_or} before", one_or=one_or(len(rest), "thing", "things"))
    return (
        say(
            "{text}, {one_or} of {drawn} in all",
            text=text,
            one_or=one_or(len(drawn), "draw", "draws"),
            drawn=volume(sum(drawn)),
        )
        if drawn
        else text
    )


@lru_cache(maxsize=WORDS_KEPT)
def _happening(row: Happening, today: date, zone: ZoneInfo) -> str:
    return say(
        "{moment_said}: {what_happened}",
        moment_said=moment_said(row.at, today, zone),
        what_happened=_what_happened(row),
    )


def _what_happened(row: Happening) -> str:
    if row.dip is not None:
        if row.dip.grade is not None:
            return say("dipped, strip {grade}", grade=row.dip.grade)
        return say(
            "test strip read {metal_mg_per_l:,.0f} mg/L", metal_mg_per_l=row.dip.metal_mg_per_l or 0
        )
    event = row.event
    if event is None:
        return "begun"
    if event.kind == "topped up":
        return say("topped up with {volume_ul}", volume_ul=volume(event.volume_ul))
    if event.kind == "kept at":
        return say("moved to {warmth}", warmth=warmth(event.temperature_c or 0))
    if event.kind == "evaporated":
        return say("{volume_ul} evaporated", volume_ul=volume(event.volume_ul))
    return (
        say("{volume_ul} drawn", volume_ul=volume(event.volume_ul))
        if event.kind == "drawn"
        else event.kind
    )


# -- baths -------------------------------------------------------------------------------------


def bath_shown(facts: ShelvesFacts, bath: BathFacts, *, carried: str) -> BathShown:
    """A bath with its last good day."""
    good = bath_last_good_day(bath, facts.figures, zone=facts.zone, at=facts.at)
    made, today = bath.made_at.astimezone(facts.zone).date(), facts.today
    whole = (good.day - made).days
    gone = (today - made).days / whole if whole > 0 else 1.0
    mood = mood_of((good.day - today).days)
    return BathShown(
        anchor=anchor_of(bath.code),
        label=label_address(bath.code, carried=carried),
        code=bath.code,
        what=bath.what,
        left=volume(bath.left_ul),
        made=moment_said(bath.made_at, today, facts.zone),
        life=last_good_said(good.day, today),
        tone=TONES[mood],
        bar=life_bar(min(max(gone, 0.0), 1.0), mood=mood),
        notes=tuple(_bath_notes(bath)),
        left_out=_bath_left_out(bath, mood),
        figure=figure_shown(good.figure, carried=carried),
        deed=bath_deed(bath, is_past=mood == "past", carried=carried),
    )


def _bath_left_out(bath: BathFacts, mood: str) -> str:
    if bath.set_aside:
        return say("set aside: {set_aside}", set_aside=bath.set_aside)
    return say("past its last good day: tip it out") if mood == "past" else ""


def _bath_notes(bath: BathFacts) -> Iterator[str]:
    yield say("kept at {warmth}", warmth=warmth(bath.temperature_c))
    if bath.times_used:
        yield say("used {one_or}", one_or=one_or(bath.times_used, "time", "times"))
    if bath.shade:
        yield say("dyed {shade} before", shade=bath.shade)
    if bath.metal:
        yield say("{metal} in it", metal=bath.metal)
    if bath.alum_left_mg:
        yield say("{alum_left_mg} of alum left in it", alum_left_mg=grams(bath.alum_left_mg))
