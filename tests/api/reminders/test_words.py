"""The words of letters: in the trade's own, guesses called so, a subject that is one line."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

import pytest

from api.reminders.words import words_of
from inventory.science.figures import Figures
from sourcing.reminder_facts import Given
from sourcing.reminding.due import Reminder, reminders_between
from sourcing.reminding.facts import ReminderFacts
from sourcing.week.facts import Meeting, WeekFacts
from tests.sourcing.reminding.yard import TOLD, buying, facts, wanting
from tests.sourcing.week.pellitory import FACTS, nov, own

# JOB.md section 8, as far as such letters could come near it.
OFFICE = ("notification", "alert", "user", "expire", "stock", "task", "ticket", "subscribe")


def first(known: ReminderFacts, since: datetime, about: str = "") -> Reminder:
    rows = reminders_between(known, since=since, until=since.replace(hour=23, minute=59))
    return next(row for row in rows if about in ("", row.what.about))


def text(known: ReminderFacts, since: datetime, about: str = "") -> str:
    return words_of(first(known, since, about), known)[1]


def test_a_young_jar_says_what_a_strip_would_do_and_when_the_clock_does() -> None:
    assert text(facts(wanting("dip")), nov(24)) == (
        "Dip a strip in Iron 7 (J1): it is time for it from Tue 24 Nov on. A strip of 3 or more "
        "makes it usable. By the clock alone it is usable on Tue 1 Dec.\n"
    )


def test_a_strip_that_is_too_old_is_said_with_its_age() -> None:
    # Dipped on 2 November, 90 days: on 1 February it is 91 days old.
    known = facts(wanting("dip"))
    row = first(known, datetime(2027, 2, 1, tzinfo=known.week.zone))

    assert words_of(row, known) == (
        "Dip Iron 6 (J2) again, from Mon 1 Feb",
        "Dip a strip in Iron 6 (J2) again: its last strip is 91 days old and counts no more. "
        "Until then no run counts on it.\n",
    )


def test_a_jar_of_no_rule_says_that_its_days_are_worked_out() -> None:
    rows = tuple(row for row in FACTS.figures.rows if row.item != "iron liquor")
    week = replace(FACTS, figures=Figures(rows))
    until = datetime(2027, 1, 31, tzinfo=FACTS.zone)
    found = reminders_between(facts(wanting("dip"), week=week), since=nov(1), until=until)
    said = [words_of(row, facts(week=week))[1] for row in found if row.what.about == "J1"]

    assert len(said) == 1
    assert "as worked out from its vinegar and the shed's warmth" in said[0]


@pytest.mark.parametrize(
    ("code", "since", "do"),
    [("AV-1116", nov(23), "Freeze or use AV-1116"), ("J6", nov(24), "Use J6 (nettle bath, 8 L)")],
)
def test_a_last_good_day_says_what_to_do_and_what_it_rests_on(
    code: str, since: datetime, do: str
) -> None:
    said = text(facts(wanting("last good day")), since, code)

    assert said.startswith(do)
    assert "Reckoned by the studio's own figure" in said


def test_a_day_that_rests_on_a_figure_from_elsewhere_says_so() -> None:
    rows = tuple(row for row in FACTS.figures.rows if row.item != "red cabbage")
    week: WeekFacts = replace(FACTS, figures=Figures(rows))
    known = facts(wanting("last good day"), week=week)
    row = next(
        row
        for row in reminders_between(known, since=nov(20), until=nov(30))
        if row.what.about == "CB-1121"
    )

    assert "Reckoned by a figure from elsewhere (" in words_of(row, known)[1]
    assert words_of(row, known)[1].endswith("): look at it.\n")


def test_an_order_says_from_whom_how_much_and_why_now() -> None:
    # The papers, 13.6, run G: raw 4,211 less 295 are 3,916 g, the far mill by Thu 19 Nov.
    known = facts(wanting("order-by day"), week=buying(at=nov(16)))

    assert words_of(first(known, nov(19)), known) == (
        "Order wool by Thu 19 Nov from far mill (run G)",
        "Order wool for run G from far mill by Thu 19 Nov: short by 3,916 g as it is sold, "
        "unscoured, needed by Mon 7 Dec. Ordered later it comes too late, by the working days that "
        "the supplier says it takes.\n",
    )


@pytest.mark.parametrize(
    ("given", "thanks"),
    [
        ((), "Thank you for saving them."),
        ((Given("avocado stones", 1, 0, 0),), "Thank you for saving them."),
        # The papers, 12.36: 612 stones at 42 g are 25.7 kg.
        (
            (Given("avocado stones", 12, 612, 0),),
            "Thank you: 612 avocado stones, about 25.7 kg, saved so far.",
        ),
        (
            (Given("onion skins", 5, 0, 820_000),),
            "Thank you: 820 g of onion skins saved so far.",
        ),
        (
            (Given("avocado stones", 2, 100, 800_000),),
            "Thank you: about 5 kg of avocado stones (100 counted, the rest weighed) saved so far.",
        ),
        (
            (Given("walnut husks", 1, 7, 0),),
            "Thank you: 7 walnut husks saved so far.",
        ),
        (
            (Given("avocado stones", 1, 10, 0), Given("onion skins", 1, 0, 590_000)),
            "Thank you: 10 avocado stones, about 420 g, and 590 g of onion skins saved so far.",
        ),
    ],
)
def test_a_source_is_thanked_for_what_was_counted_or_weighed(
    given: tuple[Given, ...], thanks: str
) -> None:
    known = facts(TOLD)
    said = words_of(first(known, nov(25)), known, given=given)[1]

    assert said == (
        f"Thu 26 Nov, 17:00: we come for the avocado stones and bring a clean tub. {thanks}\n"
    )
    assert said.count("\n") == 1


def test_two_things_are_fetched_in_one_line() -> None:
    meeting = Meeting(TOLD.source, nov(26, 17), ("avocado stones", "onion skins"))
    known = facts(TOLD, meetings=(meeting,))

    assert words_of(first(known, nov(25)), known)[0] == (
        "Thu 26 Nov, 17:00: avocado stones and onion skins for Pellitory Yard"
    )


def test_a_subject_stays_one_line_of_bounded_length() -> None:
    lots = tuple(
        replace(lot, dyestuff="red\ncabbage\u200b " + "x" * 300) if lot.code == "CB-1121" else lot
        for lot in FACTS.shelf.lots
    )
    # A dyestuff that nobody knows keeps by the studio's own figure for it.
    figure = own("red\ncabbage\u200b " + "x" * 300, "keeps_fresh_fridge_days", "5")
    week = replace(
        FACTS,
        shelf=replace(FACTS.shelf, lots=lots),
        figures=Figures((*FACTS.figures.rows, figure)),
    )
    subject = words_of(first(facts(wanting("last good day"), week=week), nov(26)), facts())[0]

    assert subject.isprintable()
    assert len(subject) == 150


def test_no_word_of_the_office_stands_in_a_letter() -> None:
    known = facts(at=nov(23, 18))
    for row in reminders_between(known, since=nov(23), until=nov(30, 12)):
        said = " ".join(words_of(row, known)).casefold()
        assert [word for word in OFFICE if word in said] == []


def test_a_reading_is_asked_for_with_what_is_wanted() -> None:
    said = text(facts(wanting("light test")), nov(30))

    assert said.startswith("Take in the light test of Old Rose (run B) and read it")
    assert f"{Decimal(4)} is wanted, reading so far 3" in said
