"""The fan of what will have come: stairs that rise, needs across them, texts that stay apart."""

from __future__ import annotations

import re
from datetime import date
from itertools import pairwise

import pytest

from api.web.coming.fan import BOTTOM, HEIGHT, LEFT, RIGHT, TOP, WIDTH, Fan, fan
from sourcing.week.coming import ByDay, Wanting

MONDAY, LAST = date(2026, 11, 23), date(2026, 12, 20)
KILO = 1_000_000
DAYS = (
    ByDay(date(2026, 11, 26), (0, KILO, 2 * KILO, 3 * KILO, 4 * KILO)),
    ByDay(date(2026, 11, 30), (KILO, 2 * KILO, 4 * KILO, 6 * KILO, 8 * KILO)),
)


def wanting(run: str, mg: int) -> Wanting:
    return Wanting(run, "Blush", mg, LAST, 0.5, ())


def drawn(*short: Wanting, days: tuple[ByDay, ...] = DAYS) -> Fan:
    return fan("one", "stones", "says", days, short, first=MONDAY, last=LAST)


def texts(picture: Fan) -> list[str]:
    return [word.text for word in picture.words]


def test_the_likely_stair_rises_on_the_evenings_of_pick_ups() -> None:
    (likely,) = [line for line in drawn().lines if line.classes == "fan-likely"]

    # 28 days on 300 units: the evening of the fourth day is at 54 + 300 × 4/28 = 96.9, of the
    # eighth at 139.7. The axis ends at 8 kg; 188 units high, so 2 kg lie at 204 − 47 = 157.
    assert likely.d == "M54 204H96.9V157H139.7V110H354"
    assert (LEFT, WIDTH - RIGHT, HEIGHT - BOTTOM, TOP) == (54, 354, 204, 16)


def test_a_band_goes_up_one_stair_and_back_along_the_other() -> None:
    wide, half = drawn().bands

    assert wide.d == "M54 204H96.9V110H139.7V16H354V180.5H139.7V204H96.9V204Z"
    assert half.d.startswith("M54 204H96.9V133.5H139.7V63H354V157")


def test_what_runs_are_short_of_lies_across() -> None:
    picture = drawn(wanting("B", 2 * KILO))
    (need,) = [line for line in picture.lines if line.classes == "fan-need"]

    assert need.d == "M54 157H354"
    assert "B is short of 2,000 g" in texts(picture)


def test_runs_short_of_the_same_share_a_text() -> None:
    said = texts(drawn(wanting("G", 2 * KILO), wanting("B", 2 * KILO)))

    assert "B and G are short of 2,000 g" in said


def test_texts_of_near_needs_stay_apart() -> None:
    picture = drawn(wanting("A", 2_000_000), wanting("B", 2_010_000), wanting("C", 2_020_000))
    heights = [float(word.y) for word in picture.words if word.classes == "fan-short"]

    assert all(low - high >= 12.9 for low, high in pairwise(heights))


@pytest.mark.parametrize(("kilos", "drawn_across"), [(16, True), (17, False)])
def test_a_need_far_beyond_the_fan_is_told_and_not_drawn(kilos: int, drawn_across: bool) -> None:
    picture = drawn(wanting("B", kilos * KILO))

    assert any(line.classes == "fan-need" for line in picture.lines) is drawn_across
    beyond = f"B is short of {kilos},000 g, beyond this" in texts(picture)
    assert beyond is not drawn_across


def test_nothing_leaves_the_paper() -> None:
    picture = drawn(wanting("B", 11 * KILO), wanting("G", 90 * KILO))
    numbers = [
        (float(x), float(y))
        for stroke in (*picture.bands, *picture.lines)
        for x, y in re.findall(r"H([\d.]+)V([\d.]+)", stroke.d)
    ]

    assert numbers
    assert all(0 <= x <= WIDTH and 0 <= y <= HEIGHT for x, y in numbers)


def test_mondays_stand_below_and_grams_beside() -> None:
    said = texts(drawn())

    assert [each for each in said if " g" not in each] == ["23 Nov", "30 Nov", "7 Dec", "14 Dec"]
    assert said[:2] == ["0 g", "2,000 g"]
