"""The steps of a day as cards: what to do with which figures, and how to say it is done."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date, datetime
from typing import Any
from uuid import uuid4

from django.urls import reverse

from api.web.note.deeds import Deed, to_form
from api.web.note.registry import FORMS
from api.web.run_sheet.words import litres_said
from api.web.this_week.cautions import run_cautions
from api.web.this_week.flags import begun_large
from api.web.today.card import (
    Fields,
    LoadLine,
    StepCard,
    Tap,
    done_said,
    hour,
    minutes_of_hands,
)
from api.web.today.others import chores, lots_to_put_by, pick_ups
from api.web.today.taps import Taps
from inventory.science.saying import joined, say
from inventory.science.wording import bare_warmth, warmth
from sourcing.week.carry import CARRY, fetched_by
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.group_begun import laid_out_of, lays_out, with_laid_out
from sourcing.week.kept import LAID_OUT, over_at
from sourcing.week.plan import Answer, Placed, Take, Week
from sourcing.week.pot_words import shared_said
from sourcing.week.second_bath import run_of_bath
from sourcing.week.words import amount, grams, moment_in_words

MAKES = "make "
OUT_OF_THE_BATH = ("dye", "after-bath", "rinse")  # with them a bath is free, or soon


@dataclass(frozen=True)
class Day:
    """The steps of one local day."""

    facts: WeekFacts
    week: Week
    day: date
    carried: str
    may_write: bool
    stamp: str = ""  # the moment said with what is done; empty: our clock's

    def cards(self) -> tuple[StepCard, ...]:
        """Every step of the day, those of runs and the others, in order of the clock."""
        may: Any = {"carried": self.carried, "may_write": self.may_write, "taps": self.taps}
        rows = [
            *self._of_runs(),
            *chores(self.facts, self.day, **may),
            *lots_to_put_by(self.facts, self.week, self.day, **may),
            *pick_ups(self.facts, self.day, **may),
        ]
        return tuple(card for _, card in sorted(rows, key=lambda row: row[0]))

    @property
    def taps(self) -> Taps:
        """What one tap records."""
        return Taps(self.facts, self.stamp)

    # -- runs ----------------------------------------------------------------------------------

    def _of_runs(self) -> Iterator[tuple[datetime, StepCard]]:
        runs = {run.code: run for run in self.facts.runs}
        for found in self.week.answers:
            run = runs.get(found.run)
            answer = found if run is None else with_laid_out(found, run, self.facts)
            first, told = True, set[str]()
            for rows in _together(answer.steps):
                start = min(row.start for row in rows).astimezone(self.facts.zone)
                shown = start.date() == self.day or self._left_over(rows, start)
                if shown:
                    card = self._card(answer, rows, run, first=first, told=told)
                    yield start, card
                    told |= {caution.code for caution in card.cautions}
                first = first and (rows[0].step.startswith(MAKES) or rows[0].kind == CARRY)

    def _left_over(self, rows: list[Placed], start: datetime) -> bool:
        """A step of an earlier hour that nobody said is done: late, or a later one was done."""
        today = self.facts.at.astimezone(self.facts.zone).date()
        open_still = start.date() < today and _done_at(rows) is None
        return self.day == today and (open_still or rows[0].late_since is not None)

    def _card(
        self,
        answer: Answer,
        rows: list[Placed],
        run: RunFacts | None,
        *,
        first: bool,
        told: set[str],
    ) -> StepCard:
        zone, row = self.facts.zone, rows[0]
        start = min(one.start for one in rows).astimezone(zone)
        until = max(over_at(one) for one in rows).astimezone(zone)
        state, word = self._state(answer, rows)
        makes = row.step.startswith(MAKES)
        group = row.kind == LAID_OUT
        own = not makes and row.kind != "snippet" and (group or answer.hung_at is not None)
        # A run's first step begins it; the others wait for that. A group's go in any order.
        can = self.may_write and own and (first or group or answer.begun_at is not None)
        cautions = run_cautions(self.facts, answer, run) if run is not None else ()
        fields = (("run", answer.run), ("step", row.step), ("round", str(row.round)))
        return StepCard(
            at=hour(start, self.day),
            until=hour(until, self.day) if until > start else "",
            run=answer.run,
            shade=answer.shade,
            heading=begun_large(_heading(row, rows, answer)),
            state=state,
            word=word,
            loads=tuple(_loads(rows, self.facts)),
            takes=self._takes(answer, rows, run, first=first),
            hands=minutes_of_hands(sum(one.hands_min for one in rows)),
            there=self._there(rows),
            stays=self._stays(rows, until),
            cautions=tuple(one for one in cautions if one.code not in told),
            done=self._done_fields(run, rows, fields) if can and state != "done" else (),
            begin=self._entry(("run", answer.run))
            if can and first and answer.begun_at is None
            else (),
            undo=self._entry(*fields) if can and state == "done" else (),
            sheet=f"{reverse('run-sheet', args=[answer.run])}{self.carried}",
            otherwise=to_form("", "step-done", self.carried, dict(fields)).address if can else "",
            taps=self._made(answer, row, run, state),
            leads=self._leads(answer, row, state) if self.may_write else None,
        )

    def _takes(
        self, answer: Answer, rows: list[Placed], run: RunFacts | None, *, first: bool
    ) -> tuple[str, ...]:
        """What a step takes; of what is laid out for a group each one's share."""
        if rows[0].kind == LAID_OUT and run is not None:
            laid = laid_out_of(answer, self.facts)
            mine = (takes for what, takes in laid.items() if rows[0].step == lays_out(what))
            return tuple(_shares(next(mine, ()), max(1, run.people)))
        if rows[0].kind == CARRY:
            return tuple(_fetched(rows[0], answer.takes))
        return tuple(_takes(answer.takes, rows[0].step, first=first)) if _is_first(
            rows, answer) else ()  # fmt: skip

    def _made(
        self, answer: Answer, row: Placed, run: RunFacts | None, state: str
    ) -> tuple[Tap, ...]:
        """A bath that was made as planned."""
        if run is None or not self.may_write or state == "done" or not row.step.startswith(MAKES):
            return ()
        return self.taps.bath(row, row.step.removeprefix(MAKES), answer, run)

    def _state(self, answer: Answer, rows: list[Placed]) -> tuple[str, str]:
        done, zone = _done_at(rows), self.facts.zone
        if done is not None:
            return "done", done_said(done.astimezone(zone), self.day)
        late = next((row.late_since for row in rows if row.late_since is not None), None)
        if late is not None:
            return "late", say(
                "late: not done by {hour}", hour=hour(late.astimezone(zone), self.day)
            )
        if min(row.start for row in rows) <= self.facts.at:
            return "now", "now"
        return "", ""

    def _done_fields(self, run: RunFacts | None, rows: list[Placed], fields: Fields) -> Fields:
        """What one tap says: the step, and its pot where it has moved to another than kept."""
        kept = () if run is None or run.kept is None else run.kept.steps
        mine = [row for row in kept if (row.step, row.round) == (rows[0].step, rows[0].round)]
        if len(rows) == len(mine) == 1 and rows[0].vessel != mine[0].vessel:
            return self._entry(*fields, ("vessel", rows[0].vessel))
        return self._entry(*fields)

    def _entry(self, *fields: tuple[str, str]) -> Fields:
        """Fields of an entry of its own, so that a second tap counts once."""
        return (("id", str(uuid4())), ("occurred_at", self.stamp), *fields)

    def _there(self, rows: list[Placed]) -> str:
        """Until when somebody has to be there, where that is longer than the hands."""
        ends = [row.attended_until for row in rows if row.attended_until is not None]
        if not ends:
            return ""
        start, until = min(row.start for row in rows), max(ends)
        minutes = (until - start).total_seconds() / 60
        if minutes <= sum(row.hands_min for row in rows):
            return ""
        return say(
            "somebody is there until {hour}", hour=hour(until.astimezone(self.facts.zone), self.day)
        )

    def _stays(self, rows: list[Placed], until: datetime) -> str:
        held = max(row.held_until for row in rows).astimezone(self.facts.zone)
        if held.date() <= until.date():
            return ""
        return say("stays in till {held}", held=moment_in_words(held, self.facts.zone))

    def _leads(self, answer: Answer, row: Placed, state: str) -> Deed | None:
        """Another form that a step is written down with: a bath made or kept, a snippet."""
        if row.kind in OUT_OF_THE_BATH and self._is_followed(answer):
            return to_form(say("Keep its bath"), "keep-bath", self.carried, {"run": answer.run})
        if state == "done":
            return None
        if row.step.startswith(MAKES):
            bath = row.step.removeprefix(MAKES)
            said = {"what": bath, "run": answer.run}
            return to_form(say("It went otherwise"), "make-bath", self.carried, said)
        if row.kind == "snippet":
            return to_form(
                say("Write down the snippet"), "snippet", self.carried, {"run": answer.run}
            )
        return None

    def _is_followed(self, answer: Answer) -> bool:
        """Whether another run takes of its bath, and nobody has kept that yet."""
        runs = {answer.run}
        takes = (take for other in self.week.answers for take in other.takes)
        kept = any(run.code == answer.run and run.bath for run in self.facts.runs)
        begun = answer.begun_at is not None
        return begun and not kept and any(run_of_bath(take, runs) for take in takes)


# -- words ---------------------------------------------------------------------------------------


def _together(steps: Iterable[Placed]) -> list[list[Placed]]:
    """Pot-loads that are said to be done together: of one step in one round."""
    found: dict[tuple[str, int], list[Placed]] = {}
    for row in steps:
        found.setdefault((row.step, row.round), []).append(row)
    return list(found.values())


def _done_at(rows: list[Placed]) -> datetime | None:
    said = [row.done_at for row in rows]
    return max(at for at in said if at is not None) if all(at is not None for at in said) else None


def _heading(row: Placed, rows: list[Placed], answer: Answer) -> str:
    rounds = {one.round for one in answer.steps if one.step == row.step}
    return (
        say("{step}, round {round} of {count}", step=row.step, round=row.round, count=len(rounds))
        if len(rounds) > 1
        else row.step
    )


def _is_first(rows: list[Placed], answer: Answer) -> bool:
    """Whether it is the first round of its step: what the step takes is weighed once."""
    mine = [one for one in answer.steps if one.step == rows[0].step]
    return bool(mine) and rows[0] == mine[0]


def _loads(rows: list[Placed], facts: WeekFacts) -> Iterator[LoadLine]:
    for row in rows:
        weight = grams(row.weight_mg) if row.weight_mg else ""
        liquor = say("in {litres}", litres=litres_said(row.litres)) if row.litres else ""
        parts = (
            [say("{weight} {liquor}", weight=weight, liquor=liquor).strip()]
            if weight or liquor
            else []
        )
        if row.start_c is not None and row.goal_c is not None:
            parts.append(
                say(
                    "{start} to {goal} in {heat_min} min",
                    start=bare_warmth(row.start_c),
                    goal=warmth(row.goal_c),
                    heat_min=row.heat_min,
                )
            )
            parts += [say("hold {hold_min} min", hold_min=row.hold_min)] if row.hold_min else []
        shared = shared_said(row, facts.runs)
        if shared:
            parts.append(shared)
        where = (
            say("{vessel} on {ring}", vessel=row.vessel, ring=row.ring) if row.ring else row.vessel
        )
        if where or parts:
            yield LoadLine(where or say("By hand"), joined(", ", parts))


def _takes(takes: Iterable[Take], step: str, *, first: bool) -> Iterator[str]:
    """What a step takes, the first of a run the fibre too."""
    for take in takes:
        if take.step == step or (first and not take.step):
            much = amount(take.amount, take.unit)
            same = take.what == take.source
            text = (
                say("{much} {what}", much=much, what=take.what)
                if same
                else say(
                    "{much} {what} from {source}", much=much, what=take.what, source=take.source
                )
            )
            far = take.carried_from
            yield say("{text}, fetched from {site}", text=text, site=far) if far else text


def _fetched(row: Placed, takes: Iterable[Take]) -> Iterator[str]:
    """What a way to another site brings; what is weighed is weighed at both ends."""
    mine = fetched_by(row, takes)
    for take in mine:
        yield say(
            "{much} {what} from {source}",
            much=amount(take.amount, take.unit),
            what=take.what,
            source=take.source,
        )
    if any(take.unit == "mg" for take in mine):
        yield say("weigh it at both ends")


def _shares(takes: Iterable[Take], people: int) -> Iterator[str]:
    """So much for each of a group, and of what: `12 × 20 g: 240 g from W-85`."""
    for take in takes:
        yield say(
            "{people} × {each}: {much} from {source}",
            people=people,
            each=amount(take.amount // people, take.unit),
            much=amount(take.amount, take.unit),
            source=take.source,
        )


assert "step-done" in FORMS, "a step is said with its form"
