"""What moves when one pick-up is missed: every run, and how far what it brings goes.

The pick-up is struck from the facts and the week worked out again, so a missed day is answered by
the same sums as any other.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime
from decimal import Decimal
from typing import Any

from inventory.science.days import local_day
from inventory.science.facts import LotFacts
from inventory.science.saying import Said, joined, say
from sourcing.forecast.facts import Stream, Visit
from sourcing.week.enough import percent
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.plan import Answer, Enough, Shortage, Take, Week
from sourcing.week.project import project
from sourcing.week.rooms import NAMES
from sourcing.week.words import amount, day_in_words, grams, listed, moment_in_words
from sourcing.week.words import pieces as pieces_in_words

VISITS_AT_MOST, VISITS_AT_LEAST = 24, 3  # of one period that are struck in turn
RUNS_AT_MOST = 1_200  # runs placed again over all of them; more runs, fewer visits
RANK = {"yes": 0, "not yet": 1, "no": 2}
PLAIN = ("late", "short", "jobs")  # kinds whose words need no name before them


@dataclass(frozen=True, slots=True)
class Shift:
    """One thing about a run that is otherwise without the pick-up."""

    kind: str  # answer, first step, dry, late, short, takes, jobs, steps, likely, chance
    before: str
    after: str
    text: str


@dataclass(frozen=True, slots=True)
class Moved:
    """A run that moves, with all that is otherwise, and what of a shortage stays."""

    run: str
    shade: str
    before: Answer
    after: Answer
    shifts: tuple[Shift, ...]
    stays: tuple[str, ...] = ()

    @property
    def worse(self) -> int:
        """How many steps of yes, not yet, no the answer falls; below 0: it rises."""
        return RANK[self.after.answer] - RANK[self.before.answer]


@dataclass(frozen=True, slots=True)
class Balance:
    """What is likely there by a day against what is wanted, in mg and whole pieces."""

    there_mg: int
    spare_mg: int
    short_mg: int
    pieces: int | None  # of what is spare or short

    @property
    def over_mg(self) -> int:
        """Spare above zero, short below."""
        return self.spare_mg - self.short_mg


@dataclass(frozen=True, slots=True)
class SumMoved:
    """How far a dyestuff goes for the runs that are not placed, with the pick-up and without."""

    what: str
    by: date
    runs: tuple[str, ...]
    need_mg: int
    before: Balance | None  # None: no run waited for it
    after: Balance
    text: str


@dataclass(frozen=True, slots=True)
class RoomMoved:
    """The first evening on which a room is over, or is no more, by another amount."""

    room: str
    day: date
    before: str
    after: str

    @property
    def text(self) -> str:
        return say(
            "{room} on {day}: {before} becomes {after}",
            room=self.room,
            day=day_in_words(self.day),
            before=self.before,
            after=self.after,
        )


@dataclass(frozen=True)
class Ripple:
    """A missed visit: what would not come, and all that moves."""

    missed: tuple[PickUpExpected, ...]  # of one source and day
    moved: tuple[Moved, ...]  # in the order of the answers
    stay: tuple[str, ...]  # runs that do not move
    sums: tuple[SumMoved, ...]
    rooms: tuple[RoomMoved, ...]
    before: Week
    after: Week

    @property
    def hurts(self) -> tuple[float, ...]:
        """How hard it hits, hardest lowest: lost yeses, fallen answers, later runs, chance, g."""
        worse = [row for row in self.moved if row.worse > 0]
        lost = sum(row.before.answer == "yes" for row in worse)
        late = sum(_later(row) for row in self.moved if row.worse == 0)
        fall = sum(_chance(row.before.enough) - _chance(row.after.enough) for row in self.moved)
        fewer = sum(row.before.over_mg - row.after.over_mg for row in self.sums if row.before)
        return (-lost, -len(worse), -late, -round(fall, 6), -fewer)


@dataclass(frozen=True)
class Hardest:
    """Visits of a period, the one that hurts most in front, and how many were not worked out."""

    ripples: tuple[Ripple, ...]
    left_out: int  # the latest of the period


def visits_of(facts: WeekFacts, *, until: datetime) -> tuple[tuple[PickUpExpected, ...], ...]:
    """Visits up to a moment that may still be missed, by source and day, the earliest first."""
    found: dict[tuple[date, str], list[PickUpExpected]] = {}
    for row in sorted(facts.pick_ups, key=lambda row: (row.at, row.source, row.dyestuff)):
        if _may_be_missed(row, facts) and row.at < until:
            day = local_day(row.at, zone=facts.zone)
            found.setdefault((day, row.source), []).append(row)
    return tuple(tuple(rows) for rows in found.values())


def visits_at_most(runs: int) -> int:
    """How many visits are struck in turn where so many runs are placed anew for each.

    >>> visits_at_most(7), visits_at_most(100), visits_at_most(2_000)
    (24, 12, 3)
    """
    return max(VISITS_AT_LEAST, min(VISITS_AT_MOST, RUNS_AT_MOST // max(1, runs)))


def pick_ups_of(
    facts: WeekFacts, *, source: str, on: date | None = None, gives: str = ""
) -> tuple[PickUpExpected, ...]:
    """Pick-ups of a source that may still be missed; `on` None: of every day, `gives`: of one
    thing only."""
    return tuple(
        row
        for row in facts.pick_ups
        if row.source == source
        and _may_be_missed(row, facts)
        and on in (None, local_day(row.at, zone=facts.zone))
        and gives in ("", row.dyestuff)
    )


def _may_be_missed(row: PickUpExpected, facts: WeekFacts) -> bool:
    return row.at > facts.at and row.in_window and not row.missed


def struck(facts: WeekFacts, missed: Iterable[PickUpExpected]) -> WeekFacts:
    """The facts as they were if some pick-ups had been written down as missed.

    A reported one goes with its lot; the forecast takes its day as decided, and learns nothing of
    the source from it, as it has not passed.
    """
    rows = tuple(missed)
    lots = tuple(lot for lot in facts.shelf.lots if not any(_brought_by(lot, row) for row in rows))
    return replace(
        facts,
        shelf=replace(facts.shelf, lots=lots),
        pick_ups=tuple(
            replace(row, missed=True, confirmed_mg=None) if row in rows else row
            for row in facts.pick_ups
        ),
        streams=tuple(_without(stream, rows, facts) for stream in facts.streams),
    )


def _brought_by(lot: LotFacts, row: PickUpExpected) -> bool:
    """Whether a lot is what a reported pick-up will bring."""
    same = lot.dyestuff == row.dyestuff and lot.source in ("", row.source)
    return same and row.confirmed_mg is not None and lot.arrives_at == row.at


def _without(stream: Stream, rows: Sequence[PickUpExpected], facts: WeekFacts) -> Stream:
    days = {
        local_day(row.at, zone=facts.zone)
        for row in rows
        if (row.source, row.dyestuff) == (stream.source, stream.gives)
    }
    if not days:
        return stream
    kept = [visit for visit in stream.visits if visit.on not in days]
    kept += [Visit(day, "missed") for day in days]
    return replace(stream, visits=tuple(sorted(kept, key=lambda visit: visit.on)))


def ripple(
    facts: WeekFacts,
    missed: Sequence[PickUpExpected],
    *,
    days: int,
    before: Week | None = None,
) -> Ripple:
    """All that moves when some pick-ups are missed.

    Parameters
    ----------
    missed : of `facts.pick_ups`, one or more
    days : length of the period in local days, today the first, 1 to 28
    before : the week with them, where it has been worked out already
    """
    before = before or project(facts, days=days)
    after = project(struck(facts, missed), days=days)
    now = {answer.run: answer for answer in after.answers}
    rows = [_moved(answer, now[answer.run], facts) for answer in before.answers]
    return Ripple(
        tuple(missed),
        tuple(row for row in rows if row.shifts),
        tuple(row.run for row in rows if not row.shifts),
        tuple(_sums(before, after, {row.dyestuff for row in missed})),
        tuple(_rooms(before, after)),
        before,
        after,
    )


def hardest_first(facts: WeekFacts, *, days: int) -> Hardest:
    """The visits of the period that may be missed, the one that hurts most in front."""
    before = project(facts, days=days)
    visits = visits_of(facts, until=before.until)
    worked = visits[: visits_at_most(len(facts.runs))]
    rows = [ripple(facts, visit, days=days, before=before) for visit in worked]
    rows.sort(key=lambda row: (row.hurts, row.missed[0].at, row.missed[0].source))
    return Hardest(tuple(rows), len(visits) - len(worked))


# -- runs ------------------------------------------------------------------------------------


def _moved(before: Answer, after: Answer, facts: WeekFacts) -> Moved:
    shifts = tuple(shifts_of(before, after, facts))
    stays = tuple(_short_said(row, stays=True) for row in after.short if row in before.short)
    return Moved(before.run, before.shade, before, after, shifts, stays if shifts else ())


def shifts_of(before: Answer, after: Answer, facts: WeekFacts) -> Iterator[Shift]:
    """Everything about one run that is otherwise in the second answer."""
    zone = facts.zone

    def at(moment: datetime | None) -> str:
        return "" if moment is None else moment_in_words(moment, zone)

    told = (
        ("answer", before.answer, after.answer),
        ("first step", at(before.first_step_at), at(after.first_step_at)),
        ("dry", at(before.dry_at), at(after.dry_at)),
        ("late", _late(before), _late(after)),
        ("short", _shorts(before, after), _shorts(after, before)),
        ("takes", _takes(before.takes), _takes(after.takes)),
        ("jobs", listed(job.text for job in before.jobs), listed(job.text for job in after.jobs)),
    )
    found = [
        Shift(kind, old, new, _said("" if kind in PLAIN else say("{kind} ", kind=kind), old, new))
        for kind, old, new in told
        if old != new
    ]
    yield from found
    if not found and set(before.steps) != set(after.steps):
        yield Shift("steps", "", "", say("other hours or pots for its steps in between"))
    yield from _likely(before, after)
    yield from _chances(before, after)


def _said(kind: str, old: str, new: str) -> str:
    """`dry Sat 28 Nov 10:00 becomes Sun 29 Nov 10:00`, and what is gained or lost whole."""
    if not old:
        return say("now {kind}{new}", kind=kind, new=new)
    if not new:
        return say("no more {kind}{old}", kind=kind, old=old)
    return say("{kind}{old} becomes {new}", kind=kind, old=old, new=new)


def _late(answer: Answer) -> str:
    if answer.first_step_at is None:
        return ""
    return say("after its due day") if answer.late else "in time"


def _shorts(answer: Answer, other: Answer) -> str:
    """What one answer is short of and the other is not, or by another amount."""
    return listed(_short_said(row) for row in answer.short if row not in other.short)


def _short_said(row: Shortage, *, stays: bool = False) -> str:
    """`avocado stones short by 2,034 g = 49 stones`, without what stands behind its colon."""
    what, short, _ = row.text.partition(" short by ")
    if not short:  # none at all may be used
        return row.text.before(":") if isinstance(row.text, Said) else row.text.partition(":")[0]
    by = amount(row.amount, row.unit)
    if row.pieces is not None:
        by = say("{short} = {pieces}", short=by, pieces=pieces_in_words(row.pieces, what))
    if stays:
        return say("{what}: short stays {short}", what=what, short=by)
    return say("{what} short by {short}", what=what, short=by)


def _takes(takes: tuple[Take, ...]) -> str:
    return listed(
        say("{source} {amount}", source=take.source, amount=amount(take.amount, take.unit))
        for take in takes
    )


def _likely(before: Answer, after: Answer) -> Iterator[Shift]:
    """The day on which what is short would likely have come."""
    old, new = (
        {row.what: day_in_words(row.until.date()) for row in answer.waits_for
         if row.kind == "pick-up" and row.until is not None}
        for answer in (before, after)
    )  # fmt: skip
    for what in sorted(old.keys() | new.keys()):
        was, now = old.get(what, ""), new.get(what, "")
        if was != now:
            yield Shift(
                "likely", was, now, _said(say("{what} likely enough from ", what=what), was, now)
            )


def _chances(before: Answer, after: Answer) -> Iterator[Shift]:
    old = {row.what: row for row in before.enough}
    for row in after.enough:
        was = old.get(row.what)
        if was is None or (was.chance, was.days) == (row.chance, row.days):
            continue
        yield Shift("chance", _chance_said(was), _chance_said(row), _chance_text(was, row))


def _chance_said(row: Enough) -> str:
    return say("{percent} by {by}", percent=percent(row.chance), by=day_in_words(row.by))


def _chance_text(was: Enough, now: Enough) -> str:
    """The chance in the period, then the days of those that are surer; only what moves."""
    said = _chance_said(was), _chance_said(now)
    parts = (
        [] if said[0] == said[1] else [say("{said} becomes {said_2}", said=said[0], said_2=said[1])]
    )
    for (surely, old), (_, new) in zip(was.days, now.days, strict=True):
        if old != new:
            before, after = ("not in sight" if day is None else day_in_words(day)
                             for day in (old, new))  # fmt: skip
            parts.append(
                say(
                    "{percent} by {before} becomes by {after}",
                    percent=percent(surely),
                    before=before,
                    after=after,
                )
            )
    return say(
        "chance that enough {what} come: {parts}",
        what=now.what,
        parts=joined("; ", parts or ["a little less"]),
    )


def _chance(rows: tuple[Enough, ...]) -> float:
    return min((row.chance for row in rows), default=0.0)


def _later(row: Moved) -> bool:
    """Whether a run that keeps its answer is dry later, or late where it was not."""
    old, new = row.before.dry_at, row.after.dry_at
    return (row.after.late and not row.before.late) or bool(old and new and new > old)


# -- how far it goes -------------------------------------------------------------------------


def _sums(before: Week, after: Week, missed: set[str]) -> Iterator[SumMoved]:
    """The dated sums of what is struck, where they move."""
    old = {row["what"]: row["ahead"] for row in _rows(before)}
    for row in _rows(after):
        ahead, was = row["ahead"], old.get(row["what"])
        if row["what"] not in missed or ahead is None:
            continue
        then = None if was is None or was["by"] != ahead["by"] else _balance(was["likely"])
        now = _balance(ahead["likely"])
        if then == now:
            continue
        runs = tuple(need["run"] for need in ahead["needs"])
        by, need = date.fromisoformat(ahead["by"]), _mg(ahead["need_g"])
        text = say(
            "{row}: {want} {need} by {by}: ",
            row=row["what"],
            want=_want(runs),
            need=grams(need),
            by=day_in_words(by),
        )
        text += _balance_text(row["what"], then, now)
        yield SumMoved(row["what"], by, runs, need, then, now, text)


def _rows(week: Week, name: str = "dyestuffs") -> list[dict[str, Any]]:
    rows = week.sums[name]
    assert isinstance(rows, list)
    return rows


def _rooms(before: Week, after: Week) -> Iterator[RoomMoved]:
    """Each room on its first evening that is over by another amount."""
    for old, new in zip(_rows(before, "rooms"), _rows(after, "rooms"), strict=True):
        for was, now in zip(old["evenings"], new["evenings"], strict=True):
            if any(was[name] != now[name] for name in ("over_g", "over_if_likely_g")):
                at = say(" at {old}", old=old["site"]) if old["site"] else ""
                name, day = f"{NAMES[old['kind']]}{at}", date.fromisoformat(was["date"])
                yield RoomMoved(name, day, _fullness(was), _fullness(now))
                break


def _fullness(evening: dict[str, Any]) -> str:
    """How full a room is with what is likely, in words."""
    if evening["over_g"] != "0":
        return say("over by {mg}", mg=grams(_mg(evening["over_g"])))
    if evening["over_if_likely_g"] != "0":
        return say("likely over by {mg}", mg=grams(_mg(evening["over_if_likely_g"])))
    return say("{mg} free", mg=grams(_mg(evening["free_g"]) - _mg(evening["likely_g"])))


def _balance(row: dict[str, Any]) -> Balance:
    short = _mg(row["short_g"])
    count = row["short_pieces"] if short else row["spare_pieces"]
    return Balance(_mg(row["there_g"]), _mg(row["spare_g"]), short, count)


def _mg(in_grams: str) -> int:
    return int(Decimal(in_grams) * 1000)


def _want(runs: tuple[str, ...]) -> str:
    said = listed(runs)
    return say("{runs} wants", runs=said) if len(runs) == 1 else say("{runs} want", runs=said)


def _balance_text(what: str, then: Balance | None, now: Balance) -> str:
    said = balance_in_words(what, now)
    return (
        said
        if then is None
        else say(
            "{balance_in_words} becomes {said}",
            balance_in_words=balance_in_words(what, then),
            said=said,
        )
    )


def balance_in_words(what: str, row: Balance) -> str:
    """`366 g spare (8 stones)` or `short by 1,734 g (42 stones)`."""
    counted = (
        ""
        if row.pieces is None
        else say(" ({pieces:,} {split})", pieces=row.pieces, split=what.split()[-1])
    )
    if row.short_mg:
        return say("short by {short_mg}{counted}", short_mg=grams(row.short_mg), counted=counted)
    return say("{spare_mg} spare{counted}", spare_mg=grams(row.spare_mg), counted=counted)
