"""Looks for what is due ended by SIGKILL, and by several at once: each letter is filed once."""

from __future__ import annotations

import random
import time
from pathlib import Path

import pytest

from tests.faults.killing import kill
from tests.faults.places import LONG, Larder, larder, printed
from tests.faults.workers import LETTERS

KILLS = 50 if LONG else 4
SEED = 23
FILED = "SELECT count(*), count(DISTINCT key) FROM api_outboxletter"
# One letter is due each minute; the mark is the last look, a microsecond after its minute.
MINUTES = {
    True: "SELECT round(extract(epoch FROM until - since) / 60) FROM api_sweep",
    False: "SELECT round((julianday(until) - julianday(since)) * 24 * 60) FROM api_sweep",
}
pytestmark = pytest.mark.usefixtures("db")


def test_a_look_that_is_killed_has_filed_and_marked_both_or_neither(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    inside, spread = 0, random.Random(SEED)
    with larder(tmp_path / "yard", loaded=False) as place:
        for _ in range(KILLS):
            process = place.begun(str(LETTERS), "look", "100000")
            assert process.stdout is not None
            process.stdout.readline()
            time.sleep(spread.uniform(0, 0.05))
            inside += kill(process, place)[0]
            _filed_just_so(place)
        printed(place.hand_of(LETTERS, "look", "2"))
        many = _filed_just_so(place)

    with capsys.disabled():
        print(f"\nlooks, {KILLS} kills, {inside} of them while writing: {many} letters, each once")


def _filed_just_so(place: Larder) -> int:
    """Exactly one letter for each minute that was looked over."""
    many, keys = place.rows(FILED)[0]
    minutes = int(place.value(MINUTES[bool(place.url)])) if many else 0
    assert many == keys == minutes
    return int(many)


def test_letters_filed_by_several_at_once_are_filed_once(tmp_path: Path) -> None:
    with larder(tmp_path / "yard", loaded=False) as empty:
        place = empty.waiting(60)
        printed(place.hand_of(LETTERS, "file", "0", "nobody"))
        hands = [place.begun(str(LETTERS), "file", "300", "ask") for _ in range(4)]
        said = [hand.communicate(timeout=120) for hand in hands]

        assert [told for _, told in said] == [""] * 4
        assert len({names for names, _ in said}) == 1
        assert place.rows(FILED) == [(300, 300)]
