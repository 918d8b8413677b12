"""`manage.py load` and `manage.py write`: the doors to a studio's notebook."""

from __future__ import annotations

import io
from pathlib import Path

import pytest
from django.core.management import CommandError, call_command

from inventory.models import Studio
from sourcing.models import Run
from sourcing.notebook.guide import guide
from sourcing.notebook.yard_pages import PAGES
from tests.sourcing.notebook.desk import YARD, altered

pytestmark = pytest.mark.django_db


def run(*words: object, **options: object) -> str:
    """What a command says."""
    out = io.StringIO()
    call_command(*map(str, words), stdout=out, **options)  # type: ignore[arg-type]
    return out.getvalue()


def folder(path: Path, files: dict[str, bytes]) -> Path:
    path.mkdir()
    for name, raw in files.items():
        (path / name).write_bytes(raw)
    return path


def test_load_says_what_is_new_and_then_that_nothing_is() -> None:
    first = run("load", YARD)

    assert first.startswith("Pellitory Yard: new: 1 of studio, 48 of rules, 1 of waters, ")
    assert run("load", YARD) == "Pellitory Yard: nothing new.\n"


def test_what_machines_leave_in_a_folder_is_passed_over(tmp_path: Path) -> None:
    folder(tmp_path / "yard", altered("sites.csv", "site", "site"))
    for name in ("._lots.csv", "~lots.csv", ".~lock.lots.csv", "lots.txt"):
        (tmp_path / "yard" / name).write_bytes(b"\x00\x05")

    assert run("load", tmp_path / "yard").startswith("Pellitory Yard: new: ")


def test_a_dry_run_says_so_and_keeps_nothing() -> None:
    assert run("load", YARD, "--dry-run").startswith("Dry run, nothing was kept. Pellitory Yard: ")
    assert not Studio.objects.exists()


def test_every_problem_is_a_line_of_its_own(tmp_path: Path) -> None:
    wrong = altered("vessels.csv", "P2,pot", "P1,pan")
    errors = io.StringIO()

    with pytest.raises(CommandError) as refusal:
        run("load", folder(tmp_path / "yard", wrong), stderr=errors)

    assert errors.getvalue().splitlines() == [
        'vessels.csv, line 3, column kind: "pan" stands there. Write pot, tub or bucket.',
        "vessels.csv, line 3, column vessel: Line 2 has the same vessel, p1. "
        "Write another, or keep one row.",
    ]
    assert str(refusal.value) == "Nothing was loaded: 2 things to put right in the notebook first."
    assert not Studio.objects.exists()


def test_one_problem_is_one_thing(tmp_path: Path) -> None:
    wrong = altered("vessels.csv", "P2,pot", "P2,pan")

    with pytest.raises(CommandError) as refusal:
        run("load", folder(tmp_path / "yard", wrong), stderr=io.StringIO())

    assert str(refusal.value) == "Nothing was loaded: one thing to put right in the notebook first."


def test_a_folder_that_is_not_there_is_said(tmp_path: Path) -> None:
    errors = io.StringIO()

    with pytest.raises(CommandError):
        run("load", tmp_path / "nowhere", stderr=errors)

    assert "There is no such folder. Write its path." in errors.getvalue()


def test_without_a_folder_it_asks_for_one() -> None:
    with pytest.raises(CommandError, match=r"^Name the folder of the notebook\.$"):
        run("load")


def test_the_columns_are_printed() -> None:
    assert run("load", "--columns") == guide()


def test_a_notebook_is_loaded_weeks_later() -> None:
    run("load", YARD, "--weeks-later", 4)

    due = Run.objects.of(Studio.objects.get()).get(code="A").due
    assert due is not None
    assert due.isoformat() == "2026-12-28T09:00:00+00:00"


def test_write_makes_a_folder_that_can_be_loaded(tmp_path: Path) -> None:
    run("load", YARD)

    said = run("write", tmp_path / "new" / "yard")

    assert said == f"Pellitory Yard: {len(PAGES)} pages written to {tmp_path / 'new' / 'yard'}.\n"
    assert run("load", tmp_path / "new" / "yard") == "Pellitory Yard: nothing new.\n"


def test_write_over_an_older_writing_is_allowed(tmp_path: Path) -> None:
    run("load", YARD)

    run("write", tmp_path)
    run("write", tmp_path)

    assert len(list(tmp_path.iterdir())) == len(PAGES)


def test_write_leaves_a_folder_with_other_things_alone(tmp_path: Path) -> None:
    run("load", YARD)
    (tmp_path / "letter.txt").write_text("dear hedge")

    with pytest.raises(
        CommandError, match=r"holds other things\. Name a new or an empty folder\.$"
    ):
        run("write", tmp_path)

    assert [path.name for path in tmp_path.iterdir()] == ["letter.txt"]


def test_write_asks_which_studio_where_there_are_several(tmp_path: Path) -> None:
    with pytest.raises(CommandError) as none_yet:
        run("write", tmp_path)
    run("load", YARD)
    run("load", folder(tmp_path / "b", altered("studio.csv", "Pellitory Yard", "Wash House")))

    with pytest.raises(CommandError) as several:
        run("write", tmp_path / "c")
    with pytest.raises(CommandError) as unknown:
        run("write", tmp_path / "c", "--studio", "Dye House")

    which = "Say which studio with --studio. There are: "
    assert str(none_yet.value) == which + "none yet."
    assert str(several.value) == which + "Pellitory Yard, Wash House."
    assert str(unknown.value) == (
        "There is no studio “Dye House”. There are: Pellitory Yard, Wash House."
    )
    said = run("write", tmp_path / "c", "--studio", "Wash House")
    assert said.startswith(f"Wash House: {len(PAGES)} pages")
