"""The answer to a run that is looked at, ready to show: its ticket, other ways, what it moves."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from decimal import Decimal

from api.question import Question
from api.web.ask.asked import AGREED, EVENING, SOME_DAY
from api.web.runs.address import run_address
from api.web.this_week.flags import begun_large
from api.web.this_week.runs import LOOKS, Ticket, tickets_of
from api.web.unlock_way import way_of
from inventory.science.saying import joined, say
from sourcing.week.plan import Unlock
from sourcing.week.ripple import Shift
from sourcing.week.what_if.moved import RunMoved
from sourcing.week.what_if.one_more import Looked
from sourcing.week.words import day_in_words, decimal_string, grams, moment_in_words

MOVED_AT_MOST = 20
TOLD_FIRST = ("answer", "first step", "dry", "late", "short")
WORDS = {"yes": say("Yes"), "wait": say("Not yet"), "no": say("No")}
# The address that asks the same run with some fields otherwise.
Otherwise = Callable[[dict[str, str]], str]


@dataclass(frozen=True, slots=True)
class Way:
    """Another way to ask, or what would have to be there first."""

    words: str
    then: str  # first step and dry, as far as they are known
    address: str = ""  # empty: nothing to press


@dataclass(frozen=True, slots=True)
class RunMovedShown:
    """Another run with what becomes of it."""

    run: str
    shade: str
    address: str
    look: str
    word: str
    texts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class LookedShown:
    """The answer with everything that hangs on it."""

    ticket: Ticket
    sentence: str
    ways: tuple[Way, ...]
    moved: tuple[RunMovedShown, ...]
    more_moved: int
    in_between: int  # runs that keep answer and days, and get other hours or lots
    others: int  # runs that are wanted beside it


def looked_shown(looked: Looked, question: Question, otherwise: Otherwise) -> LookedShown:
    """The ticket of the run in the week as it would be, and what else becomes otherwise."""
    tickets = tickets_of(looked.facts, looked.week, currency=question.studio.currency)
    ticket = next(row for row in tickets if row.run == looked.answer.run)
    told = [row for row in looked.others if _told_first(row)]
    moved = [_moved(row, question.carried) for row in told]
    return LookedShown(
        # What would unlock it stands above the ticket, with ways to ask so.
        ticket=replace(ticket, unlocks=(), sought=False),
        sentence=sentence_of(ticket),
        ways=() if ticket.look == "yes" else tuple(_ways(looked, otherwise, question.carried)),
        moved=tuple(moved[:MOVED_AT_MOST]),
        more_moved=max(0, len(moved) - MOVED_AT_MOST),
        in_between=len(looked.others) - len(told),
        others=len(looked.week.answers) - 1,
    )


def sentence_of(ticket: Ticket) -> str:
    """The answer in one sentence, for whoever reads no further."""
    said = WORDS[ticket.look]
    return say("{said}: {gist}.", said=said, gist=ticket.gist) if ticket.gist else said + "."


def _ways(looked: Looked, otherwise: Otherwise, carried: str) -> Iterator[Way]:
    """What can be asked otherwise comes first, then what would have to be there."""
    zone = looked.facts.zone
    if looked.less is not None:
        answer = looked.less.answer
        address = otherwise({"weight": in_grams(looked.less.mg), "unit": "g"})
        then = _then(answer.first_step_at, answer.dry_at, looked)
        yield Way(say("{mg} instead", mg=grams(looked.less.mg)), then, address)
    late = _late_until(looked)
    if late is not None:
        then = _then(looked.answer.first_step_at, late, looked)
        words = say("Wait until {date}", date=day_in_words(late.astimezone(zone).date()))
        yield Way(words, then, _by(late, looked, otherwise))
    for row in looked.answer.unlocks:
        yield _unlocked(row, looked, otherwise, carried)


def _late_until(looked: Looked) -> datetime | None:
    """When it is dry, where that is later than it was wanted."""
    run = next(row for row in looked.facts.runs if row.code == looked.answer.run)
    dry = looked.answer.dry_at
    return dry if dry is not None and run.due is not None and dry > run.due else None


def _unlocked(row: Unlock, looked: Looked, otherwise: Otherwise, carried: str) -> Way:
    """What was proved by placing with it, and where it is asked so, looked at or written down."""
    then = _then(row.first_step_at, row.dry_at, looked)
    only = row.changes[0] if len(row.changes) == 1 else None
    run = next(run for run in looked.facts.runs if run.code == looked.answer.run)
    address = way_of(row, run, looked.facts).address(carried)
    if only is not None and only.kind == "due" and only.until is not None:
        address = _by(only.until, looked, otherwise)
    elif only is not None and only.kind == "leave" and _wants_card(looked):
        address = otherwise({"card": AGREED})
    return Way(begun_large(row.text), then, address)


def _wants_card(looked: Looked) -> bool:
    """Whether it is the shade that has to be agreed first."""
    return any(row.kind == "shade card" for row in looked.answer.barred)


def _by(moment: datetime, looked: Looked, otherwise: Otherwise) -> str:
    """The address that asks for it by the first evening that is not before a moment."""
    local = moment.astimezone(looked.facts.zone)
    day = local.date() + timedelta(days=local.time() > EVENING)
    return otherwise({"by": SOME_DAY, "day": str(day)})


def _then(first: datetime | None, dry: datetime | None, looked: Looked) -> str:
    zone = looked.facts.zone
    parts = [] if first is None else [say("first step {first}", first=moment_in_words(first, zone))]
    parts += [] if dry is None else [say("dry {dry}", dry=moment_in_words(dry, zone))]
    return say("then {parts}", parts=joined(", ", parts)) if parts else ""


def in_grams(mg: int) -> str:
    """Milligrams as grams for a field: `280`."""
    return decimal_string(Decimal(mg) / 1000)


def _moved(row: RunMoved, carried: str) -> RunMovedShown:
    after = row.after
    assert after is not None, "no other run is left out"
    return RunMovedShown(
        run=row.run,
        shade=row.shade,
        address=run_address(row.run, carried),
        look=LOOKS[after.answer],
        word=after.answer,
        texts=tuple(begun_large(shift.text) for shift in _told_first(row)),
    )


def _told_first(row: RunMoved) -> list[Shift]:
    """What becomes of its answer and its days."""
    return [shift for shift in row.shifts if shift.kind in TOLD_FIRST]
