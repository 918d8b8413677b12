"""What has to be bought and what is ordered, as frozen facts."""

from __future__ import annotations

from datetime import date
from fractions import Fraction

import pytest

from inventory.models import Studio
from sourcing.buying import Buying, buying_at
from sourcing.notebook.load import load_files
from sourcing.ordering.facts import Stuff
from tests.loaded import load_fixture
from tests.sourcing.notebook.desk import without_suppliers
from tests.sourcing.week.pellitory import MONDAY_0730

pytestmark = pytest.mark.django_db
WOOL = Stuff("wool", "yarn")


@pytest.fixture
def studio() -> Studio:
    load_fixture()
    return Studio.objects.get()


def monday(studio: Studio) -> Buying:
    return buying_at(studio, at=MONDAY_0730)


def test_run_g_of_the_worked_week_lacks_3916_grams_as_bought(studio: Studio) -> None:
    (need,) = monday(studio).needs

    assert (need.stuff, need.by, need.runs) == (WOOL, date(2026, 12, 7), ("G",))
    assert round(need.bought_mg(Fraction(5, 100)) / 1000) == 3_916


def test_two_suppliers_stand_side_by_side_as_in_the_worked_week(studio: Studio) -> None:
    near, far = monday(studio).quotes(WOOL)

    assert (near.supplier, near.arrives_on, near.plan.cost_minor) == (
        "near shop", date(2026, 11, 30), 112_00,
    )  # fmt: skip
    assert (far.supplier, far.arrives_on, far.plan.cost_minor) == (
        "far mill", date(2026, 12, 9), 110_00,
    )  # fmt: skip
    assert (far.order_by, far.late_working_days) == (date(2026, 11, 19), 2)


def test_without_a_supplier_needs_are_told_and_nobody_is_asked() -> None:
    load_files(without_suppliers())
    buying = monday(Studio.objects.get())

    assert [need.runs for need in buying.needs] == [("G",)]
    assert buying.quotes(WOOL) == ()
    assert buying.plan().not_sold == buying.needs
