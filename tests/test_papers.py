"""The papers keep their word: what they tell a reader to type works, what they name is there."""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest
from django.core.management import get_commands, load_command_class
from django.urls import get_resolver

from api.entries.registry import VERBS
from tests.inventory.firsts import FILE, first_file

ROOT = Path(__file__).resolve().parent.parent
PAPERS = ("README.md", "DEVELOPERS.md")
OURS = sorted(name for name, app in get_commands().items() if app == "api")
# Words of office software that no dyer uses (JOB.md section 8), as far as they have no other sense.
OFFICE = """
    SKU, stock-keeping, item master, asset, entity, warehouse, pallet, BOM, MRP, work order,
    backlog, sprint, kanban, pipeline, workflow, lifecycle, dashboard, widget, KPI, analytics,
    engagement, funnel, CRM, tenant, workspace, to-do, upload, wizard, onboarding, user, admin,
    role, permission set, notification, badge, streak, optimise, resource, capacity plan,
    utilisation, throughput, FIFO, FEFO, allocate, allocation, GRN, requisition, vendor, customer,
    purchase, quarantine, expire, expired, out of stock, low stock, stash, colourway, eco-friendly,
    non-toxic, chemical-free, hack
"""
# The one command of the papers that no test types: it is the one that runs these tests.
THIS = "python3 manage.py test"


def _commands(paper: str) -> list[str]:
    text = (ROOT / paper).read_text(encoding="utf-8")
    blocks = re.findall(r"^```sh\n(.*?)^```", text, flags=re.MULTILINE | re.DOTALL)
    return [line for block in blocks for line in block.splitlines() if line.strip()]


def _type(command: str, folder: Path) -> subprocess.CompletedProcess[str]:
    """Type a command of the papers in `folder`, with this Python and a larder kept there."""
    words = shlex.split(command)
    assert words[:2] == ["python3", "manage.py"], f"no test knows how to type {command!r}"
    return subprocess.run(
        [sys.executable, str(ROOT / "manage.py"), *words[2:]],
        cwd=folder,
        env=_environ(folder),
        stdin=subprocess.DEVNULL,
        capture_output=True,
        text=True,
        check=False,
    )


def _environ(folder: Path) -> dict[str, str]:
    kept = {name: value for name, value in os.environ.items() if name != "DATABASE_URL"}
    # What the papers tell one to test is tested in this very round; here it is only found.
    found = {"PYTEST_ADDOPTS": "--collect-only"}
    return {**kept, **found, "DYE_LARDER_STATE": str(folder / "state")}


@pytest.fixture
def with_tables(tmp_path: Path) -> Path:
    """A folder whose larder has its tables, which take longer to make than all the rest."""
    (tmp_path / "state").mkdir()
    shutil.copy2(first_file(), tmp_path / "state" / FILE)
    return tmp_path


def _typed() -> list[str]:
    """Every command of the papers but this one and the one that serves until it is stopped."""
    named = {command for paper in PAPERS for command in _commands(paper)}
    return sorted(named - {THIS, "python3 manage.py demo"})


@pytest.mark.parametrize("command", _typed())
def test_a_command_of_the_papers_works_as_it_stands(command: str, with_tables: Path) -> None:
    done = _type(command, with_tables)

    assert done.returncode == 0, done.stdout + done.stderr
    assert done.stdout.strip()


def test_the_two_commands_of_the_readme_are_the_two_that_a_newcomer_needs() -> None:
    assert _commands("README.md") == ["python3 manage.py demo", THIS]


def test_the_demo_prints_the_sheet_that_the_readme_shows(tmp_path: Path) -> None:
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    shown = re.search(r"^```text\n(.*?)^```", readme, flags=re.MULTILINE | re.DOTALL)

    done = _type("python3 manage.py demo --no-serve --as-written", tmp_path)

    assert done.returncode == 0, done.stderr
    assert shown is not None
    assert done.stdout == shown.group(1)


def test_the_way_back_from_a_copy_is_the_one_that_the_developers_paper_tells(
    with_tables: Path,
) -> None:
    """ "Put the file in place of `larder.sqlite3` in the state folder"."""
    shown = _type("python3 manage.py demo --no-serve --as-written", with_tables).stdout
    _type("python3 manage.py backup larder-copy.sqlite3", with_tables)
    other = with_tables / "other"
    (other / "state").mkdir(parents=True)
    (with_tables / "larder-copy.sqlite3").rename(other / "state" / "larder.sqlite3")

    again = _type("python3 manage.py week --at 2026-11-23T07:30", other)

    assert again.stdout == shown
    assert shown


def test_the_demo_serves_the_week_at_the_address_that_it_says(with_tables: Path) -> None:
    command = [sys.executable, str(ROOT / "manage.py"), "demo"]
    with subprocess.Popen(
        command,
        env=_environ(with_tables),
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        # Tests in the background ignore Ctrl+C, and whoever they start inherits that.
        preexec_fn=lambda: signal.signal(signal.SIGINT, signal.SIG_DFL),
    ) as serving:
        assert serving.stdout is not None
        try:
            printed = ""
            # Read up to the address; at the end of a demo that failed there is none.
            while not (said := re.search(r"(http://\S+) \(Ctrl\+C ends it\)\n$", printed)):
                line = serving.stdout.readline()
                assert line, serving.stderr and serving.stderr.read()
                printed += line
            week = json.loads(_fetched(f"{said.group(1)}api/v1/week/"))
            page = _fetched(said.group(1))
            sheets = re.findall(r'<link rel="stylesheet" href="/([^"]+)"', page)
            styles = [_fetched(f"{said.group(1)}{sheet}") for sheet in sheets]
        finally:
            serving.send_signal(signal.SIGINT)
            serving.communicate(timeout=120)

    assert serving.returncode == 0
    assert week["studio"] in printed
    assert f"<strong>{week['studio']}</strong>" in page
    assert len(styles) == 1
    assert all(styles)


def _fetched(address: str) -> str:
    with urllib.request.urlopen(address, timeout=120) as answer:
        text: bytes = answer.read()
    return text.decode()


@pytest.mark.parametrize("name", OURS)
def test_every_command_says_what_it_is_for(name: str) -> None:
    assert load_command_class("api", name).help.endswith(".")


@pytest.mark.parametrize("paper", PAPERS)
def test_what_a_paper_links_to_is_there(paper: str) -> None:
    links = re.findall(r"\]\(([^)#:]+)\)", (ROOT / paper).read_text(encoding="utf-8"))

    assert [link for link in links if not (ROOT / link).exists()] == []


@pytest.mark.parametrize("paper", PAPERS)
def test_each_file_that_a_paper_names_is_there(paper: str) -> None:
    text = (ROOT / paper).read_text(encoding="utf-8")
    named = re.findall(r"(?<![\w/])(?:inventory|sourcing|api|tests|fixtures)/[\w./-]*[\w/]", text)

    assert sorted({name for name in named if not (ROOT / name).exists()}) == []


def test_the_developers_paper_names_every_setting_of_the_environment() -> None:
    read = {
        name
        for path in (ROOT / "api").rglob("*.py")
        for name in re.findall(
            r'"(DYE_LARDER_\w+|DATABASE_URL|REDIS_URL)"', path.read_text(encoding="utf-8")
        )
    }
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")

    assert sorted(name for name in read if f"`{name}`" not in text) == []


def test_the_developers_paper_describes_every_address() -> None:
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    addresses = {_described(f"/{address.pattern}") for address in get_resolver().url_patterns}

    assert addresses
    assert sorted(address for address in addresses if f"| `{address}` |" not in text) == []


def _described(address: str) -> str:
    """The row under which an address stands: all verbs stand in one."""
    verb = address.removeprefix("/api/v1/entries/").removesuffix("/")
    return "/api/v1/entries/<verb>/" if verb in VERBS else address


@pytest.mark.parametrize("paper", ["README.md", "fixtures/README.md"])
def test_a_paper_for_dyers_uses_no_word_of_an_office(paper: str) -> None:
    assert _office_words((ROOT / paper).read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("name", [name for name in OURS if name != "test"])
def test_a_command_uses_no_word_of_an_office(name: str) -> None:
    told = load_command_class("api", name).create_parser("manage.py", name).format_help()

    assert name in told
    assert _office_words(told) == []


def _office_words(text: str) -> list[str]:
    words = [word.strip() for word in OFFICE.replace("\n", " ").split(",")]
    return [
        word
        for word in (re.sub(r"\s+", " ", word) for word in words)
        if re.search(rf"\b{re.escape(word)}s?\b", text, flags=re.IGNORECASE)
    ]
