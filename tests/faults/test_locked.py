"""Somebody else holds the larder: readers go on, writers wait their time and hear why."""

from __future__ import annotations

import time
import uuid
from collections.abc import Iterator

import pytest

from tests.faults.places import (
    BUSY,
    HANDS,
    LOFT,
    LONG,
    TRY_AGAIN,
    Larder,
    alone,
    larder,
    printed,
    untraced,
    writing,
)

WAIT_S, HELD_S = (20, 30) if LONG else (1, 3)
SLACK_S = 30  # seven people may share two cores
DRAWN = "SELECT count(*) FROM inventory_posting WHERE kind = 'draw'"


@pytest.fixture(scope="module")
def place(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Larder]:
    with larder(tmp_path_factory.mktemp("locked"), loaded=True) as made:
        yield made.waiting(WAIT_S)


@pytest.mark.usefixtures("db")
def test_a_reader_does_not_wait_for_a_writer(place: Larder) -> None:
    free = place.called("week", "--at", "2026-11-23T07:30")

    with writing(place):
        held = place.called("week", "--at", "2026-11-23T07:30")

    # Had it waited for the lock, it would have been told that the larder is busy.
    assert (held.returncode, held.stdout) == (0, free.stdout)


@pytest.mark.usefixtures("db")
@pytest.mark.parametrize("words", [("load", str(LOFT)), ("audit", "--seal")])
def test_a_command_that_writes_is_told_that_the_larder_is_busy(
    place: Larder, words: tuple[str, ...]
) -> None:
    before = place.counts()

    with writing(place):
        done = place.called(*words)

    assert (done.returncode, untraced(done)) == (TRY_AGAIN, f"CommandError: {BUSY}")
    assert place.counts() == before
    assert place.is_sound()


@pytest.mark.usefixtures("db")
def test_a_draw_waits_its_time_once_and_leaves_nothing(place: Larder) -> None:
    before, began = place.counts(), time.monotonic()

    with writing(place):
        done = place.hand("draw", str(uuid.uuid4()))
        held_s = time.monotonic() - began

    _, refused = printed(done).splitlines()
    word, waited, code, sentence = refused.split(" ", 3)
    assert (word, code, sentence) == ("refused", "busy", BUSY)
    assert WAIT_S * 0.9 <= float(waited) <= min(WAIT_S + SLACK_S, held_s)
    assert place.counts() == before


@pytest.mark.usefixtures("db")
def test_a_draw_that_waits_longer_than_the_lock_is_held_is_recorded(place: Larder) -> None:
    entry, drawn = str(uuid.uuid4()), place.value(DRAWN)

    with writing(place):
        hand = place.waiting(HELD_S + 60).begun(str(HANDS), "draw", entry)
        time.sleep(HELD_S)
        assert hand.poll() is None
    said, told = hand.communicate(timeout=180)

    assert (said.splitlines()[-1], told) == (f"recorded {entry}", "")
    assert place.value(DRAWN) == drawn + 1
    assert place.is_sound()


@pytest.mark.usefixtures("db")
@pytest.mark.parametrize("address", ["/", "/api/v1/week/?at=2026-11-23T07:30"])
def test_an_address_answers_503_while_nobody_can_even_read(place: Larder, address: str) -> None:
    with alone(place):
        done = place.hand("ask", address)

    status, after, body = printed(done).split(" ", 2)
    assert (status, after) == ("503", "5")
    assert BUSY in body


@pytest.mark.usefixtures("db")
def test_a_command_that_reads_is_told_so_too(place: Larder) -> None:
    with alone(place):
        done = place.called("week", "--at", "2026-11-23T07:30")

    assert (done.returncode, untraced(done)) == (TRY_AGAIN, f"CommandError: {BUSY}")
