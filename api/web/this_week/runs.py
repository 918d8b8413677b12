"""A ticket for every run: its answer in a word and a mark, when, from what, and what stops it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime
from decimal import Decimal
from typing import Any
from urllib.parse import quote

from api.sheet import loses, next_step, steps_of, with_jobs
from api.web.figure_link import FigureLink, figure_link
from api.web.run_sheet.words import litres_said
from api.web.strip.bars import dyes_of
from api.web.this_week.cautions import run_cautions
from api.web.this_week.flags import begun_large
from api.web.unlock_way import UnlockWay, way_of
from inventory.science.cautions import Caution
from inventory.science.days import local_day
from inventory.science.saying import joined, say
from sourcing.notebook.row_key import key_text
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Answer, Placed, Take, Unlock, Week
from sourcing.week.pot_words import shared_said
from sourcing.week.words import amount, grams, in_currency, moment_in_words

LOOKS = {"yes": "yes", "not yet": "wait", "no": "no"}


@dataclass(frozen=True, slots=True)
class Why:
    """One thing that decided, and the figure that it rests on."""

    text: str
    figure: FigureLink | None


@dataclass(frozen=True, slots=True)
class StepLine:
    """One load of one step as a row of a table."""

    when: str
    until: str
    run: str
    step: str
    where: str  # P1, 36 L
    ring: str
    hands: str
    held: str  # Tue 24 Nov 09:00


@dataclass(frozen=True, slots=True)
class TakeLine:
    """What is taken, of what, and what it leaves."""

    source: str
    what: str
    amount: str
    leaves: str


@dataclass(frozen=True, slots=True)
class Cost:
    """What a run costs, as the sums say it."""

    total: str
    per_kg: str
    parts: tuple[tuple[str, str], ...]
    water: str
    kwh: str


@dataclass(frozen=True, slots=True)
class Ticket:
    """One run and its answer."""

    run: str
    key: str  # of its page
    anchor: str  # of its ticket, whatever signs its code is made of
    shade: str
    look: str  # yes, wait, no: for mark and edge
    word: str  # yes, with a job
    gist: str  # Mon 23 Nov 09:00 scour, dry Sat 28 Nov 10:00; of a no what it is short by
    wanted: str  # 2,000 g of wool, due Mon 30 Nov 09:00
    dye: str  # its colour on the strip
    first: str
    first_step: str
    hung: str
    dry: str
    late: bool
    jobs: tuple[str, ...]
    waits: tuple[str, ...]
    short: tuple[str, ...]
    bars: tuple[str, ...]
    unlocks: tuple[UnlockLine, ...]
    sought: bool
    sought_all: bool
    takes: tuple[TakeLine, ...]
    notes: tuple[str, ...]
    warnings: tuple[str, ...]
    cautions: tuple[Caution, ...]
    whys: tuple[Why, ...]
    steps: tuple[StepLine, ...]
    cost: Cost | None


@dataclass(frozen=True, slots=True)
class UnlockLine:
    """What would turn an answer into a yes, and when it would begin and be dry."""

    text: str
    then: str  # then first step Thu 26 Nov 13:00, dry Sun 29 Nov 15:00; empty: not known yet
    way: UnlockWay  # where it is written down, or looked at first


def tickets_of(facts: WeekFacts, week: Week, *, currency: str) -> tuple[Ticket, ...]:
    """A ticket for each run, in the order of due dates."""
    wanted = {run.code: run for run in facts.runs}
    dyes, steps = dyes_of(week.answers), steps_of(week)
    costs = {row["run"]: row for row in _rows(week.sums, "costs")}
    return tuple(
        _Desk(facts, answer, wanted.get(answer.run)).ticket(
            dye=dyes.get(answer.run, ""),
            steps=[step for step in steps if step.run == answer.run],
            cost=_cost(costs.get(answer.run), currency),
        )
        for answer in week.answers
    )


def _rows(sums: dict[str, object], name: str) -> list[dict[str, Any]]:
    found = sums.get(name, [])
    return found if isinstance(found, list) else []


@dataclass(frozen=True)
class _Desk:
    """One answer with the facts that its words need."""

    facts: WeekFacts
    answer: Answer
    wanted: RunFacts | None

    def ticket(self, *, dye: str, steps: list[Placed], cost: Cost | None) -> Ticket:
        answer = self.answer
        return Ticket(
            run=answer.run,
            key=key_text([answer.run]),
            anchor=f"run-{quote(answer.run, safe='')}",
            shade=answer.shade,
            look=LOOKS[answer.answer],
            word=answer.answer + with_jobs(answer),
            gist=self._gist(),
            wanted=self._wanted(),
            dye=dye,
            first=self._moment(answer.first_step_at),
            first_step=self._first_step(),
            hung=self._moment(answer.hung_at),
            dry=self._moment(answer.dry_at),
            late=answer.late,
            jobs=_texts(answer.jobs),
            waits=_texts(answer.waits_for),
            short=_texts(answer.short),
            bars=tuple(self._bars()),
            unlocks=tuple(self._unlock(row) for row in answer.unlocks),
            sought=answer.sought,
            sought_all=answer.sought_all,
            takes=tuple(_take(take) for take in answer.takes),
            notes=tuple(
                begun_large(note) for note in (*answer.notes, *(row.text for row in answer.enough))
            ),
            warnings=_texts(answer.warnings),
            cautions=run_cautions(self.facts, answer, self.wanted),
            whys=tuple(self._whys()),
            steps=tuple(step_line(step, self.facts) for step in steps),
            cost=cost,
        )

    def _gist(self) -> str:
        """The answer in half a line."""
        answer = self.answer
        if answer.first_step_at is None:
            texts = (*_texts(answer.short), *_texts(answer.waits_for), *_texts(answer.barred))
            return next(iter(texts), "")
        first: str = say(
            "{moment} {first_step}",
            moment=self._moment(answer.first_step_at),
            first_step=self._first_step(),
        ).strip()
        if answer.begun_at is not None:
            step = next_step(answer)
            first = (
                say("all done")
                if step is None
                else say("next {moment} {step}", moment=self._moment(step.start), step=step.step)
            )
        return (
            say("{first}, dry {moment}", first=first, moment=self._moment(answer.dry_at))
            if answer.dry_at
            else first
        )

    def _wanted(self) -> str:
        """What was asked for, and until when."""
        run = self.wanted
        if run is None:
            return ""
        said = say("{weight_mg} of {fibre}", weight_mg=grams(run.weight_mg), fibre=run.fibre)
        if run.people:
            said += say(", {people} people", people=run.people)
        if run.for_whom:
            said += say(", for {for_whom}", for_whom=run.for_whom)
        due = (
            say("undated") if run.due is None else say("due {moment}", moment=self._moment(run.due))
        )
        return say("{said}, {due}", said=said, due=due)

    def _first_step(self) -> str:
        first = min(self.answer.steps, key=lambda step: step.start, default=None)
        at_first = first is not None and first.start == self.answer.first_step_at
        return first.step if first is not None and at_first else ""

    def _bars(self) -> Iterator[str]:
        """What stands in the way of a no whatever the hour, beside what it waits for."""
        if self.answer.answer == "no":
            told = {*_texts(self.answer.waits_for), *_texts(self.answer.short)}
            yield from (text for text in _texts(self.answer.barred) if text not in told)

    def _whys(self) -> Iterator[Why]:
        """All that decided, each once, with its figure."""
        rows = (*self.answer.reasons, *self.answer.waits_for, *self.answer.warnings)
        today = local_day(self.facts.at, zone=self.facts.zone)
        for row in {row.text: row for row in rows}.values():
            link = figure_link(row.figure, self.facts.figures, on=today)
            yield Why(begun_large(row.text), link)

    def _unlock(self, row: Unlock) -> UnlockLine:
        first, dry = self._moment(row.first_step_at), self._moment(row.dry_at)
        then = [say("first step {first}", first=first)] if first else []
        then += [say("dry {dry}", dry=dry)] if dry else []
        hours = say("then {then}", then=joined(", ", then)) if then else ""
        lost = loses(row)
        after = hours + lost if hours else lost.removeprefix("; ")
        return UnlockLine(begun_large(row.text), after, way_of(row, self.wanted, self.facts))

    def _moment(self, moment: datetime | None) -> str:
        return "" if moment is None else moment_in_words(moment, self.facts.zone)


def _texts(rows: Iterable[Any]) -> tuple[str, ...]:
    """The sentences of reasons, shortages or jobs, each once."""
    return tuple(dict.fromkeys(begun_large(row.text) for row in rows))


def _take(take: Take) -> TakeLine:
    return TakeLine(
        source=take.source,
        what=_of_what(take),
        amount=amount(take.amount, take.unit),
        leaves=amount(take.left_after, take.unit),
    )


def _of_what(take: Take) -> str:
    """What is taken, where its lot is called otherwise, and the site that it is fetched from."""
    what = "" if take.what == take.source else take.what
    if not take.carried_from:
        return what
    return say("{what}, fetched from {site}", what=what or take.source, site=take.carried_from)


def step_line(step: Placed, facts: WeekFacts) -> StepLine:
    """A step with its hours, vessel, ring and hands; the end names its day where that differs."""
    since, until = step.start.astimezone(facts.zone), step.end.astimezone(facts.zone)
    held = step.held_until.astimezone(facts.zone)
    same = until.date() == since.date()
    litres = say(", {litres}", litres=litres_said(step.litres)) if step.litres else ""
    where = joined("", (step.vessel, litres)) if step.vessel else say("by hand")
    shared = shared_said(step, facts.runs)
    return StepLine(
        when=moment_in_words(since, facts.zone),
        until=f"{until:%H:%M}" if same else moment_in_words(until, facts.zone),
        run=step.run,
        step=step.step,
        where=joined(", ", (where, shared)) if shared else where,
        ring=step.ring,
        hands=say("{hands_min} min", hands_min=step.hands_min) if step.hands_min else "",
        held=moment_in_words(held, facts.zone) if held.date() > until.date() else "",
    )


def _cost(row: dict[str, Any] | None, currency: str) -> Cost | None:
    if row is None:
        return None
    return Cost(
        total=in_currency(row["total"], currency),
        per_kg=in_currency(row["per_kg"], currency),
        parts=tuple((part["what"], in_currency(part["money"], currency)) for part in row["parts"]),
        water=litres_said(Decimal(row["water_l"])),
        kwh=say("{row} kWh", row=row["kwh"]),
    )
