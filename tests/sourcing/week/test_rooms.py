"""Freezer, fridge and trays evening by evening: the worked week by hand, then made-up studios."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from functools import lru_cache
from typing import Any

import pytest

from inventory.science.facts import ColdPlaceFacts, Shelf
from sourcing.week.checking import check
from sourcing.week.checking.rooms import faults_in_rooms
from sourcing.week.facts import PickUpExpected, WeekFacts
from sourcing.week.freezer import evenings
from sourcing.week.plan import Answer, Flag, Week
from sourcing.week.project import project
from sourcing.week.room_remedies import RoomsOfWeek, rooms_of_week
from sourcing.week.rooms import Room, RoomEvening
from tests.sourcing.week.pellitory import FACTS, LOTS, SHELF, lot, nov
from tests.sourcing.week.pellitory_answers import ANSWERS, UNTIL
from tests.sourcing.week.random_rooms import roomy_studio

STONES, CAFE = "avocado stones", "Lantern Steps café"


def rooms(facts: WeekFacts = FACTS, answers: tuple[Answer, ...] = ANSWERS,
          until: datetime = UNTIL) -> RoomsOfWeek:  # fmt: skip
    return rooms_of_week(facts, answers, until=until)


def room(kind: str, found: RoomsOfWeek, site: str = "") -> Room:
    (row,) = [row for row in found.rooms if (row.kind, row.site) == (kind, site)]
    return row


def todo(found: RoomsOfWeek, kind: str, day: int, *, likely: bool = False) -> list[str]:
    row = room(kind, found)
    evening = row.on(date(2026, 11, day))
    return [each.text for each in found.todo(row, evening, likely=likely)]


def places(*rows: ColdPlaceFacts, facts: WeekFacts = FACTS) -> WeekFacts:
    return replace(facts, shelf=replace(facts.shelf, cold_places=rows))


def lots(*rows: Any, facts: WeekFacts = FACTS) -> WeekFacts:
    return replace(facts, shelf=replace(facts.shelf, lots=rows))


FREEZER, FRIDGE = SHELF.cold_places
TRAYS = ColdPlaceFacts("trays", "tray", 1_000_000)


# -- the worked week -------------------------------------------------------------------------


def test_tonights_freezer_is_over_and_what_comes_waits_in_the_fridge() -> None:
    # 1,900 + 1,450 + 1,180 + 2,436 = 6,966 for 6,000.
    tonight = room("freezer", rooms()).on(nov(23).date())

    assert (tonight.there_mg, tonight.put_by_mg, tonight.comes_mg, tonight.likely_mg) == (
        3_350_000, 1_180_000, 2_436_000, 0,
    )  # fmt: skip
    assert (tonight.over_mg, tonight.likely_over_mg) == (966_000, 966_000)
    assert todo(rooms(), "freezer", 23) == [
        "keep 966 g of AV-1123 in the fridge, last good Mon 30 Nov"
    ]


def test_after_blush_two_kilos_are_free_till_what_may_come_on_thursday() -> None:
    # 6,000 - 3,966 = 2,034; 3,966 + 480 of cabbage = 4,446; + 2,100 likely = 6,546.
    freezer = room("freezer", rooms())
    tuesday, thursday = freezer.on(nov(24).date()), freezer.on(nov(26).date())

    assert tuesday.free_mg(likely=True) == 2_034_000
    assert (thursday.sure_mg, thursday.likely_mg) == (4_446_000, 2_100_000)
    assert (thursday.over_mg, thursday.likely_over_mg) == (0, 546_000)
    assert todo(rooms(), "freezer", 26) == []
    assert todo(rooms(), "freezer", 26, likely=True) == [
        "keep 546 g of the avocado stones that Lantern Steps café brings in the fridge, "
        "last good Thu 3 Dec"
    ]


def test_on_saturday_the_cabbage_is_out_and_66_g_are_over() -> None:
    saturday = room("freezer", rooms()).on(nov(28).date())

    assert (saturday.over_mg, saturday.likely_over_mg) == (0, 66_000)


def test_the_fridge_gives_up_what_is_frozen_on_its_day() -> None:
    # Mon: AV-1116 frozen, 1,200 of cabbage; Thu: 480 of it frozen.
    fridge = room("fridge", rooms())

    assert [row.there_mg for row in fridge.evenings] == [
        1_200_000, 1_200_000, 1_200_000, 720_000, 720_000, 720_000, 720_000,
    ]  # fmt: skip
    assert all(row.over_mg == 0 and row.free_mg(likely=True) is None for row in fridge.evenings)


def test_a_room_without_a_limit_is_never_over_and_none_is_no_room() -> None:
    freezer = replace(FREEZER, holds_mg=None)

    assert {row.over_mg for row in room("freezer", rooms(places(freezer))).evenings} == {0}
    assert rooms(places()).rooms == ()


@pytest.mark.parametrize(("holds_g", "over_mg"), [(6966, 0), (6965, 1_000)])
def test_a_room_is_over_from_the_first_gram(holds_g: int, over_mg: int) -> None:
    found = rooms(places(replace(FREEZER, holds_mg=holds_g * 1000), FRIDGE))

    assert room("freezer", found).evenings[0].over_mg == over_mg


# -- what makes it hold ------------------------------------------------------------------------


def test_a_full_fridge_takes_what_it_can_and_the_rest_is_used_first() -> None:
    # 1,180 and 1,200 g in the fridge; AV-1116 is frozen today, so 1,300 - 1,200 = 100 are free.
    # Blush leaves 80 g of AV-0911, which ends first of what is frozen; then AV-1030.
    found = rooms(places(FREEZER, replace(FRIDGE, holds_mg=1_300_000)))

    assert todo(found, "freezer", 23) == [
        "keep 100 g of AV-1123 in the fridge, last good Mon 30 Nov",
        "use 80 g of AV-0911 first",
        "use 786 g of AV-1030 first",
    ]


def test_what_can_be_dried_is_dried_as_far_as_the_trays_hold() -> None:
    # No fridge. 966 g over; trays for 500 g; stones are on them for 7 days.
    found = rooms(places(FREEZER, replace(TRAYS, holds_mg=500_000)))

    assert todo(found, "freezer", 23)[:2] == [
        "dry 500 g of AV-1123 on the trays, dry by Mon 30 Nov",
        "use 80 g of AV-0911 first",
    ]


def test_what_nothing_helps_has_no_room() -> None:
    # All in the freezer is claimed or comes tonight; neither fridge nor trays.
    rows = tuple(row for row in LOTS if row.code in ("AV-1123",))
    found = rooms(lots(*rows, facts=places(replace(FREEZER, holds_mg=2_400_000))), ())

    assert todo(found, "freezer", 23) == ["no room for 36 g: use it that day or ask for less"]


def test_a_lot_on_its_last_day_does_not_wait() -> None:
    # Without AV-1123 only AV-1116 goes in tonight, and its last good day is today.
    rows = tuple(row for row in LOTS if row.code != "AV-1123")
    found = rooms(lots(*rows, facts=places(replace(FREEZER, holds_mg=4_500_000), FRIDGE)))

    assert room("freezer", found).evenings[0].over_mg == 30_000
    assert todo(found, "freezer", 23) == ["use 30 g of AV-0911 first"]


def test_stones_that_come_to_the_bench_keep_their_fridge_days_from_the_evening() -> None:
    came = replace(lot("AV-2", STONES, 500, "fresh", "bench", nov(23, 17)), arrives_at=nov(23, 17))
    small = places(replace(FREEZER, holds_mg=400_000), FRIDGE, facts=lots(came))

    assert todo(rooms(small, ()), "freezer", 23) == [
        "keep 100 g of AV-2 in the fridge, last good Mon 30 Nov"
    ]


def test_an_overfull_fridge_is_relieved_by_the_freezer() -> None:
    # Cabbage 1,200 g, to Thu 26, 480 of it for the group: 720 are nobody's. 200 over.
    found = rooms(places(FREEZER, replace(FRIDGE, holds_mg=1_000_000)))

    assert room("fridge", found).on(nov(24).date()).over_mg == 200_000
    assert todo(found, "fridge", 24) == ["freeze 200 g of CB-1121"]


def test_a_long_list_is_summed_up() -> None:
    # 20 lots of 1 kg in a freezer for 4: 16 to be used first, eleven told, five summed up.
    rows = [lot(f"AV-{n:02}", STONES, 1000, "frozen", "freezer", nov(1, 9)) for n in range(20)]
    found = todo(rooms(lots(*rows, facts=places(replace(FREEZER, holds_mg=4_000_000))), ()),
                 "freezer", 23)  # fmt: skip

    assert (found[0], len(found)) == ("use 1,000 g of AV-00 first", 12)
    assert found[-1] == "and 5,000 g of 5 more likewise"


# -- trays -------------------------------------------------------------------------------------


def hedge(mg: int, day: int, *, told: bool) -> WeekFacts:
    """Privet, which Hedge Olive wants dried, from the hedge; and trays for a kilo."""
    at = nov(day, 9)
    row = PickUpExpected("hedge", "privet", at, mg, 0, confirmed_mg=mg if told else None)
    came = replace(lot("PR-1", "privet", mg // 1000, "fresh", "bench", at), arrives_at=at)
    facts = places(FREEZER, FRIDGE, TRAYS, facts=lots(*LOTS, *((came,) if told else ())))
    return replace(facts, pick_ups=(row,))


def test_what_a_recipe_wants_dried_lies_on_the_trays_till_it_is_dry() -> None:
    # From Tue 24, 7 days: off on Tue 1 Dec, so eight evenings on of ten, the first without it.
    trays = room("tray", rooms(hedge(800_000, 24, told=True), until=nov(30)))
    later = room("tray", rooms(hedge(800_000, 24, told=True), until=datetime(
        2026, 12, 3, tzinfo=FACTS.zone)))  # fmt: skip

    assert [row.sure_mg for row in trays.evenings] == [0, *[800_000] * 6]
    assert [row.sure_mg for row in later.evenings[7:]] == [800_000, 0, 0]


def test_trays_are_over_for_sure_or_likely() -> None:
    sure = room("tray", rooms(hedge(1_300_000, 24, told=True))).on(nov(24).date())
    likely = room("tray", rooms(hedge(1_300_000, 24, told=False))).on(nov(24).date())

    assert (sure.over_mg, sure.likely_over_mg) == (300_000, 300_000)
    assert (likely.over_mg, likely.likely_over_mg) == (0, 300_000)


def test_what_trays_cannot_take_waits_in_the_fridge() -> None:
    # Privet keeps 3 days on the bench, longer in the fridge; it must be dried, so no freezer.
    found = rooms(hedge(1_300_000, 24, told=True))
    (words,) = todo(found, "tray", 24)

    assert words.startswith("keep 300 g of PR-1 in the fridge, last good ")


def test_what_lies_on_the_trays_leaves_when_it_is_dry() -> None:
    # Spread on Thu 19, 7 days: dry on Thu 26; a dry one is only there tonight.
    wet = lot("PR-2", "privet", 700, "fresh", "tray", nov(19, 9))
    dry = lot("PR-3", "privet", 100, "dried", "tray", nov(1, 9))
    overdue = lot("PR-4", "privet", 50, "damp", "tray", nov(2, 9))
    found = rooms(places(FREEZER, TRAYS, facts=lots(*LOTS, wet, dry, overdue)))

    assert [row.there_mg for row in room("tray", found).evenings] == [
        850_000, 700_000, 700_000, 0, 0, 0, 0,
    ]  # fmt: skip


# -- several freezers and sites ----------------------------------------------------------------


def test_two_freezers_at_one_site_hold_together() -> None:
    second = ColdPlaceFacts("chest", "freezer", 966_000)
    freezer = room("freezer", rooms(places(FREEZER, FRIDGE, second)))

    assert freezer.places == ("freezer", "chest")
    assert (freezer.holds_mg, freezer.evenings[0].over_mg) == (6_966_000, 0)


def test_each_site_has_its_own_and_what_has_no_site_goes_to_the_first() -> None:
    # AV-1030 1,450 g lies in the barn's freezer, which holds 1,400.
    barn = ColdPlaceFacts("barn freezer", "freezer", 1_400_000, site="barn")
    yard = replace(FREEZER, site="yard")
    rows = tuple(replace(row, site="barn") if row.code == "AV-1030" else row for row in LOTS)
    facts = replace(places(yard, barn, FRIDGE, facts=lots(*rows)), sites=("yard", "barn"))
    found = rooms(facts)

    assert [
        (row.site, row.evenings[0].sure_mg) for row in found.rooms if row.kind == "freezer"
    ] == [
        ("yard", 6_966_000 - 1_450_000),
        ("barn", 1_450_000),
    ]
    barns = room("freezer", found, "barn")
    assert barns.name == "freezer at barn"
    assert [each.text for each in found.todo(barns, barns.evenings[0], likely=False)] == [
        "use 50 g of AV-1030 first"
    ]


# -- flags -------------------------------------------------------------------------------------


def room_flags(facts: WeekFacts, answers: tuple[Answer, ...] = ANSWERS) -> list[tuple[Any, str]]:
    from sourcing.week.flags import flags_of

    found: tuple[Flag, ...] = flags_of(facts, answers, until=UNTIL)
    return [(row.by, row.text) for row in found if row.kind == "room"]


def test_what_is_only_likely_later_is_no_flag() -> None:
    assert room_flags(FACTS) == [(
        date(2026, 11, 23),
        "freezer over by 966 g tonight: keep 966 g of AV-1123 in the fridge, last good Mon 30 Nov",
    )]  # fmt: skip


def test_a_later_evening_that_is_over_for_sure_is_a_flag_with_its_day() -> None:
    # 3,966 on Tue and Wed; on Thu 480 g of cabbage more: 4,446 for 4,400.
    rows = tuple(row for row in LOTS if row.code != "AV-1123")
    more = lot("AV-9", STONES, 2436, "frozen", "freezer", nov(1, 9))
    facts = places(replace(FREEZER, holds_mg=7_000_000), FRIDGE, facts=lots(*rows, more))
    small = places(replace(FREEZER, holds_mg=4_400_000), FRIDGE, facts=facts)

    assert room_flags(facts) == []
    (tonight, thursday) = room_flags(small)
    assert tonight[0] == date(2026, 11, 23)
    assert thursday[0] == date(2026, 11, 26)
    assert thursday[1].startswith("freezer over by 46 g on Thu 26 Nov: use or dry 46 g by then")


def test_trays_that_are_over_are_a_flag_with_one_thing_to_do() -> None:
    (_, trays) = room_flags(hedge(1_300_000, 24, told=True))

    assert trays[0] == date(2026, 11, 24)
    assert trays[1].startswith(
        "drying trays over by 300 g on Tue 24 Nov: keep 300 g of PR-1 in the fridge, last good "
    )
    assert len(room_flags(hedge(1_300_000, 24, told=False))) == 1


def test_what_is_likely_tonight_is_a_flag_that_calls_itself_a_guess() -> None:
    # 3,350 + 1,180 = 4,530; 2,100 likely tonight: 630 over 6,000.
    rows = tuple(row for row in LOTS if row.code != "AV-1123")
    may = PickUpExpected(CAFE, STONES, nov(23, 17), 2_100_000, 0)

    assert room_flags(replace(lots(*rows), pick_ups=(may,))) == [(
        date(2026, 11, 23),
        "freezer likely over by 630 g tonight, a guess: keep 630 g of the avocado stones that "
        "Lantern Steps café brings in the fridge, last good Mon 30 Nov",
    )]  # fmt: skip


# -- made-up studios ---------------------------------------------------------------------------

STUDIOS = 60


@lru_cache(maxsize=STUDIOS)
def week_of(number: int) -> Week:
    return project(roomy_studio(number), days=7)


def test_every_room_of_made_up_studios_is_as_the_checker_works_it_out() -> None:
    faults, over, helped = {}, 0, set()
    for number in range(STUDIOS):
        facts, week = roomy_studio(number), week_of(number)
        shown: Any = week.sums["rooms"]
        rows = [row for each in shown for row in each["evenings"]]
        over += sum(row["over_if_likely_g"] not in ("0", None) for row in rows)
        helped |= {each["how"] for row in rows for each in (*row["todo"], *row["todo_if_likely"])}
        if found := faults_in_rooms(facts, week):
            faults[number] = [str(fault) for fault in found[:3]]

    assert faults == {}
    assert over > STUDIOS
    assert helped == {"fridge", "freezer", "tray", "use first", "no room"}


def test_the_freezers_of_one_site_are_those_of_the_other_sum() -> None:
    """`freezer.py` sums each evening anew over lots, takes and jobs."""
    seen = 0
    for number in range(STUDIOS):
        facts, week = roomy_studio(number), week_of(number)
        mine = [
            row for row in rooms(facts, week.answers, week.until).rooms if row.kind == "freezer"
        ]
        theirs = evenings(facts, week.answers, until=week.until)
        if len(mine) == 1 and theirs:
            seen += 1
            for row, other in zip(mine[0].evenings, theirs, strict=True):
                assert row.sure_mg + row.likely_mg == other.inside_mg, number
                assert row.likely_mg == other.likely_mg, number
    assert seen > 5


def test_the_checker_sees_a_wrong_gram() -> None:
    facts, week = FACTS, project(FACTS, days=7)
    assert faults_in_rooms(facts, week) == []

    sums: Any = week.sums
    sums["rooms"][0]["evenings"][0]["comes_g"] = "2437"
    sums["rooms"][0]["evenings"][3]["todo_if_likely"][0]["g"] = "545"
    found = [fault.text for fault in faults_in_rooms(facts, week)]

    assert found[0] == "Mon 23 Nov: freezer , comes: 2437 g, not 2436 g"
    assert "Thu 26 Nov: what is to be done does not come to 546000 mg" in found


def test_what_an_evening_holds_is_never_less_with_what_is_likely() -> None:
    def checked(row: RoomEvening) -> bool:
        return row.likely_over_mg >= row.over_mg and row.likely_mg >= 0

    for number in range(STUDIOS):
        facts, week = roomy_studio(number), week_of(number)
        for each in rooms(facts, week.answers, week.until).rooms:
            assert all(checked(row) for row in each.evenings), number


def test_an_empty_studio_has_no_rooms() -> None:
    assert rooms(replace(FACTS, shelf=Shelf(), pick_ups=()), ()).rooms == ()


# -- drying for a run --------------------------------------------------------------------------


def blush_dries(holds_mg: int | None, *rows: Any) -> Answer:
    """Blush where AV-1116, on its last day, can only be dried: no freezer, trays of a size."""
    tray = ColdPlaceFacts("trays", "tray", holds_mg)
    facts = places(FRIDGE, tray, facts=lots(*LOTS, *rows))
    return next(row for row in project(facts, days=7).answers if row.run == "A")


@pytest.mark.parametrize(
    ("holds_mg", "jobs"),
    [(1_180_000, ["dry AV-1116 today"]), (1_179_999, []), (None, ["dry AV-1116 today"])],
)
def test_a_run_dries_a_lot_only_where_the_trays_hold_it(
    holds_mg: int | None, jobs: list[str]
) -> None:
    assert [job.text for job in blush_dries(holds_mg).jobs] == jobs


def test_what_lies_on_the_trays_takes_its_room_till_it_is_dry() -> None:
    # 500 g spread on Fri 20, dry on Fri 27: tonight 500 + 1,180 = 1,680.
    wet = lot("PR-2", "privet", 500, "fresh", "tray", nov(20, 9))

    assert blush_dries(1_679_999, wet).jobs == ()
    assert len(blush_dries(1_680_000, wet).jobs) == 1


def test_plans_with_little_room_break_no_rule() -> None:
    dried = 0
    for number in range(STUDIOS):
        facts, week = roomy_studio(number), week_of(number)
        assert check(facts, week) == [], number
        dried += sum(job.what.startswith("dry") for row in week.answers for job in row.jobs)
    assert dried > 0


def test_the_checker_sees_trays_that_are_too_small() -> None:
    tray = ColdPlaceFacts("trays", "tray", 1_180_000)
    facts = places(FRIDGE, tray)
    week = project(facts, days=7)
    small = places(FRIDGE, replace(tray, holds_mg=1_179_000))

    assert [fault.text for fault in check(facts, week) if fault.kind == "trays"] == []
    assert [fault.text for fault in check(small, week) if fault.kind == "trays"] == [
        "1180 g on the trays on the evening of Mon 23, they take 1179 g"
    ]
