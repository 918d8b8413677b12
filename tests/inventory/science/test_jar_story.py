"""What the worked week's jars tell on Monday morning."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest

from inventory.science.facts import Dip, JarEvent, JarFacts
from inventory.science.figures import Figures
from inventory.science.jar_story import JarStory, story_of
from tests.sourcing.week.pellitory import FACTS, MONDAY_0730, SHELF, ZONE

JARS = {jar.code: jar for jar in SHELF.jars}
# Q. how strong can 5 % vinegar at one to two get? 50 g/L acid / 3 / 60.052 g/mol / 2 mol per mol.
MOST_MOL_PER_L = 50 / 3 / 60.052 / 2


def story(jar: JarFacts | str, *, at: datetime = MONDAY_0730, **more: datetime) -> JarStory:
    found = JARS[jar] if isinstance(jar, str) else jar
    return story_of(found, FACTS.figures, at=at, zone=ZONE, aside_since=more.get("aside_since"))


def test_iron_7_is_on_day_6_of_7_on_its_way_to_its_dip() -> None:
    told = story("J1")

    assert told.goal is not None
    assert (told.goal.what, told.goal.days_gone, told.goal.days_whole) == ("dip", 6, 7)
    assert told.since == JARS["J1"].begun_at
    assert 0 < told.goal.fraction < 1


def test_copper_4_counts_in_hours_and_is_full_way_on_its_hour() -> None:
    told, ready_at = story("J4"), JARS["J4"].begun_at
    assert told.goal is not None
    assert ready_at is not None

    # Begun Sun 16:00, ready 24 h later; on Mon 07:30 15 hours and a half have gone.
    assert (told.goal.what, told.goal.hours, told.goal.fraction) == (
        "ready",
        (15, 24),
        Fraction(155, 240),
    )
    assert story("J4", at=ready_at + timedelta(hours=24)).goal is None


def test_iron_6_counts_the_days_of_its_strip() -> None:
    told = story("J2")

    assert told.goal is not None
    assert (told.goal.what, told.goal.days_gone, told.goal.days_whole) == ("strip ends", 21, 90)
    assert told.strength is not None
    assert (told.strength.rests_on, told.strength.told_on) == ("strip", date(2026, 11, 2))


def test_iron_3_wants_a_new_strip_since_the_day_after_the_old_one_ended() -> None:
    told = story("J3")

    # Strip of 10 June and 90 days: 8 September is the last day that it counts.
    assert (told.state.word, told.since, told.goal) == ("retest", date(2026, 9, 9), None)


def test_a_jar_without_label_says_nothing_of_its_strength() -> None:
    since = datetime(2026, 11, 1, 9, tzinfo=UTC)
    told = story("J5", aside_since=since)

    assert (told.state.word, told.since) == ("set aside", since)
    nobody_knows = replace(JARS["J5"], metal="", acid_percent=Decimal(0))
    assert (story(nobody_knows).strength, story(nobody_knows).rests_on) == (None, ())


def test_the_level_is_what_is_left_of_what_was_begun_and_never_over_the_brim() -> None:
    jar = replace(JARS["J1"], begun_volume_ul=3_000_000, left_ul=750_000)

    assert story(jar).level == Fraction(1, 4)
    assert story(replace(jar, left_ul=3_500_000)).level == 1
    assert story(replace(jar, begun_volume_ul=0, left_ul=0)).level == 0


@pytest.mark.parametrize("code", ["J1", "J2", "J3"])
def test_the_most_that_iron_can_hold_is_what_the_acid_allows(code: str) -> None:
    told = story(code).strength

    assert told is not None
    # Ferrous sulphate heptahydrate weighs 278.006 g/mol: FeSO4 + 7 H2O, standard atomic weights.
    assert told.most_g_per_l == pytest.approx(MOST_MOL_PER_L * 278.006, rel=1e-4)
    assert told.low_g_per_l <= told.likely_g_per_l <= told.high_g_per_l <= told.most_g_per_l + 1e-6
    assert told.metal_mg_per_l == pytest.approx(told.likely_g_per_l / 278.006 * 55.845 * 1000)


def test_what_happened_is_told_newest_first_and_nothing_of_what_is_to_come() -> None:
    nov = datetime(2026, 11, 20, 9, tzinfo=UTC)
    jar = replace(
        JARS["J1"],
        dips=(Dip(nov + timedelta(days=1), 2), Dip(MONDAY_0730 + timedelta(hours=1), 4)),
        events=(JarEvent(nov, "drawn", 200_000),),
    )

    assert [row.kind for row in story(jar).happened] == ["dipped", "drawn", "begun"]


def test_every_figure_behind_a_jar_is_named_once_and_the_studios_own_comes_first() -> None:
    rows = story("J1").rests_on

    assert (rows[0].name, rows[0].own) == ("usable_from_days", True)
    assert len(rows) == len({(row.item, row.name) for row in rows})
    assert {"works_q10", "usable_at_20c_days"} <= {row.name for row in rows}


def test_without_figures_of_its_own_the_shipped_ones_are_named() -> None:
    told = story_of(JARS["J1"], Figures(), at=MONDAY_0730, zone=ZONE)

    assert not any(row.own for row in told.rests_on)
    assert all(row.source or row.basis != "published" for row in told.rests_on)
