"""Draws ended by SIGKILL: what was acknowledged is there, the rest whole or not at all, once.

Six kills in every build; fifty with DYE_LARDER_LONG=1.
"""

from __future__ import annotations

import random
import time
from collections import Counter
from pathlib import Path
from uuid import UUID

import pytest

from tests.faults.hands import LOTS, PROMISED_MG
from tests.faults.killing import kill
from tests.faults.places import HANDS, LONG, Larder, larder, printed

KILLS = 50 if LONG else 6
SEED = 23
PROMISED = "SELECT sum(amount) FROM sourcing_claim"
MOVEMENTS = """
SELECT count(DISTINCT p.id), count(m.id) FROM inventory_posting p
LEFT JOIN inventory_movement m ON m.posting_id = p.id WHERE p.entry = '{entry}'
"""


@pytest.mark.usefixtures("db")
def test_a_draw_that_is_killed_is_there_whole_or_not_at_all(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    seen: Counter[str] = Counter()
    drawn, spread = 0, random.Random(SEED)
    with larder(tmp_path / "yard", loaded=True) as place:
        printed(place.hand("promise"))
        for _ in range(KILLS):
            asked, acknowledged, inside = _killed(place, spread)
            open_ones = asked - acknowledged
            assert len(open_ones) <= 1
            assert all(_rows(place, entry) == (1, len(LOTS)) for entry in acknowledged)
            drawn += len(acknowledged) + len(open_ones)
            seen[_stage(place, open_ones, inside=inside)] += 1
            for entry in open_ones:
                _sent_again(place, entry)
            assert place.value(PROMISED) == PROMISED_MG - drawn
            assert place.is_sound()

    with capsys.disabled():
        print(f"\ndraw, {KILLS} kills, {drawn} draws: {dict(sorted(seen.items()))}")
    assert sum(number for stage, number in seen.items() if stage != "between two") >= KILLS // 2


def _killed(place: Larder, spread: random.Random) -> tuple[set[str], set[str], bool]:
    """Entries asked and acknowledged by a hand till it was killed, and whether it was writing."""
    process = place.begun(str(HANDS), "draws", "100000")
    assert process.stdout is not None
    began = time.monotonic()
    lines = [process.stdout.readline(), process.stdout.readline()]
    one_s = min(time.monotonic() - began, 0.05)
    time.sleep(spread.uniform(0, 3 * one_s))
    inside, rest = kill(process, place)
    words = [line.split() for line in [*lines, *rest.splitlines()]]
    assert {word for word, _ in words} <= {"asked", "recorded"}
    asked = {entry for word, entry in words if word == "asked"}
    return asked, {entry for word, entry in words if word == "recorded"}, inside


def _rows(place: Larder, entry: str) -> tuple[int, int]:
    """Postings and movements of an entry."""
    key = entry if place.url else UUID(entry).hex
    postings, movements = place.rows(MOVEMENTS.format(entry=key))[0]
    return int(postings), int(movements)


def _stage(place: Larder, open_ones: set[str], *, inside: bool) -> str:
    """How far the last draw had come."""
    for entry in open_ones:
        rows = _rows(place, entry)
        assert rows in ((0, 0), (1, len(LOTS)))
        if rows == (0, 0):
            return "in its transaction, nothing kept" if inside else "asked, not begun"
        return "at its commit, all kept" if inside else "kept, not acknowledged"
    return "between two"


def _sent_again(place: Larder, entry: str) -> None:
    """The same entry once more is one entry."""
    kept = _rows(place, entry) == (1, len(LOTS))

    last = printed(place.hand("draw", entry)).splitlines()[-1]

    assert last == f"{'again' if kept else 'recorded'} {entry}"
    assert _rows(place, entry) == (1, len(LOTS))
