"""Readers of reminders: added, changed, stopped by themselves and taken up again."""

from __future__ import annotations

from datetime import date, time, timedelta

import pytest

from inventory.errors import NotKept, NoZone
from inventory.models import Studio
from sourcing.errors import (
    NoAddress,
    NoAgreement,
    NoHours,
    NoLeaveToWrite,
    NoSuchReader,
    NoSuchSource,
    NotForReader,
    ReaderTaken,
    TooManyReaders,
)
from sourcing.models import Agreement, Reader, ReaderSaid
from sourcing.notebook.load import load_files
from sourcing.reminders import (
    add_reader,
    begin_reminders,
    change_reader,
    mark_of,
    readdress,
    stop_reminders,
    wishes_of,
)
from sourcing.reminding.facts import MOST_READERS, Quiet
from tests.once import once
from tests.sourcing.notebook.desk import without_readers, yard_files
from tests.sourcing.week.pellitory import MONDAY, MONDAY_0730

pytestmark = pytest.mark.django_db
CAFE = "Lantern Steps café"
DYER = {
    "name": "the dyer",
    "address": "dyer@pellitory-yard.example",
    "kinds": ("morning sheet", "dip"),
    "since": MONDAY,
    "sheet_at": time(7, 30),
}
TOLD = {
    "name": "the café",
    "address": "hello@lantern-steps.example",
    "kinds": ("day before",),
    "since": MONDAY,
    "source": CAFE,
    "leave_by": "the owner",
    "leave_on": date(2026, 10, 1),
}


made = once(lambda: load_files(without_readers(yard_files())))


@pytest.fixture
def studio(made: None, db: None) -> Studio:
    return Studio.objects.get()


def add(studio: Studio, values: dict[str, object], **more: object) -> Reader:
    return add_reader(studio, **{**values, **more})  # type: ignore[arg-type]


def test_a_reader_wants_what_was_said(studio: Studio) -> None:
    add(studio, DYER, quiet=Quiet(time(21), time(6, 30)))

    (wish,) = wishes_of(studio)
    assert (wish.reader, wish.address) == ("the dyer", "dyer@pellitory-yard.example")
    assert (wish.kinds, wish.sheet_at) == (("morning sheet", "dip"), time(7, 30))
    assert (wish.quiet, wish.stopped) == (Quiet(time(21), time(6, 30)), frozenset())
    assert wish.mark == mark_of("Pellitory Yard", "the dyer")


def test_a_source_is_told_of_the_day_before_by_its_leave(studio: Studio) -> None:
    add(studio, TOLD)

    assert [(wish.source, wish.kinds) for wish in wishes_of(studio)] == [(CAFE, ("day before",))]


@pytest.mark.parametrize(
    ("values", "more", "error", "sentence"),
    [
        (
            DYER,
            {"address": "dyer"},
            NoAddress,
            "“dyer” is no e-mail address. Write one such as dyer@example.org.",
        ),
        (
            DYER,
            {"address": "dyer@mill.example\nBcc: all@mill.example"},
            NoAddress,
            "“dyer@mill.example�Bcc: all@mill.example” is no e-mail address. Write one such as "
            "dyer@example.org.",
        ),
        (
            DYER,
            {"kinds": ("day before",)},
            NotForReader,
            "the dyer cannot be sent day before. Choose among morning sheet, dip, last good day, "
            "order-by day, light test.",
        ),
        (
            DYER,
            {"kinds": ()},
            NotForReader,
            "the dyer: nothing is asked for. Choose among morning sheet, dip, last good day, "
            "order-by day, light test.",
        ),
        (
            DYER,
            {"sheet_at": None},
            NoHours,
            "the dyer: the morning sheet has no hour. Say at which hour it goes.",
        ),
        (
            DYER,
            {"quiet": Quiet(time(21), time(21, 0, 30))},
            NoHours,
            "the dyer: quiet hours begin when they end. Leave an hour in which letters may go.",
        ),
        (
            TOLD,
            {"kinds": ("day before", "dip")},
            NotForReader,
            "the café cannot be sent dip. Choose among day before.",
        ),
        (
            TOLD,
            {"leave_by": " "},
            NoLeaveToWrite,
            "Lantern Steps café has not said that it may be written to. Ask, and write down who "
            "said so and when.",
        ),
        (
            TOLD,
            {"leave_on": None},
            NoLeaveToWrite,
            "Lantern Steps café has not said that it may be written to. Ask, and write down who "
            "said so and when.",
        ),
        (
            TOLD,
            {"source": "Lantern Steps"},
            NoSuchSource,
            "No source is called Lantern Steps. Look at its name, or add it first.",
        ),
    ],
)
def test_who_could_not_or_must_not_be_written_to_is_refused(
    values: dict[str, object],
    more: dict[str, object],
    error: type[Exception],
    sentence: str,
    studio: Studio,
) -> None:
    with pytest.raises(error) as refusal:
        add(studio, values, **more)

    assert str(refusal.value) == sentence
    assert not Reader.objects.of(studio).exists()


def test_a_source_without_agreement_has_no_day_to_be_told_of(studio: Studio) -> None:
    Agreement.objects.of(studio).filter(source__name=CAFE).delete()

    with pytest.raises(NoAgreement) as refusal:
        add(studio, TOLD)

    assert str(refusal.value) == (
        "Lantern Steps café has no agreement, so there is no pick-up to be told of. "
        "Write one first."
    )


@pytest.mark.parametrize(
    ("values", "more", "who"),
    [
        (DYER, {"address": "other@mill.example"}, "the dyer"),
        (DYER, {"name": "me", "address": "Dyer@Pellitory-Yard.example"}, None),
        (TOLD, {"name": "me", "address": "other@mill.example"}, CAFE),
    ],
)
def test_nobody_is_written_to_twice(
    values: dict[str, object], more: dict[str, object], who: str | None, studio: Studio
) -> None:
    add(studio, values)

    with pytest.raises(ReaderTaken) as refusal:
        add(studio, values, **more)

    name, what = values["name"], who or more["address"]
    assert str(refusal.value) == (
        f"{what} is written to already, as {name}. Change what {name} wants."
    )


def test_a_studio_writes_to_so_many_and_no_more(studio: Studio) -> None:
    Reader.objects.of(studio).bulk_create(
        Reader(
            name=f"reader {n}",
            address=f"reader-{n}@mill.example",
            wants_dip=True,
            since=MONDAY,
            mark=mark_of("Pellitory Yard", f"reader {n}"),
        )
        for n in range(MOST_READERS - 1)
    )
    add(studio, DYER)

    with pytest.raises(TooManyReaders):
        add(studio, TOLD)


def test_a_reader_may_want_something_else(studio: Studio) -> None:
    add(studio, DYER)
    change_reader(studio, reader="the dyer", kinds=("light test",))

    (wish,) = wishes_of(studio)
    assert (wish.kinds, wish.sheet_at) == (("light test",), None)


def test_what_is_stopped_is_not_wanted_until_it_is_taken_up_again(studio: Studio) -> None:
    add(studio, DYER)
    news = stop_reminders(studio, reader="the dyer", kind="dip", at=MONDAY_0730)
    stopped = wishes_of(studio)[0]
    later = MONDAY_0730 + timedelta(minutes=1)
    begun = begin_reminders(studio, reader="the dyer", kind="dip", at=later)

    assert (news, begun) == (True, True)
    assert (stopped.wants("dip"), stopped.wants("morning sheet")) == (False, True)
    assert wishes_of(studio)[0].wants("dip")


def test_one_kind_can_be_taken_up_again_after_all_were_stopped(studio: Studio) -> None:
    add(studio, DYER)
    stop_reminders(studio, reader="the dyer", kind="all", at=MONDAY_0730)
    later = MONDAY_0730 + timedelta(minutes=1)
    begin_reminders(studio, reader="the dyer", kind="dip", at=later)

    (wish,) = wishes_of(studio)
    assert (wish.wants("dip"), wish.wants("morning sheet")) == (True, False)


def test_stopping_twice_is_written_down_once(studio: Studio) -> None:
    add(studio, DYER)
    said = [
        stop_reminders(
            studio, reader="the dyer", kind="dip", at=MONDAY_0730 + timedelta(minutes=minute)
        )
        for minute in range(3)
    ]

    assert said == [True, False, False]
    assert ReaderSaid.objects.of(studio).count() == 1


def test_what_was_stopped_stays_so_when_the_wishes_change(studio: Studio) -> None:
    add(studio, DYER)
    stop_reminders(studio, reader="the dyer", kind="dip", at=MONDAY_0730)
    change_reader(studio, reader="the dyer", kinds=("dip", "light test"))

    (wish,) = wishes_of(studio)
    assert (wish.wants("dip"), wish.wants("light test")) == (False, True)


def test_the_latest_word_holds_whenever_it_was_written_down(studio: Studio) -> None:
    add(studio, DYER)
    later = MONDAY_0730 + timedelta(hours=1)
    begin_reminders(studio, reader="the dyer", kind="dip", at=later)  # no news, so not kept
    stop_reminders(studio, reader="the dyer", kind="dip", at=later)
    reader = Reader.objects.of(studio).get(name="the dyer")
    ReaderSaid.objects.of(studio).create(
        reader=reader, kind="all", what="begun again", at=MONDAY_0730
    )

    assert wishes_of(studio)[0].stopped == {"dip"}


def test_a_reader_may_have_another_address_that_is_nobody_elses(studio: Studio) -> None:
    add(studio, DYER)
    add(studio, DYER, name="the assistant", address="assistant@pellitory-yard.example")
    readdress(studio, reader="the dyer", address="Dyer@pellitory-yard.example")

    assert wishes_of(studio)[1].address == "Dyer@pellitory-yard.example"
    with pytest.raises(ReaderTaken) as refusal:
        readdress(studio, reader="the dyer", address="Assistant@pellitory-yard.example")
    assert str(refusal.value) == (
        "Assistant@pellitory-yard.example is written to already, as the assistant. "
        "Change what the assistant wants."
    )
    with pytest.raises(NoAddress):
        readdress(studio, reader="the dyer", address="dyer at the yard")
    with pytest.raises(NoSuchReader):
        readdress(studio, reader="nobody", address="a@pellitory-yard.example")


def test_a_word_of_nobody_or_of_nothing_is_refused(studio: Studio) -> None:
    add(studio, DYER)
    with pytest.raises(NoSuchReader):
        stop_reminders(studio, reader="nobody", kind="dip", at=MONDAY_0730)
    with pytest.raises(NotForReader):
        stop_reminders(studio, reader="the dyer", kind="gossip", at=MONDAY_0730)
    with pytest.raises(NoZone):
        stop_reminders(studio, reader="the dyer", kind="dip", at=MONDAY_0730.replace(tzinfo=None))


@pytest.mark.parametrize("column", ["name", "note", "leave_by"])
def test_words_that_nobody_can_see_are_refused(column: str, studio: Studio) -> None:
    with pytest.raises(NotKept):
        add(studio, TOLD, **{column: "the\x00café"})
    with pytest.raises(NotKept):
        add(studio, TOLD, **{column: "x" * 501})

    assert not Reader.objects.of(studio).exists()
