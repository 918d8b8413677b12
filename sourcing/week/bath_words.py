"""What the sheet of a run says of its bath, where others follow in it: how much, for whom."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import datetime

from inventory.science.keeping import bath_last_good_day
from inventory.science.saying import Said, joined, say
from sourcing.week.desk import Desk
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Take
from sourcing.week.second_bath import dyed_in, run_of_bath
from sourcing.week.words import amount, day_in_words, moment_in_words


def with_baths_kept(answers: tuple[Answer, ...], desk: Desk) -> tuple[Answer, ...]:
    """The answers, each that leaves a bath for others with what is to be kept of it."""
    if not desk.larder.poured:
        return answers
    by_run: dict[str, list[tuple[Answer, Take]]] = {}
    known = {answer.run: answer for answer in answers}
    for answer in answers:
        for take in answer.takes:
            run = run_of_bath(take, known)
            if run and take.source in desk.larder.poured and answer.answer != "no":
                by_run.setdefault(run, []).append((answer, take))
    if not by_run:
        return answers
    return tuple(
        replace(answer, notes=(*answer.notes, _kept(answer, by_run[answer.run], answers, desk)))
        if answer.run in by_run
        else answer
        for answer in answers
    )


def _kept(
    answer: Answer, followers: list[tuple[Answer, Take]], answers: Iterable[Answer], desk: Desk
) -> Said:
    """`keep its bath from Thu 26 Nov 09:00: 6 L for Haze (H), Thu 26 Nov 10:00; ...`."""
    zone = desk.facts.zone
    poured = desk.larder.poured[followers[0][1].source]
    good = bath_last_good_day(poured.bath, desk.facts.figures, zone=zone)
    rows = joined("; ", (
        say("{amount} for {shade} ({run}), {moment}", amount=amount(take.amount, take.unit),
            shade=row.shade, run=row.run, moment=moment_in_words(take.at, zone))
        for row, take in followers))  # fmt: skip
    last = max(take.at for _, take in followers)
    pots = sorted(_pots_of(answer, desk))
    stands = bool(pots) and _stands_free(pots, poured.bath.made_at, last, answer, followers,
                                         answers, desk.facts)  # fmt: skip
    where = (
        say("it may stand in {pots} till then", pots=joined(", ", pots))
        if stands
        else say("pour it off, its pot is wanted")
    )
    return say(
        "keep its bath from {free}: {rows}; {where}, good to {day}",
        free=moment_in_words(poured.bath.made_at, zone),
        rows=rows,
        where=where,
        day=day_in_words(good.day),
    )


def _pots_of(answer: Answer, desk: Desk) -> set[str]:
    """The pots in which a run is dyed."""
    wanted = next((run.recipe for run in desk.facts.runs if run.code == answer.run), "")
    recipe = desk.recipes.get(wanted)
    step = dyed_in(recipe) if recipe is not None else None
    return {row.vessel for row in answer.steps if step is not None and row.step == step.name}


def _stands_free(
    pots: list[str],
    since: datetime,
    until: datetime,
    own: Answer,
    followers: list[tuple[Answer, Take]],
    answers: Iterable[Answer],
    facts: WeekFacts,
) -> bool:
    """Whether nobody else has the pots until the last of the bath is used."""
    there = {(row.run, take.step) for row, take in followers}
    for answer in answers:
        for row in answer.steps if answer.answer != "no" else ():
            theirs = answer.run != own.run and (row.run, row.step) not in there
            if theirs and row.vessel in pots and row.start < until and row.held_until > since:
                return False
    own_later = (row for row in own.steps if row.vessel in pots and since <= row.start < until)
    blocked = any(
        set(block.vessels) & set(pots) and block.since < until and block.until > since
        for block in facts.blocks
    )
    return not blocked and not any(own_later)
