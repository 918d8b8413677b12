"""Files that nobody wrote by hand: too large, too wide, cut short, in another alphabet."""

from __future__ import annotations

import time
from collections.abc import Iterator
from pathlib import Path

import pytest

from sourcing.notebook.notebook import MOST_BYTES_IN_ALL, files_of, read_notebook
from sourcing.notebook.sheet import MOST_BYTES, MOST_CELLS, MOST_CELLS_IN_ALL, MOST_LINES
from tests.faults.places import Larder, larder
from tests.sourcing.notebook.desk import yard_files

A_SECOND = 1.0
SLOW = 4  # seven people may share two cores
HEADINGS = b"lot,dyestuff,amount,state,place,since\n"
ROW = b"AV-1,privet,5 g,dried,dry store,1 Aug 2026 09:00\n"
NONE_SUCH = "lots.csv, line 1: The row has more than 60 headings. Write those of the page."


def said(lots: bytes) -> list[str]:
    """What is wrong with the demo studio's notebook with this page of lots, said in time."""
    began = time.process_time()
    problems = read_notebook({**yard_files(), "lots.csv": lots})[1]
    assert time.process_time() - began < A_SECOND * SLOW
    return [str(problem) for problem in problems]


def test_a_million_columns_are_one_problem() -> None:
    assert said(b"lot" + b",lot" * 10**6 + b"\n") == [NONE_SUCH]
    assert said(b"lot" + b",lot" * 10**6 + b"\n" + b"x," * 10**5 + b"\n") == [NONE_SUCH]


def test_as_many_headings_as_a_row_may_have_are_told_apart_and_not_one_more() -> None:
    sixty, one_more = (b",".join([b"lot"] * number) for number in (MOST_CELLS, MOST_CELLS + 1))

    assert said(one_more) == [NONE_SUCH]
    assert NONE_SUCH not in said(sixty)
    assert "lots.csv, line 1, column lot: The column is there twice. Keep one of them." in said(
        sixty
    )


def test_a_row_of_too_many_cells_is_said_with_its_line() -> None:
    assert said(HEADINGS + ROW + b",".join([b"x"] * (MOST_CELLS + 1))) == [
        "lots.csv, line 3: The row has more than 60 cells. Delete what stands behind the last one."
    ]


def test_empty_cells_behind_the_last_one_do_no_harm() -> None:
    wide = b"\n".join(line + b"," * 200 for line in (HEADINGS + ROW).splitlines())

    assert said(wide) == said(HEADINGS + ROW)


@pytest.mark.parametrize(
    ("lots", "wrong"),
    [
        (b"lot\n" + b"\n" * MOST_LINES, f"The file has {MOST_LINES + 1:,} lines"),
        (b"\r" * (MOST_LINES + 1) + b"lot", f"The file has {MOST_LINES + 1:,} lines"),
        (b"lot\n" + b"," * MOST_CELLS_IN_ALL, f"The file has {MOST_CELLS_IN_ALL + 1:,} cells"),
        (b"lot\n" + b";" * 7_900_000, "The file has 7,900,001 cells"),
        (b'lot\n"' + b"a" * 7_900_000, "A cell is far too long"),
        (b'lot\n"' + b"a\n" * 90_000, "A cell is far too long"),
        (b'lot\n"a\n', "A quotation mark is opened and never closed"),
    ],
)
def test_a_page_without_an_end_is_one_problem(lots: bytes, wrong: str) -> None:
    (problem,) = said(lots)

    assert problem.startswith(f"lots.csv: {wrong}")


def test_blank_lines_as_many_as_allowed_are_passed_over() -> None:
    assert said(b"\n" * (MOST_LINES - 2) + HEADINGS + ROW) == said(HEADINGS + ROW)


@pytest.mark.parametrize(
    ("lots", "sentence"),
    [
        (b"lot\nb\x00c", "line 2: A NUL character stands in this line. Delete it, or save the "
         "file as CSV again."),
        (b"lot\n\xed\xa0\x80", "line 2: The file has letters that cannot be read. Save it as CSV "
         "in UTF-8."),
        (b"\xff\xfe\x00\xd8", "line 1: The file has letters that cannot be read. Save it as CSV "
         "in UTF-8."),
        (b"\xff\xfelot\n1", "line 2: The file has letters that cannot be read. Save it as CSV "
         "in UTF-8."),
    ],
    ids=["NUL", "half a pair in UTF-8", "half a pair in UTF-16", "half a letter in UTF-16"],
)  # fmt: skip
def test_letters_that_no_table_keeps_are_said_with_their_line(lots: bytes, sentence: str) -> None:
    assert said(lots) == [f"lots.csv, {sentence}"]


@pytest.mark.parametrize(
    "written",
    [
        lambda raw: b"\xef\xbb\xbf" * 2 + raw,
        lambda raw: raw.decode().encode("utf-16"),
        lambda raw: b"\xfe\xff" + raw.decode().encode("utf-16-be"),
        lambda raw: raw.replace(b"\n", b"\r\n", 2),
        lambda raw: raw.replace(b"\n", b"\r"),
    ],
    ids=["two marks", "UTF-16", "UTF-16 the other way", "mixed line ends", "old line ends"],
)
def test_what_a_spreadsheet_does_to_a_file_makes_no_difference(written: object) -> None:
    assert callable(written)
    files = {name: written(raw) for name, raw in yard_files().items()}

    notebook, problems = read_notebook(files)

    assert problems == []
    assert len(notebook.page("lots")) == len(read_notebook(yard_files())[0].page("lots"))


def test_a_folder_is_read_up_to_its_bound_and_the_rest_named(tmp_path: Path) -> None:
    full = MOST_BYTES_IN_ALL // MOST_BYTES
    for number in range(full + 1):
        (tmp_path / f"{number}.csv").write_bytes(b" " * MOST_BYTES)

    files, problems = files_of(tmp_path)

    assert len(files) == full
    assert [str(problem) for problem in problems] == [
        f"{full}.csv: All files before it leave no room: 40,000,000 bytes are read in all."
    ]


@pytest.fixture
def empty(tmp_path: Path, db: None) -> Iterator[Larder]:
    with larder(tmp_path / "empty", loaded=False) as made:
        yield made


def test_fifty_megabytes_are_refused_before_they_are_read(empty: Larder, tmp_path: Path) -> None:
    """By the most memory that the process ever held, beside the same call on an empty folder."""
    (tmp_path / "large").mkdir()
    (tmp_path / "none").mkdir()
    for name, raw in yard_files().items():
        (tmp_path / "large" / name).write_bytes(raw)
    (tmp_path / "large" / "lots.csv").write_bytes(HEADINGS + ROW * (50_000_000 // len(ROW)))

    large, large_kb = _called(empty, tmp_path / "large")
    _, none_kb = _called(empty, tmp_path / "none")

    size = (tmp_path / "large" / "lots.csv").stat().st_size
    assert large.splitlines()[0] == (
        f"lots.csv: The file has {size:,} bytes; at most 8,000,000 are read. Divide it."
    )
    assert large_kb - none_kb < 8_000
    assert empty.counts()["inventory_studio"] == 0
    assert empty.is_sound()


def _called(place: Larder, folder: Path) -> tuple[str, int]:
    """What `load` told, and the most kilobytes that it held."""
    measure = (
        "import resource, sys; from django.core.management import execute_from_command_line as go\n"
        "try:\n    go(sys.argv)\nexcept SystemExit:\n    pass\n"
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"
    )
    process = place.begun("-c", measure, "load", str(folder))
    said, told = process.communicate(timeout=120)
    assert "Traceback" not in told
    return told, int(said.splitlines()[-1])
