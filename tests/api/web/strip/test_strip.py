"""What the drawings of the worked week show: lanes, bars, nights, hands and line."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from zoneinfo import ZoneInfo

from api.web.strip.bars import Bar, Strip, strip_of
from api.web.strip.shapes import Drawing, fits
from api.web.strip.tall import DayBlock, tall
from api.web.strip.wide import wide
from sourcing.week.facts import Block
from sourcing.week.plan import LineLoad
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS
from tests.sourcing.week.pellitory_answers import WEEK

SEEN = project(FACTS, days=7)
STRIP = strip_of(FACTS, SEEN)
LONDON = ZoneInfo("Europe/London")


def monday(hour: int, minute: int = 0, *, day: int = 23) -> datetime:
    return datetime(2026, 11, day, hour, minute, tzinfo=LONDON)


def bars(lane: str, kind: str, strip: Strip = STRIP) -> list[Bar]:
    return [bar for bar in strip.bars if bar.lane == lane and bar.kind == kind]


def texts(drawing: Drawing) -> list[str]:
    return [word.text for word in drawing.words]


def block(day: str) -> DayBlock:
    return next(row for row in tall(STRIP) if row.day == day)


def test_lanes_are_the_pots_in_use_then_rings_and_the_others_stay_free() -> None:
    assert STRIP.vessels == ("P1", "P2", "P3", "B2")
    assert STRIP.rings == ("R1", "R2")
    assert STRIP.idle == ("P4", "B1", "B3")


def test_a_pot_is_in_work_then_held_over_night() -> None:
    """JOB.md 13.6: P1 mordant 11:20 to 13:36; the wool is lifted next morning at nine."""
    worked, held = bars("P1", "worked")[1], bars("P1", "held")[0]

    assert (worked.run, worked.step) == ("A", "hot alum")
    assert (worked.since, worked.until) == (monday(11, 20), monday(13, 36))
    assert (held.since, held.until) == (monday(13, 36), monday(9, day=24))
    assert held.words == "P1 held by run A after hot alum to Tue 24 Nov 09:00"


def test_a_ring_is_lit_as_long_as_its_pot_is_heated() -> None:
    first = bars("R1", "lit")[0]

    assert (first.since, first.until) == (monday(9), monday(10, 48))
    assert (first.run, first.step) == ("A", "P1")


def test_a_group_day_takes_both_rings_and_is_nobody_elses() -> None:
    taken = [*bars("R1", "taken"), *bars("R2", "taken")]

    assert [bar.lane for bar in taken] == ["R1", "R2"]
    assert all(bar.since == monday(10, day=28) and not bar.dye for bar in taken)


def test_a_bar_after_the_period_is_left_out() -> None:
    """Oak Grey begins Mon 30 Nov."""
    assert not [bar for bar in STRIP.bars if bar.run == "E"]
    assert [bar for bar in strip_of(FACTS, project(FACTS, days=10)).bars if bar.run == "E"]


def test_hatching_and_not_colour_alone_tells_held_from_work() -> None:
    drawing = wide(STRIP)[0]

    patterns = {"held": 0, "worked": 0, "taken": 0}
    for box in drawing.bars:
        kind = next((kind for kind in patterns if f"bar-{kind}" in box.classes), "")
        if kind:
            patterns[kind] += 1
            assert box.pattern == {"held": "held", "taken": "taken"}.get(kind, "")
    assert all(patterns.values())


def test_nights_and_empty_days_are_said_in_words() -> None:
    said = texts(wide(STRIP)[0])

    assert said.count("night") == 6
    assert said.count("nobody in") == 2
    assert "225 of 360 min" in said


def test_every_bar_lies_inside_the_drawing_and_none_is_without_width() -> None:
    for drawing in (*wide(STRIP), *(day.drawing for day in tall(STRIP) if day.drawing)):
        for box in (*drawing.bars, *drawing.ground):
            assert 0 <= float(box.x) <= float(drawing.width)
            assert float(box.x) + float(box.width) <= float(drawing.width) + 0.2
            assert float(box.y) + float(box.height) <= float(drawing.height) + 0.2
            assert float(box.width) >= 0
        assert all(float(box.width) > 0 for box in drawing.bars if "bar" in box.classes)


def test_the_line_is_a_curve_of_steps_under_its_room() -> None:
    """2.4 kg from Thu 10:00, 2.6 kg from Fri 11:00, room for 3 kg: JOB.md 13.6."""
    drawing = wide(STRIP)[0]
    hangs = next(stroke for stroke in drawing.strokes if stroke.classes == "hangs")

    said = texts(drawing)

    assert hangs.d.count("V") == 6 + 1  # six changes, and back to the ground
    assert [text for text in said if text.endswith(" kg")] == [
        "0 kg", "0.4 kg", "2.4 kg", "2 kg", "2.6 kg", "0.6 kg", "0 kg", "room for 3 kg",
    ]  # fmt: skip


def test_a_longer_period_is_drawn_seven_days_at_a_time() -> None:
    drawings = wide(strip_of(FACTS, project(FACTS, days=10)))

    assert [len([t for t in texts(d) if t.endswith("Nov") or t.endswith("Dec")])
            for d in drawings] == [7, 3]  # fmt: skip
    assert [drawing.key for drawing in drawings] == ["wide-0", "wide-7"]
    assert drawings[0].width == drawings[1].width  # letters keep their size
    lanes = [[t for t in texts(d) if t in ("P1", "P2", "P3", "B1", "B2", "R1")] for d in drawings]
    assert lanes[1] == ["P3", "B1", "R1"]


def test_a_day_block_shows_the_pots_of_that_day_alone() -> None:
    tuesday, wednesday = block("Tue 24 Nov"), block("Wed 25 Nov")

    assert tuesday.drawing is not None
    assert wednesday.drawing is not None
    assert {"P1", "P2", "P3", "B2", "R1", "R2"} <= set(texts(tuesday.drawing))
    assert {"P1", "P2", "B2"} <= set(texts(wednesday.drawing))
    assert not {"P3", "R1", "R2"} & set(texts(wednesday.drawing))
    assert wednesday.hands == "nobody in"
    assert texts(wednesday.drawing).count("held") == 2


def test_a_day_on_which_nothing_stands_or_hangs_has_no_drawing() -> None:
    bare = replace(STRIP, bars=(), days=(replace(STRIP.days[0], line=()),))

    assert tall(bare)[0].drawing is None


def test_a_studio_without_hours_or_runs_still_has_its_days() -> None:
    nobody = replace(FACTS, hours=(), runs=(), blocks=(), chores=())
    strip = strip_of(nobody, project(nobody, days=7))

    assert strip.bars == ()
    assert len(wide(strip)) == 1
    assert {day.hands for day in tall(strip)} == {"nobody in"}


def test_the_worked_plan_gives_the_same_pots_as_the_placed_one() -> None:
    """The plan written by hand in the tests of the week, drawn by the same hands."""
    by_hand = strip_of(FACTS, WEEK)

    assert bars("P1", "worked", by_hand)[0].since == bars("P1", "worked")[0].since
    assert by_hand.vessels == STRIP.vessels


def test_a_word_that_finds_no_room_is_left_out() -> None:
    assert fits("dye", 18, size=12)
    assert not fits("make nettle bath", 18, size=12)


def test_a_weight_that_hangs_too_short_to_be_written_stands_in_words_alone() -> None:
    """Hung within an hour of each other; a quarter of an hour is four units wide."""
    first = STRIP.days[0]
    loads = tuple(LineLoad(monday(12, minute), mg) for minute, mg in ((0, 400_000), (15, 900_000)))
    strip = replace(STRIP, days=(replace(first, line=loads), *STRIP.days[1:]))

    said = texts(wide(strip)[0])

    assert "0.9 kg" in said
    assert said.count("0.4 kg") == 1  # of Tuesday; Monday's has no room


def test_several_lines_are_drawn_as_one_and_called_so() -> None:
    two = replace(FACTS.shelf.lines[0], code="beam")
    shelf = replace(FACTS.shelf, lines=(*FACTS.shelf.lines, two))
    strip = strip_of(replace(FACTS, shelf=shelf), SEEN)

    assert (strip.line_mg, strip.line_name) == (6_000_000, "lines")
    assert "lines" in texts(wide(strip)[0])
    assert STRIP.line_name == "line"


def test_a_pot_that_is_only_held_has_its_row_without_a_word_of_work() -> None:
    """All Wednesday P1 and P2 are held by Blush, and nothing is begun."""
    alone = replace(STRIP, days=STRIP.days[2:3])
    drawing = wide(alone)[0]

    assert {"P1", "P2", "B2"} <= set(texts(drawing))
    assert "dye" not in texts(drawing)
    assert [box.pattern for box in drawing.bars if "bar-held" in box.classes] == ["held"] * 3


def test_teaching_takes_the_hands_and_is_called_by_its_name() -> None:
    teaching = Block("teach", "teaching", monday(9, day=25), monday(17, day=25))
    strip = strip_of(replace(FACTS, blocks=(*FACTS.blocks, teaching)), SEEN)
    day = next(row for row in tall(strip) if row.day == "Wed 25 Nov")

    [bar] = bars("hand", "taken", strip)

    assert bar.words == "hand taken: teaching, Wed 25 Nov 09:00 to Wed 25 Nov 17:00"
    assert "teaching" in texts(wide(strip)[0])
    assert day.drawing is not None
    assert "teaching" in texts(day.drawing)
