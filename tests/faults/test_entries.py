"""Entries by the API: the same from many hands counts once; what was answered survives SIGKILL.

Four kills in every build; fifty with DYE_LARDER_LONG=1.
"""

from __future__ import annotations

import json
import random
import time
from collections import Counter
from pathlib import Path
from typing import Any
from uuid import UUID

import pytest

from tests.faults.killing import kill
from tests.faults.places import LONG, Larder, larder

HANDS = Path(__file__).parent / "entry_hands.py"
MANY, THREADS, PROCESSES = 10, 3, 2
KILLS = 50 if LONG else 4
SEED = 29
DRAWN = "SELECT count(*) FROM inventory_posting WHERE kind = 'draw'"
KEPT = """
SELECT (SELECT count(*) FROM inventory_posting WHERE entry = '{entry}'),
       (SELECT count(*) FROM api_entry WHERE entry = '{entry}')
"""


@pytest.mark.usefixtures("db")
def test_the_same_entries_from_many_hands_at_once_count_once(tmp_path: Path) -> None:
    with larder(tmp_path / "yard", loaded=True) as place:
        hands = [place.begun(str(HANDS), "same", str(MANY), str(THREADS)) for _ in range(PROCESSES)]
        said = [line for hand in hands for line in _answers(hand.communicate(timeout=120)[0])]

        seen = Counter(status for status, _, _ in said)
        firsts = {entry: answer for status, entry, answer in said if status == 201}
        assert seen[201] == len(firsts) == MANY
        assert set(seen) <= {200, 201, 409, 503}
        assert seen[200] == MANY * (THREADS * PROCESSES - 1)
        assert all(firsts[entry] == answer for status, entry, answer in said if status == 200)
        assert place.value(DRAWN) == MANY
        assert place.is_sound()


@pytest.mark.usefixtures("db")
def test_an_entry_that_was_answered_is_answered_the_same_after_a_kill(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    spread, kept_whole = random.Random(SEED), 0
    with larder(tmp_path / "yard", loaded=True) as place:
        for _ in range(KILLS):
            asked, answered = _killed(place, spread)
            assert len(asked - set(answered)) <= 1
            for entry in asked:
                rows = _kept(place, entry)
                assert rows in ((0, 0), (1, 1)), "an entry and what it did stand together"
                assert entry not in answered or rows == (1, 1)
                kept_whole += rows == (1, 1)
        assert place.value(DRAWN) == kept_whole
        assert place.is_sound()

    with capsys.disabled():
        print(f"\nentries, {KILLS} kills: {kept_whole} kept, each with its answer")


def _killed(place: Larder, spread: random.Random) -> tuple[set[str], dict[str, Any]]:
    """What was asked, and what was answered, till the process was killed."""
    process = place.begun(str(HANDS), "draws", "100000")
    assert process.stdout is not None
    lines = [process.stdout.readline(), process.stdout.readline()]
    time.sleep(spread.uniform(0, 0.08))
    _, rest = kill(process, place)
    lines += rest.splitlines(keepends=True)
    asked = {line.split()[1] for line in lines if line.startswith("asked")}
    whole = [line for line in lines if line.endswith("\n")]
    answered = {entry: answer for status, entry, answer in _answers("".join(whole))}
    return asked, answered


def _answers(text: str) -> list[tuple[int, str, Any]]:
    found = []
    for line in text.splitlines():
        status, entry, *answer = line.split(" ", 2)
        if status != "asked":
            found.append((int(status), entry, json.loads(answer[0])))
    return found


def _kept(place: Larder, entry: str) -> tuple[int, int]:
    """Postings and answers of an entry."""
    key = entry if place.url else UUID(entry).hex
    postings, answers = place.rows(KEPT.format(entry=key))[0]
    return int(postings), int(answers)
