"""A hundred connections draw from one jar that holds half of what they ask for."""

from __future__ import annotations

from pathlib import Path

from tests.inventory.scratch import in_turn, python, scratch_database

CONNECTIONS = 100
DRAWS = 10_000
FITS = 5_000


def test_a_crowd_takes_exactly_what_the_jar_holds(tmp_path: Path, db: None) -> None:
    with in_turn(), scratch_database(tmp_path) as environment:
        said = python(
            environment,
            str(Path(__file__).with_name("crowd.py")),
            *map(str, (CONNECTIONS, DRAWS, FITS)),
            timeout_s=600,
        )

    assert said.splitlines()[-1] == (
        f"{FITS} accepted, {DRAWS - FITS} refused, 0 left, {FITS + 1} movements, 0 faults"
    )
