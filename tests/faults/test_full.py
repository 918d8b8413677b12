"""A disk without room: a sentence, nothing half written, and all goes on once there is room again.

SQLite: the process may not make a file longer than a limit (RLIMIT_FSIZE), which needs no rights
and stops the same writes that a full disk stops. A write that the system cuts short for want of
room is told by SQLite as full, one over the limit as an input/output fault; both mean that it
cannot be written. PostgreSQL: the server itself raises disk_full from inside the statement.
"""

from __future__ import annotations

import os
import re
import resource
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest

from tests.faults.hands import LOTS
from tests.faults.places import (
    LOFT,
    LONG,
    NO_ROOM,
    TRY_AGAIN,
    Larder,
    larder,
    printed,
    untraced,
)
from tests.inventory.firsts import FILE, first_file

POSTINGS = "SELECT count(*) FROM inventory_posting WHERE kind = 'draw'"
FULL = """
CREATE FUNCTION full_disk() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF (SELECT count(*) FROM inventory_movement) >= {most} THEN
        RAISE EXCEPTION USING ERRCODE = '53100', MESSAGE = 'could not extend file';
    END IF;
    RETURN NULL;
END $$;
CREATE TRIGGER full_disk AFTER INSERT ON inventory_movement EXECUTE FUNCTION full_disk()
"""
# What Python keeps of the code it has read would be cut short too, and read by the next process.
NO_CODE_KEPT = {"PYTHONDONTWRITEBYTECODE": "1"}
ROOM_AGAIN = "DROP TRIGGER full_disk ON inventory_movement; DROP FUNCTION full_disk()"


@pytest.fixture
def place(tmp_path: Path, db: None) -> Iterator[Larder]:
    with larder(tmp_path / "yard", loaded=True) as made:
        printed(made.hand("promise"))
        yield Larder({**made.environment, **NO_CODE_KEPT})


def no_longer_than(length: int) -> Callable[[], None]:
    """What a process does first that may not make any file longer."""
    return lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (length, length))


@pytest.mark.needs_sqlite
@pytest.mark.parametrize("room", [0, 20_000, 60_000, 200_000] if LONG else [0, 60_000])
def test_a_load_without_room_on_the_disk_keeps_nothing(place: Larder, room: int) -> None:
    before = place.counts()

    done = place.called("load", str(LOFT), preexec_fn=no_longer_than(room))

    assert (done.returncode, untraced(done)) == (TRY_AGAIN, f"CommandError: {NO_ROOM}")
    assert place.counts() == before
    assert place.is_sound()
    assert place.called("load", str(LOFT)).stdout.startswith("Kelpwick Loft: new: 1 of studio")


@pytest.mark.needs_sqlite
def test_draws_go_on_till_there_is_no_room_and_then_again(place: Larder) -> None:
    full = place.hand("draws", "200", preexec_fn=no_longer_than(400_000))

    lines = [line.split(" ", 3) for line in printed(full).splitlines()]
    recorded = [line[1] for line in lines if line[0] == "recorded"]
    refused = [line for line in lines if line[0] == "refused"]
    assert len(recorded) > 3
    assert refused
    assert {(line[2], line[3]) for line in refused} == {("no_room", NO_ROOM)}
    assert place.value(POSTINGS) == len(recorded)
    assert place.is_sound()
    _room_again(place, [line[1] for line in lines if line[0] == "asked"], set(recorded))


@pytest.mark.needs_postgres
def test_a_server_without_room_keeps_nothing_of_a_load(place: Larder) -> None:
    before = place.counts()
    _run(place, FULL.format(most=place.value("SELECT count(*) FROM inventory_movement") + 3))

    done = place.called("load", str(LOFT))

    assert (done.returncode, untraced(done)) == (TRY_AGAIN, f"CommandError: {NO_ROOM}")
    assert place.counts() == before
    _run(place, ROOM_AGAIN)
    assert place.is_sound()
    assert place.called("load", str(LOFT)).stdout.startswith("Kelpwick Loft: new: 1 of studio")


@pytest.mark.needs_postgres
def test_a_server_without_room_keeps_nothing_of_a_draw(place: Larder) -> None:
    there = place.value("SELECT count(*) FROM inventory_movement")
    _run(place, FULL.format(most=there + 2 * len(LOTS)))

    full = place.hand("draws", "4")

    lines = [line.split(" ", 3) for line in printed(full).splitlines()]
    recorded = [line[1] for line in lines if line[0] == "recorded"]
    assert len(recorded) == 1  # the second would reach the limit with its last row
    assert {line[3] for line in lines if line[0] == "refused"} == {NO_ROOM}
    _run(place, ROOM_AGAIN)
    assert place.is_sound()
    _room_again(place, [line[1] for line in lines if line[0] == "asked"], set(recorded))


def _room_again(place: Larder, asked: list[str], recorded: set[str]) -> None:
    """The last entry that there was no room for is entered again, as is one that was recorded."""
    there = place.value(POSTINGS)

    for entry, word in ((asked[-1], "recorded"), (min(recorded), "again")):
        said = printed(place.hand("draw", entry)).splitlines()
        assert said == [f"asked {entry}", f"{word} {entry}"]

    assert place.value(POSTINGS) == there + 1


def _run(place: Larder, sql: str) -> None:
    import psycopg

    with psycopg.connect(place.url, autocommit=True) as other:
        other.execute(sql)  # type: ignore[arg-type]


@pytest.mark.needs_sqlite
def test_a_first_call_without_room_says_so_and_leaves_no_half_key(tmp_path: Path) -> None:
    new = {"DATABASE_URL": "", "DYE_LARDER_STATE": str(tmp_path / "new")}
    state = {**os.environ, **new, **NO_CODE_KEPT}

    done = Larder(state).called("week", preexec_fn=no_longer_than(0))

    assert (done.returncode, untraced(done)) == (
        1,
        f"The signing key cannot be kept in {tmp_path / 'new'} (File too large); make room there, "
        "or name another folder in DYE_LARDER_STATE.",
    )
    assert list((tmp_path / "new").iterdir()) == []
    shutil.copy2(first_file(), tmp_path / "new" / FILE)
    assert Larder(state).called("week").stderr.startswith("CommandError: No studio is written")


@pytest.mark.needs_postgres  # SQLite could not even be read with so little room
def test_a_notebook_that_has_no_room_is_not_half_written(place: Larder, tmp_path: Path) -> None:
    out = tmp_path / "out"

    done = place.called("write", str(out), preexec_fn=no_longer_than(1_000))

    assert done.returncode == TRY_AGAIN
    found = re.fullmatch(
        r"CommandError: There is no room for (.*) \(File too large\)\. Make room and try again\.",
        untraced(done),
    )
    assert found is not None
    assert Path(found[1]).parent == out
    assert list(out.iterdir()) == []
    assert place.called("write", str(out)).returncode == 0
