"""A search for a better week ready to show: how far it has come, or what it would change."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import Any

from api.models.seeks import BROKEN_OFF, FOUND, Seek
from api.question import Question
from api.seeking.asked import guidance_found
from api.web.runs.address import run_address
from inventory.science.saying import Said, say
from sourcing.remembered import week_of
from sourcing.week.best import NEAR, NO_SOLVER, PROVED, STOPPED, TIME_OVER
from sourcing.week.differences import differences
from sourcing.week.facts import WeekFacts
from sourcing.week.guidance import PLAIN, Guidance
from sourcing.week.plan import Answer
from sourcing.week.words import moment_in_words

PERCENT = 100
APART = "|"  # between run and step where one answer of a form says both
# Kind of difference: how it looks, and the word beside its mark.
LOOKS = {
    "better": ("yes", say("gained")),
    "worse": ("no", say("given up")),
    "otherwise": ("wait", say("moved")),
}
STATUS = {
    PROVED: say("No week is better by these goals: that is proved."),
    NEAR: say("It is as good as can be, but for one part in a hundred."),
    TIME_OVER: say("The time was over: a better one may be there."),
    STOPPED: say("It was stopped by hand: a better one may be there."),
    NO_SOLVER: say("Nothing could be looked for here: the solver is not installed."),
}
GOALS = {
    "on_time": say("fibre dry in time"),
    "saved_mg": say("dyestuff saved from spoiling"),
    "changed": say("runs that stay where they were"),
    "dry_min": say("hours until all is dry"),
    "worst_day_min": say("hands on the fullest day"),
}


@dataclass(frozen=True, slots=True)
class Line:
    """One difference with its mark and word."""

    look: str
    word: Said
    text: Said
    address: str  # of the run that it is about; empty: of none


@dataclass(frozen=True, slots=True)
class StayOfStep:
    """A step that may keep its hour."""

    sent: str  # run and step, as the form sends them back
    words: Said


@dataclass(frozen=True, slots=True)
class Stay:
    """A run that may keep its hours, or some of its steps theirs."""

    code: str
    words: Said
    steps: tuple[StayOfStep, ...]


@dataclass(frozen=True, slots=True)
class AnotherShown:
    """The page."""

    state: str  # none, looking, found, same, broken
    seek: str  # number of the search; empty: none
    how_far: Said
    part: str  # of the effort, 0 to 1 as a plain decimal, for the bar
    so_far: tuple[Said, ...]
    stopping: bool
    lines: tuple[Line, ...]
    sure: tuple[Said, ...]  # how good it is, and how good one could be
    said: str  # why it broke off
    taken: bool  # whether a week that was taken holds
    stays: tuple[Stay, ...] = ()  # runs that have hours and are not begun


def another_shown(seek: Seek | None, facts: WeekFacts, question: Question) -> AnotherShown:
    """The last search, as far as it is not taken or left yet."""
    taken = (facts.guidance or PLAIN) != PLAIN
    if seek is None or seek.settled:
        return replace(_empty("none", taken=taken), stays=tuple(_stays(facts, question)))
    since = moment_in_words(seek.asked_at, facts.zone)
    shown = replace(
        _empty("looking", taken=taken),
        seek=str(seek.entry),
        how_far=say("Asked for {since}; it begins in a moment.", since=since),
        stopping=seek.stop_at is not None,
    )
    if seek.state == BROKEN_OFF:
        return replace(shown, state="broken", said=seek.said, stays=tuple(_stays(facts, question)))
    if seek.state != FOUND:
        return _looking(shown, seek.progress, since)
    lines = tuple(_lines(facts, guidance_found(seek), question))
    sure = tuple(sure_words(seek.found))
    return replace(shown, state="found" if lines else "same", lines=lines, sure=sure)


def _empty(state: str, *, taken: bool) -> AnotherShown:
    return AnotherShown(state, "", say(""), "0", (), False, (), (), "", taken)


def _stays(facts: WeekFacts, question: Question) -> Iterator[Stay]:
    """Runs that have hours and are not begun, by due date."""
    for answer in week_of(facts, days=question.days).answers:
        if answer.steps and answer.begun_at is None and answer.first_step_at is not None:
            first = moment_in_words(answer.first_step_at, facts.zone)
            words = say("{shade} ({run}), {first}", shade=answer.shade, run=answer.run, first=first)
            yield Stay(answer.run, words, tuple(_steps_to_stay(answer, facts)))


def _steps_to_stay(answer: Answer, facts: WeekFacts) -> Iterator[StayOfStep]:
    """A run's own steps, each with its first hour."""
    recipes = {recipe.code: recipe for recipe in facts.recipes}
    recipe = next((recipes.get(run.recipe) for run in facts.runs if run.code == answer.run), None)
    for step in recipe.steps if recipe is not None else ():
        starts = [row.start for row in answer.steps if row.step == step.name]
        if starts and min(starts) >= facts.at:
            at = moment_in_words(min(starts), facts.zone)
            yield StayOfStep(
                f"{answer.run}{APART}{step.name}", say("{step}, {at}", step=step.name, at=at)
            )


def _looking(shown: AnotherShown, progress: Mapping[str, Any], since: str) -> AnotherShown:
    if not progress:
        return shown
    part = float(progress["part"])
    return replace(
        shown,
        how_far=say(
            "Since {since}: {placings:,} runs placed, {percent} % of the time it takes at most.",
            since=since,
            placings=progress["placings"],
            percent=round(part * PERCENT),
        ),
        part=f"{part:.2f}",
        so_far=tuple(_so_far(progress)),
    )


def _so_far(progress: Mapping[str, Any]) -> Iterator[Said]:
    """How much better than at the first look, goal by goal."""
    bound = progress["bound"]
    if bound is None:
        return
    for name, words in GOALS.items():
        mine, best = progress["goals"][name], bound[name]
        if mine != best:
            gap = abs(best - mine) / max(abs(mine), abs(best)) * PERCENT
            yield say("No week can be better by more than {gap:.1f} % in {goal}.", gap=gap,
                      goal=words)  # fmt: skip
            return
    yield STATUS[PROVED]


def sure_words(found: Mapping[str, Any]) -> Iterator[Said]:
    """How good a found week is, and how good one could be."""
    yield STATUS[found["status"]]
    if found["status"] in (TIME_OVER, STOPPED, NEAR) and found["gap"]:
        yield say(
            "No week can be better by more than {gap:.1f} % in {goal}.",
            gap=found["gap"] * PERCENT,
            goal=GOALS[found["open_goal"]],
        )


def _lines(facts: WeekFacts, guidance: Guidance, question: Question) -> Iterator[Line]:
    days = question.days
    week = week_of(facts, days=days)
    other = week_of(replace(facts, guidance=guidance), days=days)
    runs = {answer.run for answer in week.answers}
    for row in differences(facts, week, other):
        look, word = LOOKS[row.kind]
        address = run_address(row.what, question.carried) if row.what in runs else ""
        yield Line(look, word, row.text, address)
