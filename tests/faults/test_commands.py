"""What a shell may hand to a command: bytes of any kind, numbers without end, files of others."""

from __future__ import annotations

import os
from collections.abc import Iterator
from io import StringIO
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from sourcing.notebook.load import load_files
from tests.faults.places import YARD, Larder, larder, untraced
from tests.faults.verbs import rows
from tests.once import once
from tests.sourcing.notebook.desk import yard_files

HALF = "\udcff"  # how Python hands on the byte FF of a shell
HOLE = "\N{REPLACEMENT CHARACTER}"
MOMENT = (
    "Write day and time such as 2026-11-23T07:30, by the studio's clock, or with an offset such "
    "as 2026-11-23T07:30+00:00."
)


made = once(lambda: load_files(yard_files()))


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Larder]:
    """A larder of its own, for commands that are processes of their own."""
    with larder(tmp_path_factory.mktemp("commands"), loaded=True) as place:
        yield place


@pytest.mark.usefixtures("made", "db")
@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("week", "--studio", HALF), f"No studio is called “{HOLE}”."),
        (("week", "--at", HALF), f"“{HOLE}” is no moment. {MOMENT}"),
        (("week", "--at", "2026-11-23"), f"“2026-11-23” is no moment. {MOMENT}"),
        (("week", "--days", "10" * 300), f"“{'10' * 30}…” is no number of days. "
         "Write a whole number, 1 to 28."),
        (("order", "--studio", HALF), f"No studio is called “{HOLE}”."),
        (("order", "--at", HALF), f"“{HOLE}” is no moment. {MOMENT}"),
        (("order", "sent", HALF), f"“{HOLE}” is no number of an order. Write 2026-003, as stands "
         "on it."),
        (("order", "write", HALF, "1 x wool yarn"), f"No supplier is called “{HOLE}”. Look at the "
         "name, or add it first."),
        (("order", "write", "near shop", HALF), f"“{HOLE}” is no line of an order. "
         "Write 4 x 1 kg wool yarn."),
        (("order", "came", "2026-001", "--line", "1", "1", HALF, "W-101"), f"“{HOLE}”: “[U+DCFF]” "
         "at character 1 was not understood. Take that unseen character out."),
        (("order", "--longer", "1e400"), "seconds to search is inf; it must be above 0, 3600 at "
         "most."),
        (("audit", "--studio", HALF), f"No studio is called “{HOLE}”. There are: Pellitory Yard."),
        (("write", "out", "--studio", HALF), f"There is no studio “{HOLE}”. There are: "
         "Pellitory Yard."),
        (("write", "/proc/out"), "/proc/out cannot be used (No such file or directory). "
         "Look at its name and its rights."),
        (("backup", HALF), "'\\udcff' holds half a letter; name a file in whole ones."),
        (("load", str(YARD), "--weeks-later", "2601"), "2601 weeks are too many; at most 2600."),
        (("load", str(YARD), "--weeks-later", "-" + "9" * 40), f"-{'9' * 40} weeks are too many; "
         "at most 2600."),
    ],
    ids=str,
)  # fmt: skip
def test_what_a_command_cannot_do_is_one_sentence(words: tuple[str, ...], sentence: str) -> None:
    before = rows()

    with pytest.raises(CommandError) as refused:
        call_command(*words, stdout=StringIO(), stderr=StringIO())

    assert (refused.value.returncode, str(refused.value)) == (1, sentence)
    assert rows() == before


@pytest.mark.usefixtures("db")
@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (("week", "--studio", HALF), f"No studio is called “{HOLE}”."),
        (("backup", HALF), "'\\udcff' holds half a letter; name a file in whole ones."),
    ],
    ids=str,
)
def test_a_shell_is_told_that_sentence_and_no_trace(
    yard: Larder, words: tuple[str, ...], sentence: str
) -> None:
    before = yard.counts()

    done = yard.called(*words)

    assert (done.returncode, untraced(done)) == (1, f"CommandError: {sentence}")
    assert yard.counts() == before


@pytest.mark.usefixtures("db")
def test_a_folder_of_strange_files_is_named_file_by_file(yard: Larder, tmp_path: Path) -> None:
    (tmp_path / "studio.csv").write_text("studio,zone\nWash House,Europe/London\n")
    (tmp_path / f"{HALF}.csv").touch()
    (tmp_path / "jars.csv").mkdir()
    (tmp_path / "runs.csv").symlink_to("runs.csv")
    os.mkfifo(tmp_path / "lots.csv")
    before = yard.counts()

    done = yard.called("load", str(tmp_path))

    lines = untraced(done).splitlines()
    assert [line for line in lines if "not a file" in line] == [
        f"{name}.csv: This is not a file. Move it away." for name in ("jars", "lots", "runs")
    ]
    assert (
        lines[-1]
        == "CommandError: Nothing was loaded: 4 things to put right in the notebook first."
    )
    assert yard.counts() == before


@pytest.mark.usefixtures("db")
def test_problems_without_end_are_shown_up_to_a_bound(yard: Larder, tmp_path: Path) -> None:
    (tmp_path / "studio.csv").write_text("studio,zone\nWash House,Europe/London\n")
    (tmp_path / "sites.csv").write_text("site\n" + "=x\n" * 1_000)

    told = untraced(yard.called("load", str(tmp_path))).splitlines()

    assert len(told) == 202
    assert told[-2:] == [
        "And 800 more.",
        "CommandError: Nothing was loaded: 1,000 things to put right in the notebook first.",
    ]


@pytest.mark.usefixtures("db")
def test_a_larder_without_its_tables_says_what_to_call(yard: Larder, tmp_path: Path) -> None:
    if yard.url:
        return  # a server's is proved in tests/api/test_tables.py
    bare = Larder({**yard.environment, "DYE_LARDER_STATE": str(tmp_path)})

    answer = bare.hand("ask", "/api/v1/week/").stdout

    assert answer.startswith("503 5 ")
    assert (
        "The larder has no shelves yet. Call python3 manage.py migrate, then ask again." in answer
    )
