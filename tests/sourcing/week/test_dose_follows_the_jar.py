"""What happens to a jar moves its strength, and with it the millilitres that the week asks for.

The worked week's Iron 6 is strained and was strip 4 on 2 November: 50 mL per 100 g of silk, 200 mL.
"""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from fractions import Fraction

from inventory.science.facts import Dip, JarEvent, JarFacts
from sourcing.week.facts import WeekFacts
from sourcing.week.project import project
from tests.sourcing.week.pellitory import FACTS, JARS, SHELF, nov

IRON_6 = next(jar for jar in JARS if jar.code == "J2")
WORKING = replace(IRON_6, events=())  # never strained: its iron goes on dissolving


def week_with(jar: JarFacts) -> WeekFacts:
    """The worked week with another Iron 6."""
    jars = tuple(jar if row.code == "J2" else row for row in JARS)
    return replace(FACTS, shelf=replace(SHELF, jars=jars))


def slate_takes_ml(jar: JarFacts) -> Decimal:
    """What run D (Slate, 400 g silk) takes of Iron 6."""
    week = project(week_with(jar), days=7)
    slate = next(answer for answer in week.answers if answer.run == "D")
    return next(Decimal(take.amount) / 1000 for take in slate.takes if take.source == "J2")


def test_a_strained_jar_left_alone_keeps_the_recipe_dose() -> None:
    assert slate_takes_ml(IRON_6) == 200


def test_topping_up_with_water_after_the_strip_raises_the_dose_in_proportion() -> None:
    watered = replace(
        IRON_6,
        left_ul=1_080_000,
        events=(*IRON_6.events, JarEvent(nov(20, 9), "topped up", volume_ul=180_000)),
    )

    # 900 mL became 1,080 mL of the same iron and acid: 200 x 1.2. The ceiling, 51.8 x 1.2 = 62 mL
    # per 100 g, moves with the acid and is not reached.
    assert slate_takes_ml(watered) == 240


def test_a_little_water_raises_it_a_little() -> None:
    watered = replace(
        IRON_6,
        left_ul=909_000,
        events=(*IRON_6.events, JarEvent(nov(20, 9), "topped up", volume_ul=9_000)),
    )

    # 909 / 900 = 1.01.
    assert slate_takes_ml(watered) == 202


def test_evaporation_after_the_strip_lowers_the_dose() -> None:
    thickened = replace(
        IRON_6,
        left_ul=810_000,
        events=(*IRON_6.events, JarEvent(nov(20, 9), "evaporated", volume_ul=90_000)),
    )

    # 810 / 900 of the volume for the same iron: 45 mL per 100 g, under 51.8 x 0.9 = 46.
    assert slate_takes_ml(thickened) == 180


def test_a_jar_still_working_asks_for_less_the_longer_it_stands() -> None:
    young = replace(WORKING, begun_at=nov(1, 9), begun_volume_ul=900_000)

    assert slate_takes_ml(young) < 200


def test_a_warmer_shelf_speeds_the_jar_and_lowers_the_dose() -> None:
    cold = replace(WORKING, begun_at=nov(1, 9), begun_volume_ul=900_000)
    warm = replace(cold, events=(JarEvent(nov(3, 9), "kept at", temperature_c=20.0),))

    assert slate_takes_ml(warm) < slate_takes_ml(cold)


def test_drawing_leaves_more_iron_for_less_liquor() -> None:
    # Strip 4 is 7.0 g/L, 12.6 g of the 13 g put in; what is drawn leaves the last 0.4 g of scrap
    # to half the liquor.
    scarce = replace(
        WORKING,
        begun_at=nov(1, 9),
        begun_volume_ul=1_800_000,
        left_ul=1_800_000,
        metal_put_in_mg=13_000,
        temperature_c=20.0,
    )
    drawn = replace(
        scarce, left_ul=900_000, events=(JarEvent(nov(3, 9), "drawn", volume_ul=900_000),)
    )

    assert slate_takes_ml(drawn) < slate_takes_ml(scarce)


def test_a_later_strip_resets_the_dose() -> None:
    weak = replace(IRON_6, dips=(*IRON_6.dips, Dip(nov(22, 9), 3)))
    strong = replace(IRON_6, dips=(*IRON_6.dips, Dip(nov(22, 9), 5)))

    assert slate_takes_ml(strong) == 160  # 40 mL per 100 g at strip 5
    assert slate_takes_ml(weak) == 204  # 65 at strip 3, held to the ceiling of 51


def test_weaker_vinegar_lifts_the_ceiling() -> None:
    weak = replace(
        IRON_6, acid_percent=Decimal(4), dips=(*IRON_6.dips, Dip(nov(22, 9), 3)),
        vinegar_parts=Fraction(1, 3),
    )  # fmt: skip

    # 51.8 x 5 / 4 = 64.8, rounded down to 64 mL per 100 g.
    assert slate_takes_ml(weak) == 256
