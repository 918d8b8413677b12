"""The week as one text screen: what to see to, then every run's answer, then the days.

At most 100 columns, no colour; an answer is a word and a mark.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from datetime import date, datetime, timedelta, tzinfo
from decimal import Decimal
from fractions import Fraction
from textwrap import wrap
from typing import Any

from api.sheet_cautions import caution_lines
from api.tongue.speaking import aloud
from api.tongue.trade import trade
from inventory.science.saying import counted, joined, say
from sourcing.week.plan import Answer, Day, Flag, Job, Placed, Take, Unlock, Week
from sourcing.week.words import DAYS, MONTHS, amount, day_in_words, kilos, listed, litres, metres

COLUMNS = 100
BY_EVENING = say("by the evening")
MARKS = {"yes": "●", "not yet": "◐", "no": "○"}
NO_BREAK = "\N{NO-BREAK SPACE}"
TOGETHER = re.compile(
    rf"(?:{'|'.join(DAYS)}) \d+ (?:{'|'.join(MONTHS)})(?: \d\d:\d\d)?|\d (?:g|kg|mL|L|min|days?)\b"
    r"|\S+ \d[\d,.]* (?:g|mL|L)(?: = \d[\d,.]* m)? \(leaves [^)]*\)"
)
COUNTS = (
    *(say("no"), say("a"), say("two"), say("three"), say("four"), say("five")),
    *(say("six"), say("seven"), say("eight"), say("nine"), say("ten")),
)


def sheet(week: Week) -> str:
    """The whole sheet, each line at most 100 columns, with a line break at its end."""
    blocks = [
        list(wrapped("", _head(week))),
        [say("SEE TO"), *_flags(week.flags)],
        [say("RUNS   ● yes   ◐ not yet   ○ no"), *_runs(week)],
        [say("DAYS"), *_days(week)],
        [say("AHEAD"), *_ahead(week.sums)],
        [say("CAUTIONS"), *_cautions(week.sums)],
    ]
    shown = [
        "\n".join(map(aloud, block))
        for number, block in enumerate(blocks)
        if number == 0 or block[1:]
    ]
    return printable("\n\n".join(shown) + "\n")


def printable(text: str) -> str:
    """Text without signs that would steer a terminal."""
    return "".join(sign if sign == "\n" or sign.isprintable() else "\N{REPLACEMENT CHARACTER}"
                   for sign in text)  # fmt: skip


def _head(week: Week) -> str:
    at, last = _local(week.at, week), _local(week.until, week) - timedelta(microseconds=1)
    return say(
        "{studio} · {day} {year}, {at:%H:%M} · up to {day_2}",
        studio=week.studio,
        day=_day(at.date()),
        year=at.year,
        at=at,
        day_2=_day(last.date()),
    )


# -- flags -------------------------------------------------------------------------------------


def _flags(flags: Iterable[Flag]) -> Iterator[str]:
    for flag in flags:
        when = _day(flag.by) if flag.by is not None else ""
        yield from wrapped(say("  ! {when:<11}", when=when), flag.text)


# -- runs --------------------------------------------------------------------------------------


def _runs(week: Week) -> Iterator[str]:
    """One line of answer for each run, its reasons under it."""
    for answer in week.answers:
        mark = MARKS[answer.answer]
        word = aloud(trade(answer.answer) + with_jobs(answer))
        yield from wrapped(
            say("  {mark} {run:<3} ", mark=mark, run=answer.run),
            say("{shade}: {word}", shade=answer.shade, word=word.upper()),
        )
        for text in _reasons(answer, week):
            yield from wrapped("        ", text)


def with_jobs(answer: Answer) -> str:
    """`, begun` behind a yes under way, `, with two jobs` behind one that asks for them."""
    begun = ", begun" if answer.begun_at is not None else ""
    count = len(answer.jobs)
    if answer.answer != "yes" or count == 0:
        return begun
    said = COUNTS[count] if count < len(COUNTS) else str(count)
    return counted(
        "{begun}, with {said} job", "{begun}, with {said} jobs", count=count, begun=begun, said=said
    )


def _reasons(answer: Answer, week: Week) -> Iterator[str]:
    """First step and dry, then jobs, what is short, what it waits for, what it takes."""
    if answer.first_step_at is not None:
        yield _from_to(answer, week)
    for row in answer.short:
        yield row.text
    shown = {row.text for row in answer.short}
    for why in _whys(answer):
        if why not in shown:
            shown.add(why)
            yield why
    if answer.jobs:
        yield listed(job.text for job in answer.jobs)
    if answer.takes:
        yield say("takes {taken}", taken=joined(", ", (_take(take) for take in answer.takes)))
    yield from answer.notes
    yield from (row.text for row in answer.enough)
    yield from (_unlock(row, week) for row in answer.unlocks)
    if not answer.sought_all:
        yield MORE_TO_TRY
    yield from (say("mind: {text}", text=row.text) for row in answer.warnings)


def _whys(answer: Answer) -> Iterator[str]:
    """What a run waits for, and what stands in the way of a no; not all that merely decided it."""
    waits = "" if answer.answer == "no" else "waits: "
    for row in answer.waits_for:
        yield f"{waits}{row.text}"
    yield from (row.text for row in answer.reasons if row.kind == "late")
    if answer.answer == "no":
        yield from (row.text for row in answer.barred)


def _from_to(answer: Answer, week: Week) -> str:
    assert answer.first_step_at is not None
    first = min(answer.steps, key=lambda step: step.start, default=None)
    at_first = first is not None and first.start == answer.first_step_at
    name = say(" {step}", step=first.step) if first is not None and at_first else ""
    parts = [
        say("first step {moment}{name}", moment=_moment(answer.first_step_at, week), name=name)
    ]
    if answer.begun_at is not None:
        parts = [say("begun {moment}", moment=_moment(answer.begun_at, week))]
        step = next_step(answer)
        parts += (
            []
            if step is None
            else [say("next {moment} {step}", moment=_moment(step.start, week), step=step.step)]
        )
    if answer.hung_at is not None:
        parts.append(say("hung {moment}", moment=_moment(answer.hung_at, week)))
    if answer.dry_at is not None:
        parts.append(say("dry {moment}", moment=_moment(answer.dry_at, week)))
    if answer.late:
        parts.append(say("after its due day"))
    return joined(", ", parts)


def next_step(answer: Answer) -> Placed | None:
    """What is to be done next of a run under way; None: nothing but to dry."""
    to_do = (step for step in answer.steps if step.done_at is None)
    return min(to_do, key=lambda step: step.start, default=None)


# A limit ended the looking; another unlock may be there.
MORE_TO_TRY = say("not every change was tried: there may be another way to a yes")


def _unlock(row: Unlock, week: Week) -> str:
    first = (
        ""
        if row.first_step_at is None
        else say(": first step {moment}", moment=_moment(row.first_step_at, week))
    )
    dry = "" if row.dry_at is None else say(", dry {moment}", moment=_moment(row.dry_at, week))
    return say(
        "yes with {text}{first}{dry}{loses}", text=row.text, first=first, dry=dry, loses=loses(row)
    )


def loses(row: Unlock) -> str:
    """`; then C is no yes any more` behind an unlock that takes from others."""
    if not row.loses:
        return ""
    return say(
        "; then {loses} {which} no yes any more",
        loses=listed(row.loses),
        which=say("is") if len(row.loses) == 1 else say("are"),
    )


def _take(take: Take) -> str:
    left = amount(take.left_after, take.unit)
    long = "" if take.length_mm is None else say(" = {length_mm}", length_mm=metres(take.length_mm))
    said = say(
        "{source} {amount}{long} (leaves {left})",
        source=take.source,
        amount=amount(take.amount, take.unit),
        long=long,
        left=left,
    )
    if not take.carried_from:
        return said
    return say("{said} fetched from {site}", said=said, site=take.carried_from)


# -- days --------------------------------------------------------------------------------------


def _days(week: Week) -> Iterator[str]:
    steps = steps_of(week)
    jobs = [job for answer in week.answers for job in answer.jobs]
    for day in week.days:
        yield from wrapped(say("  {day:<11} ", day=_day(day.day)), _hands_and_line(day, week))
        yield from _day_steps(day.day, steps, week)
        yield from _fixed(day.day, week)
        yield from _day_jobs(day.day, jobs, steps)


def steps_of(week: Week) -> tuple[Placed, ...]:
    """Every placed step of the week, jobs' steps too, each once, by its hour."""
    placed = {step for answer in week.answers for step in answer.steps} | set(week.job_steps)
    return tuple(sorted(placed, key=lambda row: (row.start, row.run, row.step, row.load)))


def _hands_and_line(day: Day, week: Week) -> str:
    """`hands 225 of 360 min · line 0.4 kg, 2.4 kg from 10:00`."""
    loads = [
        kilos(load.mg)
        if number == 0
        else say("{mg} from {local:%H:%M}", mg=kilos(load.mg), local=_local(load.since, week))
        for number, load in enumerate(day.line)
    ]
    text = say(
        "hands {hands_on_min} of {hands_available_min} min",
        hands_on_min=day.hands_on_min,
        hands_available_min=day.hands_available_min,
    )
    return say("{text} · line {loads}", text=text, loads=joined(", ", loads)) if loads else text


def _day_steps(day: date, steps: Iterable[Placed], week: Week) -> Iterator[str]:
    for step in steps:
        if _local(step.start, week).date() == day:
            yield from _row(_step_line(step, week))


def _fixed(day: date, week: Week) -> Iterator[str]:
    """Runs that begin on a day without a step of their own: a group day."""
    for answer in week.answers:
        if answer.first_step_at is None:
            continue
        begins = _local(answer.first_step_at, week)
        own = any(step.start == answer.first_step_at for step in answer.steps)
        if begins.date() == day and not own:
            yield from _row(f"    {begins:%H:%M}{'':<19}{answer.run:<3} {answer.shade}")


def _step_line(step: Placed, week: Week) -> str:
    """Hours, run and step, pot with litres, ring, hands; how long the pot is held after it."""
    start, end = _local(step.start, week), _local(step.end, week)
    until = f"{end:%H:%M}" if end.date() == start.date() else _moment(step.end, week)
    hours = f"{start:%H:%M}–{until}"
    where = (
        say("{vessel} {litres}", vessel=step.vessel, litres=_litres(step.litres))
        if step.vessel
        else ""
    )
    hands = say("{hands_min} min", hands_min=step.hands_min) if step.hands_min else ""
    held = _local(step.held_until, week)
    stands = (
        say("held to {moment}", moment=_moment(step.held_until, week))
        if held.date() > end.date()
        else ""
    )
    if step.shared_with:
        stands = say("with {runs}  {stands}", runs=joined(", ", step.shared_with), stands=stands)
    line = say(
        "    {hours:<24}{run:<3} {step:<20} {where:<9} {ring:<3} {hands:>7}",
        hours=hours,
        run=step.run,
        step=step.step[:20],
        where=where,
        ring=step.ring,
        hands=hands,
    )
    return say("{line}  {stands}", line=line, stands=stands)


def _day_jobs(day: date, jobs: Iterable[Job], steps: Iterable[Placed]) -> Iterator[str]:
    """Jobs of the day that are no step by themselves."""
    names = {(step.run, step.step) for step in steps}
    for job in jobs:
        if job.by == day and (job.run, job.what) not in names:
            hands = say("{hands_min} min", hands_min=job.hands_min) if job.hands_min else ""
            yield from _row(
                f"    {aloud(BY_EVENING):<24}{job.run:<3} {aloud(job.what):<34} {hands:>7}"
            )


def _litres(number: Decimal) -> str:
    """To the tenth: what a jug or a mark on the pot can show."""
    return litres(Fraction(number) * 1000) if number else ""


# -- ahead -------------------------------------------------------------------------------------


def _ahead(sums: dict[str, Any]) -> Iterator[str]:
    for text in ahead_in_words(sums):
        yield from wrapped("  ", text)


def ahead_in_words(sums: dict[str, Any]) -> Iterator[str]:
    """How far dyestuffs go for the runs that are not placed, and what supplies are short."""
    for row in sums.get("dyestuffs", ()):
        if row["ahead"]:
            yield _dyestuff_ahead(row)
    for row in sums.get("supplies", ()):
        for line in row["runs"]:
            if line["short_g"] != "0":
                yield (
                    say(
                        "{row}: run {line} wants {g}, {g_2} left by then: short by {g_3}",
                        row=row["what"],
                        line=line["run"],
                        g=_g(line["g"]),
                        g_2=_g(line["left_g"]),
                        g_3=_g(line["short_g"]),
                    )
                )


def _dyestuff_ahead(row: dict[str, Any]) -> str:
    ahead = row["ahead"]
    runs = listed(need["run"] for need in ahead["needs"])
    text = say(
        "{row}: {g} tonight, {g_2} after claims; {runs} want {g_3} by {day}: likely {balance}",
        row=row["what"],
        g=_g(row["usable_tonight_g"]),
        g_2=_g(row["after_claims_g"]),
        runs=runs,
        g_3=_g(ahead["need_g"]),
        day=_day(date.fromisoformat(ahead["by"])),
        balance=_balance(row["what"], ahead["likely"]),
    )
    if ahead["one_missed"]:
        text += say(
            ", with one pick-up missed {balance}",
            balance=_balance(row["what"], ahead["one_missed"]),
        )
    return text


def _balance(what: str, row: dict[str, Any]) -> str:
    kind = "short" if row["short_g"] != "0" else "spare"
    count = row[f"{kind}_pieces"]
    counted = (
        "" if count is None else say(" ({count:,} {split})", count=count, split=what.split()[-1])
    )
    said = (
        say("short by {g}", g=_g(row["short_g"]))
        if kind == "short"
        else say("{g} spare", g=_g(row["spare_g"]))
    )
    return said + counted


def _g(grams: str) -> str:
    return amount(int(Decimal(grams) * 1000), "mg")


# -- cautions ----------------------------------------------------------------------------------


def _cautions(sums: dict[str, Any]) -> Iterator[str]:
    """What could hurt somebody or break a rule, each with the runs and jars that it is of."""
    for mark, text in caution_lines(sums.get("cautions", ())):
        yield from wrapped(say("  {mark:<12}", mark=mark), text)


# -- words -------------------------------------------------------------------------------------


def _local(moment: datetime, week: Week) -> datetime:
    zone: tzinfo | None = week.at.tzinfo
    return moment.astimezone(zone)


def _moment(moment: datetime, week: Week) -> str:
    local = _local(moment, week)
    return say("{day} {local:%H:%M}", day=_day(local.date()), local=local)


def _day(day: date) -> str:
    return day_in_words(day)


def wrapped(head: str, text: str) -> Iterator[str]:
    """Text behind a head, broken at words; later lines stand under the first."""
    head, text = aloud(head), aloud(text)
    lines = wrap(_glued(text), COLUMNS - len(head), break_on_hyphens=False) or [""]
    for number, line in enumerate(lines):
        yield f"{head if number == 0 else ' ' * len(head)}{_loose(line)}".rstrip()


def _row(line: str) -> Iterator[str]:
    """One row of a day; long codes go on under its step."""
    line = aloud(line)
    if len(line.rstrip()) <= COLUMNS:
        yield line.rstrip()
    else:
        rows = wrap(_glued(line.rstrip()), COLUMNS, subsequent_indent=" " * 28)
        yield from (_loose(row).rstrip() for row in rows)


def _glued(text: str) -> str:
    """A date, or an amount with its unit, held together by spaces at which no line is broken."""
    return TOGETHER.sub(lambda found: found[0].replace(" ", NO_BREAK), text)


def _loose(line: str) -> str:
    return line.replace(NO_BREAK, " ")
