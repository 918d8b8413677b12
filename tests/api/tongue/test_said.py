"""No sentence of a floor is put together so that it is lost to other languages."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

ROOT = Path(__file__).resolve().parents[3]
FLOORS = ("inventory", "sourcing", "api")
# A word that ends, beside a space: no key, no address, no class of a style sheet.
WORDS = re.compile(r"[A-Za-z]{3,}(?: |,|\.|$)")
TABLES = re.compile(r"\b(?:SELECT|INSERT|CREATE|UPDATE|DROP|TRIGGER|CONSTRAINT|NEW|EXISTS|RAISE)\b")
# Where a text is read by no reader of a page, or in English on purpose; each with why.
APART = {
    "sourcing/notebook/bundle.py": "what a folder of files is told, read where they are written",
    "sourcing/notebook/bundle_words.py": "likewise",
    "sourcing/notebook/guide.py": "the guide to those files, in English as their columns are",
    "sourcing/notebook/load_orders.py": "what a folder of files is told",
    "sourcing/notebook/merge.py": "likewise",
    "sourcing/notebook/notebook.py": "likewise",
    "sourcing/notebook/sheet.py": "likewise",
    "sourcing/notebook/shift.py": "likewise",
    "sourcing/notebook/still_there.py": "likewise",
    "sourcing/notebook/take_out.py": "what hangs on a row, told to programs",
    "sourcing/notebook/to_come.py": "what a folder of files is told",
    "sourcing/week/checking/": "what is wrong with an answer of ours, read in tests and the log",
    "sourcing/week/solving/": "names inside the solver",
    "sourcing/week/best/": "names inside the solver, and refusals of facts that no page asks",
    "sourcing/week/project.py": "refusals of facts that no page asks",
    "inventory/science/library.py": "faults of a shipped table, read by those who build",
    "inventory/science/table.py": "likewise",
    "inventory/science/units.py": "a mistake of ours",
    "inventory/audit.py": "what the audit found, printed by its command",
    "inventory/guards.py": "statements for the database",
    "inventory/prepared.py": "a mistake of ours",
    "inventory/statements.py": "statements for the database",
    "inventory/models/": "how a row is named in a log",
    "sourcing/models/": "likewise",
    "api/backup.py": "printed by its command",
    "api/contract/": "the contract with programs, which is in English",
    "api/demo.py": "printed by its command",
    "api/environment.py": "settings that do not parse, read where the service is started",
    "api/first_run.py": "printed before anything is installed",
    "api/https/": "names in a certificate, and the log",
    "api/management/": "printed by commands",
    "api/models/": "how a row is named in a log",
    "api/records/contract.py": "the contract with programs, which is in English",
    "api/records/history.py": "likewise",
    "api/reminders/": "what the outbox writes down of a letter, read by whoever runs the service",
    "api/serving.py": "printed by its command",
    "api/sqlite/": "statements for the database",
    "api/source_links/tell.py": "by whom an entry was made, written into its row",
    "api/static_names.py": "a mistake of ours",
    "api/suite.py": "printed by the tests",
    "api/tables.py": "printed where the service is started",
    "api/tongue/catalogue/": "faults of a catalogue, read by those who build",
    "api/web/sheets/": "a mistake of ours",
    "api/sheet.py": "columns of the printed week, whose words are said before",
    "api/throttles/limits.py": "settings that do not parse",
}
# Keys of steps, choices, letters and styles, which no reader sees.
KEYS = {
    ("sourcing/notebook/cells.py", "… g per m²"),
    ("sourcing/notebook/cells.py", "… g per L"),
    ("sourcing/notebook/check.py", "… min"),
    ("sourcing/notebook/check_recipes.py", "… min"),
    ("sourcing/notebook/prices.py", "from … …"),
    ("sourcing/notebook/problem.py", ", line …"),
    ("sourcing/notebook/problem.py", ", column …"),
    ("sourcing/notebook/quantities.py", "… L per kg"),
    ("sourcing/notebook/quantities.py", "… water : … vinegar"),
    ("sourcing/notebook/quantities.py", "… mL per 100 g"),
    ("sourcing/notebook/step_words.py", "… to … min"),
    ("sourcing/notebook/step_words.py", "… min per …"),
    ("sourcing/notebook/step_words.py", "… > … hold … min"),
    ("sourcing/notebook/step_words.py", "… min"),
    ("api/entries/contract.py", "Nobody has said how … looks in the contract."),
    ("sourcing/week/allowed.py", "… pot"),
    ("sourcing/week/run_sheet.py", "make …"),
    ("sourcing/week/unlocking/obstacles.py", "another …"),
    ("api/how_big_asked.py", "… run"),
    ("api/recovery.py", "new password/…/…"),
    ("api/rest/entries.py", "… Needs the right of … or more."),
    ("api/rest/notebook_files.py", "…; charset=utf-8; header=present"),
    ("api/rest/parsers.py", "line … column …"),
    ("api/rest/records.py", "The records of …, so many at a time"),
    ("api/rest/records.py", "One record of …, by its key"),
    ("api/rest/whole_studio.py", "… ….zip"),
    ("api/templating/by_language.py", "{{ …|aloud }}"),
    ("api/web/page.py", "<…>; rel=preload; as=style"),
    ("api/web/begin/room.py", "vessels …"),
    ("api/web/begin/room.py", "rings …"),
    ("api/web/phone/scripts.py", "const FIRST = …;\nconst EDITION = …;\n"),
    ("api/web/strip/tall.py", "bar bar-… run-…"),
    ("api/web/strip/wide.py", "bar bar-… run-…"),
}


def test_sentences_are_said() -> None:
    found = [place for file in _files() for place in put_together(file.read_text("utf-8"), file)]

    assert found == []


def test_a_sentence_in_an_f_string_is_found() -> None:
    code = 'a = f"Lot {lot} is gone."\nb = f"{key}_mg"\nc = say("{n} g", n=f"{n:.1f}")\n'

    assert list(put_together(code, ROOT / "api" / "x.py")) == ["api/x.py, line 1: Lot … is gone."]


def test_every_part_that_is_apart_is_there() -> None:
    assert [name for name in APART if not (ROOT / name).exists()] == []


def _files() -> Iterator[Path]:
    for floor in FLOORS:
        for file in sorted((ROOT / floor).rglob("*.py")):
            name = file.relative_to(ROOT).as_posix()
            if "migrations" not in file.parts and not name.startswith(tuple(APART)):
                yield file


def put_together(code: str, file: Path) -> Iterator[str]:
    """Places where words and values are put into one text that keeps neither."""
    inner: set[int] = set()
    for node in ast.walk(ast.parse(code)):
        if isinstance(node, ast.JoinedStr) and id(node) not in inner:
            inner |= {id(part) for part in ast.walk(node)}
            parts = node.values
            text = "".join(str(p.value) if isinstance(p, ast.Constant) else "…" for p in parts)
            name = file.relative_to(ROOT).as_posix()
            apart = TABLES.search(text) or (name, text) in KEYS
            if " " in text and WORDS.search(text) and not apart:
                yield f"{name}, line {node.lineno}: {text}"
