"""`load` ended by SIGKILL at moments spread over its whole run: all of the notebook, or none.

Four kills in every build; fifty with DYE_LARDER_LONG=1.
"""

from __future__ import annotations

import time
from collections import Counter
from pathlib import Path

import pytest

from tests.faults.killing import (
    Lengths,
    copied,
    kill,
    measured,
    wait_for_the_end_of_writing,
    wait_for_writing,
)
from tests.faults.places import LONG, YARD, Larder, larder

KILLS, WHOLE = (50, 3) if LONG else (4, 1)
BEFORE, AFTER = KILLS // 5, KILLS // 5  # the rest falls into the transaction
LOAD = ("manage.py", "load", str(YARD))


@pytest.mark.usefixtures("db")
def test_a_load_that_is_killed_leaves_all_of_a_notebook_or_none(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    seen: Counter[str] = Counter()
    with larder(tmp_path / "empty", loaded=False) as empty:
        before = empty.counts()
        lengths, whole = _left_alone(empty, tmp_path)
        for number in range(KILLS):
            with copied(empty, tmp_path / f"killed-{number}") as place:
                inside = _killed(place, number, lengths)
                left = place.counts()
                assert left in (before, whole)
                seen[_moment(inside, kept=left == whole)] += 1
                _goes_on(place, kept=left == whole)

    with capsys.disabled():
        print(f"\nload, {KILLS} kills: {dict(sorted(seen.items()))}, {lengths}")
    assert seen["before its transaction"] >= BEFORE // 2
    assert seen["in its transaction, nothing kept"] >= (KILLS - BEFORE - AFTER) // 3
    assert seen["after its commit"] >= AFTER // 2


def _left_alone(empty: Larder, folder: Path) -> tuple[Lengths, dict[str, int]]:
    """How long the quickest of some whole loads took, and the rows that it made."""
    found = []
    for number in range(WHOLE):
        with copied(empty, folder / f"whole-{number}") as place:
            found.append(measured(place.begun(*LOAD), place))
            whole = place.counts()
    return min(found, key=lambda lengths: lengths.writing_s), whole


def _killed(place: Larder, number: int, lengths: Lengths) -> bool:
    """A load killed at the moment with that number; whether it was in its transaction."""
    process = place.begun(*LOAD)
    if number < BEFORE:
        time.sleep(lengths.before_s * number / BEFORE)
        return kill(process, place)[0]
    wait_for_writing(process, place)
    if number < KILLS - AFTER:
        # A little past the measured end, as no two runs are equally fast.
        share = 1.2 * (number - BEFORE) / (KILLS - BEFORE - AFTER)
        time.sleep(lengths.writing_s * share)
        return kill(process, place)[0]
    wait_for_the_end_of_writing(process, place)
    time.sleep(lengths.after_s * (number - KILLS + AFTER) / AFTER)
    return kill(process, place)[0]


def _moment(inside: bool, *, kept: bool) -> str:
    if inside:
        return "at its commit, all kept" if kept else "in its transaction, nothing kept"
    return "after its commit" if kept else "before its transaction"


def _goes_on(place: Larder, *, kept: bool) -> None:
    """Nothing is broken, and loading again brings what is missing."""
    assert place.is_sound()
    again = place.called("load", str(YARD))
    said = "Pellitory Yard: nothing new.\n" if kept else "Pellitory Yard: new: 1 of studio, "
    assert again.returncode == 0
    assert again.stdout.startswith(said)
