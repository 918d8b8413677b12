"""Why a run could not begin sooner: only what cost a day, in words, with the studio's figure."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sourcing.week.desk import desk_for
from sourcing.week.explain import waits_of
from sourcing.week.facts import Block
from sourcing.week.fits import Push
from sourcing.week.moments import NEVER, minute_of
from sourcing.week.plan import Reason
from tests.sourcing.week.little import LITTLE, feb

DESK = desk_for(replace(LITTLE, blocks=(Block("g1", "group day", feb(9, 9), feb(9, 12)),)), days=7)
MON, TUE, WED = (minute_of(feb(day, 9)) for day in (1, 2, 3))


def why(*pushes: Push) -> list[Reason]:
    return waits_of(pushes, DESK, "K")


def texts(*pushes: Push) -> list[str]:
    return [row.text for row in why(*pushes)]


def test_what_costs_hours_of_the_same_day_is_not_told() -> None:
    evening = minute_of(feb(1, 23, 59))

    assert texts(Push("vessel", "P1:g1", "dye", MON, evening)) == []
    assert texts(Push("vessel", "P1:g1", "dye", MON, evening + 1)) == [
        "P1 is held by group day; free for dye Tue 2 Feb 00:00"
    ]


def test_a_closed_night_is_not_told_and_a_closed_day_is() -> None:
    assert texts(Push("closed", "", "dye", MON, TUE)) == []
    assert texts(Push("closed", "", "dye", MON, WED)) == [
        "nobody is in from Mon 1 Feb 09:00 to Wed 3 Feb 09:00"
    ]


def test_of_one_thing_the_last_to_let_go_is_told() -> None:
    pushes = [Push("ring", "R1:K", "dye", MON, until) for until in (TUE, WED, TUE)]

    assert texts(*pushes) == ["R1 is held by Dusk; free for dye Wed 3 Feb 09:00"]


def test_waits_stand_in_the_order_of_their_moments() -> None:
    pushes = (Push("vessel", "P1:g1", "iron", TUE, WED), Push("ring", "R1:g1", "dye", MON, TUE))

    assert [row.until for row in why(*pushes)] == [feb(2, 9), feb(3, 9)]


@pytest.mark.parametrize(
    ("push", "kind", "text", "figure"),
    [
        (Push("line", "line", "rinse", MON, TUE, 501_000, 500_000), "line",
         "line on Mon 1 Feb 09:00: 0.501 kg would hang on 0.5 kg, 0.001 kg over; "
         "room from Tue 2 Feb 09:00", "studio, drying_h = 48 (studio's own)"),
        (Push("line", "line", "rinse", MON, TUE, 500_000, 500_000), "frost",
         "frost while cloth would hang on line from Mon 1 Feb 09:00; next Tue 2 Feb 09:00",
         "studio, drying_h = 48 (studio's own)"),
        (Push("night", "", "hot alum", MON, TUE), "night",
         "hot alum on Mon 1 Feb 09:00 would stand too many nights; next Tue 2 Feb 09:00",
         "studio, nights_in_bath_at_most = 3 (studio's own)"),
        (Push("hands", "", "dye", MON, TUE, 45, -5), "hands",
         "hands for dye on Mon 1 Feb 09:00: 45 min wanted, 0 left; next Tue 2 Feb 09:00", ""),
        (Push("vessel", "P1", "dye", MON, TUE), "vessel",
         "P1 is held by the run itself; free for dye Tue 2 Feb 09:00",
         "studio, pause_between_steps_min = 30 (studio's own)"),
    ],
)  # fmt: skip
def test_a_wait_names_amount_moment_and_figure(
    push: Push, kind: str, text: str, figure: str
) -> None:
    assert why(push) == [Reason(kind, push.what, text, feb(2, 9), figure, bool(figure))]


def test_a_step_that_no_vessel_may_hold_names_what_each_lacks() -> None:
    desk = desk_for(replace(LITTLE, shelf=replace(LITTLE.shelf, vessels=(
        replace(LITTLE.shelf.vessels[0], chipped=True, food=True), LITTLE.shelf.vessels[1]))),
        days=7)  # fmt: skip
    (reason,) = waits_of([Push("vessel", "", "dye", MON, NEVER)], desk, "K")

    assert (reason.text, reason.until) == (
        "no vessel is allowed for dye: P1 is used for food", None,
    )  # fmt: skip
