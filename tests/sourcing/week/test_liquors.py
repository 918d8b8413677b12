"""Which jar a run draws from: ready before ready later, the pencilled one among equals."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from decimal import Decimal

from inventory.science.facts import Dip, JarFacts
from sourcing.week.desk import desk_for
from sourcing.week.liquors import Chosen, next_dips, pick_liquor
from tests.sourcing.week.little import DUSK, IRON, LITTLE, RUN, ZONE, feb

IRON_DOSE = next(dose for dose in DUSK.doses if dose.kind == "liquor")


def chosen(*jars: JarFacts, pencilled: str = "", without: frozenset[str] = frozenset()) -> Chosen:
    larder = desk_for(replace(LITTLE, shelf=replace(LITTLE.shelf, jars=jars)), days=7).larder
    return pick_liquor(IRON_DOSE, replace(RUN, jar=pencilled), larder, fibre=None,
                       without=without, minute=None, site="")  # fmt: skip


def begun(code: str, day: int) -> JarFacts:
    """A jar never dipped: usable from day 14."""
    moment = datetime(2027, 1, day, 9, tzinfo=ZONE)
    return replace(IRON, code=code, name=code, dips=(), events=(), begun_at=moment,
                   left_ul=500_000)  # fmt: skip


SECOND = replace(IRON, code="J2", name="Iron 2")


def test_the_recipes_dose_is_drawn_at_strip_4() -> None:
    found = chosen(IRON)

    assert found.pick is not None
    assert (found.pick.code, found.pick.amount, found.pick.unit) == ("J1", 250_000, "µL")


def test_of_two_jars_ready_now_the_pencilled_one_is_drawn() -> None:
    assert [chosen(IRON, SECOND, pencilled=code).pick.code  # type: ignore[union-attr]
            for code in ("", "J1", "J2")] == ["J1", "J1", "J2"]  # fmt: skip


def test_a_jar_ready_now_is_preferred_to_a_pencilled_one_ready_later() -> None:
    found = chosen(begun("J0", 20), IRON, pencilled="J0")

    assert found.pick is not None
    assert found.pick.code == "J1"
    assert [row.text for row in found.reasons if row.kind == "jar moved"] == [
        "J0 is not ready; the claim moves to Iron 1, 0 mL left after it"
    ]


def test_of_jars_ready_later_the_first_one_is_waited_for() -> None:
    found = chosen(begun("J8", 21), begun("J9", 20))

    assert found.pick is not None
    assert found.pick.code == "J9"
    assert [(row.text, row.until, row.own) for row in found.waits] == [
        ("J9 is usable Wed 3 Feb 00:00", feb(3), True)
    ]


def test_one_jar_serves_a_run_or_none() -> None:
    half = replace(IRON, left_ul=200_000)
    found = chosen(half, replace(SECOND, left_ul=249_000))

    assert found.pick is None
    assert [row.text for row in found.short] == ["Iron 2 short by 1 mL: 250 mL wanted, 249 mL left"]


def test_a_jar_without_label_is_set_aside() -> None:
    found = chosen(replace(IRON, labelled=False))

    assert [row.text for row in found.lacking] == ["Iron 1 is set aside"]
    assert [row.text for row in found.short] == ["no jar of iron liquor may be used: 250 mL wanted"]


def test_a_strip_too_old_asks_for_a_dip() -> None:
    old = replace(IRON, dips=(Dip(datetime(2026, 11, 2, 9, tzinfo=ZONE), 4),))
    found = chosen(old)

    assert [(row.text, row.figure) for row in found.lacking] == [
        ("Iron 1: strip is 91 days old, dip it",
         "iron liquor, strip_valid_days = 90 (studio's own)")
    ]  # fmt: skip


def test_a_jar_ruled_out_at_its_hour_is_not_said_to_be_matured_too() -> None:
    assert chosen(IRON, without=frozenset({"J1"})).lacking == []


def test_the_ceiling_counts_the_strongest_the_vinegar_allows() -> None:
    # 5 % at one to two: 38.6 g/L at most, so 2 % of 100 g are 51.8 mL, rounded down.
    larder = desk_for(LITTLE, days=7).larder
    ask = [replace(IRON_DOSE, ml_per_100g=Decimal(ml)) for ml in (51, 52)]
    refused = [
        pick_liquor(
            dose, RUN, larder, fibre=None, without=frozenset(), minute=None, site=""
        ).lacking
        for dose in ask
    ]

    assert refused[0] == []
    assert [(row.kind, row.own) for row in refused[1]] == [("ceiling", True)]


def test_only_jars_that_still_steep_are_dipped() -> None:
    jars = (IRON, begun("J3", 27))
    larder = desk_for(replace(LITTLE, shelf=replace(LITTLE.shelf, jars=jars)), days=7).larder

    assert next_dips(larder) == [feb(3).date()]
