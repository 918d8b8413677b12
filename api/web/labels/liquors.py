"""Labels of jars and baths: what is in it, since when, when it is dipped or ends."""

from __future__ import annotations

from collections.abc import Iterator

from api.web.labels.label import Label, Line, full_day, on_label
from api.web.shelves.jars import gas_to_come, made_of
from inventory.science.cautions import cautions_for_jar, cautions_for_step
from inventory.science.days import local_day
from inventory.science.facts import BathFacts, JarFacts
from inventory.science.jar_story import JarStory
from inventory.science.keeping import bath_last_good_day
from inventory.science.saying import counted, say
from inventory.science.wording import warmth
from sourcing.shelves import ShelvesFacts
from sourcing.week.words import grams, volume


def label_of_jar(facts: ShelvesFacts, jar: JarFacts) -> Label:
    """The label of a jar; of one that nobody knows, with room for what it turns out to be."""
    story = facts.story(jar)
    known = jar.labelled and bool(jar.metal)
    return Label(
        code=jar.code,
        name=jar.name if known else "",
        what=made_of(story)
        if known
        else say("not known{which}", which=say(": {looks}", looks=jar.looks) if jar.looks else ""),
        lines=tuple(_jar_lines(facts, story)),
        cautions=on_label(cautions_for_jar(jar.metal, gas_l=gas_to_come(story))),
        stop=_jar_stop(story),
        blanks=() if known else (say("what it is"), say("since")),
    )


def _jar_lines(facts: ShelvesFacts, story: JarStory) -> Iterator[Line]:
    jar, state = story.jar, story.state
    if jar.begun_at is not None:
        begun = full_day(local_day(jar.begun_at, zone=facts.zone))
        yield Line(
            say("begun"),
            say(
                "{begun}, {begun_volume_ul}",
                begun=begun,
                begun_volume_ul=volume(jar.begun_volume_ul),
            ),
        )
    else:
        yield Line(say("in it"), volume(jar.left_ul))
    if state.grade is not None and jar.dips:
        day = full_day(local_day(jar.dips[-1].at, zone=facts.zone))
        yield Line(say("strip"), say("{grade} of 5 on {day}", grade=state.grade, day=day))
    yield from _what_next(facts, story)


def _what_next(facts: ShelvesFacts, story: JarStory) -> Iterator[Line]:
    """When it is dipped, and from when it may be used without."""
    state = story.state
    if state.word in ("set aside", "spent"):
        return
    if state.next_dip is not None and not state.usable:
        yield Line(say("dip"), full_day(state.next_dip), strong=True)
    if state.usable_from is not None and not state.usable:
        day = full_day(local_day(state.usable_from, zone=facts.zone))
        word = say("by the clock") if state.next_dip is not None else say("usable")
        yield Line(word, day + _hour(story, facts), strong=state.next_dip is None)
    if state.usable and state.strip_good_to is not None:
        yield Line(say("dip again after"), full_day(state.strip_good_to), strong=True)


def _hour(story: JarStory, facts: ShelvesFacts) -> str:
    """The hour from which a copper jar may be used: it stands a day, not weeks."""
    ready = story.state.usable_from
    if ready is None or story.jar.metal == "iron":
        return ""
    return say(" {at:%H:%M}", at=ready.astimezone(facts.zone))


def _jar_stop(story: JarStory) -> str:
    if story.state.word == "set aside":
        return say("set aside: {set_aside}", set_aside=story.jar.set_aside or say("no label"))
    return {"spent": say("spent: gives no more"), "retest": say("dip it before it is used")}.get(
        story.state.word, ""
    )


def label_of_bath(facts: ShelvesFacts, bath: BathFacts) -> Label:
    """The label of a bath that is kept."""
    good = bath_last_good_day(bath, facts.figures, zone=facts.zone, at=facts.at)
    past = say("past its last good day: tip it out") if good.day < facts.today else ""
    return Label(
        code=bath.code,
        name=bath.shade,
        what=bath.what,
        lines=tuple(_bath_lines(facts, bath, full_day(good.day))),
        cautions=on_label(cautions_for_step(metal=bath.metal)),
        stop=say("set aside: {set_aside}", set_aside=bath.set_aside) if bath.set_aside else past,
    )


def _bath_lines(facts: ShelvesFacts, bath: BathFacts, good: str) -> Iterator[Line]:
    made = full_day(local_day(bath.made_at, zone=facts.zone))
    yield Line(
        say("made"),
        say(
            "{made}, {left_ul}, kept at {warmth}",
            made=made,
            left_ul=volume(bath.left_ul),
            warmth=warmth(bath.temperature_c),
        ),
    )
    yield Line(say("last good day"), good, strong=True)
    if bath.times_used:
        yield Line(
            say("used"),
            counted("{count} time", "{count} times", count=bath.times_used),
        )
    if bath.alum_left_mg:
        yield Line(say("alum in it"), grams(bath.alum_left_mg))
    if bath.metal:
        yield Line(say("in it"), bath.metal)
