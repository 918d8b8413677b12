"""A missed visit ready to show: what would not come, which runs move, how far things go."""

from __future__ import annotations

from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from api.missed_sheet import hurt_in_words, missed_in_words, rest_in_words
from api.question import Question
from api.web.missed.balance import BalanceBar, bars_of
from api.web.this_week.flags import begun_large
from inventory.science.saying import joined, say
from sourcing.week.facts import PickUpExpected
from sourcing.week.ripple import Moved, Ripple, Shift, SumMoved
from sourcing.week.words import day_in_words, grams

LOOKS = {"yes": "yes", "not yet": "wait", "no": "no"}


@dataclass(frozen=True, slots=True)
class RunShown:
    """A run that moves, its answer with the visit and without."""

    code: str
    shade: str
    was: str
    was_look: str
    word: str
    look: str
    shifts: tuple[str, ...]
    stays: tuple[str, ...]

    @property
    def same(self) -> bool:
        return self.was == self.word


@dataclass(frozen=True, slots=True)
class SumShown:
    """How far a dyestuff goes, in words and as two bars."""

    what: str
    text: str
    bars: tuple[BalanceBar, ...]
    need_at: str  # x of the line up to which it is wanted


@dataclass(frozen=True, slots=True)
class VisitShown:
    """One visit that may be missed, with what that would do."""

    address: str
    when: str
    source: str
    brings: str
    guess: bool  # nobody has told of it yet
    hurt: str
    moves: bool


@dataclass(frozen=True, slots=True)
class MissedShown:
    """The page of one missed visit."""

    title: str
    missed: tuple[str, ...]
    guess: bool
    runs: tuple[RunShown, ...]
    rest: str
    sums: tuple[SumShown, ...]
    rooms: tuple[str, ...]
    all_visits: str  # the address of the list


def missed_shown(question: Question, ripple: Ripple) -> MissedShown:
    """One ripple as a page."""
    first = ripple.missed[0]
    day = day_in_words(first.at.astimezone(ripple.before.at.tzinfo).date())
    return MissedShown(
        title=say("If {source} does not come on {day}", source=first.source, day=day),
        missed=tuple(missed_in_words(row, ripple) for row in ripple.missed),
        guess=any(row.confirmed_mg is None for row in ripple.missed),
        runs=tuple(_run(row) for row in ripple.moved),
        rest=begun_large(rest_in_words(ripple)),
        sums=tuple(_sum(row) for row in ripple.sums),
        rooms=tuple(begun_large(row.text) for row in ripple.rooms),
        all_visits=reverse("missed") + question.carried,
    )


def visits_shown(question: Question, ripples: tuple[Ripple, ...]) -> tuple[VisitShown, ...]:
    """The visits of a period, what hurts most first."""
    return tuple(_visit(question, row) for row in ripples)


def _run(row: Moved) -> RunShown:
    old, new = row.before.answer, row.after.answer
    return RunShown(
        code=row.run,
        shade=row.shade,
        was=old,
        was_look=LOOKS[old],
        word=new,
        look=LOOKS[new],
        shifts=tuple(begun_large(text) for text in _texts(row.shifts)),
        stays=tuple(begun_large(text) for text in row.stays),
    )


def _texts(shifts: tuple[Shift, ...]) -> list[str]:
    """All but the answer, which stands as a word of its own."""
    return [shift.text for shift in shifts if shift.kind != "answer"]


def _sum(row: SumMoved) -> SumShown:
    bars, need_at = bars_of(row)
    return SumShown(row.what, begun_large(row.text), bars, need_at)


def _visit(question: Question, ripple: Ripple) -> VisitShown:
    first, zone = ripple.missed[0], ripple.before.at.tzinfo
    at = first.at.astimezone(zone)
    said = {**dict(question.said), "source": first.source, "on": at.date().isoformat()}
    return VisitShown(
        address=f"{reverse('missed')}?{urlencode(said)}",
        when=say("{date} {at:%H:%M}", date=day_in_words(at.date()), at=at),
        source=first.source,
        brings=joined(
            ", ",
            (
                say("{dyestuff} {mg}", dyestuff=row.dyestuff, mg=grams(_mg(row)))
                for row in ripple.missed
            ),
        ),
        guess=any(row.confirmed_mg is None for row in ripple.missed),
        hurt=begun_large(hurt_in_words(ripple)),
        moves=bool(ripple.moved or ripple.sums),
    )


def _mg(row: PickUpExpected) -> int:
    """What was told of, else what is likely."""
    return row.likely_mg if row.confirmed_mg is None else row.confirmed_mg
