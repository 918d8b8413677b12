"""The letters of the worked week, and what becomes untrue before one is sent."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, datetime, time
from pathlib import Path
from uuid import uuid4

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from api.reminders.due import letters_due, still_wanted
from api.reminders.letter import Letter
from inventory import jars, ledger
from inventory.entries import Place
from inventory.models import Studio
from sourcing.models import Reader
from sourcing.pickups import miss_pickup, record_pickup, report_pickup
from sourcing.reminders import begin_reminders, change_reader, stop_reminders
from sourcing.reminding.facts import Quiet
from tests.api.reminders.readers import CAFE, DYER, DYERS, TOLD, TOLDS, with_cafe, with_dyer, yard
from tests.once import once
from tests.sourcing.week.pellitory import nov

pytestmark = pytest.mark.django_db
README = Path(__file__).parents[3] / "README.md"
STONES = "avocado stones"
FRIDGE = Place("fridge", "fridge")


made = once(yard)


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


def one(studio: Studio, *, since: datetime, until: datetime) -> Letter:
    (letter,) = letters_due(studio, since=since, until=until)
    return letter


def test_a_studio_that_writes_to_nobody_has_no_letters(studio: Studio) -> None:
    assert letters_due(studio, since=nov(23), until=nov(30)) == ()


def test_the_morning_sheet_is_the_sheet_of_that_morning(studio: Studio) -> None:
    with_dyer(studio, kinds=("morning sheet",))
    # Looked at a quarter of an hour late, it is still the sheet of half past seven.
    letter = one(studio, since=nov(23, 7), until=nov(23, 7, 45))

    assert f"```text\n{letter.text}```\n" in README.read_text(encoding="utf-8")
    assert letter.subject == "Pellitory Yard · Mon 23 Nov: the morning sheet"
    assert (letter.to, letter.at, letter.until) == (DYERS, nov(23, 7, 30), nov(23, 12, 30))


def test_a_sheet_that_nobody_can_use_any_more_is_not_worked_out(studio: Studio) -> None:
    with_dyer(studio, kinds=("morning sheet",))

    early, late = letters_due(studio, since=nov(22), until=nov(23, 8))

    assert early.text == "This sheet is of no use any more.\n"
    assert late.text.startswith("Pellitory Yard · Mon 23 Nov 2026, 07:30")


def test_what_the_dyer_is_told_on_two_mornings(studio: Studio) -> None:
    with_dyer(studio, kinds=("dip", "last good day"))
    found = [
        (f"{row.at:%a %H:%M}", row.subject)
        for row in letters_due(studio, since=nov(23), until=nov(24, 8))
    ]

    assert found == [
        ("Mon 07:30", "AV-1116 (avocado stones): last good day Mon 23 Nov"),
        ("Mon 07:30", "J6 (nettle bath): last good day Tue 24 Nov"),
        ("Tue 07:30", "Dip Iron 7 (J1): day 7"),
        ("Tue 07:30", "J6 (nettle bath): last good day Tue 24 Nov"),
    ]


def test_the_cafe_is_told_in_one_line_with_thanks(studio: Studio) -> None:
    # 62 + 55 + 70 + 48 + 0 + 65 stones in the last six (the papers, 13.3): 300, at 42 g 12.6 kg.
    with_cafe(studio)
    letter = one(studio, since=nov(25), until=nov(25, 16, 1))

    assert letter.subject == "Thu 26 Nov, 17:00: avocado stones for Pellitory Yard"
    assert letter.text == (
        "Thu 26 Nov, 17:00: we come for the avocado stones and bring a clean tub. "
        "Thank you: 300 avocado stones, about 12.6 kg, saved so far.\n"
    )
    assert (letter.to, letter.at, letter.until) == (TOLDS, nov(25, 16), nov(26, 17))


def test_the_cafe_is_not_told_of_what_it_has_reported(studio: Studio) -> None:
    with_cafe(studio)  # it has reported Monday's 58 stones

    assert letters_due(studio, since=nov(22), until=nov(22, 17)) == ()


def struck(studio: Studio) -> None:
    miss_pickup(studio, at=nov(26, 17), source=CAFE, gives=STONES)


def reported(studio: Studio) -> None:
    given = {"source": CAFE, "gives": STONES, "lot": "AV-1126", "place": FRIDGE, "pieces": 40}
    report_pickup(studio, at=nov(26, 17), **given)  # type: ignore[arg-type]


def fetched(studio: Studio) -> None:
    given = {"source": CAFE, "gives": STONES, "lot": "AV-1126", "place": FRIDGE, "pieces": 40}
    record_pickup(studio, entry=uuid4(), at=nov(26, 8), **given)  # type: ignore[arg-type]


def stopped(studio: Studio) -> None:
    stop_reminders(studio, reader=TOLD, kind="day before", at=nov(25, 16))


def stopped_all(studio: Studio) -> None:
    stop_reminders(studio, reader=TOLD, kind="all", at=nov(25, 16))


def moved_away(studio: Studio) -> None:
    Reader.objects.of(studio).filter(name=TOLD).update(address="new@lantern-steps.example")


def begun_again(studio: Studio) -> None:
    stopped(studio)
    begin_reminders(studio, reader=TOLD, kind="day before", at=nov(25, 17))


def nothing(studio: Studio) -> None:
    """Nothing happens."""


@pytest.mark.parametrize(
    ("happens", "wanted"),
    [
        (nothing, True),
        (begun_again, True),
        (struck, False),
        (reported, False),
        (fetched, False),
        (stopped, False),
        (stopped_all, False),
        (moved_away, False),
    ],
)
def test_the_cafes_word_is_looked_at_again_before_it_is_sent(
    happens: Callable[[Studio], None], wanted: bool, studio: Studio
) -> None:
    with_cafe(studio)
    letter = one(studio, since=nov(25), until=nov(25, 16, 1))
    happens(studio)

    assert still_wanted(studio, letter, at=nov(26, 9)) is wanted


def dipped(studio: Studio) -> None:
    jars.dip(studio, entry=uuid4(), at=nov(24, 7, 40), jar="J1", grade=3)


def poured(studio: Studio) -> None:
    jars.draw(studio, entry=uuid4(), at=nov(24, 7, 40), jar="J1", volume=3_000_000)


def other_wishes(studio: Studio) -> None:
    change_reader(studio, reader=DYER, kinds=("light test",))


def quieter(studio: Studio) -> None:
    change_reader(studio, reader=DYER, kinds=("dip",), quiet=Quiet(time(21), time(9)))


@pytest.mark.parametrize(
    ("happens", "wanted"),
    [(nothing, True), (dipped, False), (poured, False), (other_wishes, False), (quieter, True)],
)
def test_a_dip_is_looked_at_again_before_it_is_sent(
    happens: Callable[[Studio], None], wanted: bool, studio: Studio
) -> None:
    with_dyer(studio, kinds=("dip",))
    letter = one(studio, since=nov(24), until=nov(24, 7, 31))
    happens(studio)

    assert still_wanted(studio, letter, at=nov(24, 8)) is wanted


def test_a_lot_frozen_meanwhile_is_not_told_of(studio: Studio) -> None:
    with_dyer(studio, kinds=("last good day",))
    letter = letters_due(studio, since=nov(23), until=nov(23, 7, 31))[0]
    ledger.put_by(
        studio,
        entry=uuid4(),
        at=nov(23, 7, 40),
        lot="AV-1116",
        state="frozen",
        place=Place("freezer", "freezer"),
    )

    assert letter.subject.startswith("AV-1116")
    assert not still_wanted(studio, letter, at=nov(23, 8))


def test_a_sheet_is_wanted_until_it_is_stopped(studio: Studio) -> None:
    with_dyer(studio, kinds=("morning sheet", "dip"))
    letter = one(studio, since=nov(23, 7), until=nov(23, 7, 45))
    stop_reminders(studio, reader=DYER, kind="dip", at=nov(23, 7, 50))
    before = still_wanted(studio, letter, at=nov(23, 8))
    stop_reminders(studio, reader=DYER, kind="morning sheet", at=nov(23, 8))

    assert (before, still_wanted(studio, letter, at=nov(23, 8))) == (True, False)


def test_a_letter_of_nobody_is_not_wanted(studio: Studio) -> None:
    with_dyer(studio, kinds=("dip",))
    letter = one(studio, since=nov(24), until=nov(24, 7, 31))

    assert not still_wanted(studio, replace(letter, key="someone/dip/J1"), at=nov(24, 8))


def test_the_same_word_keeps_its_key_whenever_it_is_looked_for(studio: Studio) -> None:
    with_cafe(with_dyer(studio))
    first, again = (
        {row.key: row.kind for row in letters_due(studio, since=nov(24), until=nov(26, 8, minute))}
        for minute in (0, 40)
    )

    assert first == again
    assert len(first) == len(set(first)) > 5


def test_letters_are_fit_for_the_outbox(studio: Studio) -> None:
    with_cafe(with_dyer(studio))

    for letter in letters_due(studio, since=nov(23), until=nov(30, 12)):
        assert len(letter.key) <= 200
        assert letter.key.isprintable()
        assert letter.subject.isprintable()
        assert letter.at < letter.until
        assert letter.at.utcoffset() is not None
        assert letter.text.endswith("\n")
        assert letter.stop.startswith("/stop/")
        assert letter.stop.isascii()


def test_a_light_test_that_is_out_is_told(studio: Studio) -> None:
    with_dyer(studio, kinds=("light test",))
    letter = one(studio, since=nov(30), until=nov(30, 8))

    assert letter.text == (
        "Take in the light test of Old Rose (run B) and read it: its 28 days are out on "
        "Mon 30 Nov. 4 is wanted, reading so far 3; a reading counts from that day on.\n"
    )


def test_more_readers_cost_no_more_questions(studio: Studio) -> None:
    with_dyer(studio)
    asked = []
    for count in (0, 40):
        Reader.objects.of(studio).bulk_create(
            Reader(
                name=f"reader {n}",
                address=f"reader-{n}@pellitory-yard.example",
                wants_dip=True,
                wants_sheet=True,
                sheet_at=time(7, 30),
                since=date(2026, 11, 1),
                mark=uuid4(),
            )
            for n in range(count)
        )
        with CaptureQueriesContext(
            connection,
        ) as queries:
            letters_due(studio, since=nov(24, 7), until=nov(24, 8))
        asked.append(len(queries))

    assert asked[0] == asked[1]
