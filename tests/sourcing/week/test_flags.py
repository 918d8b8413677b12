"""The morning's flags: the worked week's whole, then both sides of each border."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from datetime import date, datetime, timedelta
from decimal import Decimal

import pytest

from inventory.science.facts import (
    BathFacts,
    ColdPlaceFacts,
    Dip,
    FibreFacts,
    JarFacts,
    LotFacts,
    Shelf,
    VesselFacts,
)
from sourcing.week.facts import FastnessWish, RunFacts, ShadeCard, WeekFacts
from sourcing.week.flags import flags_of
from sourcing.week.plan import Answer, Flag
from tests.sourcing.week.pellitory import BATHS, FACTS, FIBRE, JARS, LOTS, RUNS, SHELF, lot, nov
from tests.sourcing.week.pellitory_answers import ANSWERS, UNTIL, blush, group_day

KINDS = (
    "use today", "past", "dip", "retest", "no label", "bath ends", "damp fibre", "damp lot",
    "ends before its use", "room", "put by", "pot", "order", "promise",
)  # fmt: skip
BARE = replace(FACTS, shelf=Shelf(), runs=(), chores=(), offers=())


def bare(**shelf: object) -> WeekFacts:
    """A studio with nothing on its shelves but what is given."""
    return replace(BARE, shelf=Shelf(**shelf))  # type: ignore[arg-type]


def flags(
    facts: WeekFacts, answers: tuple[Answer, ...] = (), *, until: datetime = UNTIL
) -> tuple[Flag, ...]:
    return flags_of(facts, answers, until=until)


def words(rows: Iterable[Flag]) -> list[str]:
    return [row.text for row in rows]


def jar_called(code: str) -> JarFacts:
    return next(row for row in JARS if row.code == code)


def fibre_called(code: str) -> FibreFacts:
    return next(row for row in FIBRE if row.code == code)


def lot_called(code: str) -> LotFacts:
    return next(row for row in LOTS if row.code == code)


# -- the worked week ---------------------------------------------------------------------------


def test_the_worked_week_gives_its_flags_in_order_with_day_and_thing_to_do() -> None:
    found = [(row.kind, row.what, row.by, row.text) for row in flags(FACTS, ANSWERS)]

    monday, tuesday, thursday = (date(2026, 11, day) for day in (23, 24, 26))
    assert found == [
        ("use today", "AV-1116", monday,
         "freeze or use AV-1116 today (avocado stones, 1,180 g): last good day"),
        ("past", "AV-1109", monday,
         "compost AV-1109 (avocado stones, 640 g): past its last good day by 11 days"),
        ("dip", "J1", tuesday,
         "dip Iron 7 (J1) Tue: today is day 6, by the clock alone usable Tue 1 Dec"),
        ("retest", "J3", monday,
         "dip Iron 3 (J3) again: its strip is 166 days old, limit 90"),
        ("no label", "J5", monday, "find out what J5 is (orange, 700 mL): no label"),
        ("bath ends", "J6", tuesday,
         "J6 (nettle bath) ends Tue, before Sat (F): use it or tip it out by then"),
        ("damp fibre", "W-85", monday,
         "W-85 (wool) damp for 6 days, limit 3: check it for mould today"),
        ("damp lot", "ON-1114", monday,
         "dry ON-1114 (onion skins, 300 g damp) and weigh it again"),
        ("ends before its use", "CB-1121", thursday,
         "CB-1121 (red cabbage) ends Thu, before Sat (F): freeze 480 g of CB-1121 Thu 26 Nov"),
        ("room", "freezer", monday,
         "freezer over by 966 g tonight: keep 966 g of AV-1123 in the fridge, last good "
         "Mon 30 Nov"),
        ("pot", "P4", None, "P4 (enamel pot) is chipped: no brights in it"),
        ("order", "wool", monday,
         "order wool today: near shop brings 4 kg Mon 30 Nov for £112, needed by Mon 7 Dec (G); "
         "the order-by day of far mill was Thu 19 Nov"),
        ("promise", "B", date(2026, 11, 30),
         "do not promise Old Rose (B): light reading 3, 4 wanted, day 21 of 28, look again "
         "Mon 30 Nov"),
    ]  # fmt: skip


def test_kinds_stand_in_their_order_whatever_the_order_of_the_shelves() -> None:
    turned = replace(
        FACTS,
        runs=RUNS[::-1],
        shelf=replace(SHELF, lots=LOTS[::-1], jars=JARS[::-1], fibre=FIBRE[::-1]),
    )

    found = [row.kind for row in flags(turned, ANSWERS)]

    assert found == [row.kind for row in flags(FACTS, ANSWERS)]
    assert found == sorted(found, key=KINDS.index)


def test_empty_shelves_give_no_flag() -> None:
    assert flags(BARE) == ()


# -- use today, past ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("came", "kinds"),
    [(15, ["past"]), (16, ["use today"]), (17, [])],
    ids=["the day after", "the last good day", "the day before"],
)
def test_stones_keep_seven_days_in_the_fridge(came: int, kinds: list[str]) -> None:
    stones = lot("AV-1", "avocado stones", 1180, "fresh", "fridge", nov(came, 17))

    assert [row.kind for row in flags(bare(lots=(stones,)))] == kinds


def test_a_lot_that_was_past_since_yesterday_says_one_day() -> None:
    stones = lot("AV-1", "avocado stones", 1180, "fresh", "fridge", nov(15, 17))

    assert words(flags(bare(lots=(stones,)))) == [
        "compost AV-1 (avocado stones, 1,180 g): past its last good day by 1 day"
    ]


def test_what_is_wanted_dried_is_dried_and_not_frozen() -> None:
    # Privet keeps 2 days on the bench (shipped figure); Hedge Olive takes it dried.
    leaves = lot("PR-1", "privet", 900, "fresh", "bench", nov(21, 9))

    shelf = Shelf(lots=(leaves,), cold_places=SHELF.cold_places)

    found = flags(replace(FACTS, shelf=shelf, runs=(), chores=()))

    assert words(found) == ["dry or use PR-1 today (privet, 900 g): last good day"]


def test_a_frozen_lot_on_its_last_day_is_only_used() -> None:
    stones = lot("AV-1", "avocado stones", 500, "frozen", "freezer", datetime.combine(
        date(2025, 11, 23), FACTS.at.time(), tzinfo=FACTS.zone))  # fmt: skip

    assert words(flags(bare(lots=(stones,)))) == [
        "use AV-1 today (avocado stones, 500 g): last good day"
    ]


def test_an_empty_lot_asks_for_nothing() -> None:
    stones = lot("AV-1", "avocado stones", 0, "fresh", "fridge", nov(9, 17))

    assert flags(bare(lots=(stones,))) == ()


def test_what_has_not_come_yet_asks_for_nothing() -> None:
    stones = replace(
        lot("AV-1", "avocado stones", 500, "fresh", "bench", nov(24, 17)), arrives_at=nov(24, 17)
    )

    assert flags(bare(lots=(stones,))) == ()


def test_a_bath_past_its_days_is_tipped_out() -> None:
    bath = replace(BATHS[0], made_at=nov(17, 12))

    assert [(row.kind, row.text) for row in flags(bare(baths=(bath,)))] == [
        ("past", "tip out J6 (nettle bath, 8 L): past its last good day by 1 day")
    ]


# -- jars --------------------------------------------------------------------------------------


def test_a_jar_in_its_dipping_days_is_dipped_today() -> None:
    jar = replace(jar_called("J1"), begun_at=nov(16, 9))

    assert words(flags(bare(jars=(jar,)))) == [
        "dip Iron 7 (J1) today: today is day 7, by the clock alone usable Mon 30 Nov"
    ]


def test_a_dip_on_the_first_day_after_the_period_is_no_flag_yet() -> None:
    jar = replace(jar_called("J1"), begun_at=nov(18, 9))  # day 7 is Wed 25

    assert [row.by for row in flags(bare(jars=(jar,)), until=nov(26))] == [date(2026, 11, 25)]
    assert flags(bare(jars=(jar,)), until=nov(25)) == ()


@pytest.mark.parametrize(("days", "kinds"), [(90, []), (91, ["retest"])])
def test_a_strip_counts_ninety_days(days: int, kinds: list[str]) -> None:
    jar = replace(jar_called("J3"), dips=(Dip(nov(23, 7) - timedelta(days), 4),))

    assert [row.kind for row in flags(bare(jars=(jar,)))] == kinds


def test_a_matured_jar_asks_for_nothing() -> None:
    assert flags(bare(jars=(jar_called("J2"), jar_called("J4")))) == ()


def test_lots_and_fibre_without_label_are_asked_for_too() -> None:
    bag = replace(lot("X-1", "privet", 250, "dried", "dry store", nov(1)), labelled=False)
    wool = replace(fibre_called("W-90"), labelled=False)

    found = flags(bare(lots=(bag,), fibre=(wool,)))

    assert [(row.kind, row.text) for row in found] == [
        ("no label", "find out what X-1 is (250 g): no label"),
        ("no label", "find out what W-90 has had (600 g): no label"),
    ]


# -- baths -------------------------------------------------------------------------------------


def test_a_bath_wanted_while_it_is_good_ends_without_a_before() -> None:
    early = replace(FACTS.blocks[0], since=nov(24, 10), until=nov(24, 14))
    facts = replace(FACTS, shelf=Shelf(baths=BATHS), chores=(), offers=(), blocks=(early,),
                    runs=tuple(row for row in RUNS if row.code == "F"))  # fmt: skip

    assert words(flags(facts)) == [
        "J6 (nettle bath) ends Tue: use it or tip it out by then",
    ]


@pytest.mark.parametrize(("until", "kinds"), [(24, []), (25, ["bath ends"])])
def test_a_bath_that_ends_after_the_period_is_no_flag_yet(until: int, kinds: list[str]) -> None:
    assert [row.kind for row in flags(bare(baths=BATHS), until=nov(until))] == kinds


def test_a_bath_without_liquid_ends_nothing() -> None:
    bath = BathFacts("J6", "nettle bath", nov(19, 12), 0, 8)

    assert flags(bare(baths=(bath,))) == ()


# -- damp --------------------------------------------------------------------------------------


@pytest.mark.parametrize(("since", "kinds"), [(20, []), (19, ["damp fibre"])])
def test_damp_mordanted_wool_may_lie_three_days(since: int, kinds: list[str]) -> None:
    wool = replace(fibre_called("W-85"), since=date(2026, 11, since))

    assert [row.kind for row in flags(bare(fibre=(wool,)))] == kinds


def test_damp_wool_is_checked_on_the_day_of_its_chore() -> None:
    later = replace(FACTS.chores[0], day=date(2026, 11, 24))
    facts = replace(bare(fibre=(fibre_called("W-85"),)), chores=(later,))

    found = flags(facts)

    assert [(row.by, row.text) for row in found] == [
        (date(2026, 11, 24), "W-85 (wool) damp for 6 days, limit 3: check it for mould Tue")
    ]


def test_a_damp_lot_is_flagged_as_damp_and_not_as_past() -> None:
    skins = lot("ON-1", "onion skins", 300, "damp", "bench", nov(1, 9))

    assert [row.kind for row in flags(bare(lots=(skins,)))] == ["damp lot"]


def test_a_lot_set_aside_for_another_reason_is_left_alone() -> None:
    skins = replace(lot("ON-1", "onion skins", 300, "dried", "bench", nov(1, 9)), set_aside="mould")

    assert flags(bare(lots=(skins,))) == ()


# -- ends before its use -----------------------------------------------------------------------


def test_a_lot_used_on_its_last_good_day_is_no_flag() -> None:
    answer = group_day()
    cabbage = next(take for take in answer.takes if take.source == "CB-1121")
    facts = bare(lots=(lot_called("CB-1121"),))

    def with_use_on(day: int) -> list[str]:
        used = replace(answer, takes=(replace(cabbage, at=nov(day, 10)),), jobs=())
        return words(flags(facts, (used,)))

    assert with_use_on(26) == []
    assert with_use_on(27) == ["CB-1121 (red cabbage) ends Thu, before Fri (F): put 480 g by"]


def test_a_run_that_is_not_placed_takes_nothing() -> None:
    refused = replace(group_day(), answer="no")

    assert flags(bare(lots=(lot_called("CB-1121"),)), (refused,)) == ()


# -- room --------------------------------------------------------------------------------------


@pytest.mark.parametrize(("holds_g", "kinds"), [(6966, []), (6965, ["room"])])
def test_the_freezer_is_over_from_the_first_gram(holds_g: int, kinds: list[str]) -> None:
    places = (ColdPlaceFacts("freezer", "freezer", holds_g * 1000), SHELF.cold_places[1])
    facts = replace(FACTS, shelf=replace(SHELF, cold_places=places))

    found = [row for row in flags(facts, ANSWERS) if row.kind == "room"]

    assert [row.kind for row in found] == kinds
    assert not found or found[0].text.startswith("freezer over by 1 g tonight: keep 1 g of AV-1123")


def test_what_cannot_wait_in_a_full_fridge_is_used() -> None:
    # AV-1116 goes from the fridge into the freezer today, CB-1121 stays, 1,200 g: 100 g are left.
    places = (SHELF.cold_places[0], ColdPlaceFacts("fridge", "fridge", 1_300_000))
    facts = replace(FACTS, shelf=replace(SHELF, cold_places=places))

    found = [row.text for row in flags(facts, ANSWERS) if row.kind == "room"]

    assert found == [
        "freezer over by 966 g tonight: keep 100 g of AV-1123 in the fridge, last good Mon 30 Nov "
        "and use or dry 866 g today"
    ]


def test_a_studio_without_a_freezer_has_no_freezer_flag() -> None:
    facts = replace(FACTS, shelf=replace(SHELF, cold_places=()))

    assert [row for row in flags(facts, ANSWERS) if row.kind == "room"] == []


# -- pots and promises -------------------------------------------------------------------------


def test_a_whole_pot_is_no_flag() -> None:
    pots = (
        VesselFacts("P8", "pot", "enamel", 12_000, 9_600, chipped=True),
        VesselFacts("P9", "pot", "enamel", 12_000, 9_600),
    )

    assert words(flags(bare(vessels=pots))) == ["P8 (enamel pot) is chipped: no brights in it"]


def promised(**run: object) -> list[str]:
    """The words about a promise of one run like Old Rose."""
    rose = next(row for row in RUNS if row.code == "B")
    return words(flags(replace(BARE, runs=(replace(rose, **run),))))  # type: ignore[arg-type]


def light(reading: str | None, begun: date | None, *, written: bool = False) -> FastnessWish:
    there = None if reading is None else Decimal(reading)
    return FastnessWish("light", Decimal(4), there, begun, 28, accepted_in_writing=written)


def test_a_reading_counts_once_the_days_of_its_card_are_out() -> None:
    assert promised(wishes=(light("4", date(2026, 10, 26)),)) == []
    assert promised(wishes=(light("4", date(2026, 10, 27)),)) == [
        "do not promise Old Rose (B): light reading 4, 4 wanted, day 27 of 28, "
        "look again Tue 24 Nov"
    ]


def test_a_reading_half_a_step_below_the_wish_is_too_low() -> None:
    assert promised(wishes=(light("3.5", date(2026, 10, 1)),)) == [
        "do not promise Old Rose (B): light reading 3.5, 4 wanted"
    ]


def test_a_card_that_never_hung_is_said() -> None:
    assert promised(wishes=(light(None, None),)) == [
        "do not promise Old Rose (B): light no reading, 4 wanted, no card hung yet"
    ]


def test_a_client_who_accepted_in_writing_lifts_the_flag() -> None:
    assert promised(wishes=(light("3", date(2026, 11, 2), written=True),)) == []


def test_a_shade_card_must_be_there_and_approved() -> None:
    done = (light("4", date(2026, 10, 1)),)

    assert promised(wishes=done, shade_card=ShadeCard(approved=True)) == []
    assert promised(wishes=done, shade_card=ShadeCard(approved=False)) == [
        "do not promise Old Rose (B): shade card on linen not approved"
    ]
    assert promised(wishes=done, shade_card=None) == [
        "do not promise Old Rose (B): no shade card on linen"
    ]


def test_what_soon_fades_is_promised_to_no_client() -> None:
    group = next(row for row in RUNS if row.code == "F")
    for_client: RunFacts = replace(group, client=True)

    found = words(flags(replace(BARE, runs=(for_client,))))

    assert found == ["do not promise Group day: nettle and cabbage (F): red cabbage is fugitive"]
    assert flags(replace(BARE, runs=(group,))) == ()


def test_answers_in_another_order_give_the_same_flags() -> None:
    assert flags(FACTS, ANSWERS[::-1]) == flags(FACTS, ANSWERS)
    assert flags(FACTS, (blush(),)) != flags(FACTS, ANSWERS)
