"""Visits missed or unsaid: flags only where a run lacks what one of them would have brought."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, timedelta

import pytest

from sourcing.forecast.facts import Stream, Visit
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.flags import flags_of
from sourcing.week.plan import Answer, Shortage
from tests.sourcing.week.pellitory import FACTS, nov

CAFE, STONES = "Lantern Steps café", "avocado stones"
MONDAY = date(2026, 11, 23)
UNTIL = nov(30)


def visit(day: int, how: str = "made") -> Visit:
    made = how == "made"
    return Visit(date(2026, 11, day), how, 50 if made else None)  # type: ignore[arg-type]


DONE = tuple(visit(day) for day in (9, 12, 16, 19))


def rose(short_g: int = 2034, answer: str = "no") -> Answer:
    short = Shortage("dyestuff", STONES, short_g * 1000, "mg", None, "")
    return Answer("B", "Old Rose", answer, None, None, short=(short,))


def yard(
    *visits: Visit,
    rows: tuple[PickUpExpected, ...] = FACTS.pick_ups[1:],
    at_hour: int = 7,
    **stream: object,
) -> WeekFacts:
    """The worked Monday with one stream; its pick-ups from Thursday on, 2,100 g likely each."""
    café = Stream(CAFE, STONES, (0, 3), visits=visits, **stream)  # type: ignore[arg-type]
    return replace(FACTS, at=nov(23, at_hour), streams=(café,), pick_ups=rows)


def flags(facts: WeekFacts, *answers: Answer) -> list[tuple[date | None, str]]:
    found = flags_of(facts, answers or (rose(),), until=UNTIL)
    return [(row.by, row.text) for row in found if row.kind == "pick-up"]


# Today's is on record, so that only what is told here is lacking.
TODAY = Visit(MONDAY, "reported", 58)


def test_a_source_that_has_come_is_no_flag() -> None:
    assert flags(yard(*DONE, TODAY)) == []


def test_the_last_visit_missed_is_told_with_whom_to_ask_next() -> None:
    facts = yard(visit(12), visit(16), visit(19, "missed"), rows=FACTS.pick_ups)

    assert flags(facts) == [(
        MONDAY,
        "Lantern Steps café brought no avocado stones on Thu 19 Nov: "
        "Old Rose (B) is short by 2,034 g; ask Lantern Steps café to save it for Thu 26 Nov",
    )]  # fmt: skip


def test_a_miss_before_a_visit_that_was_made_is_none() -> None:
    assert flags(yard(visit(16, "missed"), visit(19), TODAY)) == []


@pytest.mark.parametrize(("day", "count"), [(16, 1), (15, 0)])
def test_a_miss_is_told_for_seven_days(day: int, count: int) -> None:
    # A source of single days, so that none is unsaid.
    facts = yard(visit(12), visit(day, "missed"), rows=FACTS.pick_ups)
    (café,) = facts.streams
    facts = replace(facts, streams=(replace(café, days=(date(2026, 11, day),)),))

    assert len(flags(facts)) == count


def test_a_visit_known_to_be_missed_ahead_is_told_with_its_day() -> None:
    thursday = replace(FACTS.pick_ups[1], missed=True)
    facts = yard(*DONE, TODAY, rows=(thursday, *FACTS.pick_ups[2:]))

    assert flags(facts) == [(
        MONDAY,
        "Lantern Steps café will bring no avocado stones on Thu 26 Nov: "
        "Old Rose (B) is short by 2,034 g; ask Lantern Steps café to save it for Mon 30 Nov",
    )]  # fmt: skip


def test_behind_the_period_it_is_no_flag_yet() -> None:
    later = replace(FACTS.pick_ups[2], missed=True)

    assert later.at >= UNTIL
    assert flags(yard(*DONE, TODAY, rows=(FACTS.pick_ups[1], later))) == []


def test_where_nobody_comes_any_more_another_source_is_wanted() -> None:
    thursday = replace(FACTS.pick_ups[1], missed=True)

    (flag,) = flags(yard(*DONE, TODAY, rows=(thursday,)))

    assert flag[1].endswith("short by 2,034 g; find another source")


def test_a_visit_gone_by_unsaid_asks_for_a_word() -> None:
    facts = yard(visit(12), visit(16), TODAY)

    # A later day is on record, so Thursday's was let go by.
    assert flags(facts) == []
    assert flags(yard(visit(12), visit(16), rows=FACTS.pick_ups)) == [(
        MONDAY,
        "write down what Lantern Steps café brought on Thu 19 Nov (avocado stones), "
        "or that it was missed: Old Rose (B) is short by 2,034 g",
    )]  # fmt: skip


def test_todays_hour_gone_by_unsaid_is_told_too() -> None:
    # At 18:00 today's pick-up of 17:00 is not expected any more, and nothing is on record.
    (flag,) = flags(yard(*DONE, at_hour=18))

    assert flag[1].startswith("write down what Lantern Steps café brought today (avocado stones)")


@pytest.mark.parametrize(
    "stream",
    [{"since": date(2026, 11, 21)}, {"last_on": date(2026, 11, 18)},
     {"closed": ((date(2026, 11, 17), date(2026, 11, 20)),)}],
    ids=["not begun", "ended", "closed"],
)  # fmt: skip
def test_a_day_that_was_not_open_is_not_unsaid(stream: dict[str, object]) -> None:
    assert flags(yard(visit(12), visit(16), TODAY, **stream)) == []


def test_a_source_of_which_nothing_was_ever_written_down_is_not_asked_after() -> None:
    assert flags(yard()) == []


def test_todays_visit_that_nobody_has_told_of_is_asked_after() -> None:
    today = replace(FACTS.pick_ups[0], confirmed_mg=None)
    facts = yard(*DONE, rows=(today, *FACTS.pick_ups[1:]))

    assert flags(facts) == [(
        MONDAY,
        "ask Lantern Steps café what it has today (avocado stones, 2,100 g likely, a guess): "
        "Old Rose (B) is short by 2,034 g",
    )]  # fmt: skip
    assert flags(yard(*DONE, TODAY, rows=FACTS.pick_ups)) == []


@pytest.mark.parametrize(("short_g", "count"), [(2100, 1), (2101, 0)])
def test_only_what_one_visit_would_have_brought_is_told(short_g: int, count: int) -> None:
    facts = yard(visit(16), visit(19, "missed"), rows=FACTS.pick_ups)

    assert len(flags(facts, rose(short_g))) == count


def test_a_yes_and_a_run_short_of_something_else_are_no_reason() -> None:
    facts = yard(visit(16), visit(19, "missed"), rows=FACTS.pick_ups)
    skins = Shortage("dyestuff", "onion skins", 1_000, "mg", None, "")

    assert flags(facts, rose(answer="yes")) == []
    assert flags(facts, replace(rose(), short=(skins,))) == []


def test_the_flag_stands_between_room_and_pot() -> None:
    facts = yard(visit(16), visit(19, "missed"), rows=FACTS.pick_ups)
    kinds = [row.kind for row in flags_of(facts, (rose(),), until=UNTIL)]

    assert kinds.index("pick-up") == kinds.index("pot") - 1
    assert kinds.index("room") < kinds.index("pick-up") if "room" in kinds else True


def test_runs_are_told_together() -> None:
    facts = yard(visit(16), visit(19, "missed"), rows=FACTS.pick_ups)
    blush = replace(rose(500), run="G", shade="Blush")

    ((_, text),) = flags(facts, blush, rose())

    assert "Blush (G) is short by 500 g and Old Rose (B) is short by 2,034 g;" in text


def test_a_week_later_the_same_is_told_of_later_days() -> None:
    """Nothing hangs on the date itself."""
    facts = yard(visit(16), visit(19, "missed"), rows=FACTS.pick_ups)
    later = timedelta(7)
    (café,) = facts.streams
    moved = replace(
        facts,
        at=facts.at + later,
        streams=(replace(café, visits=tuple(
            replace(row, on=row.on + later) for row in café.visits)),),
        pick_ups=tuple(replace(row, at=row.at + later) for row in facts.pick_ups),
    )  # fmt: skip

    found = flags_of(moved, (rose(),), until=UNTIL + later)

    assert [row.text for row in found if row.kind == "pick-up"] == [
        "Lantern Steps café brought no avocado stones on Thu 26 Nov: Old Rose (B) is short by "
        "2,034 g; ask Lantern Steps café to save it for Thu 3 Dec"
    ]
