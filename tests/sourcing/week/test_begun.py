"""Runs under way in the worked week: day by day, late, otherwise than planned."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from functools import cache

from inventory.science.facts import Stay
from sourcing.week.facts import WeekFacts
from sourcing.week.plan import Answer, Week
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, nov
from tests.sourcing.week.under_way import begun, done, done_by, kept_of, later, run_of, said
from tests.sourcing.week.worked import (
    answer_for,
    brief,
    held,
    run_changed,
    starts,
    take_rows,
    told,
    week_of,
)
from tests.sourcing.week.worked import said as told_at

NINE = nov(23, 9)
# The worked week from its Tuesday on, the answers as its table has them (13.6).
FROM_TUESDAY = {
    "A": "yes, Mon 23 09:00, Sat 28 10:00",
    "C": "yes, Tue 24 14:00, Sun 29 11:00",
    "D": "yes, Mon 23 09:00, Thu 26 16:00",
    "E": "not yet, Mon 30 13:00, Thu 03 15:00",
    "G": "no",
    "B": "no",
}


@cache
def monday_nine() -> WeekFacts:
    """Blush and Slate begun at nine."""
    return begun(FACTS, "A", "D", at=NINE)


def rest_of(facts: WeekFacts) -> Week:
    """The rest of the week, up to the same Sunday night."""
    return week_of(facts, days=30 - facts.at.day)


def with_freezing_done(facts: WeekFacts) -> WeekFacts:
    """AV-1116 put into the freezer on Monday evening, as Blush asks for."""
    lots = tuple(
        replace(lot, stays=(*lot.stays, Stay(nov(23, 16), "frozen", "freezer", "freezer")))
        if lot.code == "AV-1116" else lot for lot in facts.shelf.lots)  # fmt: skip
    return replace(facts, shelf=replace(facts.shelf, lots=lots))


def at_their_hours(at: datetime) -> WeekFacts:
    """The worked week as far as a moment, every step done as planned and Olive begun in time."""
    facts = done_by(monday_nine(), min(at, nov(24, 14)))
    facts = with_freezing_done(facts) if at > nov(23, 16) else facts
    if at >= nov(24, 14):
        facts = begun(facts, "C")
    return done_by(facts, at)


def test_beginning_two_runs_changes_nothing_of_the_week() -> None:
    facts = monday_nine()

    week = week_of(facts)

    before = week_of(later(FACTS, NINE))
    assert brief(week) == brief(before)
    assert week.days == before.days
    for run in ("A", "D"):
        answer = answer_for(week, run)
        assert answer.begun_at == NINE
        assert answer.steps == answer_for(before, run).steps
        assert take_rows(answer) == take_rows(answer_for(before, run))
        assert answer.jobs == answer_for(before, run).jobs


def test_the_rest_of_the_week_is_the_table_s_day_by_day() -> None:
    moments = [nov(23, 10, 48), nov(23, 13, 36), nov(23, 18), nov(24, 7, 30), nov(24, 9),
               nov(24, 12), nov(24, 14), nov(24, 18), nov(25, 12), nov(26, 9), nov(26, 10),
               nov(26, 12), nov(26, 18), nov(27, 9), nov(27, 11)]  # fmt: skip

    for at in moments:
        week = rest_of(at_their_hours(at))
        assert brief(week, *FROM_TUESDAY) == FROM_TUESDAY, at
        assert told_at(answer_for(week, "A").hung_at) == "Thu 26 10:00"
        assert held(week, "C", "dye") == ["P2 Fri 27 09:00"]
        assert not any(row.kind == "late" for a in week.answers for row in a.reasons), at


def test_what_is_done_keeps_its_hour_and_says_so() -> None:
    blush = answer_for(rest_of(at_their_hours(nov(24, 18))), "A")

    assert [(row.step, row.load, told_at(row.done_at)) for row in blush.steps] == [
        ("scour", 1, "Mon 23 10:48"), ("scour", 2, "Mon 23 10:37"),
        ("hot alum", 1, "Mon 23 13:36"), ("hot alum", 2, "Mon 23 13:19"),
        ("extract", 1, "Tue 24 11:22"), ("dye", 1, "Tue 24 13:47"), ("dye", 2, "Tue 24 13:40"),
        ("rinse", 1, ""),
    ]  # fmt: skip


def test_a_begun_run_s_pots_are_nobody_else_s() -> None:
    """Hedge Olive would take P2 on Tuesday if it did not know that Blush stands in it."""
    facts = done_by(monday_nine(), nov(24, 8))
    undated = replace(facts, runs=tuple(
        replace(run, due=nov(30, 18)) if run.code == "A" else replace(run, due=nov(25, 18))
        for run in facts.runs))  # fmt: skip

    week = project(undated, days=6)

    assert starts(week, "A")["dye"] == "Tue 24 12:15"
    assert starts(week, "C")["extract"] == "Thu 26 10:00"


def test_what_a_begun_run_takes_stays_claimed_until_it_is_posted() -> None:
    facts = at_their_hours(nov(25, 12))

    rows = take_rows(answer_for(rest_of(facts), "A"))

    assert rows == ["W-88 2105.263 g, 294.737 left", "alum 240 g, 660 left",
                    "AV-1116 1180 g, 0 left",
                    "AV-0911 1820 g, 80 left"]  # fmt: skip
    drawn = replace(facts, promised=tuple(row for row in facts.promised if row.code != "AV-0911"))
    assert take_rows(answer_for(rest_of(drawn), "A"))[-1] == "AV-1116 1180 g, 0 left"


def moved(at: datetime, *, but: str) -> Answer:
    """Blush at a moment, one of its steps not done by then."""
    facts = done_by(monday_nine(), at, but=(but,))
    return answer_for(rest_of(with_freezing_done(facts)), "A")


def test_a_step_is_late_once_its_time_has_passed_and_not_before() -> None:
    # Scouring in P1 should be over at 10:48.
    at_it, late = moved(nov(23, 10, 48), but="scour"), moved(nov(23, 10, 49), but="scour")

    assert [row.late_since for row in at_it.steps if row.step == "scour"] == [None, None]
    assert at_it.steps == kept_of(monday_nine(), "A").steps
    assert {told_at(row.late_since) for row in late.steps if row.step == "scour"} == {
        "Mon 23 10:48"
    }


def test_a_late_step_moves_to_the_first_moment_that_fits_with_what_follows_it() -> None:
    # At 14:00 the wool is still not mordanted: 14:00 to 16:16 in P1 fits, then the night as ever.
    blush = moved(nov(23, 14), but="hot alum")

    rows = {(row.step, row.load): row for row in blush.steps}
    assert told_at(rows["hot alum", 1].start) == "Mon 23 14:00"
    assert told_at(rows["hot alum", 1].end) == "Mon 23 16:16"
    assert told_at(rows["scour", 1].done_at) == "Mon 23 10:48"
    assert told_at(rows["extract", 1].start) == "Tue 24 09:00"
    assert (blush.answer, told_at(blush.dry_at)) == ("yes", "Sat 28 10:00")
    assert [row.text for row in blush.reasons if row.kind == "late"] == [
        "hot alum is late: not done by Mon 23 Nov 13:36; now Mon 23 Nov 14:00"
    ]


def test_a_step_too_late_for_its_day_takes_the_run_along_and_says_what_waits() -> None:
    # Tuesday's extract was forgotten; on Thursday at nine is the next day with hands.
    blush = moved(nov(24, 17), but="extract")
    facts = done_by(monday_nine(), nov(24, 17), but=("extract", "dye"))
    blush = answer_for(rest_of(with_freezing_done(facts)), "A")

    at = {row.step: told_at(row.start) for row in blush.steps}
    assert (at["extract"], at["dye"]) == ("Thu 26 09:00", "Thu 26 12:15")
    assert blush.answer == "yes"
    assert blush.dry_at is not None
    assert blush.dry_at > nov(28, 10)


def test_nobody_gets_a_pot_in_which_late_cloth_still_lies() -> None:
    # The mordanted wool lies in P1 and P2 until the extract, which went by on Tuesday.
    facts = with_freezing_done(done_by(monday_nine(), nov(24, 17), but=("extract", "dye")))

    week = rest_of(facts)

    lies = {row.vessel: row.held_until for row in answer_for(week, "A").steps
            if row.step == "dye"}  # fmt: skip
    for answer in week.answers:
        for row in answer.steps:
            if answer.run not in ("A",) and row.vessel in lies:
                assert row.start >= lies[row.vessel], (answer.run, row)


def test_a_step_done_later_than_planned_moves_what_cannot_begin_in_time() -> None:
    # Scoured at 11:10 instead of 10:48; thirty minutes between two steps in a pot: 11:40.
    facts = done(later(monday_nine(), nov(23, 11, 10)), "A", said("scour", nov(23, 11, 10)))

    blush = answer_for(rest_of(facts), "A")

    at = {row.step: told_at(row.start) for row in blush.steps}
    assert (at["hot alum"], at["extract"]) == ("Mon 23 11:40", "Tue 24 09:00")
    assert not [row for row in blush.reasons if row.kind == "late"]


def test_a_step_done_sooner_changes_nothing_that_is_still_to_come() -> None:
    facts = done(later(monday_nine(), nov(23, 10, 30)), "A", said("scour", nov(23, 10, 30)))

    assert answer_for(rest_of(facts), "A").steps[2:] == kept_of(facts, "A").steps[2:]


def test_cloth_hung_later_than_planned_dries_later() -> None:
    facts = at_their_hours(nov(26, 9))
    facts = done(later(facts, nov(26, 12)), "A", said("rinse", nov(26, 11, 50)))

    blush = answer_for(rest_of(facts), "A")

    assert (told_at(blush.hung_at), told_at(blush.dry_at)) == ("Thu 26 12:00", "Sat 28 12:00")


def test_another_pot_than_planned_is_the_one_that_is_taken() -> None:
    facts = done(later(monday_nine(), nov(23, 10)), "D",
                 replace(said("cold alum", nov(23, 9, 30)), vessel="B3"))  # fmt: skip

    slate = told(rest_of(facts), "D")

    assert slate.steps[0].startswith("cold alum 1 | B3 | Mon 23 09:00 to Tue 24 09:00")


def test_a_step_done_on_another_day_was_as_long_as_planned() -> None:
    # Tuesday's extract takes 142 min; said to be done on Thursday at noon, it began at 9:38.
    facts = done(later(monday_nine(), nov(26, 12)), "A", said("extract", nov(26, 12)))

    blush = answer_for(rest_of(with_freezing_done(facts)), "A")

    (extract,) = [row for row in blush.steps if row.step == "extract"]
    assert (told_at(extract.start), told_at(extract.end)) == ("Thu 26 09:38", "Thu 26 12:00")


def test_a_soak_is_done_once_it_is_put_in_and_goes_on_standing() -> None:
    facts = done(later(monday_nine(), nov(23, 12)), "D", said("cold alum", nov(23, 9, 25)))

    week = rest_of(facts)

    assert held(week, "D", "cold alum") == ["B2 Tue 24 09:00"]
    assert brief(week, "D") == {"D": "yes, Mon 23 09:00, Thu 26 16:00"}


def test_a_run_whose_recipe_is_gone_is_answered_as_before() -> None:
    facts = replace(FACTS, recipes=tuple(row for row in FACTS.recipes if row.code != "blush"))
    kept = run_of(monday_nine(), "A")
    facts = replace(facts, runs=tuple(kept if row.code == "A" else row for row in facts.runs))

    assert answer_for(week_of(facts), "A").answer == "no"


def test_a_begun_run_that_dries_after_its_day_is_still_a_yes_and_late() -> None:
    facts = run_changed("A", done_by(monday_nine(), nov(23, 12)), due=nov(28, 9))

    blush = answer_for(rest_of(facts), "A")

    assert (blush.answer, blush.late) == ("yes", True)
    assert blush.dry_at == nov(28, 9) + timedelta(hours=1)
