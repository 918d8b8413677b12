"""Drawings say the truth: levels, sizes and what lies in a jar follow the facts."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.web.drawing import jar as jar_shapes
from api.web.drawing.bar import LONG, STUB, fill_bar, life_bar
from api.web.drawing.jar import JarDrawing, Round, draw_jar
from api.web.drawing.pot import draw_pot
from inventory.science.facts import JarEvent, JarFacts, VesselFacts
from inventory.science.jar_story import story_of
from tests.sourcing.week.pellitory import FACTS, MONDAY_0730, SHELF, ZONE

JARS = {jar.code: jar for jar in SHELF.jars}


def drawn(jar: JarFacts, *, largest_ul: int = 3_000_000) -> JarDrawing:
    story = story_of(jar, FACTS.figures, at=MONDAY_0730, zone=ZONE)
    return draw_jar(story, largest_ul=largest_ul, begun_words="3 L", day_words="Tue 17 Nov")


def foot_and_brim(drawing: JarDrawing) -> tuple[float, float]:
    """The lower end of the straight sides, and the line to which it was begun."""
    foot = float(re.split(r"[ A]", drawing.glass.removeprefix("M"))[1])
    return foot, drawing.begun_y


@pytest.mark.parametrize("left_ul", [0, 750_000, 1_500_000, 3_000_000])
def test_a_jar_is_filled_to_what_is_left_of_what_it_was_begun_with(left_ul: int) -> None:
    drawing = drawn(replace(JARS["J1"], left_ul=left_ul))

    foot, brim = foot_and_brim(drawing)
    level = (foot - drawing.surface_y) / (foot - brim)
    assert level == pytest.approx(left_ul / 3_000_000, abs=0.002)
    assert bool(drawing.filled) == (left_ul > 0)


def test_the_quarters_are_marked_on_the_glass_whatever_is_in_it() -> None:
    half = drawn(replace(JARS["J1"], left_ul=1_600_000))

    # A little over half full: the liquor stands behind the first two quarters.
    assert [mark.under for mark in half.marks] == [True, True, False]
    foot, brim = foot_and_brim(half)
    assert [(foot - mark.y) / (foot - brim) for mark in half.marks] == pytest.approx(
        [0.25, 0.5, 0.75], abs=0.002
    )


def test_a_larger_jar_is_drawn_larger_and_stands_on_the_same_board() -> None:
    small, large = drawn(JARS["J2"]), drawn(JARS["J1"])

    assert foot_and_brim(small)[0] - foot_and_brim(small)[1] < (
        foot_and_brim(large)[0] - foot_and_brim(large)[1]
    )
    assert large.surface_rx > small.surface_rx


def test_colour_is_guessed_for_nothing_but_labelled_iron_and_copper() -> None:
    liquors = {code: drawn(jar).liquor for code, jar in JARS.items()}

    assert liquors == {
        "J1": "iron", "J2": "iron", "J3": "iron", "J4": "copper", "J5": "unknown",
    }  # fmt: skip
    assert drawn(replace(JARS["J1"], labelled=False)).liquor == "unknown"
    assert drawn(replace(JARS["J1"], metal="tin")).liquor == "unknown"


def test_scrap_lies_in_a_jar_until_it_is_strained() -> None:
    strained = replace(JARS["J1"], events=(JarEvent(MONDAY_0730, "strained"),))

    assert (len(drawn(JARS["J1"]).nails), len(drawn(strained).nails)) == (5, 0)
    assert (len(drawn(JARS["J4"]).rings), len(drawn(JARS["J4"]).nails)) == (5, 0)


def test_gas_rises_only_while_iron_is_at_work() -> None:
    assert drawn(JARS["J1"]).bubbles
    assert not drawn(JARS["J2"]).bubbles  # strained
    assert not drawn(JARS["J3"]).bubbles  # has given all it can
    assert not drawn(JARS["J4"]).bubbles  # copper gives none


def test_what_is_drawn_alike_is_one_path_with_each_shape_in_it() -> None:
    iron, copper = drawn(replace(JARS["J1"], left_ul=1_600_000)), drawn(JARS["J4"])

    assert iron.nails_path.count("M") == len(iron.nails) == 5
    assert iron.nails_path.startswith(f"M{iron.nails[0].x1} {iron.nails[0].y1}L")
    assert iron.bubbles_path.count("M") == len(iron.bubbles) > 1
    assert copper.rings_path.count("M") == len(copper.rings) == 5
    assert (iron.marks_under_path.count("M"), iron.marks_path.count("M")) == (2, 1)
    assert Round(10, 20, 2.5).path == "M7.5 20a2.5 2.5 0 1 0 5.0 0a2.5 2.5 0 1 0 -5.0 0"


def test_the_lid_of_iron_lies_loose_and_no_other() -> None:
    loose = {code: bool(drawn(jar).lid_turn) for code, jar in JARS.items() if jar.metal}

    assert loose["J1"]
    assert not loose["J4"]


def test_a_name_too_long_for_the_tape_is_cut_and_still_fits() -> None:
    tape = drawn(replace(JARS["J1"], name="Iron from the old garden gate")).tape

    assert tape.words == "Iron from the…"
    assert tape.size * jar_shapes.LETTER * len(tape.words) <= tape.width


@given(begun=st.integers(0, 10**10), left=st.integers(0, 10**10), largest=st.integers(0, 10**10))
def test_every_jar_stays_within_its_box(begun: int, left: int, largest: int) -> None:
    drawing = drawn(replace(JARS["J1"], begun_volume_ul=begun, left_ul=left), largest_ul=largest)

    numbers = [float(text) for text in re.findall(r"-?\d+\.?\d*", drawing.glass)]
    assert all(-1 <= number <= jar_shapes.WIDTH + 12 for number in numbers)
    foot, brim = foot_and_brim(drawing)
    assert brim - 0.1 <= drawing.surface_y <= foot + 0.1


@given(st.fractions(0, 1))
def test_a_life_is_its_two_parts_and_its_last_day_keeps_a_stub(gone: Fraction) -> None:
    bar = life_bar(gone, mood="fine")

    assert bar.gone + bar.left == pytest.approx(LONG, abs=0.11)
    assert bar.left >= STUB
    assert life_bar(gone, mood="past").left == 0


@pytest.mark.parametrize(("inside", "over"), [(6_000, False), (6_001, True), (0, False)])
def test_a_place_is_over_from_the_first_gram_too_much(inside: int, over: bool) -> None:
    bar = fill_bar(6_000, (("now", inside),))

    assert bar.over is over
    assert sum(piece.width for piece in bar.pieces) <= LONG


def test_what_is_too_much_stands_beyond_the_line() -> None:
    bar = fill_bar(6_000, (("now", 3_350), ("comes", 2_436), ("put-by", 1_180)))

    # 6,966 of 6,000 g: the line stands at 6,000 / 6,966 of the bar.
    assert bar.full_x == 86.1
    assert [piece.kind for piece in bar.pieces] == ["now", "comes", "put-by"]
    assert bar.pieces[-1].x + bar.pieces[-1].width == pytest.approx(LONG, abs=0.2)


def test_a_chip_is_drawn_only_where_there_is_one() -> None:
    chipped = VesselFacts("P4", "pot", "enamel", 12_000, 9_600, chipped=True)

    assert draw_pot(chipped, largest_ml=60_000).chip
    assert not draw_pot(replace(chipped, chipped=False), largest_ml=60_000).chip


@pytest.mark.parametrize("kind", ["pot", "tub", "bucket", "kettle"])
def test_every_kind_of_vessel_can_be_drawn(kind: str) -> None:
    drawing = draw_pot(VesselFacts("V", kind, "", 10_000, 8_000), largest_ml=0)

    assert drawing.body.startswith("M")
    assert drawing.brim_y < drawing.words_y
