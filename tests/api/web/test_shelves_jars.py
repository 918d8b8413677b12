"""Jars in words and shapes, for any jar that somebody may have written down."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime, timedelta
from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from api.web.shelves.jars import STATES, JarShown, jars_shown
from inventory.science.facts import Dip, JarEvent, JarFacts, Shelf
from inventory.science.figures import Figures
from sourcing.shelves import ShelvesFacts
from tests.sourcing.week.pellitory import FACTS, MONDAY_0730, SHELF, ZONE

JARS = {jar.code: jar for jar in SHELF.jars}
HOUR = timedelta(hours=1)
moments = st.integers(-20_000, 2_000).map(lambda hours: MONDAY_0730 + hours * HOUR)
events = st.builds(
    JarEvent,
    moments,
    st.sampled_from(["topped up", "drawn", "strained", "kept at", "evaporated"]),
    volume_ul=st.integers(0, 500_000),
    vinegar_parts=st.fractions(0, 1, max_denominator=9),
    acid_percent=st.decimals(0, 10, places=1),
    temperature_c=st.none() | st.floats(0, 35),
)
dips = st.builds(Dip, moments, st.integers(1, 5)) | st.builds(
    Dip, moments, st.none(), st.floats(0, 9_000)
)
any_jar = st.builds(
    JarFacts,
    code=st.sampled_from(["J1", "<b>", "a jar of Ash's"]),
    name=st.sampled_from(["", "Iron 7", "x" * 80]),
    metal=st.sampled_from(["iron", "copper", "", "tin"]),
    vinegar_parts=st.fractions(0, 3, max_denominator=9),
    water_parts=st.fractions(0, 3, max_denominator=9),
    acid_percent=st.decimals(0, 25, places=1),
    begun_at=st.none() | moments,
    begun_volume_ul=st.integers(0, 10**8),
    left_ul=st.integers(1, 10**8),
    temperature_c=st.none() | st.floats(0, 35),
    metal_put_in_mg=st.none() | st.integers(0, 10**7),
    dips=st.lists(dips, max_size=4).map(lambda rows: tuple(sorted(rows, key=lambda row: row.at))),
    events=st.lists(events, max_size=6).map(
        lambda rows: tuple(sorted(rows, key=lambda row: row.at))
    ),
    labelled=st.booleans(),
    set_aside=st.sampled_from(["", "smells of eggs"]),
)


def shown(*jars: JarFacts, at: datetime = MONDAY_0730, own: bool = True) -> tuple[JarShown, ...]:
    figures = FACTS.figures if own else Figures()
    facts = ShelvesFacts("Pellitory Yard", ZONE, at, Shelf(jars=jars), figures, {})
    return jars_shown(facts, [facts.story(jar) for jar in jars], carried="")


@given(any_jar, st.booleans())
def test_any_jar_can_be_shown(jar: JarFacts, own: bool) -> None:
    (found,) = shown(jar, own=own)

    assert (found.state in STATES, found.code) == (True, jar.code)
    assert found.state in found.text
    assert found.drawing.liquor in ("iron", "copper", "unknown")
    if found.goal is not None:
        assert 0 <= found.goal.bar.gone <= 100
    if found.strength is not None:
        assert "nan" not in f"{found.strength}"


def test_parts_are_said_as_they_were_measured_out() -> None:
    third = replace(JARS["J1"], vinegar_parts=Fraction(1, 3), water_parts=Fraction(2, 3))
    odd = replace(JARS["J1"], vinegar_parts=Fraction(3, 2), water_parts=Fraction(2))

    assert shown(third)[0].what == "iron liquor, 1 vinegar to 2 water, vinegar 5 %"
    assert "3 vinegar to 4 water" in shown(odd)[0].what


def test_a_jar_whose_beginning_lies_ahead_is_to_be_put_right() -> None:
    (found,) = shown(replace(JARS["J1"], begun_at=MONDAY_0730 + HOUR))

    assert found.next.startswith("the day on which it was begun lies ahead")
    assert found.goal is None


@pytest.mark.parametrize(
    ("hours", "state", "words"),
    [
        (0, "steeping", "hour 15 of 24 to its first use"),
        (8, "steeping", "hour 23 of 24 to its first use"),
        (8.5, "matured", ""),
    ],
)
def test_copper_is_ready_on_its_hour_and_not_before(hours: float, state: str, words: str) -> None:
    (found,) = shown(JARS["J4"], at=MONDAY_0730 + timedelta(hours=hours))

    assert (found.state, found.goal.words if found.goal else "") == (state, words)


def test_a_jar_that_has_given_all_its_gas_says_so_and_its_caution_names_none() -> None:
    at_work, strained = shown(JARS["J1"], JARS["J2"])

    assert at_work.gas == "3.5 L of hydrogen so far, 10 L at most"
    assert any("up to 10.0 L of gas" in row.sentence for row in at_work.cautions)
    assert strained.gas.endswith("none to come")
    assert not any("of gas" in row.sentence for row in strained.cautions)


def test_the_strip_is_filled_up_to_its_grade() -> None:
    (found,) = shown(replace(JARS["J2"], dips=(Dip(MONDAY_0730 - HOUR, 5),)))

    assert found.strip == (True, True, True, True, True)
    assert found.strip_words == "strip 5 of 5 (black), dipped today"


def test_a_reading_is_what_the_strength_rests_on_when_it_came_last() -> None:
    read = Dip(MONDAY_0730 - HOUR, None, 5_000.0)
    (found,) = shown(replace(JARS["J2"], dips=(*JARS["J2"].dips, read)))

    assert found.strength is not None
    assert found.strength.rests_on == "from the test strip of today, reckoned on from there"
    # 5,000 mg/L of iron / 55.845 g/mol * 278.006 g/mol of ferrous sulphate heptahydrate: 24.9 g.
    assert found.strength.likely == "24.9 g in a litre"
    assert Decimal(found.strength.metal.split()[0].replace(",", "")) == 5_000
