"""Which fibre has to be ordered by when: what runs lack, flags, both sides of each border."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from fractions import Fraction

import pytest

from sourcing.ordering.facts import Coming, Offer, Stuff, Supplier, Tier
from sourcing.week.facts import WeekFacts
from sourcing.week.fibre_to_buy import FibreWanted, fibre_needs, fibre_wanted
from sourcing.week.plan import Flag
from sourcing.week.to_order import order_flags, to_order, with_suppliers
from tests.sourcing.week.pellitory import FACTS, MONDAY, OFFERS, SUPPLIERS, WOOL_YARN, nov
from tests.sourcing.week.pellitory_answers import ANSWERS

KG = 1_000_000
NEAR_ONLY = replace(FACTS, suppliers=SUPPLIERS[1:], offers=OFFERS[1:])
ORDER = Coming(
    "order 2026-001", "2026-001", "near shop", "sent", WOOL_YARN, 4 * KG, False, Fraction(5, 100),
    date(2026, 11, 30), False,
)  # fmt: skip


def flags(facts: WeekFacts, *, last: date) -> list[Flag]:
    return list(order_flags(facts, to_order(facts), last=last))


def at(moment: datetime, facts: WeekFacts = FACTS) -> list[Flag]:
    """The order flags of a week from a moment on; what time has done to the shelf is left out."""
    return flags(replace(facts, at=moment), last=moment.date() + timedelta(days=6))


def wanted(facts: WeekFacts) -> dict[str, FibreWanted]:
    return {row.run: row for row in fibre_wanted(facts)}


# -- what is lacking, by when ----------------------------------------------------------------


def test_the_day_is_the_runs_own_or_counted_back_by_its_steps() -> None:
    days = {run: (row.by, row.by_said) for run, row in wanted(FACTS).items()}

    assert days["G"] == (date(2026, 12, 7), "as the run says")
    # A: dry by Mon 30 09:00 after 48 h; hung Fri, dyed Thu (nobody in on Wed), mordanted Tue.
    assert days["A"] == (MONDAY, "counted back from its due day by its steps")
    # E: dry by Fri 4 Dec 18:00; hung Tue 1 Dec, as Wed nobody is in; one night in tannin.
    assert days["E"] == (date(2026, 11, 29), "counted back from its due day by its steps")
    assert days["F"][0] == date(2026, 11, 27)
    assert days["B"] == (None, "the run has no date")


def test_only_run_g_lacks_fibre_and_takes_what_run_a_leaves() -> None:
    rows = wanted(FACTS)

    assert [run for run, row in rows.items() if row.short_mg] == ["G"]
    assert rows["G"].takes == (("W-88", Fraction(280_000)),)
    (need,) = fibre_needs(fibre_wanted(FACTS))
    assert round(need.bought_mg(Fraction(5, 100)) / 1000) == 3_916


def test_with_the_group_dyed_from_w_88_it_is_five_kilos_for_140_pounds() -> None:
    # 13.6 of the project's design papers: "if F uses W-88, need 4,168".
    runs = tuple(replace(run, fibre_lot="W-88") if run.code == "F" else run for run in FACTS.runs)
    facts = replace(FACTS, runs=runs)

    (need,) = fibre_needs(fibre_wanted(facts))
    assert round(need.bought_mg(Fraction(5, 100)) / 1000) == 4_168
    (flag,) = at(FACTS.at, facts)
    assert "near shop brings 5 kg Mon 30 Nov for £140" in flag.text


def test_a_run_for_whose_day_it_is_too_late_counts_for_today() -> None:
    late = [
        replace(run, fibre_needed_by=date(2026, 11, 2)) for run in FACTS.runs if run.code == "G"
    ]

    assert wanted(replace(FACTS, runs=tuple(late)))["G"].by == MONDAY


@pytest.mark.parametrize(("ahead", "dated"), [(400, True), (401, False)])
def test_fibre_is_looked_for_400_days_ahead(ahead: int, dated: bool) -> None:
    day = MONDAY + timedelta(days=ahead)
    runs = [replace(run, fibre_needed_by=day) for run in FACTS.runs if run.code == "G"]

    row = wanted(replace(FACTS, runs=tuple(runs)))["G"]

    assert row.by == (day if dated else None)
    assert row.short_mg > 0


def test_mordanted_fibre_serves_only_the_run_that_names_it() -> None:
    assert [lot for lot, _ in wanted(FACTS)["C"].takes] == ["W-90"]
    runs = tuple(replace(run, fibre_lot="") if run.code == "C" else run for run in FACTS.runs)

    assert "W-90" not in [
        lot for row in fibre_wanted(replace(FACTS, runs=runs)) for lot, _ in row.takes
    ]


# -- flags -----------------------------------------------------------------------------------


def test_wool_is_to_be_ordered_today_as_in_the_worked_week() -> None:
    (flag,) = at(FACTS.at)

    assert (flag.kind, flag.what, flag.by) == ("order", "wool", MONDAY)
    assert flag.text == (
        "order wool today: near shop brings 4 kg Mon 30 Nov for £112, needed by Mon 7 Dec (G); "
        "the order-by day of far mill was Thu 19 Nov"
    )


def test_an_order_by_day_is_told_once_it_falls_in_the_period() -> None:
    # The near shop's five working days before Mon 7 Dec begin on Mon 30 Nov.
    assert flags(NEAR_ONLY, last=date(2026, 11, 29)) == []

    (flag,) = flags(NEAR_ONLY, last=date(2026, 11, 30))
    assert flag.by == date(2026, 11, 30)
    assert flag.text.startswith("order wool by Mon 30 Nov: near shop brings 4 kg Mon 30 Nov")


def test_an_order_by_day_that_went_by_is_told_for_a_week() -> None:
    # Thu 19 Nov was the far mill's: on Thu 26 seven days ago, on Fri 27 eight.
    assert [flag.by for flag in at(nov(26, 8))] == [date(2026, 11, 26)]
    assert [flag.by for flag in at(nov(27, 8))] == [date(2026, 11, 30)]


def test_on_the_order_by_day_itself_it_is_today() -> None:
    (flag,) = at(nov(19, 8), replace(FACTS, runs=FACTS.runs))

    assert flag.text.startswith("order wool today: far mill brings 5 kg Mon 7 Dec for £110")


def test_when_nobody_brings_it_in_time_the_soonest_is_named() -> None:
    (flag,) = at(nov(30, 8) + timedelta(days=1))

    assert flag.text == (
        "order wool today: near shop brings 4 kg Tue 8 Dec for £112, needed by Mon 7 Dec (G)"
    )


def test_nobody_who_sells_it_is_no_flag() -> None:
    silk = Offer("far mill", Stuff("silk", "yarn"), KG, (Tier(0, 1),))

    assert at(FACTS.at, replace(FACTS, offers=(silk,))) == []
    assert to_order(replace(FACTS, offers=())) == ()


def test_a_supplier_who_is_closed_for_years_is_left_out() -> None:
    closed = Supplier("near shop", 5, shutdowns=((date(2026, 1, 1), date(2031, 1, 1)),))
    facts = replace(FACTS, suppliers=(SUPPLIERS[0], closed))

    assert [quote.supplier for row in to_order(facts) for quote in row.quotes] == ["far mill"]


def test_what_is_ordered_in_time_needs_no_flag() -> None:
    assert at(FACTS.at, replace(FACTS, coming=(ORDER,))) == []


def test_what_is_ordered_and_comes_too_late_is_no_help() -> None:
    late = replace(ORDER, arrives_on=date(2026, 12, 8))

    assert [flag.what for flag in at(FACTS.at, replace(FACTS, coming=(late,)))] == ["wool"]


def test_an_order_that_was_not_sent_is_to_be_sent() -> None:
    written = replace(ORDER, state="written")

    (flag,) = at(FACTS.at, replace(FACTS, coming=(written,)))

    assert flag.text == "send order 2026-001 to near shop: wool comes only then"


def test_an_order_that_has_not_come_is_asked_about_once() -> None:
    overdue = replace(ORDER, arrives_on=MONDAY, overdue_since=date(2026, 11, 20))
    two = (overdue, replace(overdue, code="order 2026-001, line 2"))

    (flag,) = at(FACTS.at, replace(FACTS, coming=two))

    assert flag.text == (
        "ask near shop about order 2026-001: wool was to come Fri 20 Nov, 3 days ago"
    )


# -- answers ---------------------------------------------------------------------------------


def test_the_reorder_says_both_suppliers_and_no_other_answer_changes() -> None:
    answers = with_suppliers(FACTS, ANSWERS, to_order(FACTS))

    changed = [new for old, new in zip(ANSWERS, answers, strict=True) if old != new]
    assert [answer.run for answer in changed] == ["G"]
    assert changed[0].notes[-2:] == (
        "ordered today near shop brings 4 kg Mon 30 Nov for £112: in time for Mon 7 Dec, order by "
        "Mon 30 Nov",
        "ordered today far mill brings 5 kg Wed 9 Dec for £110: too late for Mon 7 Dec, its "
        "order-by day was Thu 19 Nov, 2 working days ago",
    )


def test_a_no_says_what_is_ordered_and_not_confirmed() -> None:
    facts = replace(FACTS, coming=(ORDER,))
    (answer,) = [row for row in with_suppliers(facts, ANSWERS, to_order(facts)) if row.run == "G"]

    assert answer.notes[-1] == (
        "order 2026-001 to near shop is sent: its wool counts once a day is confirmed"
    )
