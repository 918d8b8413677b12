"""A PostgreSQL that goes away in the middle: a sentence, nothing half, and once is once."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import psycopg
import pytest

from tests.faults.hands import LOTS
from tests.faults.killing import wait_for_writing
from tests.faults.places import (
    HANDS,
    LONG,
    OUT_OF_REACH,
    TRY_AGAIN,
    YARD,
    Larder,
    larder,
    printed,
    untraced,
)

pytestmark = [pytest.mark.needs_postgres, pytest.mark.usefixtures("db")]
TIMES = 50 if LONG else 6
OTHERS = """
SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity
WHERE datname = current_database() AND pid <> pg_backend_pid()
"""
ROWS = """
SELECT count(*), count(DISTINCT posting_id) FROM inventory_movement
WHERE posting_id IN (SELECT id FROM inventory_posting WHERE kind = 'draw')
"""


@pytest.fixture(scope="module")
def yard(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Larder]:
    with larder(tmp_path_factory.mktemp("gone"), loaded=True) as made:
        printed(made.hand("promise"))
        yield made


def end_connections(place: Larder) -> int:
    """End every connection of others, as a server does that is stopped."""
    with psycopg.connect(place.url, autocommit=True) as other:
        row = other.execute(OTHERS).fetchone()  # type: ignore[arg-type]
    assert row is not None
    return int(row[0])


def test_a_load_whose_server_goes_away_keeps_nothing(tmp_path: Path) -> None:
    with larder(tmp_path / "empty", loaded=False) as place:
        before = place.counts()
        process = place.begun("manage.py", "load", str(YARD))
        wait_for_writing(process, place)

        ended = end_connections(place)

        _, told = process.communicate(timeout=180)
        assert ended == 1
        assert (process.returncode, told) == (TRY_AGAIN, f"CommandError: {OUT_OF_REACH}\n")
        assert place.counts() == before
        assert place.called("load", str(YARD)).stdout.startswith("Pellitory Yard: new: 1 of")


def test_draws_go_on_by_the_same_entries_when_the_server_comes_back(yard: Larder) -> None:
    """One hand lives through it all: what was refused is asked again as the same entry."""
    process = yard.begun(str(HANDS), "draws", str(TIMES * 12), "till recorded")
    ended = 0
    while process.poll() is None and ended < TIMES:
        wait_for_writing(process, yard)
        ended += end_connections(yard)

    said, told = process.communicate(timeout=120)

    lines = [line.split(" ", 3) for line in said.splitlines()]
    kept = [line[1] for line in lines if line[0] in ("recorded", "again")]
    refused = [line for line in lines if line[0] == "refused"]
    assert told == ""
    assert len(refused) >= TIMES // 3
    assert {line[3] for line in refused} == {OUT_OF_REACH}
    assert len(kept) == len(set(kept)) == TIMES * 12
    assert yard.rows(ROWS) == [(len(kept) * len(LOTS), len(kept))]
    assert yard.is_sound()


def test_an_address_answers_503_when_the_server_ends_its_connection(yard: Larder) -> None:
    process = yard.begun(str(HANDS), "ask", "/api/v1/week/", "after a word", stdin=-1)
    assert process.stdout is not None
    assert process.stdout.readline() == "connected\n"

    assert end_connections(yard) == 1

    said, _ = process.communicate("go on\n", timeout=180)
    first, second = said.splitlines()
    assert first.startswith("503 5 {")
    assert '"code":"out_of_reach"' in first
    assert OUT_OF_REACH in first
    assert second.startswith("200 - {")


def test_a_server_that_is_not_there_is_said(tmp_path: Path, yard: Larder) -> None:
    nowhere = Larder({**yard.environment, "DATABASE_URL": "postgresql://nobody@127.0.0.1:1/none"})

    for words in (("week",), ("load", str(YARD)), ("audit",), ("write", str(tmp_path / "out"))):
        done = nowhere.called(*words)
        assert done.returncode == TRY_AGAIN
        assert untraced(done).startswith("CommandError: The database does not answer: ")
    page = printed(nowhere.hand("ask", "/"))
    assert page.startswith("503 5 ")
    assert OUT_OF_REACH in page
