"""One run in time: what follows at once, what stands, what is held, and what moves for it.

Little studio; its undisturbed hours are worked by hand in `little.py`.
"""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime

from sourcing.week.board import Holds
from sourcing.week.desk import Desk, desk_for
from sourcing.week.facts import Block, WeekFacts
from sourcing.week.fits import Placement
from tests.sourcing.week.little import LITTLE, feb, hours, recipe, shelf, step


def placed(
    facts: WeekFacts = LITTLE, *, not_before: datetime | None = None
) -> tuple[Desk, Placement]:
    """The run alone, its materials all there."""
    desk = desk_for(facts, days=7)
    placer = desk.placers[""]
    (run,) = facts.runs
    stages = desk.stages(run, facts.recipes[0], facts.shelf.fibre[0], placer)
    floor = desk.now if not_before is None else int(not_before.timestamp() // 60)
    return desk, placer.place(stages, [floor] * len(stages))


def starts(facts: WeekFacts) -> dict[str, str]:
    desk, found = placed(facts)
    assert found.done
    rows: dict[str, str] = {}
    for fit in found.fits:
        for done in fit.rounds:
            told = f"{desk.calendar.moment(done.start):%a %H:%M}"
            name = fit.stage.step.name
            rows[name] = f"{rows[name]}, {told}" if name in rows else told
    return rows


def taken(
    since: datetime, until: datetime, *vessels: str, rings: tuple[str, ...] = ()
) -> WeekFacts:
    return replace(LITTLE, blocks=(Block("x", "teaching", since, until, rings, vessels),))


def closed(*days: int) -> WeekFacts:
    rows = tuple(row for row in LITTLE.hours if row.day.day not in days)
    return replace(LITTLE, hours=rows)


def test_every_step_begins_in_its_first_minute() -> None:
    assert starts(LITTLE) == {
        "wet out": "Mon 09:00",
        "scour": "Mon 10:00",
        "hot alum": "Mon 11:55",
        "dye": "Tue 09:00",
        "iron": "Tue 13:36",
        "rinse": "Tue 15:06",
    }


def test_what_follows_at_once_takes_the_step_before_along() -> None:
    # The rinse ends 15:21; when the room closes a minute sooner, iron and dye move with it, and
    # the alum, which may stand another night, does not.
    found = starts(hours(2, closes=feb(2, 15, 20)))

    assert [found[name] for name in ("hot alum", "dye", "iron", "rinse")] == [
        "Mon 11:55", "Wed 09:00", "Wed 13:36", "Wed 15:06",
    ]  # fmt: skip


def test_a_standing_begins_later_rather_than_stand_too_long() -> None:
    # The ring is free from 13:00; wet out stands 60 min at least, here 120 at most: from 11:00.
    busy = taken(feb(1, 8), feb(1, 13), rings=("R1",))

    assert starts(busy)["wet out"] == "Mon 09:00"
    assert starts(step("wet out", busy, stand_max=240))["wet out"] == "Mon 09:00"
    assert starts(step("wet out", busy, stand_max=235))["wet out"] == "Mon 09:05"
    assert starts(step("wet out", busy, stand_max=120))["wet out"] == "Mon 11:00"


def test_what_stands_keeps_its_bucket_until_the_next_step_takes_over() -> None:
    busy = taken(feb(1, 8), feb(1, 13), rings=("R1",))
    desk, found = placed(busy)

    assert desk.calendar.moment(found.fits[0].held_until) == feb(1, 13)


def test_what_stands_goes_into_the_only_pot_there_is_and_makes_way_in_it() -> None:
    # Wet out 9:00 to 10:00; 30 min to lift the cloth and fill the pot anew.
    alone = step("wet out", vessels=("iron pot",))

    assert starts(alone)["scour"] == "Mon 10:30"
    # Lifted in time for a ring that is free from 13:00.
    assert starts(replace(alone, blocks=taken(feb(1, 8), feb(1, 13), rings=("R1",)).blocks))[
        "scour"
    ] == "Mon 13:00"  # fmt: skip


def test_what_stands_leaves_the_only_pot_to_the_step_that_follows() -> None:
    # The pot is the smaller of the two, and nothing but the pot will do for the scour.
    either = step("wet out", vessels=("iron pot", "bucket"))
    (pot, bucket) = either.shelf.vessels
    bigger = replace(bucket, brim_ml=25_000, working_ml=20_000)
    facts = replace(either, shelf=replace(either.shelf, vessels=(pot, bigger)))

    _, found = placed(facts)

    assert [fit.rounds[0].loads[0].vessel for fit in found.fits[:2]] == ["B1", "P1"]
    assert starts(facts)["scour"] == "Mon 10:00"


def test_a_pot_is_held_over_night_and_free_in_the_morning() -> None:
    desk, found = placed()
    alum = found.fits[2]

    assert desk.calendar.moment(alum.last.end) == feb(1, 13, 32)
    assert desk.calendar.moment(alum.held_until) == feb(2, 9)


def test_cloth_stays_in_one_pot_for_dye_and_iron() -> None:
    _, found = placed()

    assert [fit.rounds[0].loads[0].vessel for fit in found.fits[3:5]] == ["P1", "P1"]
    assert found.fits[4].stage.same


def test_three_nights_in_the_bath_are_borne_and_four_are_not() -> None:
    assert starts(closed(2, 3))["hot alum"] == "Mon 11:55"
    assert starts(closed(2, 3, 4))["hot alum"] == "Fri 09:00"


def test_a_pot_that_is_wanted_in_the_night_is_no_pot_for_the_night() -> None:
    # From Mon 20:00 to 21:00: free again at 22:00, so the alum goes in on Tuesday morning.
    found = starts(taken(feb(1, 20), feb(1, 21), "P1"))

    assert (found["hot alum"], found["dye"]) == ("Tue 09:00", "Wed 09:00")


def test_loads_that_one_pot_takes_one_after_another_pause_between() -> None:
    # Half the weight in 7.5 L: 18 min to 80 °C and 60 of hold, 30 to empty and fill, on 5 minutes.
    small = shelf(vessels={"working_ml": 7_500})
    alone = recipe(small, steps=(replace(LITTLE.recipes[0].steps[3], cool_min=0, hands_min=20),))

    assert starts(alone) == {"dye": "Mon 09:00, Mon 10:50"}


def test_the_line_makes_the_last_step_wait_and_what_is_at_once_before_it() -> None:
    desk = desk_for(LITTLE, days=7)
    minute = int(feb(3, 12).timestamp() // 60)
    desk.board.rails["line"].hung.append((0, minute, 1))
    placer = desk.placers[""]
    stages = desk.stages(LITTLE.runs[0], LITTLE.recipes[0], LITTLE.shelf.fibre[0], placer)
    found = placer.place(stages, [desk.now] * len(stages))

    hung = found.fits[-1].hung
    assert hung is not None
    assert desk.calendar.moment(hung[1]) == feb(3, 15, 30)
    (push, *_) = [push for push in found.pushes if push.kind == "line"]
    assert (push.what, push.amount, push.there) == ("line", 500_001, 500_000)


def test_hands_of_a_day_are_shared_by_all_steps_that_begin_on_it() -> None:
    # Mon 5 + 30 + 30 = 65 min.
    assert starts(hours(1, hands_min=65))["hot alum"] == "Mon 11:55"
    assert starts(hours(1, hands_min=64))["hot alum"] == "Tue 09:00"


def test_materials_that_come_later_hold_the_first_step_back() -> None:
    desk, found = placed(not_before=feb(1, 9, 1))

    assert desk.calendar.moment(found.first_step) == feb(1, 9, 5)


def test_a_run_that_fits_nowhere_before_the_horizon_is_not_done() -> None:
    _, found = placed(closed(*range(2, 15)))

    assert not found.done


def test_a_placed_run_is_written_into_vessels_ring_line_and_hands() -> None:
    desk, found = placed()
    before = list(desk.board.hands[""])
    desk.placers[""].commit("K", found)

    spent = [was - left for was, left in zip(before, desk.board.hands[""], strict=True)]
    assert spent[:3] == [65, 90, 0]
    assert [len(desk.board.vessels[code].starts) for code in ("B1", "P1")] == [1, 4]
    assert len(desk.board.rings["R1"].starts) == 3
    assert desk.board.rails["line"].hung[0][2] == 500_000
    assert desk.board.vessels["B1"] != Holds()
