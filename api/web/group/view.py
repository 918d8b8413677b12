"""The sheet of a group day, its hazards and its slips, ready to be printed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime

from api.sheet import with_jobs
from api.web.drawing.knots import KnotsDrawing, draw_knots
from api.web.drawing.qr import QrDrawing
from api.web.run_sheet.words import litres_said
from api.web.this_week.flags import begun_large
from api.web.this_week.runs import LOOKS
from inventory.science.cautions import Caution
from inventory.science.library import library
from inventory.science.saying import say
from sourcing.week.cautions import cautions_of_group, cautions_of_run, ground_of
from sourcing.week.facts import WeekFacts
from sourcing.week.group_sheet import GroupDay, Share, group_day
from sourcing.week.plan import Answer, Placed, Week
from sourcing.week.words import amount, day_in_words, grams, listed

NOT_A_HAZARD = "duty"


@dataclass(frozen=True, slots=True)
class ShareShown:
    """One line of what is laid out."""

    what: str
    each: str
    whole: str
    source: str


@dataclass(frozen=True, slots=True)
class PersonShown:
    """One skein with its mark; the name is written in by hand."""

    number: int
    knots: KnotsDrawing


@dataclass(frozen=True, slots=True)
class GroupShown:
    """All sheets of one group day."""

    run: str
    shade: str
    look: str
    word: str
    day: str  # Sat 28 Nov 2026; empty: not written down
    hours: str  # 10:00 to 14:00
    room: str  # rings and pots that are taken for it
    fibre: str
    each: str
    people: tuple[PersonShown, ...]
    shares: tuple[ShareShown, ...]
    baths: tuple[str, ...]  # into which wool goes, for the hours that are written in
    before: tuple[str, ...]
    see_to: tuple[str, ...]
    why: tuple[str, ...]
    ends: str  # how the knots are read
    cautions: tuple[Caution, ...]
    used: str
    with_what: str
    fading: tuple[str, ...]
    code: QrDrawing


def group_shown(facts: WeekFacts, week: Week, answer: Answer, *, code: QrDrawing) -> GroupShown:
    """Everything on the sheets of a group day in words."""
    run = next(row for row in facts.runs if row.code == answer.run)
    return _Desk(facts, week, answer, group_day(answer, run, facts)).sheets(code)


@dataclass(frozen=True)
class _Desk:
    facts: WeekFacts
    week: Week
    answer: Answer
    group: GroupDay

    def sheets(self, code: QrDrawing) -> GroupShown:
        answer, group = self.answer, self.group
        day, hours = self._when()
        return GroupShown(
            run=answer.run,
            shade=answer.shade,
            look=LOOKS[answer.answer],
            word=answer.answer + with_jobs(answer),
            day=day,
            hours=hours,
            room=listed((*group.block.rings, *group.block.vessels)) if group.block else "",
            fibre=group.run.fibre,
            each=grams(group.run.weight_mg // group.people),
            people=tuple(
                PersonShown(number, draw_knots(mark)) for number, mark in enumerate(group.marks, 1)
            ),
            shares=tuple(_share(row, self._made()) for row in group.shares),
            baths=tuple(dict.fromkeys(self._baths())),
            before=tuple(self._before()),
            see_to=tuple(self._see_to()),
            why=tuple(begun_large(text) for text in self._why()),
            ends=_ends_said(len(group.marks[0])),
            cautions=self._cautions(),
            used=listed(dict.fromkeys(row.what for row in group.shares)),
            with_what=listed(dict.fromkeys(self._with_what())),
            fading=tuple(self._fading()),
            code=code,
        )

    def _when(self) -> tuple[str, str]:
        block = self.group.block
        if block is None:
            return "", ""
        since, until = (at.astimezone(self.facts.zone) for at in (block.since, block.until))
        day = say("{date} {year}", date=day_in_words(since.date()), year=since.year)
        if since.date() != until.date():
            return day, say(
                "{since:%H:%M} to {date} {until:%H:%M}",
                since=since,
                date=day_in_words(until.date()),
                until=until,
            )
        return day, say("{since:%H:%M} to {until:%H:%M}", since=since, until=until)

    # -- before it begins ----------------------------------------------------------------------

    def _before(self) -> Iterator[str]:
        """Jobs with their day; one with a pot and a ring says when and where."""
        steps = {step.step: step for step in self.answer.steps}
        for job in self.answer.jobs:
            step = steps.get(job.what)
            yield begun_large(job.text) + (
                say(": {placed}", placed=self._placed(step)) if step else ""
            )

    def _placed(self, step: Placed) -> str:
        litres = say(" {litres_said}", litres_said=litres_said(step.litres)) if step.litres else ""
        ring = say(" on {ring}", ring=step.ring) if step.ring else ""
        since, until = self._clock(step.start), self._clock(step.end)
        return say(
            "{since} to {until} in {vessel}{litres}{ring}",
            since=since,
            until=until,
            vessel=step.vessel,
            litres=litres,
            ring=ring,
        )

    def _clock(self, at: datetime) -> str:
        return f"{at.astimezone(self.facts.zone):%H:%M}"

    def _see_to(self) -> Iterator[str]:
        """What a morning flag says of something that the group is to be given."""
        taken = {row.source for row in self.group.shares}
        yield from (begun_large(flag.text) for flag in self.week.flags if flag.what in taken)

    def _why(self) -> Iterator[str]:
        answer = self.answer
        if answer.answer != "yes":
            yield from (row.text for row in answer.short)
            yield from (row.text for row in (*answer.waits_for, *answer.barred))

    # -- what is used --------------------------------------------------------------------------

    def _baths(self) -> Iterator[str]:
        """Baths that cloth goes into; a dyestuff makes one too, unless a bath is made of it."""
        for row in self.group.shares:
            if row.what != self.group.run.fibre and row.what not in self._made():
                yield row.what

    def _made(self) -> dict[str, str]:
        """Dyestuffs of which a bath is made first, and which."""
        poured = {row.what for row in self.group.shares}
        return {row.dyestuff: row.bath for row in self.facts.makings if row.bath in poured}

    def _with_what(self) -> Iterator[str]:
        lots = {lot.code: lot for lot in self.facts.shelf.lots}
        for row in self.group.shares:
            lot = lots.get(row.source)
            if lot is not None:
                source = say(" from {source}", source=lot.source) if lot.source else ""
                yield say(
                    "{dyestuff}{source} (lot {code})",
                    dyestuff=lot.dyestuff,
                    source=source,
                    code=lot.code,
                )

    def _cautions(self) -> tuple[Caution, ...]:
        ground = ground_of(self.facts, runs=(self.group.run,))
        rows = cautions_of_run(ground, self.answer)
        if not self.group.shares:
            # The day may be held all the same, with what is brought: its recipe's dangers stay.
            rows = cautions_of_group(ground, self.group.dyestuffs)
        return tuple(row for row in rows if row.kind != NOT_A_HAZARD)

    def _fading(self) -> Iterator[str]:
        """The truth about each dyestuff that was used; while none is, about those wanted."""
        lots = {lot.code: lot.dyestuff for lot in self.facts.shelf.lots}
        told = dict.fromkeys(lots[row.source] for row in self.group.shares if row.source in lots)
        for what in told or self.group.dyestuffs:
            yield fading_said(what, fugitive=what in self.facts.fugitive)


def fading_said(what: str, *, fugitive: bool) -> str:
    """What a slip says of how long a colour stays; nothing is promised that was not tested."""
    if fugitive:
        return say(
            "{begun_large} is fugitive: its colour will fade in days to weeks, and sooner in "
            "the sun and in the wash.",
            begun_large=begun_large(what),
        )
    rows = library().of_kind("dyestuff")
    thing = next((row for row in rows if row.name.casefold() == what.casefold()), None)
    said = next((row.words for row in thing.of("lightfastness")), "") if thing else ""
    others = say(" Of its keeping in light others report: {said}.", said=say(said)) if said else ""
    return say(
        "{begun_large}: how long this skein keeps its colour was not tested.{others}",
        begun_large=begun_large(what),
        others=others,
    )


def _share(row: Share, made: dict[str, str]) -> ShareShown:
    return ShareShown(
        what=say("{what}, for the {made}", what=row.what, made=made[row.what])
        if row.what in made
        else row.what,
        each=amount(row.each, row.unit),
        whole=amount(row.whole, row.unit),
        source=row.source or say("made before"),
    )


def _ends_said(ends: int) -> str:
    if ends == 2:
        return say("The first number of knots is on the short end, the second on the long end.")
    return say(
        "The skein has {ends} ends; the knots are counted from the shortest to the longest.",
        ends=ends,
    )
