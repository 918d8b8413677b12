"""Whatever a studio holds, its week can be shown: studios made up by chance, each from a number."""

from __future__ import annotations

import json
import re

import pytest

from api.rest.week import week_as_json
from api.sheet import COLUMNS, sheet
from sourcing.week.project import project
from tests.sourcing.week.random_studios import studio
from tests.sourcing.week.test_flags import KINDS


@pytest.mark.parametrize("number", range(0, 200, 5))
def test_a_week_has_a_sheet_flags_in_order_and_sums_that_are_never_below_nought(
    number: int,
) -> None:
    week = project(studio(number), days=1 + number % 28)

    assert max(map(len, sheet(week).splitlines())) <= COLUMNS
    kinds = [flag.kind for flag in week.flags]
    assert kinds == sorted(kinds, key=KINDS.index)
    assert all(flag.text for flag in week.flags)
    assert not re.search(r'"-\d', json.dumps(week_as_json(week)["sums"]))
