"""What the suite runs, what it says at its end, and that nothing slips by under CI=true."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from api import suite

ROOT = Path(__file__).resolve().parents[2]


def _step(name: str, says: str, code: int = 0) -> suite.Step:
    return suite.Step(name, [sys.executable, "-c", f"print({says!r}); raise SystemExit({code})"])


def _end(
    monkeypatch: pytest.MonkeyPatch, *steps: suite.Step, missing: list[str]
) -> tuple[int, str]:
    monkeypatch.setattr(suite, "steps", lambda state, postgres: list(steps))
    monkeypatch.setattr(suite, "missing_servers", lambda environ: missing)
    said: list[str] = []
    return suite.run_all(said.append), "\n".join(said)


def test_the_end_says_how_each_part_ended(monkeypatch: pytest.MonkeyPatch) -> None:
    code, said = _end(
        monkeypatch, _step("lint", "a fault", 1), _step("SQLite", "9 passed in 1.0s"), missing=[]
    )

    assert code == 1
    lines = said.splitlines()[-3:]
    assert lines[0].startswith("FAILED lint ")
    assert lines[0].endswith("a fault")
    assert lines[1].startswith("ok     SQLite ")
    assert lines[1].endswith("9 passed in 1.0s")
    assert lines[2] == "Nothing was left out."


def test_a_missing_server_is_named_and_only_a_failure_under_ci(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    missing = ["PostgreSQL", "Redis"]
    monkeypatch.delenv("CI", raising=False)
    assert _end(monkeypatch, _step("lint", "fine"), missing=missing)[0] == 0
    assert _end(monkeypatch, _step("lint", "fine"), missing=missing)[1].endswith(
        "Left out, as it is not there: what needs PostgreSQL and Redis."
    )

    monkeypatch.setenv("CI", "true")
    code, said = _end(monkeypatch, _step("lint", "fine"), missing=missing)
    assert code == 1
    assert said.endswith("FAILED PostgreSQL and Redis must be there under CI=true.")


def test_both_databases_are_run_and_postgres_only_where_it_answers(tmp_path: Path) -> None:
    names = [step.name for step in suite.steps(tmp_path, postgres=True)]

    assert names == ["format", "lint", "types", "collect", "migrations", "SQLite", "PostgreSQL"]
    assert [step.name for step in suite.steps(tmp_path, postgres=False)] == names[:-1]


def test_what_reads_every_file_runs_side_by_side_and_so_do_the_two_rounds(tmp_path: Path) -> None:
    turns = list(suite.turns(suite.steps(tmp_path, postgres=True)))

    assert [[step.name for step in turn] for turn in turns] == [
        ["format"], ["lint"], ["types", "collect"], ["migrations"], ["SQLite", "PostgreSQL"]
    ]  # fmt: skip


def test_rounds_beside_each_other_run_at_once_and_say_which_speaks(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """Each waits for a word of the other, so one after the other they would never end."""
    meet = (
        "import pathlib, sys, time\n"
        "mine, other = (pathlib.Path(word) for word in sys.argv[1:3])\n"
        "mine.touch()\n"
        "until = time.monotonic() + 120\n"
        "while not other.exists() and time.monotonic() < until: time.sleep(0.01)\n"
        "print('met' if other.exists() else 'alone'); sys.exit(int(sys.argv[3]))\n"
    )
    one, other = str(tmp_path / "one"), str(tmp_path / "other")
    rounds = [
        suite.Step("first", [sys.executable, "-c", meet, one, other, "0"], turn="rounds"),
        suite.Step("second", [sys.executable, "-c", meet, other, one, "1"], turn="rounds"),
    ]

    code, said = _end(monkeypatch, *rounds, missing=[])

    assert code == 1
    assert {"first      met", "second     met"} <= set(said.splitlines())
    assert [line.split()[:2] for line in said.splitlines()[-3:-1]] == [
        ["ok", "first"], ["FAILED", "second"]
    ]  # fmt: skip


def test_whoever_ends_the_suite_ends_the_rounds_that_run(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    sleep = [sys.executable, "-c", "import time; print('here', flush=True); time.sleep(600)"]
    rounds = [suite.Step(name, sleep, turn="rounds") for name in ("first", "second")]
    started: list[subprocess.Popen[str]] = []
    begin = suite._started
    monkeypatch.setattr(suite, "steps", lambda state, postgres: rounds)
    monkeypatch.setattr(suite, "missing_servers", lambda environ: [])
    monkeypatch.setattr(
        suite, "_started", lambda *words: started.append(begin(*words)) or started[-1]
    )

    here: list[str] = []

    def say(line: str) -> None:
        if line.endswith("here"):
            here.append(line)
        if len(here) == 2:  # both run
            os.kill(os.getpid(), signal.SIGTERM)

    before = signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))  # as the command has it
    since = time.monotonic()
    try:
        with pytest.raises(SystemExit):
            suite.run_all(say)
    finally:
        signal.signal(signal.SIGTERM, before)

    assert time.monotonic() - since < 300
    assert [process.returncode for process in started] == [-signal.SIGTERM, -signal.SIGTERM]


def test_a_server_that_is_not_there_does_not_answer() -> None:
    nowhere = {
        "DYE_LARDER_TEST_POSTGRES": "postgresql://postgres@127.0.0.1:9/postgres",
        "DYE_LARDER_TEST_REDIS": "redis://127.0.0.1:9/0",
        "DYE_LARDER_TEST_CHROMIUM": "/nowhere/chromium",
    }

    assert suite.missing_servers(nowhere) == ["PostgreSQL", "Redis", "Chromium"]


def test_what_a_shell_has_set_for_its_own_studio_does_not_reach_a_test(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("REDIS_URL", "redis://elsewhere.example/0")
    asked = "import os; print(os.environ.get('REDIS_URL'), len(os.environ['DYE_LARDER_STATE']) > 0)"

    said = _end(monkeypatch, suite.Step("x", [sys.executable, "-c", asked]), missing=[])[1]

    assert "None True" in said


def test_a_process_of_the_suite_keeps_the_code_that_it_has_read_for_the_next(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setenv("PYTHONDONTWRITEBYTECODE", "1")
    asked = "import sys; print('keeps' if not sys.dont_write_bytecode else 'forgets')"

    said = _end(monkeypatch, suite.Step("x", [sys.executable, "-c", asked]), missing=[])[1]

    assert "keeps" in said


TOLD = re.compile(r"test_skips_(\d)\.py\S* was skipped, and nothing is skipped under CI=true\.")
SKIPPING = (
    "def test_one():\n    pytest.skip('no mood')\n",
    "@pytest.mark.skip(reason='no mood')\ndef test_one():\n    pass\n",
    "pytest.importorskip('no_such_package')\n",
)


@pytest.mark.parametrize(("ci", "failed"), [("true", {"0", "1", "2"}), ("", set())])
def test_a_skip_is_a_failure_under_ci_and_only_there(
    tmp_path: Path, ci: str, failed: set[str]
) -> None:
    for number, skipping in enumerate(SKIPPING):
        text = f"import pytest\n\n\n{skipping}"
        (tmp_path / f"test_skips_{number}.py").write_text(text, encoding="utf-8")
    (tmp_path / "test_passes.py").write_text("def test_it():\n    pass\n", encoding="utf-8")
    command = [sys.executable, "-m", "pytest", "-p", "tests.conftest", "-c", "pyproject.toml"]

    done = subprocess.run(
        [*command, "--continue-on-collection-errors", str(tmp_path)],
        cwd=ROOT,
        env={**os.environ, "CI": ci},
        capture_output=True,
        text=True,
        check=False,
    )

    assert (done.returncode != 0) is bool(failed), done.stdout
    assert set(TOLD.findall(done.stdout)) == failed
    assert "1 passed" in done.stdout
