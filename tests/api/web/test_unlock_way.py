"""From what would unlock a run to where it is done: a form, another run's page, a later day."""

from __future__ import annotations

from dataclasses import replace

import pytest

from api.web.unlock_way import way_of
from sourcing.week.plan import Change, Unlock
from tests.sourcing.week.pellitory import FACTS, nov

OAK = next(run for run in FACTS.runs if run.code == "E")
AT = "?at=2026-11-23T07%3A30"


def unlock(*changes: Change) -> Unlock:
    return Unlock(changes, "", None, None)


@pytest.mark.parametrize(
    ("change", "address"),
    [
        # Oak Grey is due Fri 4 Dec: behind it Olive makes way.
        (Change("moved", "C", 1, "run", "", until=nov(30, 11), run="C"),
         f"/runs/C/{AT}&by=day&day=2026-12-05"),
        (Change("claim", "J2", 100_000, "µL", "", run="D"), f"/runs/D/{AT}"),
        (Change("due", "E", 60, "min", "", until=nov(27, 19)),
         f"/runs/E/{AT}&by=day&day=2026-11-28"),
        (Change("due", "E", 60, "min", "", until=nov(27, 18)),
         f"/runs/E/{AT}&by=day&day=2026-11-27"),
        (Change("strip", "J1", 4, "grade", ""), f"/note/dip/{AT}&jar=J1"),
        (Change("carry", "ON-0801", 250_000, "mg", ""),
         f"/note/put-by/{AT}&lot=ON-0801&amount=250+g"),
        (Change("fibre", "wool", 1_000, "mg", ""), f"/orders/{AT}"),
        (Change("dyestuff", "avocado stones", 1_000, "mg", ""), f"/coming/{AT}"),
        (Change("line", "line", 1_000, "mg", ""), ""),
    ],
    ids=lambda value: value.kind if isinstance(value, Change) else "",
)  # fmt: skip
def test_each_change_leads_to_where_it_is_done(change: Change, address: str) -> None:
    assert way_of(unlock(change), OAK, FACTS).address(AT) == address


def test_an_address_without_a_moment_asks_all_the_same() -> None:
    strip = Change("strip", "J1", 4, "grade", "")

    assert way_of(unlock(strip), OAK, FACTS).address("") == "/note/dip/?jar=J1"


def test_several_changes_lead_to_no_single_form() -> None:
    strip = Change("strip", "J1", 4, "grade", "")

    assert way_of(unlock(strip, strip), OAK, FACTS).address(AT) == ""


def test_a_run_without_a_day_gives_none_to_the_one_that_makes_way() -> None:
    moved = Change("moved", "C", 1, "run", "", until=nov(30, 11), run="C")

    assert way_of(unlock(moved), replace(OAK, due=None), FACTS).address(AT) == f"/runs/C/{AT}"
