"""The pages about reminders: read, checked, loaded, written back."""

from __future__ import annotations

from datetime import UTC, datetime

import pytest

from inventory.models import Studio
from sourcing.models import Reader
from sourcing.notebook.check import check
from sourcing.notebook.load import load_files
from sourcing.notebook.notebook import read_notebook
from sourcing.notebook.problem import NotebookRefused
from sourcing.notebook.writing import files_for, notebook_of
from sourcing.reminders import wishes_of
from tests.sourcing.notebook.desk import sentences, yard_files

HEAD = "reader,address,source,wants,sheet at,quiet from,quiet until,since,leave by,leave on,note"
DYER = (
    'Ansel,ansel@pellitory-yard.example,,"morning sheet, dip",07:30,21:00,06:30,Sun 1 Nov 2026,,,'
)
CAFE = (
    "the café,hello@lantern-steps.example,Lantern Steps café,day before,,,,"
    "Sun 1 Nov 2026,the owner,Thu 1 Oct 2026,"
)
STOPS = "reader,kind,what,at"
STOPPED = "Ansel,dip,stopped,Mon 23 Nov 2026 09:00:07.25"
BEGUN = "Ansel,all,begun again,Tue 24 Nov 2026 09:00"


def files(*rows: str, stops: tuple[str, ...] = ()) -> dict[str, bytes]:
    """The demo studio with these readers and their words."""
    text = "\r\n".join((HEAD, *rows, ""))
    said = "\r\n".join((STOPS, *stops, ""))
    return {**yard_files(), "reminders.csv": text.encode(), "stops.csv": said.encode()}


def said(*rows: str) -> list[str]:
    """What is wrong with such readers."""
    notebook, problems = read_notebook(files(*rows))
    return sentences([*problems, *check(notebook, piece_known=lambda item: True)])


def test_readers_that_may_be_written_to_are_sound() -> None:
    assert said(DYER, CAFE) == []


@pytest.mark.parametrize(
    ("row", "old", "new", "where", "write"),
    [
        (
            DYER,
            "ansel@pellitory-yard.example",
            "ansel",
            'address: "ansel" stands there.',
            "It is no e-mail address. Write one such as dyer@example.org.",
        ),
        (DYER, "07:30", "", "sheet at:", "Write the hour at which the morning sheet goes."),
        (DYER, "06:30", "", "quiet until:", "Quiet hours have two ends. Write this one too."),
        (
            DYER,
            "06:30",
            "21:00",
            'quiet until: "21:00" stands there.',
            "Quiet hours begin when they end. Leave an hour in which letters may go.",
        ),
        (
            DYER,
            "morning sheet, dip",
            "morning sheet, day before",
            'wants: "day before" stands there.',
            "That is for a source. Write its name under source, or choose among morning sheet, "
            "dip, last good day, order-by day, light test.",
        ),
        (
            CAFE,
            "day before",
            "dip",
            'wants: "dip" stands there.',
            "A source is told of the day before. Write day before.",
        ),
        (
            CAFE,
            "the owner",
            "",
            "leave by:",
            "A source is written to by its leave. Write who said that it may be written to.",
        ),
        (
            CAFE,
            "Thu 1 Oct 2026",
            "",
            "leave on:",
            "A source is written to by its leave. Write when.",
        ),
    ],
)
def test_a_reader_who_cannot_be_written_to_is_told_so(
    row: str, old: str, new: str, where: str, write: str
) -> None:
    assert said(row.replace(old, new)) == [f"reminders.csv, line 2, column {where} {write}"]


def test_two_rows_that_write_to_the_same_are_refused() -> None:
    twice = DYER.replace("Ansel", "Bryn").replace("ansel@", "Ansel@")

    assert said(DYER, twice) == [
        'reminders.csv, line 3, column address: "ansel@pellitory-yard.example" stands there. '
        "Line 2 writes to the same. Put both into one row."
    ]


@pytest.mark.django_db
def test_readers_and_their_words_come_back_to_the_byte() -> None:
    load_files(files(CAFE, DYER, stops=(STOPPED, BEGUN)))
    studio = Studio.objects.get()

    pages = files_for(notebook_of(studio, at=datetime(2026, 11, 25, tzinfo=UTC)))

    assert pages["reminders.csv"].decode().splitlines() == [HEAD, DYER, CAFE]
    assert pages["stops.csv"].decode().splitlines() == [STOPS, STOPPED, BEGUN]


@pytest.mark.django_db
def test_the_same_pages_again_change_nothing_and_wishes_may_be_changed() -> None:
    load_files(files(DYER, stops=(STOPPED,)))
    again = load_files(files(DYER, stops=(STOPPED,)))
    changed = load_files(files(DYER.replace("07:30", "06:45")))

    assert str(again) == "Pellitory Yard: nothing new."
    assert str(changed) == "Pellitory Yard: changed: 1 of reminders."
    assert wishes_of(Studio.objects.get())[0].stopped == {"dip"}


@pytest.mark.django_db
def test_a_new_name_for_somebody_who_is_written_to_is_refused() -> None:
    load_files(files(DYER))

    with pytest.raises(NotebookRefused) as refusal:
        load_files(files(DYER.replace("Ansel", "Bryn")))

    note = "The studio writes to the same already, as Ansel. Write that name."
    assert [problem.write for problem in refusal.value.problems] == [note]
    assert [row.name for row in Reader.objects.of(Studio.objects.get())] == ["Ansel"]
