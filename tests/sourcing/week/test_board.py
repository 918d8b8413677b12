"""What two runs could want at once: holds with their pauses, and the line."""

from __future__ import annotations

from sourcing.week.board import Board, Holds, Rail
from sourcing.week.moments import NEVER


def held(*stretches: tuple[int, int, str]) -> Holds:
    holds = Holds()
    for start, end, who in stretches:
        holds.add(start, end, who)
    return holds


def test_a_vessel_never_held_is_free_at_once() -> None:
    assert Holds().free_from(100, 200, 60) == (100, "")


def test_a_run_may_follow_when_the_pause_is_over_and_no_minute_sooner() -> None:
    pot = held((100, 200, "A"))

    assert pot.free_from(260, 300, 60) == (260, "")
    assert pot.free_from(259, 300, 60) == (260, "A")


def test_a_run_may_go_before_when_its_own_pause_fits() -> None:
    pot = held((100, 200, "A"))

    assert pot.free_from(10, 40, 60) == (10, "")
    assert pot.free_from(10, 41, 60) == (260, "A")


def test_without_a_pause_a_ring_is_lit_in_the_minute_it_is_free() -> None:
    ring = held((100, 200, "A"), (300, 400, "B"))

    assert ring.free_from(200, 300, 0) == (200, "")
    assert ring.free_from(200, 301, 0) == (400, "B")
    assert ring.free_from(199, 300, 0) == (200, "A")


def test_a_gap_that_both_pauses_fill_is_no_gap() -> None:
    pot = held((100, 200, "A"), (400, 500, "B"))

    assert pot.free_from(260, 340, 60) == (260, "")
    assert pot.free_from(260, 341, 60) == (560, "B")


def test_holds_are_kept_in_order_however_they_are_added() -> None:
    assert held((300, 400, "B"), (100, 200, "A")) == held((100, 200, "A"), (300, 400, "B"))


def test_two_blocks_on_the_same_hours_leave_the_ring_taken_till_the_later_ends() -> None:
    ring = held((100, 200, "group day"), (50, 400, "lent"))

    assert ring == held((50, 100, "lent"), (100, 200, "group day"), (200, 400, "lent"))
    assert ring.free_from(300, 310, 0) == (400, "lent")
    assert ring.free_from(400, 410, 0) == (400, "")


def test_a_block_within_another_takes_nothing_more() -> None:
    assert held((50, 400, "lent"), (100, 200, "group day")) == held((50, 400, "lent"))


def test_an_empty_line_takes_what_it_holds_and_a_gram_more_never() -> None:
    rail = Rail(3_000_000)

    assert rail.room_from(50, 2_880, 3_000_000) == 50
    assert rail.room_from(50, 2_880, 3_001_000) == NEVER


def test_room_on_the_line_begins_in_the_minute_something_comes_down() -> None:
    rail = Rail(3_000_000, [(0, 100, 2_000_000)])

    assert rail.room_from(50, 10, 1_000_000) == 50
    assert rail.room_from(50, 10, 1_001_000) == 100


def test_room_must_last_until_the_cloth_is_dry() -> None:
    rail = Rail(3_000_000, [(100, 200, 2_500_000)])

    assert rail.room_from(0, 100, 1_000_000) == 0
    assert rail.room_from(0, 101, 1_000_000) == 200


def test_what_hangs_counts_from_its_minute_and_not_in_the_one_it_comes_down() -> None:
    rail = Rail(3_000_000, [(100, 200, 400_000), (150, 300, 600_000)])

    assert [rail.load_at(m) for m in (99, 100, 150, 199, 200, 300)] == [
        0, 400_000, 1_000_000, 1_000_000, 600_000, 0,
    ]  # fmt: skip
    assert rail.highest(0, 151) == 1_000_000
    assert rail.highest(0, 150) == 400_000


def test_a_board_goes_back_to_what_was_kept_in_the_same_lists() -> None:
    shared = [360]
    board = Board({"P1": Holds()}, {"R1": Holds()}, {"line": Rail(1)}, {"": shared, "b": shared})
    kept = board.kept()
    board.vessels["P1"].add(0, 10, "A")
    board.rings["R1"].add(0, 10, "A")
    board.rails["line"].hung.append((0, 10, 1))
    shared[0] -= 30

    board.back_to(kept)

    assert board.vessels["P1"] == Holds()
    assert board.rings["R1"] == Holds()
    assert board.rails["line"].hung == []
    assert board.hands[""] is shared
    assert shared == [360]
    assert kept.hands[""] is kept.hands["b"]
