"""Many hands claim from and draw from one jar that holds half of what they ask for."""

from __future__ import annotations

from pathlib import Path

from tests.inventory.scratch import in_turn, python, scratch_database

HANDS, TIMES, FITS = 10, 20, 100


def test_nothing_is_promised_or_drawn_twice_by_many_at_once(tmp_path: Path, db: None) -> None:
    with in_turn(), scratch_database(tmp_path) as environment:
        said = python(
            environment,
            str(Path(__file__).with_name("promises.py")),
            *map(str, (HANDS, TIMES, FITS)),
            timeout_s=120,
        )

    assert said.splitlines()[-1] == f"{FITS} taken, {HANDS * TIMES - FITS} refused, 0 spare"
