"""The sheet of one run ready to be printed: who for, what, each step's pot-loads, what to mind."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime
from math import ceil

from api.sheet import with_jobs
from api.web.drawing.qr import QrDrawing
from api.web.run_sheet.words import (
    gives_said,
    heats_said,
    held_said,
    litres_said,
    strained_said,
    until_said,
)
from api.web.this_week.flags import begun_large
from api.web.this_week.runs import LOOKS
from inventory.science.cautions import Caution
from inventory.science.saying import joined, say
from inventory.science.wording import DEGREES, warmth
from sourcing.week.carry import CARRY
from sourcing.week.cautions import cautions_of_run, ground_of
from sourcing.week.facts import RunFacts, WeekFacts
from sourcing.week.plan import Answer, Take
from sourcing.week.pot_words import shared_said
from sourcing.week.run_sheet import PotLoad, SheetDay, SheetStep, all_taken, sheet_days
from sourcing.week.words import amount, day_in_words, grams, listed, moment_in_words

# Letters [pt] of run_sheet.css, 14 the least for what is read at a metre; the largest that lets
# everything stand on one page is taken.
SIZES = (("large", 17.0), ("middle", 15.5), ("small", 14.0))
PAGE_PT = 780  # of A4 with its margins
LINE = 1.2  # of the letters
# Lines that each piece takes, as measured on paper with the widest letters that we know of.
HEAD, BEFORE, DAY, STEP, LOAD, ONE, HANG = 5.2, 1.3, 0.2, 1.6, 2.4, 1.0, 1.75
SIGNS = 46  # on a large line
POT_SIGNS = 12  # pot, ring and litres in front of what goes in
BOLD, PLAIN = 590.0, 670.0  # signs on a line beside the boxes, for letters of 1 pt
NOTE_PT, NOTE_SIGNS = 16.0, 74  # a note's line, and the signs on it
CAUTION_PT, CAUTION_SIGNS = 13.0, 42  # likewise of a caution, in two columns
MEASURED = ("extract", "dye", "scour", "mordant", "tannin", "after-bath", "soak", "decoct")
OF_THE_WEEK = ("labels",)  # duties of the shop, not of the ring


@dataclass(frozen=True, slots=True)
class LoadShown:
    """One pot-load: where, what, how warm, and the boxes for what came of it."""

    where: str  # P1
    ring: str
    litres: str
    weight: str
    gives: tuple[str, ...]
    heats: str
    until: str
    done: str  # when it was said to be done; empty: not yet
    boxes: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class StepShown:
    """One step with its hour."""

    hour: str
    name: str
    hands: str
    lots: tuple[str, ...]  # each lot of what goes in, where there are several
    loads: tuple[LoadShown, ...]
    stays: str  # in its bath till ...
    after: str  # strain ...
    shared: str = ""  # in one pot with whom


@dataclass(frozen=True, slots=True)
class DayShown:
    """A day's steps."""

    day: str
    steps: tuple[StepShown, ...]


@dataclass(frozen=True, slots=True)
class SheetShown:
    """The whole page."""

    run: str
    shade: str
    look: str
    word: str
    fibre: str  # by its dry weight
    weigh: str  # what is taken or weighed out for it
    for_whom: str
    due: str
    first: str
    hung: str
    dry: str
    late: bool
    water: str
    size: str  # large, middle, small, many: of its letters
    before: tuple[str, ...]  # jobs
    days: tuple[DayShown, ...]
    why: tuple[str, ...]  # of a run that is not yes
    mind: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[Caution, ...]
    line: str
    group: bool
    code: QrDrawing


def sheet_shown(facts: WeekFacts, answer: Answer, run: RunFacts, *, code: QrDrawing) -> SheetShown:
    """Everything on the sheet of a run in words."""
    return _Desk(facts, replace(answer, takes=all_taken(answer, facts)), run).sheet(code)


@dataclass(frozen=True)
class _Desk:
    """One answer with the facts that its words need."""

    facts: WeekFacts
    answer: Answer
    run: RunFacts

    def sheet(self, code: QrDrawing) -> SheetShown:
        answer, run = self.answer, self.run
        sheet = SheetShown(
            run=run.code,
            shade=answer.shade,
            look=LOOKS[answer.answer],
            word=answer.answer + with_jobs(answer),
            fibre=say(
                "{weight_mg} of {fibre}, dry", weight_mg=grams(run.weight_mg), fibre=run.fibre
            ),
            weigh=self._weigh(),
            for_whom=run.for_whom or (say("a client") if run.client else say("the studio")),
            due=self._moment(run.due) or "undated",
            first=self._moment(answer.first_step_at),
            hung=self._moment(answer.hung_at),
            dry=self._moment(answer.dry_at),
            late=answer.late,
            water=self._water(),
            size="",
            before=tuple(begun_large(job.text) for job in answer.jobs),
            days=tuple(self._day(day) for day in sheet_days(answer, self.facts)),
            why=tuple(self._why()),
            mind=tuple(begun_large(row.text) for row in answer.warnings),
            notes=tuple(begun_large(text) for text in answer.notes),
            cautions=self._cautions(),
            line=self._line(),
            group=bool(run.group_block),
            code=code,
        )
        return replace(sheet, size=size_of(sheet))

    # -- the head ------------------------------------------------------------------------------

    def _weigh(self) -> str:
        """The lots that it comes from, and what has to be weighed out where scouring takes some."""
        taken = [take for take in self.answer.takes if not take.step]
        if not taken:
            return (
                say("from {fibre_lot}", fibre_lot=self.run.fibre_lot) if self.run.fibre_lot else ""
            )
        if sum(take.amount for take in taken) == self.run.weight_mg:
            return say("from {source}", source=listed(take.source for take in taken))
        return say("weigh out {raw}", raw=listed(self._raw(take) for take in taken))

    def _raw(self, take: Take) -> str:
        return say(
            "{amount} of {source} unscoured",
            amount=amount(take.amount, take.unit),
            source=take.source,
        )

    def _water(self) -> str:
        row = next(iter(self.facts.waters), None)
        if row is None or not self.answer.steps:
            return ""
        ph = "" if row.ph is None else say(", pH {normalize:f}", normalize=row.ph.normalize())
        return say("{name}{ph}, {warmth}", name=row.name, ph=ph, warmth=warmth(row.temperature_c))

    def _line(self) -> str:
        rows = [
            say(
                "{mg} on {line} from {moment} to {moment_2}",
                mg=grams(row.mg),
                line=row.line,
                moment=self._moment(row.since),
                moment_2=self._moment(row.until),
            )
            for row in self.answer.hangs
        ]
        return begun_large(say("hang {rows}", rows=listed(rows))) if rows else ""

    # -- steps ---------------------------------------------------------------------------------

    def _day(self, day: SheetDay) -> DayShown:
        return DayShown(day_in_words(day.day), tuple(self._step(step) for step in day.steps))

    def _step(self, step: SheetStep) -> StepShown:
        several = len({row.what for row in step.gives}) < len(step.gives)
        return StepShown(
            hour=f"{step.start.astimezone(self.facts.zone):%H:%M}",
            name=step.name,
            hands=say("{hands_min} min of hands", hands_min=step.hands_min)
            if step.hands_min
            else "",
            lots=tuple(
                say("{source} {amount}", source=row.source, amount=amount(row.amount, row.unit))
                for row in step.gives
            )
            if several
            else (),
            loads=tuple(self._load(load, step) for load in step.loads),
            stays=self._stays(step),
            after=strained_said(step),
            shared=self._shared(step),
        )

    def _shared(self, step: SheetStep) -> str:
        """Whose cloth goes into each pot of a step as well, and how much liquor that takes."""
        rows = [(load.placed, shared_said(load.placed, self.facts.runs)) for load in step.loads]
        said = (
            say("{vessel}: {text}", vessel=row.vessel, text=text) if row.vessel else text
            for row, text in rows
            if text
        )
        return begun_large(joined("; ", dict.fromkeys(said)))

    def _stays(self, step: SheetStep) -> str:
        """How long the cloth stays in; an extract has none in it."""
        return "" if step.strained_to_l else held_said(step, self.facts.zone)

    def _load(self, load: PotLoad, step: SheetStep) -> LoadShown:
        row, zone = load.placed, self.facts.zone
        cloth = row.weight_mg and step.kind not in ("extract", "soak", "decoct")
        return LoadShown(
            where=row.vessel,
            ring=row.ring,
            litres=litres_said(row.litres) if row.litres else "",
            weight=grams(row.weight_mg) if cloth else "",
            gives=tuple(gives_said(given) for given in load.gives),
            heats=heats_said(row, step.heats, load.hot_at, zone),
            until=until_said(row, zone),
            done=self._moment(row.done_at),
            boxes=boxes_of(step.kind, heated=bool(row.ring)),
        )

    # -- what to mind --------------------------------------------------------------------------

    def _why(self) -> Iterator[str]:
        """Why it is not a yes: what is short, what it waits for, what stands in the way."""
        answer = self.answer
        if answer.answer == "yes":
            return
        reasons = [row.text for row in (*answer.waits_for, *answer.barred)]
        texts = (*(row.text for row in answer.short), *reasons)
        yield from dict.fromkeys(begun_large(text) for text in texts)

    def _cautions(self) -> tuple[Caution, ...]:
        rows = cautions_of_run(ground_of(self.facts, runs=(self.run,)), self.answer)
        return tuple(row for row in rows if row.code not in OF_THE_WEEK)

    def _moment(self, at: datetime | None) -> str:
        return "" if at is None else moment_in_words(at, self.facts.zone)


def boxes_of(kind: str, *, heated: bool) -> tuple[str, ...]:
    """What is written down by hand at a pot-load: only what nobody can know before."""
    if kind == CARRY:
        return (say("g there"), say("g here"), say("who"))
    if kind not in MEASURED:
        return (say("time in"), say("who"))
    return (
        (say("time in"), "pH", DEGREES, say("who"))
        if heated
        else (say("time in"), "pH", say("who"))
    )


def size_of(sheet: SheetShown) -> str:
    """How large the letters may be so that all stands on one page; `many`: on more than one."""
    lines, rest = _lines(sheet), _small_print_pt(sheet)
    fits = (
        name for name, pt in SIZES if (lines + _wrapped(sheet, pt)) * pt * LINE + rest <= PAGE_PT
    )
    return next(fits, "many")


def _lines(sheet: SheetShown) -> float:
    """Lines of the large letters."""
    steps = [step for day in sheet.days for step in day.steps]
    loads = sum(len(step.loads) for step in steps)
    after = sum(
        bool(step.after) + bool(step.lots and step.stays) + ceil(len(step.shared) / SIGNS)
        for step in steps
    )
    whys = sum(ceil(len(text) / SIGNS) for text in sheet.why) + 3 * bool(sheet.why)
    before = ceil(len(joined("; ", sheet.before)) / SIGNS) * BEFORE
    rows = HEAD + DAY * len(sheet.days) + STEP * len(steps) + LOAD * loads + ONE * after
    return rows + before + ONE * whys + HANG * bool(sheet.line)


def _wrapped(sheet: SheetShown, pt: float) -> int:
    """Lines more, as what goes into a pot is longer than a line."""
    loads = [load for day in sheet.days for step in day.steps for load in step.loads]
    bold = [POT_SIGNS + len(" + ".join((load.weight, *load.gives))) for load in loads]
    plain = [len(say("{heats}, {until}", heats=load.heats, until=load.until)) for load in loads]
    return sum(ceil(signs * pt / BOLD) - 1 for signs in bold) + sum(
        ceil(signs * pt / PLAIN) - 1 for signs in plain
    )


def _small_print_pt(sheet: SheetShown) -> float:
    """Height of notes and cautions."""
    notes = sum(ceil((len(text) + 6) / NOTE_SIGNS) for text in (*sheet.notes, *sheet.mind)) + bool(
        sheet.water
    )
    words = (
        say("{mark} {sentence} ({about})", mark=row.mark, sentence=row.sentence, about=row.about)
        for row in sheet.cautions
    )
    cautions = sum(ceil(len(text) / CAUTION_SIGNS) for text in words)
    return notes * NOTE_PT + ceil(cautions / 2 + 1) * CAUTION_PT
