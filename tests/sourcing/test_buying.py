"""What has to be bought and what is ordered, as frozen facts."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from inventory.models import Studio
from sourcing.buying import Buying, buying_at
from sourcing.models import Offer, Supplier
from sourcing.notebook.load import load_files
from sourcing.ordering.facts import Stuff
from tests.sourcing.notebook.desk import yard_files
from tests.sourcing.week.pellitory import MONDAY_0730

pytestmark = pytest.mark.django_db
WOOL = Stuff("wool", "yarn")
KG = 1_000_000


@pytest.fixture
def studio() -> Studio:
    load_files(yard_files())
    return Studio.objects.get()


@pytest.fixture
def mills(studio: Studio) -> Studio:
    """The two suppliers of the worked week: 13.6 of the project's design papers."""
    for name, days, least, minor in (("far mill", 12, 5, 2_200), ("near shop", 5, 0, 2_800)):
        row = Supplier.objects.of(studio).create(
            name=name, lead_days=days, weekdays=[0, 1, 2, 3, 4], country="GB", region="ENG"
        )
        Offer.objects.of(studio).create(
            supplier=row, fibre="wool", form="yarn", pack_mg=KG, tiers=[[0, minor]],
            least_mg=least * KG,
        )  # fmt: skip
    return studio


def monday(studio: Studio) -> Buying:
    return buying_at(studio, at=MONDAY_0730)


def test_run_g_of_the_worked_week_lacks_3916_grams_as_bought(mills: Studio) -> None:
    (need,) = monday(mills).needs

    assert (need.stuff, need.by, need.runs) == (WOOL, date(2026, 12, 7), ("G",))
    assert round(need.bought_mg(Fraction(5, 100)) / 1000) == 3_916


def test_two_suppliers_stand_side_by_side_as_in_the_worked_week(mills: Studio) -> None:
    near, far = monday(mills).quotes(WOOL)

    assert (near.supplier, near.arrives_on, near.plan.cost_minor) == (
        "near shop", date(2026, 11, 30), 112_00,
    )  # fmt: skip
    assert (far.supplier, far.arrives_on, far.plan.cost_minor) == (
        "far mill", date(2026, 12, 9), 110_00,
    )  # fmt: skip
    assert (far.order_by, far.late_working_days) == (date(2026, 11, 19), 2)


def test_without_a_supplier_needs_are_told_and_nobody_is_asked(studio: Studio) -> None:
    buying = monday(studio)

    assert [need.runs for need in buying.needs] == [("G",)]
    assert buying.quotes(WOOL) == ()
    assert buying.plan().not_sold == buying.needs
