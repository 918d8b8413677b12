"""The page for programs: sound, open, and what it tells to type works as it stands."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from django.test import Client

from tests.api.serving import serving
from tests.api.web.pages import read, sound, words
from tests.inventory.scratch import ROOT, scratch_database

YARD = ROOT / "fixtures" / "pellitory-yard"


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[dict[str, str]]:
    """The environment of whoever has made a token at a service that runs."""
    folder = tmp_path_factory.mktemp("served")
    with scratch_database(folder, holding=YARD) as environment, serving(environment) as found:
        yield {"LARDER": found["address"], "TOKEN": found["token"], "PATH": os.environ["PATH"]}


def snippet(name: str) -> str:
    """A snippet as the page shows it."""
    found = read(Client().get("/api/")).query(f"#{name}")
    assert len(found) == 1, name
    return found[0].to_text(separator="", strip=False)


def typed(name: str, served: dict[str, str]) -> str:
    """What a snippet for the shell prints."""
    done = subprocess.run(
        ["bash", "-euc", snippet(name)], env=served, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stdout + done.stderr
    return done.stdout


@pytest.mark.django_db
def test_the_page_for_programs_is_sound_and_open_to_everyone() -> None:
    page = Client().get("/api/")

    assert page.status_code == 200
    assert sound(page) == []
    assert "http://testserver" in words(page)


def test_the_week_is_asked_from_the_shell(served: dict[str, str]) -> None:
    week = json.loads(typed("week", served))

    assert week["studio"] == "Pellitory Yard"
    assert {run["answer"] for run in week["runs"]} <= {"yes", "not yet", "no"}


def test_a_pick_up_is_logged_from_the_shell(served: dict[str, str]) -> None:
    entry = json.loads(typed("pick_up", served))

    assert (entry["verb"], entry["state"]) == ("pick-up", "recorded")
    assert entry["understood"][0]["words"] == "2 lb 3 oz"


def test_a_pick_up_is_logged_from_a_kitchen_scale(served: dict[str, str], tmp_path: Path) -> None:
    script = tmp_path / "scale.py"
    script.write_text(snippet("scale"), encoding="utf-8")

    def weighed() -> subprocess.CompletedProcess[str]:
        words = [sys.executable, str(script), "AV-1125", "1460"]
        return subprocess.run(words, env=served, capture_output=True, text=True, check=False)

    first, again = weighed(), weighed()

    assert (first.returncode, first.stdout) == (0, "recorded 1460 g\n"), first.stderr
    assert again.returncode == 1
    assert "AV-1125" in again.stderr


def test_a_day_without_a_net_is_sent_in_one_go_and_what_does_not_fit_is_kept(
    served: dict[str, str],
) -> None:
    sent = json.loads(typed("offline", served))
    kept = json.loads(typed("look", served))

    states = [row["entry"]["state"] for row in sent["answers"]]
    assert states == ["recorded", "needs a look"]
    assert [row["verb"] for row in kept["entries"]] == ["draw"]
