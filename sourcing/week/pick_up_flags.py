"""A visit that was missed, or of which nobody has told, where it keeps a run from being dyed.

Only what would have been enough for a run is told of: a run short of more waits for others too.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, datetime, timedelta

from inventory.science.days import local_day
from inventory.science.saying import say
from sourcing.forecast.facts import Stream, Visit
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.plan import Answer, Flag, Shortage
from sourcing.week.words import day_in_words, grams, listed

LOOKED_BACK_DAYS = 7  # what is older has been seen on other mornings


def pick_up_flags(
    facts: WeekFacts, answers: tuple[Answer, ...], *, until: datetime
) -> Iterator[Flag]:
    """One flag for each thing that a source gives, the sources by name.

    What is written down as missed, behind or ahead; a visit that has gone by unsaid; one of today
    that nobody has told of.

    Parameters
    ----------
    until : end of the period; what is known to be missed later is no flag yet
    """
    morning = _Visits(facts, answers, local_day(facts.at, zone=facts.zone), until)
    for stream in facts.streams:
        flag = morning.of(stream)
        if flag is not None:
            yield flag


@dataclass(frozen=True)
class _Visits:
    facts: WeekFacts
    answers: tuple[Answer, ...]
    today: date
    until: datetime

    def of(self, stream: Stream) -> Flag | None:
        """The flag of one stream, what has gone by in front."""
        coming = [row for row in self.facts.pick_ups if _is_of(row, stream)]
        likely = max((row.likely_mg for row in coming), default=0)
        short = [
            (say("{shade} ({run})", shade=answer.shade, run=answer.run), row)
            for answer in self.answers
            for row in (answer.short if answer.answer != "yes" else ())
            if row.kind == "dyestuff" and row.what == stream.gives and row.amount <= likely
        ]
        if not short:
            return None
        late = _late_words(short)
        return (
            self._unsaid(stream, coming, late)
            or self._missed(stream, late)
            or self._missed_ahead(stream, coming, late)
            or self._untold(stream, coming, late)
        )

    def _unsaid(self, stream: Stream, coming: list[PickUpExpected], late: str) -> Flag | None:
        """The last agreed day that has gone by with nothing written down, where others were."""
        written = {visit.on for visit in stream.visits if visit.on <= self.today}
        ahead = {local_day(row.at, zone=self.facts.zone) for row in coming}
        since = self.today - timedelta(LOOKED_BACK_DAYS)
        days = [
            day
            for day in stream.agreed(since, self.today + timedelta(1))
            if stream.is_open(day) and day not in written and day not in ahead
        ]
        if not written or not days or days[-1] < max(written):
            return None
        text = say(
            "write down what {source} brought {days} ({gives}), or that it was missed: {late}",
            source=stream.source,
            days=self._on(days[-1]),
            gives=stream.gives,
            late=late,
        )
        return Flag("pick-up", stream.source, self.today, text)

    def _missed(self, stream: Stream, late: str) -> Flag | None:
        """The last visit, where it was missed in the last days."""
        behind = [visit for visit in stream.visits if visit.on <= self.today]
        last: Visit | None = max(behind, key=lambda visit: visit.on, default=None)
        if last is None or last.brought or last.on < self.today - timedelta(LOOKED_BACK_DAYS):
            return None
        text = say(
            "{source} brought no {gives} {on}: {late}",
            source=stream.source,
            gives=stream.gives,
            on=self._on(last.on),
            late=late,
        )
        return self._asking(stream, text, last.on)

    def _missed_ahead(self, stream: Stream, coming: list[PickUpExpected], late: str) -> Flag | None:
        rows = [row for row in coming if row.missed and self.facts.at <= row.at < self.until]
        if not rows:
            return None
        day = local_day(min(row.at for row in rows), zone=self.facts.zone)
        text = say(
            "{source} will bring no {gives} {day}: {late}",
            source=stream.source,
            gives=stream.gives,
            day=self._on(day),
            late=late,
        )
        return self._asking(stream, text, day)

    def _untold(self, stream: Stream, coming: list[PickUpExpected], late: str) -> Flag | None:
        """A visit of today that nobody has told of."""
        for row in coming:
            today = local_day(row.at, zone=self.facts.zone) == self.today
            if today and _may_come(row, self.facts):
                text = say(
                    "ask {source} what it has today ({dyestuff}, {likely_mg} likely, a guess): "
                    "{late}",
                    source=row.source,
                    dyestuff=row.dyestuff,
                    likely_mg=grams(row.likely_mg),
                    late=late,
                )
                return Flag("pick-up", stream.source, self.today, text)
        return None

    def _asking(self, stream: Stream, text: str, missed: date) -> Flag:
        """With whom to ask next, and when."""
        rows = [
            row
            for row in sorted(self.facts.pick_ups, key=lambda row: (row.at, row.source))
            if row.dyestuff == stream.gives
            and _may_come(row, self.facts)
            and local_day(row.at, zone=self.facts.zone) > missed
        ]
        if not rows:
            return Flag(
                "pick-up", stream.source, self.today, say("{text}; find another source", text=text)
            )
        day = local_day(rows[0].at, zone=self.facts.zone)
        asked = say(
            "ask {source} to save it for {day}", source=rows[0].source, day=day_in_words(day)
        )
        return Flag(
            "pick-up", stream.source, self.today, say("{text}; {asked}", text=text, asked=asked)
        )

    def _on(self, day: date) -> str:
        return "today" if day == self.today else say("on {day}", day=day_in_words(day))


def _is_of(row: PickUpExpected, stream: Stream) -> bool:
    return (row.source, row.dyestuff) == (stream.source, stream.gives)


def _may_come(row: PickUpExpected, facts: WeekFacts) -> bool:
    told = row.confirmed_mg is not None
    return row.at > facts.at and row.in_window and not row.missed and not told


def _late_words(short: Sequence[tuple[str, Shortage]]) -> str:
    """`Old Rose (B) is short by 2,034 g`, each run by its own."""
    return listed(
        say("{run} is short by {amount}", run=run, amount=grams(row.amount)) for run, row in short
    )
